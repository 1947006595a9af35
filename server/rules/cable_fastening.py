"""Cables fastened: near the box, along the run, without being crushed; bends no tighter than they may be."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling import Box, BoxMaterial, Cable, CableKind, Clamps, Dwelling, Room, Stage
from server.editions import Edition
from server.rules.citing import carried, held, moved
from server.rules.looks import look, measured
from server.rules.outcome import Missing
from server.rules.reach import SHEATHED, has_cables
from server.rules.rule import Measure, Rule

__all__ = [
    "ac_bends",
    "ac_bushings",
    "ac_fastened_along",
    "cable_fastened_near_box",
    "cable_ties_listed",
    "cables_per_staple",
    "mc_bends",
    "mc_fastened_along",
    "nm_bends",
    "nm_fastened_along",
    "nm_slack_at_box",
    "staples_fit",
    "supports_of_their_own",
]

_FASTENED = (*SHEATHED, CableKind.AC, CableKind.MC)


def _clamped_cables(box: Box, house: Dwelling, code: Edition) -> str | Missing | None:
    """Cables that the box clamps; a small plastic box without clamps has its own, nearer distance."""
    cables = house.cables_of_box.get(box.id, ())
    if not cables:
        return Missing("the cables that enter it", "cable")
    if not any(cable.kind in _FASTENED for cable in cables):
        return "No cable here is one that staples or straps hold."
    if box.clamps is Clamps.NONE and box.material is BoxMaterial.NONMETALLIC:
        return "The box has no clamps, so the cable is fastened nearer, by the rule for such boxes."
    return None


def _recorded(box: Box, house: Dwelling, code: Edition) -> tuple[list[Fraction], bool]:
    """The distances that stand on the cables' ends at this box."""
    ends = [end for cable in house.cables_of_box.get(box.id, ()) for end in _ends(cable, box)]
    known = [end for end in ends if end is not None]
    return known, len(known) == len(ends)


def _ends(cable: Cable, box: Box) -> list[Fraction | None]:
    if cable.kind not in _FASTENED:
        return []
    ends = [cable.fastened_a_in] if cable.a_box_id == box.id else []
    return [*ends, cable.fastened_b_in] if cable.b_box_id == box.id else ends


cable_fastened_near_box = measured(
    id="cable-fastened-near-box",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("334.30, 320.30, 330.30"),
    title="Each cable is fastened close to its box",
    why="The fastening, not the clamp, should take the pull when somebody tugs at the cable or hangs on it.",
    look_for="A staple, strap or listed tie on every cable within a foot of the box, on the face of the framing and not in the air.",
    cure="Add a staple or strap to the cable within a foot of the box.",
    measure=Measure(
        unit="in",
        limit="cable.fastened_box_in",
        least=False,
        how="Follow the cable with the tape from the box to the first fastening.",
        worst="the cable with the longest way to its first fastening",
    ),
    applies=_clamped_cables,
    recorded=_recorded,
    mistakes="Running six cables down to one gang box and stapling two of them.",
    plain="Every cable must be stapled within twelve inches of the box it goes into.",
)

nm_fastened_along = measured(
    id="nm-fastened-along",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("334.30"),
    title="NM cable is fastened along its run",
    why="A cable that hangs loose is caught by ladders and insulation, and pulls at its ends.",
    look_for="A staple or a framing hole at least every four and a half feet; none draped over joists or pipes.",
    cure="Staple the cable to the framing at the missing places, or bring it through bored holes.",
    measure=Measure(
        unit="in",
        limit="cable.nm_fastened_along_in",
        least=False,
        how="Measure along the cable from one staple or framing hole to the next.",
        worst="the longest loose stretch in the room",
    ),
    applies=has_cables(*SHEATHED),
    mistakes="Cable laid over the top of ceiling joists; cable hung from ductwork or sprinkler pipe.",
    plain="Staple the cable at least every four and a half feet.",
)

ac_fastened_along = measured(
    id="ac-fastened-along",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("320.30"),
    title="Armored cable is fastened along its run",
    why="Armor is heavy, and its own weight draws it out of the connector.",
    look_for="A strap or staple made for armored cable at least every four and a half feet, or framing holes no farther apart.",
    cure="Add straps or staples made for this cable at the missing places.",
    measure=Measure(
        unit="in",
        limit="cable.ac_fastened_along_in",
        least=False,
        how="Measure along the cable from one strap or framing hole to the next.",
        worst="the longest loose stretch in the room",
    ),
    applies=has_cables(CableKind.AC),
    plain="Strap armored cable at least every four and a half feet.",
)

mc_fastened_along = measured(
    id="mc-fastened-along",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("330.30"),
    title="Metal-clad cable is fastened along its run",
    why="A loose cable in a ceiling ends up as a hanger for everything else.",
    look_for="A strap or framing hole at least every six feet on cables with up to four conductors of 10 AWG and smaller.",
    cure="Add straps at the missing places.",
    measure=Measure(
        unit="in",
        limit="cable.mc_fastened_along_in",
        least=False,
        how="Measure along the cable from one strap or framing hole to the next.",
        worst="the longest loose stretch in the room",
    ),
    applies=has_cables(CableKind.MC),
    plain="Strap metal-clad cable at least every six feet.",
)

