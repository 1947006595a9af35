"""What is asked about one outlet, and what the answer says.

The answer to "must this outlet be protected?" has four values: ``True``, ``False``, ``None`` (a fact is missing,
and the answer names it) and ``"inspector"`` (the code leaves it to the authority having jurisdiction).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from typing import Final, Literal

from server.dwelling.length import Inches, format_length
from server.reckon.protection.sentences import SENTENCES

__all__ = ["NOWHERE_NEAR", "Answer", "Kind", "Operand", "OutletFacts", "Requirement", "WorkOn"]

Answer = bool | None | Literal["inspector"]
Kind = Literal["receptacle", "lighting", "hardwired", "switch"]
WorkOn = Literal["new", "extension", "replacement"]
Operand = str | int | Fraction | date

NOWHERE_NEAR: Final = Fraction(10**6)
"""Distance to a sink or tub that no cord reaches: say this where there is none, so that it is not "unknown"."""


@dataclass(frozen=True, slots=True)
class OutletFacts:
    """One outlet as the rules on GFCI, AFCI, tamper and weather resistance see it. ``None`` means unknown.

    room: a word of ``server.dwelling.room_kinds.RoomKind`` (or ``"wet bar"``, ``"alcove"``).
    finished: whether the room is finished as living space (asked for basements and attics).
    in_basement: the room lies on a basement level, whatever it is used as.
    kind: a receptacle, a lighting outlet, the outlet of hardwired equipment, or a switch (a device, no outlet).
    volts, amps, phases: the receptacle's rating, or the equipment's for a hardwired outlet.
    serves: the appliance or purpose, in the words of ``served.py``; ``"general"`` for no particular one, empty
        where nobody said.
    height_in: above the floor, to the middle of the receptacle.
    from_sink_in, from_tub_in: shortest cord path to the top inside edge of the bowl, to the outside edge of the
        tub or shower; :data:`NOWHERE_NEAR` where there is none.
    path_crosses: what that path passes: ``"door"``, ``"doorway"``, ``"window"``, ``"cabinet door"``, ``"wall"``.
    dedicated: alone on its circuit, in a space kept for one appliance.
    single: one contact device (not a duplex).
    part_of_equipment: built into a luminaire, an appliance or a fan's housing by its maker.
    damp, wet: the location, indoors or out; outdoors is at least damp. Unknown counts as dry indoors, except where
        damp is likely (mudroom, boathouse, crawl space).
    floor_at_grade, habitable: of an accessory building: floor at or below grade; used as living space.
    food_provisions: the area has a sink and permanent provisions for preparing food or drink, or for cooking.
    walk_out: the basement opens at grade.
    metal_wiring: the whole circuit runs in metal raceway or steel-sheathed cable with metal boxes.
    circuit_volts, circuit_amps, volts_to_ground: of the branch circuit.
    circuit_rooms: every room whose outlets or devices the circuit supplies.
    work_on: new work, an extension of an old circuit, or a replacement at an existing outlet.
    extension_in: conductor added to the old circuit; added_outlets: outlets and devices added to it.
    nongrounding: a two-slot receptacle replaced by another of its kind.
    """

    room: str
    kind: Kind = "receptacle"
    finished: bool | None = None
    in_basement: bool = False
    volts: Fraction | int | None = None
    amps: Fraction | int | None = None
    phases: int = 1
    serves: str = ""
    height_in: Inches | None = None
    from_sink_in: Inches | None = None
    from_tub_in: Inches | None = None
    path_crosses: tuple[str, ...] = ()
    dedicated: bool | None = None
    single: bool | None = None
    readily_accessible: bool | None = None
    part_of_equipment: bool = False
    locking: bool = False
    outdoors: bool | None = None
    damp: bool | None = None
    wet: bool | None = None
    listed_hvac: bool | None = None
    floor_at_grade: bool | None = None
    habitable: bool | None = None
    food_provisions: bool = False
    walk_out: bool | None = None
    gfci_protected: bool | None = None
    metal_wiring: bool | None = None
    circuit_volts: Fraction | int | None = None
    circuit_amps: Fraction | int | None = None
    volts_to_ground: Fraction | int | None = None
    circuit_rooms: tuple[str, ...] = ()
    work_on: WorkOn = "new"
    extension_in: Inches | None = None
    added_outlets: int = 0
    nongrounding: bool = False
    permit_date: date | None = None


@dataclass(frozen=True, slots=True)
class Requirement:
    """Whether an outlet must be protected, and why.

    ``reason`` names a sentence of ``sentences.py``; the words are put together only when ``why`` is read.
    ``missing`` names the facts (fields of :class:`OutletFacts`) that would settle a ``None``. ``assumed`` lists
    what a conservative reading took for granted. ``confidence`` is the weakest support of the values that decided.
    """

    required: Answer
    reason: str
    operands: Mapping[str, Operand]
    cites: tuple[str, ...]
    missing: tuple[str, ...] = ()
    confidence: str = "two"
    assumed: tuple[str, ...] = ()

    @property
    def why(self) -> str:
        """One sentence with the numbers, and what was taken for granted."""
        shown = {name: _shown(name, value) for name, value in self.operands.items()}
        sentence = SENTENCES[self.reason].format(**shown)
        return " ".join((sentence, *self.assumed))


def _shown(name: str, value: Operand) -> str:
    if name.endswith("_in") and isinstance(value, Fraction | int):
        return "an unstated length" if value >= NOWHERE_NEAR else format_length(Fraction(value))
    if isinstance(value, Fraction):
        return str(value.numerator) if value.denominator == 1 else f"{float(value):g}"
    if isinstance(value, date):
        return f"{value.day} {value:%B} {value.year}"
    return str(value)
