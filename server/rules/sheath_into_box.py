"""Cable sheath at the box: it reaches in, and the cable is held.

Two rules over a box. The reach comes from each cable's recorded sheath, or from one measurement of the box (or
of the room's worst one). The hold is a clamp, or, at a small nonmetallic box, a fastening near enough.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from server.dwelling import (
    Answer,
    Box,
    BoxMaterial,
    Cable,
    Clamps,
    Dwelling,
    Stage,
    format_length,
)
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.looks import by_look, observed
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import Carried, Kind, Measure, rule

__all__ = ["cable_held_at_box", "sheath_into_box"]

_EXCEPTION = {
    2017: "314.17(C) Exception",
    2020: "314.17(B) Exception",
    2023: "314.17(B) Exception",
    2026: Carried("314.17(B) Exception"),
}


def sheathed_cables(box: Box, house: Dwelling, code: Edition) -> list[Cable]:
    """The cables at a box that have a nonmetallic sheath."""
    kinds = code.names("sheath.kinds")
    return [cable for cable in house.cables_of_box.get(box.id, ()) if cable.kind in kinds]


def _ends(cables: list[Cable], box: Box) -> Iterator[tuple[Cable, Fraction | None, Fraction | None]]:
    """Each cable with the sheath's reach and the distance to the fastening at this box."""
    for cable in cables:
        if cable.a_box_id == box.id:
            yield cable, cable.sheath_a_in, cable.fastened_a_in
        if cable.b_box_id == box.id:
            yield cable, cable.sheath_b_in, cable.fastened_b_in


