"""Neatness: what the code asks in one sentence (110.12) and the trade keeps in figures of its own.

Articles stand only where there is one; the rest is common practice and says so. Figures: editions/workmanship.toml.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from fractions import Fraction

from server.dwelling import Box, DeviceKind, Dwelling, Inches, Panel, Room, RoomKind, Stage, Surface
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import PRACTICE, carried, held
from server.rules.looks import look, measured
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.outlet_facts import serves_counter
from server.rules.reach import has_boxes, has_cables, holds_cables
from server.rules.rule import Measure, rule

__all__ = [
    "box_height_like_others",
    "boxes_plumb",
    "cables_in_order",
    "cables_labeled",
    "cables_square",
    "neat_and_workmanlike",
    "protected_from_finish",
    "slack_kept",
    "swept_out",
]

neat_and_workmanlike = look(
    id="neat-and-workmanlike",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=held("110.12"),
    title="The work is neat and workmanlike",
    why="The code asks for it, and an inspector who finds it relaxes: care that shows is care that was taken where it does not show.",
    look_for="Stand back: boxes straight, cables in order, nothing hanging, nothing left behind.",
    cure="Straighten, fasten and tidy what catches the eye from the doorway.",
    applies=has_boxes,
    plain="The wiring should look tidy from the doorway.",
)

cables_square = look(
    id="cables-square",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=PRACTICE,
    title="Cables run square with the building and lie taut",
    why="Whoever drives a screw later guesses that cables run straight up, down and across.",
    look_for="Runs level and plumb along studs and joists, taut between fastenings, diagonals only where nobody will close them in.",
    cure="Pull the slack back and re-run the diagonal along the framing.",
    applies=has_cables(),
    mistakes="The shortest way from box to box.",
    plain="Run cables straight up, down and across, not diagonally.",
)

cables_in_order = look(
    id="cables-in-order",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=PRACTICE,
    title="Cables lie side by side without crossing",
    why="Parallel cables can be followed by eye years later, and none is pinched under another.",
    look_for="Cables in the order of their boxes, evenly spaced through the same row of holes, none twisted or crossing without need.",
    cure="Take the cables out of the last staples and lay them in order.",
    applies=has_cables(),
    plain="Keep cables side by side and untwisted.",
)

boxes_plumb = measured(
    id="boxes-plumb",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=PRACTICE,
    title="Boxes are plumb and level",
    why="A crooked box makes a crooked plate, the one thing of the wiring that everybody sees for fifty years.",
    look_for="A small level on the side of each box: within a sixteenth of an inch over its height.",
    cure="Loosen one nail or screw, straighten the box, and drive it again.",
    measure=Measure(
        unit="in",
        limit="neat.plumb_in",
        least=False,
        how="Hold a level against the side of the box and measure the gap at its other end.",
        worst="the most crooked box in the room",
    ),
    applies=has_boxes,
    plain="Set every box straight with a level.",
)

protected_from_finish = look(
    id="protected-from-finish",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("110.12(B)"),
    title="Boxes and conductors are protected from mud, paint and overspray",
    why="Compound and paint on terminals make them run hot, and conductors painted over cannot be told apart.",
    look_for="Conductors folded behind the front edge, boxes covered or stuffed where spraying is planned, panel and devices masked.",
    cure="Fold the conductors in and cover the boxes before the drywall and paint crews come.",
    applies=has_boxes,
    plain="Cover the boxes before the wallboard is finished and painted.",
)

slack_kept = look(
    id="slack-kept",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=PRACTICE,
    title="A little slack is kept near the box",
    why="A box that has to be moved an inch, or a wire that was nicked, is saved by three inches of slack.",
    look_for="A soft curve of cable between the last staple and the box, a few inches and no more.",
    cure="Ease a few inches of cable back before the last staple is driven.",
    applies=holds_cables,
    plain="Leave a small curve of spare cable at each box.",
)

swept_out = look(
    id="swept-out",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=PRACTICE,
    title="The room is left clean",
    why="Stripped sheath and slugs in a bay rattle, burn and make the insulation crew angry.",
    look_for="No scraps in boxes, bays or on the floor; holes vacuumed out of bottom plates.",
    cure="Sweep up sheath, slugs and staples, and clean out the boxes.",
    applies=has_boxes,
    plain="Clean up all wire scraps before the walls are closed.",
)

cables_labeled = look(
    id="cables-labeled",
    stage=Stage.ROUGH_IN,
    about=Panel,
    cites=PRACTICE,
    title="Each cable at the panel carries its name",
    why="At trim nobody has to guess which of thirty white cables is the microwave.",
    look_for="A label or marker on every home run within a foot of its entry, in the words of the directory.",
    cure="Ring out the cables that have no name, and label them.",
    mistakes="Writing on the sheath that is stripped off when the panel is made up.",
    plain="Write on every cable at the panel where it goes.",
)

_BY_COUNTER_OR_MACHINE = (RoomKind.KITCHEN, RoomKind.BATHROOM, RoomKind.TOILET_ROOM, RoomKind.LAUNDRY, RoomKind.GARAGE,
                          RoomKind.BASEMENT, RoomKind.WORKSHOP, RoomKind.UTILITY_ROOM, RoomKind.MECHANICAL_ROOM,
                          RoomKind.OUTDOORS, RoomKind.DECK, RoomKind.CRAWL_SPACE, RoomKind.ATTIC)  # fmt: skip


def _kind_of(box: Box, house: Dwelling, code: Edition) -> str | None:
    """Boxes that should stand at one height: the switches, and the receptacles along the walls; None for others."""
    room = house.rooms.get(box.room_id)
    if box.surface is not Surface.WALL or room is None:
        return None
    kinds = {device.kind for device in house.devices_of_box.get(box.id, ())}
    if kinds == {DeviceKind.SWITCH}:
        return "switch boxes" if room.kind not in (RoomKind.OUTDOORS, RoomKind.DECK) else None
    if kinds != {DeviceKind.RECEPTACLE} or room.kind in _BY_COUNTER_OR_MACHINE or serves_counter(box, house):
        return None
    if box.height_in is not None and box.height_in > code.number("neat.low_receptacle_most_in"):
        return None
    return "wall receptacles"


def _usual_heights(house: Dwelling, code: Edition) -> Mapping[str, Inches]:
    """The height at which most boxes of each kind stand; where two are as common, the lower one."""
    heights: dict[str, Counter[Inches]] = {}
    for box in house.facts.boxes:
        kind = _kind_of(box, house, code)
        if kind is not None and box.height_in is not None:
            heights.setdefault(kind, Counter())[box.height_in] += 1
    return {
        kind: min(counted, key=lambda height: (-counted[height], height)) for kind, counted in heights.items()
    }


@rule(
    id="box-height-like-others",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=PRACTICE,
    title="The box stands at the height of the others",
    why="The eye runs along a wall and stops at the one plate that is half an inch higher.",
    look_for="Switch boxes at one height through the house, wall receptacles at one height: measured from the same floor, by story pole.",
    cure="Move the box to the height of the others.",
    says={
        "same": "It stands at {height_in:in}; the {kind} of the house stand at {usual_in:in}.",
        "differs": "It stands at {height_in:in}, {off_in:in} off the {usual_in:in} of the other {kind}.",
        "not-recorded": "The height of this box is not recorded.",
        "other-kind": "The height of this box follows what it serves.",
    },
    mistakes="Measuring from a subfloor in one room and from tile backer in the next.",
    plain="Set all switches at one height and all wall outlets at one height.",
)
def box_height_like_others(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The box's height against the most common one of its kind in the house."""
    kind = _kind_of(box, house, code)
    if kind is None:
        return outside("other-kind")
    if box.height_in is None:
        return unseen("not-recorded", Missing("the height of the box", "box.height_in"))
    usual_in = house.derive(_usual_heights, code)[kind]
    off_in: Fraction = abs(box.height_in - usual_in)
    if work:
        work.step(f"off the usual height of the {kind}", off_in, "in")
    if off_in > code.number("neat.height_in", work):
        return correction("differs", height_in=box.height_in, usual_in=usual_in, off_in=off_in, kind=kind)
    return clear("same", height_in=box.height_in, usual_in=usual_in, kind=kind)
