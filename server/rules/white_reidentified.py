"""White or gray conductors used as hots: where that is allowed, which way round, and marked wherever they show.

Three rules: over the cable (may its white be a hot at all, and in a switch loop does it feed the switch), over
each box where such a white shows, and over the panel where it lands.
"""

from __future__ import annotations

from collections.abc import Iterable

from server.dwelling import Box, Cable, Dwelling, Panel, Stage, WhiteUse
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.looks import by_look, observed
from server.rules.naming import cable_name
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import Kind, rule
from server.rules.white_conductors import White, white_use_of

__all__ = ["white_as_hot", "white_marked_at_box", "white_marked_at_panel"]

_CITES = carried("200.7(C)(1)")


@rule(
    id="white-as-hot",
    stage=Stage.ROUGH_IN,
    about=Cable,
    kind=Kind.SEEN,
    cites=_CITES,
    title="A white conductor used as a hot is one that may be",
    why="Whoever opens the box next takes white for neutral. The code lets a cable's white be a hot only where the "
    "cable leaves no other choice, and in a switch loop only on the side that is always live.",
    look_for="In a switch loop the white brings power to the switch and the black or red goes back to the light. "
    "Inside pipe no white is a hot: pull another color.",
    cure="Swap the two conductors at both ends, so that the white feeds the switch and the other color returns.",
    says={
        "feeds": "The white of this cable feeds the switch, as it may: {why}.",
        "both-hot": "The white of this cable is a hot, as it may be in a cable: {why}.",
        "traveler": "The white of this cable is a traveler, as it may be in a cable: {why}.",
        "looked-right": "{who} looked and found the white feeding the switch{noted}.",
        "looked-wrong": "{who} looked and found the white returning from the switch{noted}.",
        "returns": "The white of this cable returns from the switch to the load; it may only feed the switch.",
        "in-raceway": "A white conductor is used as a hot in a raceway; only a cable's white may be.",
        "which-way": "The white of this cable is a hot ({why}); which way round it is used nobody has recorded.",
        "use-not-known": "What the white of this cable carries cannot be told from what is recorded.",
        "grounded": "The white of this cable is the grounded conductor.",
    },
    cures={"in-raceway": "Pull a conductor of another color through the raceway in place of the white one."},
    mistakes="Sending the switched hot back on the white because the black was already in the wirenut with the feed.",
    plain="In a cable to a switch, the white wire may carry power to the switch but never power from the switch to the light.",
    danger="A white that is live only when the switch is on looks dead to a tester with the switch off: turn the circuit "
    "off at the panel and prove every conductor dead before touching the splice.",
)
def white_as_hot(cable: Cable, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The white's use against what the edition allows for this wiring method."""
    white = white_use_of(cable, house, code)
    if work:
        work.step(f"the white of the {cable_name(cable)}: {white.why or 'not known'}", str(white.use or ""))
    if white.ungrounded is None:
        return unseen("use-not-known", Missing("what the white conductor carries", white.missing))
    if not white.ungrounded:
        return outside("grounded")
    if cable.kind not in code.names("white.cable_kinds", work):
        return correction("in-raceway", cites="200.7(A)")
    if white.use is WhiteUse.TRAVELER:
        return clear("traveler", why=white.why)
    if white.use is WhiteUse.UNGROUNDED:
        return clear("both-hot", why=white.why)
    if white.use is WhiteUse.SWITCH_FEED or not code.flag("white.switch_loop_feeds", work):
        return clear("feeds", why=white.why)
    if white.use is WhiteUse.SWITCH_RETURN:
        return correction("returns")
    seen = observed(house, cable, "white-as-hot")
    if seen is None:
        return unseen("which-way", Missing("a look at which way round the white is used"), why=white.why)
    return by_look(seen)


_SAYS = {
    "marked": "{who} looked and found every white that is a hot marked{noted}.",
    "not-marked": "{who} looked and found a white that is a hot without mark{noted}.",
    "not-looked": "A white of this {place} is a hot; whether it is marked nobody has looked yet.",
    "use-not-known": "What a white of this {place} carries cannot be told from what is recorded.",
    "all-grounded": "Every white of this {place} is a grounded conductor.",
    "no-cable": "No cable is recorded at this {place}.",
}
_WHY = (
    "The mark is the only thing that tells the next person that this white bites. It is needed at every place where "
    "the conductor can be seen and reached, not only at one end."
)
_LOOK_FOR = (
    "Tape, paint or sleeve of any color but white, gray and green around each white or gray conductor that is a hot, "
    "all the way round, close to the termination or splice."
)
_CURE = (
    "Wrap the white with black or red tape (or paint it) at this end, and at every other box where it shows."
)
_MISTAKES = (
    "Marking the switch end and forgetting the splice in the ceiling box; marking with a green or gray tape."
)
_PLAIN = "Where a white wire carries power, put black tape around it wherever you can see it."


def _settled(
    subject: Box | Panel, place: str, cables: Iterable[Cable], house: Dwelling, code: Edition, rule_id: str
) -> Outcome:
    whites = [white_use_of(cable, house, code) for cable in cables]
    if not whites:
        return unseen("no-cable", Missing("the cables that enter it", "cable"), place=place)
    if not any(white.ungrounded for white in whites):
        unknown: White | None = next((white for white in whites if white.ungrounded is None), None)
        if unknown is None:
            return outside("all-grounded", place=place)
        return unseen(
            "use-not-known", Missing("what the white conductor carries", unknown.missing), place=place
        )
    seen = observed(house, subject, rule_id)
    if seen is None:
        return unseen("not-looked", Missing("a look"), place=place)
    return by_look(seen, right="marked", wrong="not-marked")


@rule(
    id="white-marked-at-box",
    stage=Stage.ROUGH_IN,
    about=Box,
    kind=Kind.SEEN,
    cites=_CITES,
    title="A white used as a hot is marked in the box",
    why=_WHY,
    look_for=_LOOK_FOR,
    cure=_CURE,
    says=_SAYS,
    mistakes=_MISTAKES,
    plain=_PLAIN,
)
def white_marked_at_box(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A look at the box, where a white of one of its cables is ungrounded."""
    return _settled(box, "box", house.cables_of_box.get(box.id, ()), house, code, "white-marked-at-box")


@rule(
    id="white-marked-at-panel",
    stage=Stage.ROUGH_IN,
    about=Panel,
    kind=Kind.SEEN,
    cites=_CITES,
    title="A white used as a hot is marked in the panel",
    why=_WHY,
    look_for=_LOOK_FOR,
    cure=_CURE,
    says=_SAYS,
    mistakes=_MISTAKES,
    plain=_PLAIN,
)
def white_marked_at_panel(panel: Panel, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A look at the panel, where a white that lands on a breaker is ungrounded."""
    return _settled(
        panel, "panel", house.cables_of_panel.get(panel.id, ()), house, code, "white-marked-at-panel"
    )
