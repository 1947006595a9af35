"""Receptacle outlets that a dwelling must have beside its wall and counter spacing: indoors.

Hallway, bathroom, laundry, garage, basement, accessory building, and the receptacle within reach of an
appliance or of service and heating equipment. Each function takes what is there and answers with one
:class:`Required` a subject (a basin, a bay, a piece of equipment): how many the edition asks for, which
receptacles count, which do not and why, what is not known, and what the code leaves to the inspector.
Outdoors: ``required_outdoors.py``.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from server.dwelling.length import Inches, format_length
from server.editions.edition import Edition
from server.reckon.receptacles_that_count import Receptacle, Uncounted, plain_word, why_not_counted
from server.reckon.work import SILENT, Work

__all__ = [
    "Basin",
    "BathReceptacle",
    "DwellingKind",
    "Equipment",
    "EquipmentReceptacle",
    "GarageReceptacle",
    "Hallway",
    "Required",
    "answered",
    "appliance_receptacle",
    "bathroom_receptacles",
    "equipment_receptacle",
    "garage_and_basement_receptacles",
    "hallway_receptacle",
    "laundry_receptacle",
    "service_receptacle",
]

DwellingKind = Literal["one-family", "two-family", "multifamily"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Required:
    """What a rule asks of one subject. ``required`` None: it cannot be said, see ``unseen``."""

    rule: str
    subject: str
    required: int | None
    why: str
    cites: str
    counted: tuple[str, ...] = ()
    uncounted: tuple[Uncounted, ...] = ()
    unseen: tuple[str, ...] = ()
    inspector: tuple[str, ...] = ()

    @property
    def short_by(self) -> int:
        """How many receptacles are missing (0 where it cannot be said)."""
        return max((self.required or 0) - len(self.counted), 0)

    @property
    def complies(self) -> bool | None:
        """None where a fact is missing that decides."""
        if self.required is not None and not self.short_by:
            return True
        return None if self.unseen else False


@dataclass(frozen=True, slots=True)
class Hallway:
    """``centerline_in``: its length along the middle, as far as one goes without passing a doorway."""

    id: str
    centerline_in: Inches | None
    receptacles: tuple[Receptacle, ...] = ()


@dataclass(frozen=True, slots=True)
class Basin:
    """A bathroom basin (washbowl)."""

    id: str


@dataclass(frozen=True, slots=True)
class BathReceptacle:
    """A bathroom receptacle and how far it stands from the outside edge of each basin, by the basin's id.

    ``where``: on the wall or partition beside the basin, on its counter, on the side or face of its cabinet.
    ``below_top_in`` under the top of the basin or counter, 0 where it stands above.
    """

    receptacle: Receptacle
    from_basin_in: Mapping[str, Inches]
    where: Literal["wall", "counter", "cabinet"] = "wall"
    below_top_in: Inches | None = None
    listed_for_counter: bool | None = None


@dataclass(frozen=True, slots=True)
class GarageReceptacle:
    """A receptacle in a garage, accessory building or basement. ``place``: the bay, building or unfinished
    portion it stands in. ``for_equipment``: there for one piece of equipment (opener, freezer, pump).
    ``security``: only for a fixed security system."""

    receptacle: Receptacle
    place: str
    for_equipment: bool = False
    security: bool = False


@dataclass(frozen=True, slots=True)
class Equipment:
    """Heating, air-conditioning or refrigeration equipment, or (for the service rule) service equipment."""

    id: str
    kind: str
    dwelling: DwellingKind = "one-family"


@dataclass(frozen=True, slots=True)
class EquipmentReceptacle:
    """A receptacle near equipment: how far, whether on its level, whether fed through its disconnect."""

    receptacle: Receptacle
    distance_in: Inches | None
    same_level: bool | None = None
    load_side: bool | None = None


@dataclass(slots=True)
class _Count:
    """Collects receptacles for one subject."""

    cites: str
    counted: list[str] = field(default_factory=list)
    uncounted: list[Uncounted] = field(default_factory=list)
    unseen: list[str] = field(default_factory=list)

    def refuse(self, receptacle: Receptacle, why: str) -> None:
        self.uncounted.append(Uncounted(receptacle.id, why, self.cites))

    def judge(
        self, receptacle: Receptacle, code: Edition, work: Work, why: str | None, unknown: str = ""
    ) -> None:
        """Count a receptacle, or refuse it for a reason of this rule or of 210.52 in general."""
        general = why_not_counted(receptacle, code, work)
        if general is not None:
            self.uncounted.append(general)
        elif why:
            self.refuse(receptacle, why)
        elif unknown:
            self.unseen.append(f"receptacle {receptacle.id}: {unknown}")
        else:
            self.counted.append(receptacle.id)


def answered(
    rule: str,
    subject: str,
    required: int,
    why: str,
    cites: str,
    work: Work,
    *,
    counted: Sequence[str] = (),
    uncounted: Sequence[Uncounted] = (),
    unseen: Sequence[str] = (),
    inspector: Sequence[str] = (),
) -> Required:
    """Put one subject's answer together and record its steps."""
    if work:
        work.step(f"{subject}: {why}", required, "count", cites)
        work.step(f"{subject}: counted", len(counted), "count")
    return Required(
        rule=rule,
        subject=subject,
        required=required,
        why=why,
        cites=cites,
        counted=tuple(counted),
        uncounted=tuple(uncounted),
        # What is not known about one receptacle matters only where those that count do not suffice.
        unseen=tuple(unseen) if len(counted) < required else (),
        inspector=tuple(inspector),
    )


