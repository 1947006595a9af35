"""IFC files made with the library itself: spaces by their corners, doors and windows in walls, in any unit."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import atan2, cos, hypot, sin
from pathlib import Path
from typing import Any

import ifcopenshell
import ifcopenshell.api.aggregate
import ifcopenshell.api.context
import ifcopenshell.api.feature
import ifcopenshell.api.geometry
import ifcopenshell.api.owner
import ifcopenshell.api.owner.settings
import ifcopenshell.api.project
import ifcopenshell.api.pset
import ifcopenshell.api.root
import ifcopenshell.api.spatial
import ifcopenshell.api.unit
import numpy

__all__ = ["IfcHouse"]

Point = tuple[float, float]
UNITS = {"metre": 1.0, "millimetre": 0.001, "foot": 0.3048, "inch": 0.0254}


@dataclass
class IfcHouse:
    """A model in the making; every length given in inches, written in the file's own unit."""

    unit: str = "metre"
    version: str = "IFC4"
    file: Any = field(init=False)

    def __post_init__(self) -> None:
        self.file = ifcopenshell.api.project.create_file(version=self.version)
        if self.version == "IFC2X3":
            self._author()
        project = ifcopenshell.api.root.create_entity(self.file, ifc_class="IfcProject", name="Tests")
        if self.unit == "millimetre":
            length = ifcopenshell.api.unit.add_si_unit(self.file, unit_type="LENGTHUNIT", prefix="MILLI")
        elif self.unit == "metre":
            length = ifcopenshell.api.unit.add_si_unit(self.file, unit_type="LENGTHUNIT")
        else:
            length = ifcopenshell.api.unit.add_conversion_based_unit(self.file, name=self.unit)
        ifcopenshell.api.unit.assign_unit(self.file, units=[length])
        model = ifcopenshell.api.context.add_context(self.file, context_type="Model")
        self.body = ifcopenshell.api.context.add_context(
            self.file, context_type="Model", context_identifier="Body", target_view="MODEL_VIEW", parent=model
        )
        site = ifcopenshell.api.root.create_entity(self.file, ifc_class="IfcSite")
        self.building = ifcopenshell.api.root.create_entity(self.file, ifc_class="IfcBuilding")
        ifcopenshell.api.aggregate.assign_object(self.file, products=[site], relating_object=project)
        ifcopenshell.api.aggregate.assign_object(self.file, products=[self.building], relating_object=site)

    def _author(self) -> None:
        """IFC2X3 asks for an owner of everything."""
        person = ifcopenshell.api.owner.add_person(self.file)
        organisation = ifcopenshell.api.owner.add_organisation(self.file)
        user = ifcopenshell.api.owner.add_person_and_organisation(
            self.file, person=person, organisation=organisation
        )
        application = ifcopenshell.api.owner.add_application(self.file)
        owner = ifcopenshell.api.owner.settings
        owner.get_user = lambda file: user if file is self.file else None
        owner.get_application = lambda file: application if file is self.file else None

    def length(self, inches: float) -> float:
        """Inches in the file's unit."""
        return float(inches) * 0.0254 / UNITS[self.unit]

    def storey(self, name: str, elevation: float = 0) -> Any:
        made = ifcopenshell.api.root.create_entity(self.file, ifc_class="IfcBuildingStorey", name=name)
        made.Elevation = self.length(elevation)
        ifcopenshell.api.aggregate.assign_object(self.file, products=[made], relating_object=self.building)
        return made

    def solid(self, corners: Sequence[Point], height: float, z: float = 0) -> Any:
        """A prism over corners."""
        points = [self.file.createIfcCartesianPoint((self.length(x), self.length(y))) for x, y in corners]
        profile = self.file.createIfcArbitraryClosedProfileDef(
            "AREA", None, self.file.createIfcPolyline([*points, points[0]])
        )
        place = self.file.createIfcAxis2Placement3D(
            self.file.createIfcCartesianPoint((0.0, 0.0, self.length(z))), None, None
        )
        up = self.file.createIfcDirection((0.0, 0.0, 1.0))
        solid = self.file.createIfcExtrudedAreaSolid(profile, place, up, self.length(height))
        return self.file.createIfcShapeRepresentation(self.body, "Body", "SweptSolid", [solid])

    def _placed(self, ifc_class: str, name: str, shape: Any, turned: float = 0, moved: Point = (0, 0)) -> Any:
        made = ifcopenshell.api.root.create_entity(self.file, ifc_class=ifc_class, name=name)
        if shape is not None:
            ifcopenshell.api.geometry.assign_representation(self.file, product=made, representation=shape)
        matrix = numpy.eye(4)
        matrix[0:2, 0:2] = [[cos(turned), -sin(turned)], [sin(turned), cos(turned)]]
        matrix[0, 3], matrix[1, 3] = self.length(moved[0]), self.length(moved[1])
        ifcopenshell.api.geometry.edit_object_placement(self.file, product=made, matrix=matrix, is_si=False)
        return made

    def space(
        self, storey: Any, name: str, corners: Sequence[Point], height: float = 96, z: float = 0, *,
        turned: float = 0, moved: Point = (0, 0), shape: bool = True,
    ) -> Any:  # fmt: skip
        """A room; its placement may be turned (radians) and moved."""
        solid = self.solid(corners, height, z) if shape else None
        made = self._placed("IfcSpace", name, solid, turned, moved)
        ifcopenshell.api.aggregate.assign_object(self.file, products=[made], relating_object=storey)
        return made

    def wall(
        self,
        storey: Any,
        start: Point,
        end: Point,
        thick: float = 5,
        height: float = 96,
        external: bool | None = None,
    ) -> Any:
        """A wall along the left hand of a line: outside of a room that is walked clockwise."""
        made = self._placed("IfcWall", "", self.solid(self._beside(start, end, 0, thick), height))
        ifcopenshell.api.spatial.assign_container(self.file, products=[made], relating_structure=storey)
        if external is not None:
            pset = ifcopenshell.api.pset.add_pset(self.file, product=made, name="Pset_WallCommon")
            ifcopenshell.api.pset.edit_pset(self.file, pset=pset, properties={"IsExternal": external})
        return made

    @staticmethod
    def _beside(start: Point, end: Point, near: float, far: float) -> list[Point]:
        x, y = end[0] - start[0], end[1] - start[1]
        length = hypot(x, y)
        out = (-y / length, x / length)
        return [
            (start[0] + out[0] * near, start[1] + out[1] * near), (end[0] + out[0] * near, end[1] + out[1] * near),
            (end[0] + out[0] * far, end[1] + out[1] * far), (start[0] + out[0] * far, start[1] + out[1] * far),
        ]  # fmt: skip

    def hole(
        self, wall: Any, start: Point, end: Point, at: tuple[float, float], sill: float, head: float, filling: str = "IfcDoor",
        thick: float = 5, **more: Any,
    ) -> Any:  # fmt: skip
        """An opening in a wall from ``at`` to ``at`` along it, filled with a door or window (or not, with "")."""
        angle = atan2(end[1] - start[1], end[0] - start[0])
        a = (start[0] + cos(angle) * at[0], start[1] + sin(angle) * at[0])
        b = (start[0] + cos(angle) * at[1], start[1] + sin(angle) * at[1])
        opening = self._placed(
            "IfcOpeningElement", "", self.solid(self._beside(a, b, 0, thick), head - sill, sill)
        )
        ifcopenshell.api.feature.add_feature(self.file, feature=opening, element=wall)
        if not filling:
            return opening
        made = self._placed(filling, "", self.solid(self._beside(a, b, 1, 3), head - sill, sill))
        for name, value in more.items():
            setattr(made, name, value)
        ifcopenshell.api.feature.add_filling(self.file, opening=opening, element=made)
        return made

    def write(self, path: Path) -> bytes:
        self.file.write(str(path))
        return path.read_bytes()
