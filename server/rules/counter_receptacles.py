"""Receptacles for kitchen counters: along the wall, on islands and peninsulas, each edition its own way."""

from __future__ import annotations

from server.dwelling import Counter, CounterKind, Dwelling, Room, Stage, format_length
from server.editions import Edition
from server.reckon.counter_spacing import reckon_counter_spacing
from server.reckon.floor_line import LayoutError
from server.reckon.spacing_result import CounterSpacing
from server.reckon.work import SILENT, Work
from server.rules.citing import carried, moved
from server.rules.looks import by_look, observed
from server.rules.outcome import Lazily, Missing, Outcome, clear, correction, outside, unseen
from server.rules.room_spacing import counters_of, required_receptacles_in
from server.rules.rule import Kind, rule

__all__ = ["counter_receptacle_spacing", "island_provision"]


def _where(found: CounterSpacing) -> str:
    worst = max(found.uncovered, key=lambda part: part.length_in)
    return f"{format_length(worst.length_in)} of counter ({worst})"


def _cure(room: Room, house: Dwelling, code: Edition) -> str:
    counters, _ = counters_of(room, house)
    added = reckon_counter_spacing(counters, code).added
    if not added:
        return "Add a receptacle for that stretch of counter."
    places = "; ".join(f"{item.place} ({item.ground})" for item in added)
    return f"Add {'one receptacle' if len(added) == 1 else f'{len(added)} receptacles'}: {places}."


@rule(
    id="counter-receptacle-spacing",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("210.52(C)"),
    title="No point along a kitchen counter is far from a receptacle",
    why="Appliances come with two feet of cord, so that they cannot be pulled into the sink or over the edge.",
    look_for="Every counter of a foot and more has a receptacle, and no point along its wall is more than two feet from one, "
    "sinks, ranges and refrigerators dividing it; receptacles no higher than 20 inches above the top. Islands and "
    "peninsulas as the edition says.",
    cure="Add a receptacle within two feet of the uncovered stretch, not more than 20 inches above the counter.",
    says={
        "covered": "Every counter space has what this edition asks for (counter spaces: {spaces:n}, receptacles that serve them: {receptacles:n}).",
        "uncovered": "{where} is more than the reach from any receptacle that serves it.",
        "too-few": "The {kind} asks for {required:n} by its area; {here} there.",
        "not-allowed": "A receptacle is where none may be: {why}.",
        "not-placed": "Where {counters:n} of the counters start along their wall is not recorded.",
        "fact-missing": "It turns on {question}.",
        "no-counter": "No counter is recorded in this {kind}.",
        "layout": "The counters as recorded cannot be: {problem}.",
        "other-room": "Counter spacing does not reach a {kind}.",
    },
    cures={
        "uncovered": "{cure}",
        "too-few": "{cure}",
        "not-allowed": "Take that receptacle out, or move it to where it may be.",
    },
    mistakes="Leaving out the foot of counter between refrigerator and corner; counting the receptacle on the other side of the sink.",
    plain="Along a kitchen counter you should never be more than two feet from an outlet.",
)
def counter_receptacle_spacing(room: Room, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The counters of the room against the receptacles that serve them."""
    if room.kind not in code.names("spacing.counter_rooms"):
        return outside("other-room", kind=str(room.kind))
    counters, unplaced = counters_of(room, house)
    if unplaced:
        missing = Missing("where the counter starts along its wall", "counter.from_in")
        return unseen("not-placed", missing, counters=len(unplaced))
    if not counters:
        if room.kind == "kitchen":
            return unseen("no-counter", Missing("the counters of the kitchen", "counter"), kind="kitchen")
        return outside("other-room", kind=f"{room.kind} without a counter")
    try:
        found = reckon_counter_spacing(counters, code, work, propose=False)
    except LayoutError as error:
        missing = Missing("counters and what stands in them that fit each other", "counter.from_in")
        return unseen("layout", missing, problem=str(error))
    cites = code.cites("counter.reach_in")
    if found.not_allowed:
        refused = found.not_allowed[0]
        return correction("not-allowed", cites=refused.cites, why=refused.why)
    if found.uncovered:
        where, cure = Lazily(lambda: _where(found)), Lazily(lambda: _cure(room, house, code))
        short = next((space for space in found.spaces if space.short_by), None)
        if short is not None and short.kind != "wall" and len(short.receptacles) < short.required:
            count = len(short.receptacles)
            here = "one is" if count == 1 else f"{count} are" if count else "none is"
            return correction(
                "too-few",
                cites=code.cites(_by_area(code)),
                kind=str(short.kind),
                required=short.required,
                here=here,
                cure=cure,
            )
        return correction("uncovered", cites=cites, where=where, cure=cure)
    if found.complies is None:
        missing = Missing("the depth of the counter", "counter.depth_in")
        return unseen("fact-missing", missing, cites=cites, question=found.unseen[0])
    receptacles = sum(len(space.receptacles) for space in found.spaces)
    return clear("covered", cites=cites, spaces=len(found.spaces), receptacles=receptacles)


def _by_area(code: Edition) -> str:
    """The edition's value by which an island's receptacles are counted."""
    return "counter.island.first_ft2" if code.has("counter.island.first_ft2") else "counter.island.long_in"


@rule(
    id="island-provision",
    stage=Stage.ROUGH_IN,
    about=Counter,
    kind=Kind.SEEN,
    cites=moved(e2023="210.52(C)(2)"),
    title="An island without a receptacle is provided for one",
    why="The code no longer insists on a receptacle at an island, but whoever wants one later should not have to break up "
    "the floor.",
    look_for="A receptacle on or in the top, or a way to add one: a box or conduit brought to the island. Ask the department "
    "what it takes for a provision.",
    cure="Bring a cable in a box with a blank cover, or a conduit, to the island before the floor is closed.",
    says={
        "has-receptacle": "A receptacle serves the top.",
        "looked-right": "{who} looked and found a provision for adding a receptacle{noted}.",
        "looked-wrong": "{who} looked and found no provision for adding a receptacle{noted}.",
        "not-looked": "No receptacle is recorded at this {kind}; whether one is provided for nobody has looked.",
        "wall-counter": "Only islands and peninsulas are meant.",
    },
    mistakes="Taking the receptacle away to satisfy the ban below the top, and leaving nothing to add one from.",
    plain="An island needs an outlet on top, or wiring brought to it so that one can be added later.",
)
def island_provision(counter: Counter, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A receptacle at the island, or a look at what is provided."""
    if counter.kind is CounterKind.WALL:
        return outside("wall-counter")
    if not code.flag("counter.island.provision", work):
        return outside("wall-counter")
    cites = code.cites("counter.island.provision")
    room = house.rooms.get(counter.room_id)
    receptacles = required_receptacles_in(room, house) if room else []
    if any(box.counter_id == counter.id and box.below_counter_in is None for _, box in receptacles):
        return clear("has-receptacle", cites=cites)
    seen = observed(house, counter, "island-provision")
    if seen is None:
        return unseen("not-looked", Missing("a look"), cites=cites, kind=str(counter.kind))
    return by_look(seen, cites=cites)
