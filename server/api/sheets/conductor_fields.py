"""The fields that ampacity and overcurrent share: one conductor and how it is run."""

from __future__ import annotations

from fractions import Fraction
from typing import Annotated, Literal

from pydantic import Field, ValidationInfo, field_validator

from server.api.sheets.base import Awg, LengthIn, SheetRequest
from server.api.sheets.electrical_numbers import Celsius, Fahrenheit
from server.dwelling.supply import CableKind, ConductorMaterial
from server.editions import Edition, default_year, load_edition
from server.reckon.ampacity import table_ampacity
from server.reckon.conductor_run import ConductorRun

__all__ = ["CelsiusColumn", "ConductorFields", "edition_of"]

CelsiusColumn = Literal[60, 75, 90]
_KINDS = {
    "nm-b": CableKind.NM_B,
    "uf-b": CableKind.UF_B,
    "mc": CableKind.MC,
    "ac": CableKind.AC,
    "se": CableKind.SE,
    "building-wire": CableKind.RACEWAY,
}


def edition_of(info: ValidationInfo) -> Edition:
    """The edition that a request asks for, while its later fields are still being read."""
    return load_edition(int(info.data.get("edition") or default_year()))


class ConductorFields(SheetRequest):
    """A conductor and how it is run."""

    material: ConductorMaterial = ConductorMaterial.COPPER
    awg: Awg
    kind: Literal["nm-b", "mc", "uf-b", "building-wire", "ac", "se"] = Field(
        default="building-wire", description="Cable, or single conductors in a raceway."
    )
    insulation_c: CelsiusColumn | None = Field(
        default=None, description="Where not given: as usual for the kind."
    )
    terminal_c: CelsiusColumn | None = Field(
        default=None, description="Marked rating of the terminals; where not given: by size, 110.14(C)."
    )
    ambient_f: Fahrenheit | None = Field(
        default=None, description="Where not given: 86 °F, for which the tables are made."
    )
    ambient_c: Celsius | None = Field(
        default=None, description="The ambient in Celsius, in place of ambient_f."
    )
    current_carrying: Annotated[int, Field(ge=0, le=1000)] | None = Field(
        default=None,
        description="Current-carrying conductors that lie together, this one among them; where not given, the cables "
        "times the conductors in each.",
    )
    spaced: bool = False
    in_insulation: bool = Field(
        default=False, description="In contact with thermal insulation, caulk or foam."
    )
    sealed_hole: bool = Field(default=False, description="Through one hole in wood framing that is sealed.")
    length_together_in: LengthIn | None = Field(default=None, description="Where not given: more than 24 in.")
    cables: Annotated[int, Field(ge=1, le=500)] | None = Field(
        default=None, description="Cables that lie together."
    )
    jacketed: bool = Field(default=False, description="An overall jacket over the armor of MC cable.")
    conductors_each_cable: Annotated[int, Field(ge=1, le=50)] | None = Field(
        default=None, description="Most current-carrying conductors in one of the cables."
    )
    as_nm: bool = Field(default=False, description="UF-B run indoors as nonmetallic-sheathed cable.")

    @field_validator("awg")
    @classmethod
    def in_the_table(cls, awg: str, info: ValidationInfo) -> str:
        if "material" in info.data:
            table_ampacity(awg, info.data["material"], 90, edition_of(info))
        return awg

    @field_validator("ambient_c")
    @classmethod
    def one_ambient(cls, ambient_c: Fraction | None, info: ValidationInfo) -> Fraction | None:
        if ambient_c is not None and info.data.get("ambient_f") is not None:
            raise ValueError("expected ambient_f or ambient_c, came both")
        return ambient_c

    @property
    def run(self) -> ConductorRun:
        """The conductor as the reckoning takes it."""
        ambient = self.ambient_f
        if self.ambient_c is not None:
            ambient = self.ambient_c * Fraction(9, 5) + 32
        together = self.current_carrying
        if together is None and self.cables is not None and self.conductors_each_cable is not None:
            together = self.cables * self.conductors_each_cable
        return ConductorRun(
            awg=self.awg,
            material=self.material,
            kind=_KINDS[self.kind],
            insulation_c=self.insulation_c,
            terminal_c=self.terminal_c,
            ambient_f=ambient,
            current_carrying=together,
            spaced=self.spaced,
            in_insulation=self.in_insulation,
            sealed_hole=self.sealed_hole,
            together_in=self.length_together_in,
            cables=self.cables,
            jacketed=self.jacketed,
            each_cable=self.conductors_each_cable,
            as_nm=self.as_nm,
        )