def _judged(
    rule: str, subject: str, required: int, why: str, count: _Count, work: Work, inspector: Sequence[str] = ()
) -> Required:
    return answered(
        rule, subject, required, why, count.cites, work,
        counted=count.counted, uncounted=count.uncounted, unseen=count.unseen, inspector=inspector,
    )  # fmt: skip


def hallway_receptacle(hallway: Hallway, code: Edition, work: Work = SILENT) -> Required:
    """One receptacle in a hallway of 10 ft or more, whatever its length and shape (210.52(H))."""
    least = code.number("outlet.hallway.least_length_in", work)
    cites = code.cites("outlet.hallway.least_length_in")
    length = hallway.centerline_in
    if length is None:
        return Required(
            rule="hallway", subject=hallway.id, required=None, cites=cites,
            why=f"a hallway of {format_length(least)} or more needs one receptacle",
            unseen=("the length of the hallway along its middle, without passing a doorway",),
        )  # fmt: skip
    count = _Count(cites)
    for receptacle in hallway.receptacles:
        count.judge(receptacle, code, work, None)
    if length < least:
        why = f"{format_length(length)} long, less than {format_length(least)}: none required"
        return _judged("hallway", hallway.id, 0, why, count, work)
    why = f"{format_length(length)} long, {format_length(least)} or more: one, wherever it stands"
    return _judged("hallway", hallway.id, 1, why, count, work)


def bathroom_receptacles(
    basins: Sequence[Basin], receptacles: Sequence[BathReceptacle], code: Edition, work: Work = SILENT
) -> tuple[Required, ...]:
    """One receptacle within 3 ft of the outside edge of each basin, not lower than 12 in below its top
    (210.52(D)). One between two basins may serve both."""
    reach = code.number("outlet.bathroom.reach_in", work)
    below_max = code.number("outlet.bathroom.below_max_in", work)
    answers = []
    for basin in basins:
        count = _Count(code.cites("outlet.bathroom.reach_in"))
        for each in receptacles:
            away = each.from_basin_in.get(basin.id)
            why, unknown = None, ""
            if away is None:
                unknown = f"its distance from the edge of basin {basin.id}"
            elif away > reach:
                why = f"{format_length(away)} from the basin; more than {format_length(reach)}"
            elif each.below_top_in is not None and each.below_top_in > below_max:
                why = (
                    f"{format_length(each.below_top_in)} below the top; more than {format_length(below_max)}"
                )
            elif each.where == "counter" and each.listed_for_counter is False:
                why = "it is in the counter and not listed for that"
            elif each.where == "cabinet" and each.below_top_in is None:
                unknown = "how far it is below the top of the basin or counter"
            count.judge(each.receptacle, code, work, why, unknown)
        asks = []
        if len(basins) > 1 and len(count.counted) == 1:
            asks.append("whether a receptacle beyond the other basin is adjacent to this one")
        why_text = f"one within {format_length(reach)} of its outside edge"
        answers.append(_judged("bathroom", basin.id, 1, why_text, count, work, asks))
    return tuple(answers)


def laundry_receptacle(
    area: str,
    receptacles: Sequence[Receptacle],
    code: Edition,
    work: Work = SILENT,
    *,
    dwelling: DwellingKind = "one-family",
    shared_laundry: bool | None = False,
) -> Required:
    """One receptacle in an area for laundry equipment (210.52(F)); none in a unit of a multifamily building
    with laundry on the premises for everyone."""
    cites = code.cites("outlet.laundry.count")
    count = _Count(cites)
    for receptacle in receptacles:
        count.judge(receptacle, code, work, None)
    required = int(code.number("outlet.laundry.count", work))
    why = "an area for laundry equipment"
    if dwelling == "multifamily" and code.flag("outlet.laundry.shared_excuses", work):
        if shared_laundry:
            excused = code.cites("outlet.laundry.shared_excuses")
            if work:
                work.skip(f"{area}: laundry on the premises for everyone; none required here", excused)
            required, why = 0, "laundry on the premises for everyone: none required"
        elif shared_laundry is None:
            count.unseen.append("whether the building has laundry on the premises for everyone")
    return _judged("laundry", area, required, why, count, work)