nm_slack_at_box = measured(
    id="nm-slack-at-box",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2020="334.30"),
    title="A slack loop at the box stays short",
    why="A little slack is welcome; a long loose loop is struck by nails and fills the bay.",
    look_for="Between the box and the nearest staple no more than a foot and a half of cable, loops included.",
    cure="Draw the slack back past the staple, or add a staple nearer to the box.",
    measure=Measure(
        unit="in",
        limit="cable.nm_slack_in",
        least=False,
        how="Measure the cable itself, around any loop, from the box to the nearest staple.",
        worst="the largest loop in the room",
    ),
    applies=has_cables(*SHEATHED),
    mistakes="Stapling within a foot of the box as the crow flies with two feet of cable in between.",
    plain="Between the box and the first staple there may be at most eighteen inches of cable.",
)

staples_fit = look(
    id="staples-fit",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("334.30"),
    title="Staples hold the cable without hurting it",
    why="A staple driven too hard cuts through sheath and insulation, and the fault shows up years later.",
    look_for="Flat cable held on its flat side, staples snug and square, the sheath still round under them; insulated "
    "staples where the package asks for them.",
    cure="Pull the staple, look at the sheath, and drive a new one gently; a cut cable is run again or boxed.",
    applies=has_cables(*SHEATHED),
    mistakes="Flat cable stapled on its edge; the last hammer blow that flattens the cable.",
    plain="Staples should be snug, not tight, and the cable should lie flat under them.",
)

cables_per_staple = look(
    id="cables-per-staple",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=held("110.3(B)"),
    title="No more cables under a staple than it is made for",
    why="Cables stacked under one staple press on each other and warm each other; each staple is tested for a certain number.",
    look_for="One or two cables under a plain staple as its box says; several cables side by side in a stacker or standoff made for them.",
    cure="Add staples, or fit a stacker that is listed for this many cables.",
    applies=has_cables(*SHEATHED),
    mistakes="Three home runs under one plain staple along a stud.",
    plain="Most staples take one cable, some take two. Use a cable stacker for more.",
)

cable_ties_listed = look(
    id="cable-ties-listed",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("334.30"),
    title="Ties that hold a cable up are listed for it",
    why="An ordinary tie creeps and snaps; only some are tested to carry a cable.",
    look_for="Where ties hold cables in place of staples: the marking for support, and the tie fixed to the framing.",
    cure="Replace the ties by staples, or by ties listed for securing and supporting.",
    applies=has_cables(*_FASTENED),
    mistakes="Tying new cables to old ones or to a water pipe.",
    plain="Plastic ties may hold a cable only if they are made and marked for that.",
)

supports_of_their_own = look(
    id="supports-of-their-own",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("300.11"),
    title="Cables hang from nothing but the building",
    why="Pipes and ducts move, ceiling wires are cut by the next trade, and the cable goes with them.",
    look_for="No cable tied to ducts, pipes, ceiling grid wires, sprinklers or other cables.",
    cure="Fasten the cable to the framing, or to wires and hangers of its own.",
    applies=has_cables(),
    mistakes="Zip-tying a new run to the water line in the basement.",
    plain="Do not hang cables from pipes, ducts or ceiling grid wires.",
)

ac_bushings = look(
    id="ac-bushings",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("320.40"),
    title="Armored cable ends have their bushings",
    why="The cut armor is sharp and bites into the insulation at the first pull.",
    look_for="The plastic bushing visible at every end of armored cable, inside its connector, and the bond strip folded back.",
    cure="Take the connector off, push the bushing in, and fasten it again.",
    applies=has_cables(CableKind.AC),
    mistakes="Cutting the armor with side cutters and leaving the bushing out.",
    plain="Every cut end of armored cable needs its small plastic bushing.",
)


def _bends(kind: str, cable: str, section: str, limit: str, *kinds: CableKind, look_for: str) -> Rule:
    return measured(
        id=f"{kind}-bends",
        stage=Stage.ROUGH_IN,
        about=Room,
        cites=carried(section),
        title=f"Bends of {cable} are wide enough",
        why="A sharp bend kinks the sheath or opens the armor, and thins the insulation where nobody sees it.",
        look_for=look_for,
        cure="Ease the bend; a cable that has been kinked is run again.",
        measure=Measure(
            unit="diameters",
            limit=limit,
            least=True,
            how="Hold the inside radius of the bend against the cable's width: how many widths go into it?",
            worst="the sharpest bend in the room, usually at a plate or a corner stud",
        ),
        applies=has_cables(*kinds),
        mistakes="Folding a cable flat around the edge of a stud to save a hole.",
        plain="Bend cables in gentle curves, never in sharp corners.",
    )


nm_bends = _bends(
    "nm", "NM cable", "334.24", "cable.nm_bend_diameters", *SHEATHED,
    look_for="Curves about as wide as a fist around corners, at plates and into boxes; no crease in the sheath.",
)  # fmt: skip
ac_bends = _bends(
    "ac", "armored cable", "320.24", "cable.ac_bend_diameters", CableKind.AC,
    look_for="Curves in which the turns of the armor stay closed.",
)  # fmt: skip
mc_bends = _bends(
    "mc", "metal-clad cable", "330.24(B)", "cable.mc_bend_diameters", CableKind.MC,
    look_for="Curves in which the turns of the armor stay closed; wider ones for a smooth sheath.",
)  # fmt: skip
