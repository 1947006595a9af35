"""How far overhead service conductors stay from roof, ground, drive, windows."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import carried
from server.rules.looks import measured
from server.rules.rule import Measure, Rule

__all__ = [
    "drip_loop_height",
    "drop_attachment_height",
    "drop_from_communications",
    "drop_from_windows",
    "drop_over_drive",
    "drop_over_overhang",
    "drop_over_roof",
    "drop_over_steep_roof",
    "drop_over_street",
    "drop_over_walk",
]

_HOW = "Sight it against a story pole held at a distance, or use a laser from the ground. Never hold a tape, ladder or pole up to it."
_DANGER = (
    "The drop is live and its insulation is not to be relied on. Keep everything that conducts far from it."
)


def _clearance(*, id: str, article: str, title: str, limit: str, why: str, look_for: str, cure: str, worst: str, mistakes: str = "", plain: str = "") -> Rule:  # noqa: A002  # fmt: skip
    """A clearance of an overhead service; an underground one records “not here”."""
    return measured(
        id=id,
        stage=Stage.SERVICE,
        about=Site,
        cites=carried(article),
        title=title,
        why=why,
        look_for=f"{look_for} Record “not here” where none passes there.",
        cure=cure,
        measure=Measure(unit="in", limit=limit, least=True, how=_HOW, worst=worst),
        mistakes=mistakes,
        plain=plain,
        danger=_DANGER,
    )


drop_over_roof = _clearance(
    id="drop-over-roof",
    article="230.24(A)",
    title="The service conductors clear a roof that one can walk on",
    limit="clearance.roof_in",
    why="Roofers and chimney sweeps stand up.",
    look_for="A flat or low roof below the drop, and three feet around its edge.",
    cure="Raise the attachment or the mast, or have the drop led around the roof.",
    worst="the place where the drop comes nearest to the roof",
    mistakes="Forgetting the garage or porch roof that the drop crosses.",
    plain="Overhead power wires must be high above a flat roof.",
)
drop_over_steep_roof = _clearance(
    id="drop-over-steep-roof",
    article="230.24(A) Exception No. 2",
    title="The service conductors clear a steep roof",
    limit="clearance.steep_roof_in",
    why="Nobody walks there, but shinglers work there.",
    look_for="A roof that rises four inches in twelve or more below the drop.",
    cure="Raise the attachment or the mast.",
    worst="the place where the drop comes nearest to the roof",
    plain="Over a steep roof the wires must be at least three feet up.",
)
drop_over_overhang = _clearance(
    id="drop-over-overhang",
    article="230.24(A) Exception No. 3",
    title="The service conductors clear the overhang before their mast",
    limit="clearance.overhang_in",
    why="The short stretch before the mast may come lower, but not onto the shingles.",
    look_for="At most six feet of conductor over at most four feet of overhang, ending at a mast through the roof.",
    cure="Lengthen the mast above the roof.",
    worst="the lowest point of drop or loop over the overhang",
    mistakes="A mast six feet in from the edge: then the full height holds.",
    plain="Where the mast comes through the eave, the wires must be at least a foot and a half above the roof.",
)
drip_loop_height = _clearance(
    id="drip-loop-height",
    article="230.24(B)(1)",
    title="The drip loop is high enough",
    limit="clearance.grade_in",
    why="The loop is the lowest live point of the service, right beside the house.",
    look_for="The lowest point of the loop above the ground, deck or steps below it.",
    cure="Raise the head and the attachment.",
    worst="the bottom of the loop",
    mistakes="A deck built below it later.",
    plain="The lowest point of the wire loop must be at least 10 feet up.",
)
drop_over_walk = _clearance(
    id="drop-over-walk",
    article="230.24(B)(1)",
    title="The drop clears walks and yard",
    limit="clearance.grade_in",
    why="People carry ladders and poles through a yard.",
    look_for="Where only people on foot pass below the drop.",
    cure="Raise the attachment, or have the utility tighten the drop.",
    worst="the lowest sag over the walk",
    plain="Over a walkway the wires must be at least 10 feet up.",
)
drop_over_drive = _clearance(
    id="drop-over-drive",
    article="230.24(B)(2)",
    title="The drop clears the drive",
    limit="clearance.drive_in",
    why="A moving van is eleven feet high.",
    look_for="Where cars and delivery trucks pass on the dwelling's own property.",
    cure="Raise the attachment, or have the pole moved.",
    worst="the lowest sag over the drive",
    plain="Over a driveway the wires must be at least 12 feet up.",
)
drop_over_street = _clearance(
    id="drop-over-street",
    article="230.24(B)(4)",
    title="The drop clears street and alley",
    limit="clearance.street_in",
    why="Trucks of every height pass below it.",
    look_for="Where the drop crosses a public street, an alley, a road or a truck lot.",
    cure="Have the utility set a pole on the near side, or raise the attachment.",
    worst="the lowest sag over the road",
    plain="Over a street the wires must be at least 18 feet up.",
)
drop_attachment_height = _clearance(
    id="drop-attachment-height",
    article="230.26",
    title="The drop is attached high enough",
    limit="clearance.attachment_in",
    why="Everything below hangs from this point; too low, and no loop or sag can be right.",
    look_for="The hook or insulator on the house, mast or pole.",
    cure="Move the attachment up, or set a mast.",
    worst="the point of attachment",
    plain="The hook that holds the wires must be at least 10 feet up.",
)
drop_from_windows = _clearance(
    id="drop-from-windows",
    article="230.9(A)",
    title="The drop keeps away from windows, doors, porches and balconies",
    limit="clearance.window_in",
    why="A hand that shakes out a rug reaches farther than one thinks.",
    look_for="Windows that open, doors, porches, balconies, ladders, stairs, fire escapes: beside and below. Above the top of a window is free.",
    cure="Move the attachment, or run the service in cable or raceway there.",
    worst="the nearest window, door or porch",
    mistakes="A dormer or balcony added after the service.",
    plain="Power wires must be at least three feet from windows that open, doors and porches.",
)
drop_from_communications = _clearance(
    id="drop-from-communications",
    article="230.24(E), 800.44(A)(4)",
    title="Telephone and television lines hang well below the drop",
    limit="clearance.communications_in",
    why="Whoever repairs them works with an arm above the line.",
    look_for="Where they run together, along the span and at their hooks on the house.",
    cure="Have the other company lower its line, on a hook of its own.",
    worst="the place where the two come nearest",
    plain="Phone and TV wires hang at least a foot below the power wires.",
)
