"""Receptacle spacing along kitchen counters: 210.52(C).

A wall counter space of 12 in or more must have a receptacle within 24 in of each point of its wall line, in
that same space. Sinks, ranges and refrigerators divide it; counters that meet in a corner are one line.
Islands and peninsulas have their own rule by edition (``island_receptacles.py``).
"""

from __future__ import annotations

from collections.abc import Sequence

from server.dwelling.length import Inches, format_length
from server.editions.edition import Edition
from server.reckon.counter_layout import (
    Counter,
    check_counters,
    divides_wall_counter,
    outlets_of,
    why_not_serving,
)
from server.reckon.floor_line import FloorLine, Place, Span, Stretch, merged, uncovered
from server.reckon.island_receptacles import reckon_island
from server.reckon.mounting_ground import SolidPart, mounting_grounds
from server.reckon.placement import ToServe, fewest_anywhere, place_fewest
from server.reckon.receptacles_that_count import Uncounted, plain_word
from server.reckon.spacing_result import (
    Added,
    CounterSpace,
    CounterSpacing,
    Part,
    gaps_of,
    part_of,
)
from server.reckon.work import SILENT, Work

__all__ = ["reckon_counter_spacing"]


def reckon_counter_spacing(
    counters: Sequence[Counter], code: Edition, work: Work = SILENT, *, propose: bool = True
) -> CounterSpacing:
    """Reckon the receptacles that counters need, what is missing, and where to add the fewest.

    ``propose=False`` leaves ``added`` empty: a verdict needs no cure.

    Raises:
        LayoutError: a counter cannot be, naming it and what was expected.
    """
    check_counters(counters)
    spaces: list[CounterSpace] = []
    narrow: list[Part] = []
    added: list[Added] = []
    uncounted: list[Uncounted] = []
    not_allowed: list[Uncounted] = []
    inspector: list[str] = []
    unseen: list[str] = []
    for run in _runs(counters):
        if run[0].kind == "wall":
            found, short, new, refused = _along_wall(run, code, work, propose=propose)
            spaces += found
            narrow += short
            added += new
            uncounted += refused
            inspector += _asks(run, short, code)
        else:
            answer = reckon_island(run[0], code, work)
            spaces += answer.spaces
            narrow += answer.too_narrow
            added += answer.added
            uncounted += answer.uncounted
            not_allowed += answer.not_allowed
            inspector += answer.inspector
            unseen += answer.unseen
    missing = tuple(part for space in spaces for part in space.uncovered)
    complies: bool | None = not missing and not not_allowed
    if complies and unseen:
        complies = None
    fewest = sum(space.required for space in spaces)
    if work:
        work.step("Fewest for the counters without receptacles", fewest, "count")
    return CounterSpacing(
        spaces=tuple(spaces),
        too_narrow=tuple(narrow),
        uncovered=missing,
        complies=complies,
        fewest=fewest,
        added=tuple(added) if propose else (),
        uncounted=tuple(uncounted),
        not_allowed=tuple(not_allowed),
        inspector=tuple(dict.fromkeys(inspector)),
        unseen=tuple(unseen),
    )


def _runs(counters: Sequence[Counter]) -> list[list[Counter]]:
    """Counters that continue one another around corners, together; every other by itself."""
    runs: list[list[Counter]] = []
    for counter in counters:
        if counter.continues:
            runs[-1].append(counter)
        else:
            runs.append([counter])
    return runs


