"""A practice frame: one wall, a few boxes, what one would see at each, some of it wrong; graded by the rules' reasons.

Everything follows from the seed: the same seed is the same frame. What is seen is told in words (*clues*), right ones
and faults mixed; the figures in them lie clearly on one side of the edition's limit, read from the edition itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction
from hashlib import sha256
from typing import Final

from server.dwelling import (
    Box,
    BoxMaterial,
    Cable,
    CableKind,
    Circuit,
    Clamps,
    Device,
    DeviceKind,
    Dwelling,
    Facts,
    Framing,
    Level,
    Opening,
    OpeningKind,
    Panel,
    Room,
    RoomKind,
    Site,
    Surface,
    SwitchWays,
    Wall,
    format_length,
)
from server.editions import Edition
from server.rules.registry import RULES

__all__ = ["Clue", "Frame", "Grade", "Missed", "grade", "make_frame"]


@dataclass(frozen=True, slots=True)
class _Pair:
    """What is seen where a rule is kept, and where it is not; ``limit`` names the edition's figure that both use."""

    rule: str
    right: str
    wrong: str
    limit: str = ""
    least: bool = True


_AT_A_BOX: Final = (
    _Pair("sheath-into-box", "The jacket shows {far} past the entry.", "The jacket ends {near} inside the entry.", "sheath.reach_in"),
    _Pair("box-fastened", "Pushed and pulled, the box does not move.", "One nail holds the box; it turns under the thumb."),
    _Pair("openings-closed", "Every knockout has a cable or is closed.", "One knockout is broken out and nothing passes through it."),
    _Pair("box-whole", "The box has no crack.", "A corner of the box is broken off down to the device ear."),
    _Pair("grounds-joined", "All bare conductors are in one green connector, with a tail toward the front.", "Two bare conductors are twisted together by hand, without a connector."),
    _Pair("splices-made", "Connectors sit tight; no copper shows below them.", "Half an inch of bare copper shows below one connector."),
    _Pair("conductors-folded", "Conductors lie folded in layers, grounds at the back.", "Conductors are stuffed in a ball in front of the entries."),
    _Pair("connectors-fit", "Each cable comes in through its own tab or connector.", "Two cables are forced through one small tab that tore."),
)  # fmt: skip
_ALONG_THE_WALL: Final = (
    _Pair("staples-fit", "Staples sit flat and lightly on the cable.", "A staple is driven so hard that the jacket is dented flat."),
    _Pair("jackets-whole", "The jackets are unmarked.", "A jacket is cut open at a stud; insulation shows."),
    _Pair("cables-per-staple", "Each staple holds what its packet allows.", "Three cables lie under a staple made for one."),
    _Pair("framing-not-weakened", "Holes are near the middle of the studs and small.", "A stud is notched to half its depth for a cable."),
    _Pair("cables-in-order", "Cables run side by side and do not cross.", "Cables cross each other four times between two studs."),
    _Pair("swept-out", "The floor is swept; cut ends are picked up.", "Cut jackets and wire ends lie in the bottom plate."),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Clue:
    """What one would see at a place. ``wrong`` is the truth that the learner is to find."""

    id: str
    rule: str
    place: str
    words: str
    wrong: bool


@dataclass(frozen=True, slots=True)
class Frame:
    """A frame: its house of one wall, and its clues in the order in which one walks."""

    house: Dwelling
    room_id: str
    wall_id: str
    clues: tuple[Clue, ...]

    @property
    def faults(self) -> tuple[Clue, ...]:
        """What is wrong."""
        return tuple(clue for clue in self.clues if clue.wrong)


class _Dice:
    """Choices that follow from a seed, the same on every machine and in every version of Python."""

    def __init__(self, seed: int) -> None:
        self._seed, self._count = seed, 0

    def below(self, limit: int) -> int:
        self._count += 1
        digest = sha256(f"{self._seed}:{self._count}".encode()).digest()
        return int.from_bytes(digest[:8], "big") % limit

    def order(self, items: Sequence[_Pair]) -> list[_Pair]:
        left = list(items)
        return [left.pop(self.below(len(left))) for _ in range(len(left))]


def make_frame(seed: int, code: Edition, *, faults: int = 5, framing: Framing = Framing.WOOD) -> Frame:
    """Make a frame with so many faults.

    Args:
        seed: which frame; the same seed gives the same.
        faults: how many clues are wrong; at most as many as there are clues.
        framing: wood or metal studs.
    """
    dice = _Dice(seed)
    house, boxes = _wall_of_boxes(dice, framing)
    pairs = [
        (f"box {box.label}", pair)
        for box in boxes
        for pair in dice.order([p for p in _AT_A_BOX if p.rule in RULES])[:3]
    ]
    pairs += [
        ("along the wall", pair) for pair in dice.order([p for p in _ALONG_THE_WALL if p.rule in RULES])[:4]
    ]
    wrong: set[int] = set()
    while len(wrong) < min(faults, len(pairs)):
        wrong.add(dice.below(len(pairs)))
    clues = tuple(
        Clue(str(number), pair.rule, place, _words(pair, number in wrong, code), number in wrong)
        for number, (place, pair) in enumerate(pairs)
    )
    return Frame(house, "frame-room", "frame-wall", clues)


def _words(pair: _Pair, wrong: bool, code: Edition) -> str:
    text = pair.wrong if wrong else pair.right
    if not pair.limit or not code.has(pair.limit):
        return text
    limit = code.number(pair.limit)
    far, near = (limit * 2, limit / 2) if pair.least else (limit / 2, limit * 2)
    return text.format(far=format_length(far), near=format_length(near))


def _wall_of_boxes(dice: _Dice, framing: Framing) -> tuple[Dwelling, list[Box]]:
    """A wall of twelve feet with a door, four boxes and a cable through them."""
    room = Room(
        "frame-room", "frame-level", "Practice frame", RoomKind.WORKSHOP, length_in=Fraction(144), width_in=Fraction(48),
        ceiling_height_in=Fraction(96), framing=framing, stud_spacing_in=Fraction(16), finished=False,
    )  # fmt: skip
    wall = Wall("frame-wall", room.id, 0, Fraction(144), name="The frame")
    door = Opening("frame-door", wall.id, OpeningKind.DOOR, Fraction(8), Fraction(40))
    places = (
        (Fraction(47), Fraction(48)),
        (Fraction(65), Fraction(16)),
        (Fraction(97), Fraction(16)),
        (Fraction(129), Fraction(44)),
    )
    boxes = [
        Box(
            f"frame-box-{number}", room.id, f"{'S' if number == 0 else 'R'}{max(number, 1)}", number, Surface.WALL, wall.id,
            at_in + dice.below(3), height_in, material=BoxMaterial.NONMETALLIC, volume_in3=Fraction(45, 2), clamps=Clamps.NONE,
        )
        for number, (at_in, height_in) in enumerate(places)
    ]  # fmt: skip
    devices = [
        Device(
            f"frame-device-{number}", box.id, DeviceKind.SWITCH if number == 0 else DeviceKind.RECEPTACLE,
            ways=SwitchWays.SINGLE_POLE if number == 0 else None, configuration=None if number == 0 else "5-15",
            gfci=number == 3, tamper_resistant=True,
        )
        for number, box in enumerate(boxes)
    ]  # fmt: skip
    panel, circuit = (
        Panel("frame-panel", "Panel"),
        Circuit("frame-circuit", "frame-panel", "Practice", rating_a=15, conductor_awg="14"),
    )
    stops = [None, *boxes]
    cables = [
        Cable(
            f"frame-cable-{number}", CableKind.NM_B, "14", order=number, circuit_ids=(circuit.id,),
            a_panel_id=panel.id if before is None else None, a_box_id=before.id if before else None, b_box_id=boxes[number].id,
        )
        for number, before in enumerate(stops[:-1])
    ]  # fmt: skip
    facts = Facts(
        Site("frame"), (Level("frame-level", "Frame"),), (room,), (wall,), (door,), boxes=tuple(boxes), devices=tuple(devices),
        panels=(panel,), circuits=(circuit,), cables=tuple(cables),
    )  # fmt: skip
    return Dwelling(facts), boxes


@dataclass(frozen=True, slots=True)
class Missed:
    """A fault that was not marked, or something right that was: with the rule's reason."""

    clue: Clue
    title: str
    why: str
    look_for: str
    article: str


@dataclass(frozen=True, slots=True)
class Grade:
    """What a learner found. ``points`` of ``of``: a fault found counts one, a false alarm takes one away, never below 0."""

    found: tuple[Clue, ...]
    missed: tuple[Missed, ...]
    false_alarms: tuple[Missed, ...]

    @property
    def of(self) -> int:
        return len(self.found) + len(self.missed)

    @property
    def points(self) -> int:
        return max(0, len(self.found) - len(self.false_alarms))


def grade(frame: Frame, marked: Iterable[str], code: Edition) -> Grade:
    """Compare what was marked wrong (clue ids) with what is."""
    ids = set(marked)
    return Grade(
        tuple(clue for clue in frame.faults if clue.id in ids),
        tuple(_told(clue, code) for clue in frame.faults if clue.id not in ids),
        tuple(_told(clue, code) for clue in frame.clues if clue.id in ids and not clue.wrong),
    )


def _told(clue: Clue, code: Edition) -> Missed:
    rule = RULES[clue.rule]
    return Missed(clue, rule.title, rule.why, rule.look_for, str(rule.article(code)))