def garage_and_basement_receptacles(
    kind: Literal["garage", "accessory building", "basement"],
    places: Sequence[str],
    receptacles: Sequence[GarageReceptacle],
    code: Edition,
    work: Work = SILENT,
    *,
    dwelling: DwellingKind = "one-family",
    attached: bool = True,
    has_power: bool | None = True,
) -> tuple[Required, ...]:
    """One receptacle in each vehicle bay, in an accessory building with power, in each unfinished portion of
    a basement (210.52(G)), besides those for specific equipment. ``places`` names the bays or portions."""
    node = {
        "garage": "outlet.garage.each_bay",
        "accessory building": "outlet.accessory.count",
        "basement": "outlet.basement.each",
    }[kind]
    required, cites = int(code.number(node, work)), code.cites(node)
    excused = ""
    if dwelling == "multifamily" and not code.flag("outlet.g.multifamily", work):
        excused = "a multifamily dwelling, which this edition's rule does not reach"
    elif kind != "basement" and not (kind == "garage" and attached) and has_power is False:
        excused = "a separate building without power"
    height_max = code.number("outlet.garage.height_max_in", work)
    security_out = code.flag("outlet.g.security_never_counts", work)
    answers = []
    for place in places:
        count = _Count(cites)
        if kind != "basement" and not (kind == "garage" and attached) and has_power is None:
            count.unseen.append("whether the building has power")
        for each in receptacles:
            if each.place != place:
                continue
            why = None
            if each.for_equipment:
                why = "it is there for specific equipment"
            elif each.security and security_out:
                why = "it is only for a security system"
            elif kind == "garage" and each.receptacle.height_in is not None:
                if each.receptacle.height_in > height_max:
                    why = f"{format_length(each.receptacle.height_in)} above the floor; more than {format_length(height_max)}"
            count.judge(each.receptacle, code, work, why)
        reason = (
            excused
            or {
                "garage": "one in each vehicle bay",
                "accessory building": "one in a building with power",
                "basement": "one in each unfinished portion",
            }[kind]
        )
        answers.append(_judged(kind, place, 0 if excused else required, reason, count, work))
    return tuple(answers)


def appliance_receptacle(
    appliance: str, distances_in: Mapping[str, Inches], code: Edition, work: Work = SILENT
) -> Required:
    """A receptacle for a specific appliance within 6 ft of it (210.50(C)). ``distances_in``: from the
    appliance's place to each receptacle meant for it, by id."""
    reach = code.number("outlet.appliance.reach_in", work)
    count = _Count(code.cites("outlet.appliance.reach_in"))
    for name, away in distances_in.items():
        if away > reach:
            count.refuse(Receptacle(id=name), f"{format_length(away)} away; more than {format_length(reach)}")
        else:
            count.counted.append(name)
    return _judged("appliance", appliance, 1, f"one within {format_length(reach)} of it", count, work)


def equipment_receptacle(
    equipment: Equipment, receptacles: Sequence[EquipmentReceptacle], code: Edition, work: Work = SILENT
) -> Required:
    """A receptacle within 25 ft of heating, cooling and refrigeration equipment, on its level and not fed
    through its disconnect (210.63)."""
    return _near_equipment("outlet.equipment", equipment, receptacles, code, work)


def service_receptacle(
    service: Equipment, receptacles: Sequence[EquipmentReceptacle], code: Edition, work: Work = SILENT
) -> Required:
    """A receptacle within 25 ft of indoor service equipment (210.64, later 210.63(B)); houses are excused."""
    return _near_equipment("outlet.service", service, receptacles, code, work)


def _near_equipment(
    node: str, item: Equipment, receptacles: Sequence[EquipmentReceptacle], code: Edition, work: Work
) -> Required:
    reach = code.number(f"{node}.reach_in", work)
    count = _Count(code.cites(f"{node}.reach_in"))
    service = node == "outlet.service"
    excuses = code.names(f"{node}.excused", work)
    excused = item.dwelling in excuses if service else plain_word(item.kind) in excuses
    if not service and item.dwelling == "multifamily":
        excused = False
    for each in receptacles:
        why, unknown = None, ""
        if each.distance_in is None:
            unknown = "its distance from the equipment"
        elif each.distance_in > reach:
            why = f"{format_length(each.distance_in)} away; more than {format_length(reach)}"
        elif each.same_level is False:
            why = "it is on another level"
        elif not service and each.load_side:
            why = "it is fed through the equipment's disconnect"
        elif each.same_level is None:
            unknown = "whether it is on the same level"
        # A service outlet may be as high as the equipment is: the height limit of 210.52 is not for it.
        if why:
            count.refuse(each.receptacle, why)
        elif unknown:
            count.unseen.append(f"receptacle {each.receptacle.id}: {unknown}")
        else:
            count.counted.append(each.receptacle.id)
    rule = "service equipment" if service else "equipment"
    if excused:
        return _judged(rule, item.id, 0, f"{item.dwelling} dwelling: none required for it", count, work)
    why_text = f"one within {format_length(reach)} on its level"
    return _judged(rule, item.id, 1, why_text, count, work)