def _along_wall(
    run: Sequence[Counter], code: Edition, work: Work, *, propose: bool
) -> tuple[list[CounterSpace], list[Part], list[Added], list[Uncounted]]:
    line = FloorLine(
        tuple(leg.id for leg in run),
        tuple(leg.length_in for leg in run),
        False,
        tuple(leg.name or f"counter {leg.id}" for leg in run),
    )
    least, reach = code.number("counter.least_width_in", work), code.number("counter.reach_in", work)
    cites = code.cites("counter.reach_in")
    serving, uncounted = _serving(run, line, code, work)
    spaces: list[CounterSpace] = []
    narrow: list[Part] = []
    added: list[Added] = []
    placed: set[str] = set()
    for span in line.free(_breaks(run, line, code, work)):
        part = part_of(line, span)
        if span.length_in < least:
            narrow.append(part)
            if work:
                text = f"{part}: {format_length(span.length_in)}, less than {format_length(least)}"
                work.skip(text, code.cites("counter.least_width_in"))
            continue
        here = [(at, name) for at, name in serving if span.start_in <= at <= span.end_in]
        placed |= {name for _, name in here}
        fewest = fewest_anywhere(span.length_in, reach)
        if work:
            work.step(f"Counter space {part}", span.length_in, "in", code.cites("counter.least_width_in"))
            sum_text = f"{format_length(span.length_in)} / {format_length(2 * reach)}, rounded up"
            work.step(f"Fewest for it: {sum_text}", fewest, "count", cites)
        gaps = gaps_of(line, span, here, reach)
        for gap in gaps:
            if work:
                over = f", over by {format_length(gap.over_in)}" if gap.over_in else ""
                text = f"{gap.part}: at most {format_length(gap.most_in)}{over}"
                work.step(text, gap.part.length_in, "in", cites)
        missing = uncovered(span, [at for at, _ in here], reach)
        if missing and propose:
            added += _placed(run, line, span, [at for at, _ in here], reach, code, work)
        spaces.append(
            CounterSpace(
                kind="wall",
                part=part,
                required=fewest,
                receptacles=tuple(dict.fromkeys(name for _, name in here)),
                gaps=gaps,
                uncovered=tuple(part_of(line, each) for each in missing),
                short_by=sum(fewest_anywhere(each.length_in, reach) for each in missing),
            )
        )
    for name in dict.fromkeys(name for _, name in serving if name not in placed):
        why = "it stands in no counter space: behind a sink or range, or where the counter is too narrow"
        uncounted.append(Uncounted(name, why, cites))
        if work:
            work.skip(f"Receptacle {name} does not count: {why}", cites)
    return spaces, narrow, added, uncounted


def _serving(
    run: Sequence[Counter], line: FloorLine, code: Edition, work: Work
) -> tuple[list[tuple[Inches, str]], list[Uncounted]]:
    serving: list[tuple[Inches, str]] = []
    uncounted: list[Uncounted] = []
    for leg in run:
        for receptacle in leg.receptacles:
            why = why_not_serving(receptacle, leg, code, work)
            if why is not None:
                uncounted.append(why)
                continue
            start = line.running(Place(leg.id, receptacle.at_in)) - receptacle.at_in
            serving.extend((start + at, receptacle.id) for at in outlets_of(receptacle, code, work))
    return sorted(serving), uncounted


def _breaks(run: Sequence[Counter], line: FloorLine, code: Edition, work: Work) -> list[Stretch]:
    found = []
    for leg, start in zip(run, line.starts_in, strict=True):
        for item in leg.breaks:
            if divides_wall_counter(item, code, work):
                found.append(Stretch(start + item.from_in, start + item.to_in))
    return found


def _placed(
    run: Sequence[Counter],
    line: FloorLine,
    span: Span,
    have: Sequence[Inches],
    reach: Inches,
    code: Edition,
    work: Work,
) -> list[Added]:
    solid = []
    for leg, start in zip(run, line.starts_in, strict=True):
        left, right = max(start, span.start_in), min(start + leg.length_in, span.end_in)
        taken = merged(
            Stretch(start + item.from_in, start + item.to_in)
            for item in leg.breaks
            # What divides the counter ends the span; a window over it does not, but takes the wall.
            if plain_word(item.kind) in code.names("counter.no_wall_behind")
        )
        for hole in [*taken, Stretch(right, right)]:
            if left < min(hole.start_in, right):
                solid.append(SolidPart(start, left, min(hole.start_in, right), leg.first_stud_in))
            left = max(left, hole.end_in)
    clear = code.number("spacing.practice.clear_of_counter_break_in")
    studs, grounds = mounting_grounds(
        solid,
        span,
        line.length_in,
        clear_of_ends_in=clear,
        clear_of_corners_in=clear,
        stud_spacing_in=run[0].stud_spacing_in,
        else_where="in the top, or as close as can be",
    )
    placement = place_fewest(ToServe(span, reach, tuple(have), grounds, studs), work)
    if work:
        for spot in placement.spots:
            work.step(f"Add one {spot.ground}: {line.place(spot.at_in)}")
    return [Added(line.place(spot.at_in), spot.ground) for spot in placement.spots]


def _asks(run: Sequence[Counter], narrow: Sequence[Part], code: Edition) -> list[str]:
    asks = []
    least, trim = code.number("counter.least_width_in"), code.number("spacing.practice.trim_in")
    for part in narrow:
        if least - trim <= part.length_in:
            asks.append(
                f"whether the space {part} ({format_length(part.length_in)}) is measured to the cabinet's edge or to "
                "the trim of the range"
            )
    for leg in run:
        for item in leg.breaks:
            if item.behind_in is not None and not divides_wall_counter(item, code):
                asks.append(
                    f"how the wall behind the {plain_word(item.kind)} on {leg.name or leg.id} is served"
                )
    return asks