@rule(
    id="sheath-into-box",
    stage=Stage.ROUGH_IN,
    about=Box,
    kind=Kind.MEASURED,
    cites={
        2017: "314.17(B), (C)",
        2020: "314.17(B)(1)",
        2023: "314.17(B)(1)",
        2026: Carried("314.17(B)(1)"),
    },
    title="Cable sheath reaches into the box",
    why="The sheath is what keeps the edge of the knockout or the clamp from cutting into the conductors when the "
    "cable moves or the box is pulled forward.",
    look_for="Sheath visible inside the box at every cable, past the clamp where there is one, with no bare "
    "conductor insulation in the opening.",
    cure="Push more sheath into the box if there is slack; otherwise open the run and pull the cable again.",
    says={
        "reaches": "Sheath reaches {reach_in:in} into the box; {least_in:in} is the least.",
        "short": "Sheath reaches only {reach_in:in} into the box at {cable}; {least_in:in} is the least.",
        "looked-right": "{who} looked and found enough sheath inside.",
        "looked-wrong": "{who} looked and found too little sheath inside{noted}; {least_in:in} is the least.",
        "not-measured": "How far the sheath reaches in has not been measured; {least_in:in} is the least.",
        "no-cable": "No cable is recorded at this box.",
        "no-sheath": "No cable here has a nonmetallic sheath.",
    },
    measure=Measure(
        unit="in",
        limit="sheath.reach_in",
        least=True,
        how="Lay the rule on the inside of the box wall (or on the clamp) and read to the end of the sheath.",
        worst="the cable with the least sheath showing",
    ),
    mistakes="Stripping the sheath before the cable is in the box; pulling a cable back to find slack.",
    plain="The grey or white outer jacket of every cable must show inside the box.",
)
def sheath_into_box(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The least reach of any sheathed cable at the box against the edition's least."""
    cables = house.cables_of_box.get(box.id, ())
    if not cables:
        return unseen("no-cable", Missing("the cables that enter it", "cable"))
    ends = list(_ends(sheathed_cables(box, house, code), box))
    if not ends:
        return outside("no-sheath")
    least_in = code.number("sheath.reach_in", work)
    cites = code.cites("sheath.reach_in")
    recorded: list[tuple[Fraction, Cable | None]] = [
        (reach, cable) for cable, reach, _ in ends if reach is not None
    ]
    seen = observed(house, box, "sheath-into-box")
    if seen is not None and len(recorded) < len(ends):
        if seen.answer is Answer.NOT_HERE:
            return by_look(seen)
        if seen.measure is not None:
            recorded.append((seen.measure, None))
        elif seen.answer is Answer.WRONG:
            noted = f": {seen.note}" if seen.note else ""
            return correction(
                "looked-wrong", who=seen.by or "Someone", noted=noted, least_in=least_in, cites=cites
            )
        else:
            return clear("looked-right", who=seen.by or "Someone", cites=cites)
    elif len(recorded) < len(ends):
        if not any(reach < least_in for reach, _ in recorded):
            missing = Missing("a measurement of the sheath inside the box")
            return unseen("not-measured", missing, least_in=least_in, cites=cites)
    reach_in, cable = min(recorded, key=lambda pair: pair[0])
    if work:
        work.step(f"least of {len(recorded)} measured", reach_in, "in")
        work.step(
            f"{format_length(reach_in)} against at least {format_length(least_in)}", least_in, "in", cites
        )
    confidence = code.confidence("sheath.reach_in")
    if reach_in < least_in:
        return correction(
            "short",
            reach_in=reach_in,
            least_in=least_in,
            cable=_name(cable),
            cites=cites,
            confidence=confidence,
        )
    return clear("reaches", reach_in=reach_in, least_in=least_in, cites=cites, confidence=confidence)


@rule(
    id="cable-held-at-box",
    stage=Stage.ROUGH_IN,
    about=Box,
    kind=Kind.MEASURED,
    cites=_EXCEPTION,
    title="Cable is held at the box, or fastened near enough",
    why="A cable that can slide carries its pull straight to the splices and device terminals.",
    look_for="A clamp or connector tight on each cable; at a one-gang nonmetallic box without clamps, a fastening "
    "close by, measured along the cable and not straight to the box.",
    cure="Add a fastening within the distance, or change to a box with clamps.",
    says={
        "clamped": "{clamps} clamps hold the cables.",
        "near": "No clamp is needed: the farthest fastening is {distance_in:in} along the sheath; {most_in:in} is the most.",
        "far": "No clamp, and the fastening is {distance_in:in} along the sheath at {cable}; {most_in:in} is the most.",
        "needs-clamps": "This box needs a clamp on every cable: only a one-gang nonmetallic box may go without.",
        "looked-right": "{who} looked and found the cables held.",
        "looked-wrong": "{who} looked and found a cable not held{noted}.",
        "not-measured": "The box has no clamps and the distance to the fastening is not recorded; {most_in:in} is the most.",
        "no-clamps-recorded": "Whether the box clamps its cables is not recorded.",
        "no-cable": "No cable is recorded at this box.",
        "no-sheath": "No cable here has a nonmetallic sheath.",
    },
    cures={
        "needs-clamps": "Fit a cable connector in each knockout, or change to a box with internal clamps."
    },
    measure=Measure(
        unit="in",
        limit="sheath.unclamped_within_in",
        least=False,
        how="Follow the cable with the tape from the box to the first staple; loops count.",
        worst="the cable with the longest way to its staple",
    ),
    mistakes="Measuring straight from box to staple across a loop; using a two-gang box without clamps.",
    plain="Every cable must be gripped by the box, or stapled close to a small plastic one.",
)
def cable_held_at_box(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A clamp at the box, or the exception for one-gang nonmetallic boxes with its fastening distance."""
    cables = house.cables_of_box.get(box.id, ())
    if not cables:
        return unseen("no-cable", Missing("the cables that enter it", "cable"))
    ends = list(_ends(sheathed_cables(box, house, code), box))
    if not ends:
        return outside("no-sheath")
    seen = observed(house, box, "cable-held-at-box")
    if seen is not None and seen.measure is None:
        return by_look(seen)
    if box.clamps in (Clamps.INTERNAL, Clamps.EXTERNAL):
        return clear("clamped", clamps=str(box.clamps).capitalize())
    if box.clamps is None or box.material is None:
        field = "box.clamps" if box.clamps is None else "box.material"
        return unseen("no-clamps-recorded", Missing("what holds the cables at the box", field))
    small = box.gangs <= code.number("sheath.unclamped_most_gangs", work)
    if box.material is not BoxMaterial.NONMETALLIC or not small:
        return correction("needs-clamps")
    most_in = code.number("sheath.unclamped_within_in", work)
    cites = code.cites("sheath.unclamped_within_in")
    distances: list[tuple[Fraction, Cable | None]] = [
        (distance, cable) for cable, _, distance in ends if distance is not None
    ]
    if seen is not None and seen.measure is not None:
        distances.append((seen.measure, None))
    elif len(distances) < len(ends) and not any(distance > most_in for distance, _ in distances):
        missing = Missing("the distance along the sheath to the fastening")
        return unseen("not-measured", missing, most_in=most_in, cites=cites)
    distance_in, cable = max(distances, key=lambda pair: pair[0])
    if work:
        work.step(
            f"{format_length(distance_in)} against at most {format_length(most_in)}", distance_in, "in", cites
        )
    if distance_in > most_in:
        return correction("far", distance_in=distance_in, most_in=most_in, cable=_name(cable), cites=cites)
    return clear("near", distance_in=distance_in, most_in=most_in, cites=cites)


def _name(cable: Cable | None) -> str:
    """What it is called; whoever measured the worst one did not say which cable it is."""
    if cable is None:
        return "one of its cables"
    size = f"{cable.awg}-{cable.insulated}" if cable.awg else f"{cable.insulated}-conductor"
    return f"the {size} {str(cable.kind).upper()}"
