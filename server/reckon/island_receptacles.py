"""Receptacles of kitchen islands and peninsulas: 210.52(C)(2) to (4), a different rule in almost every edition.

2017   one for each island or peninsula space with a long side of 24 in and a short side of 12 in or more;
       a sink or cooking unit with less than 12 in of counter behind it divides the top into two such spaces
2020   by area: one for the first 9 ft2 or part, one more for every further 18 ft2 or part; at a peninsula
       one of them within 2 ft of its outer end
2023   none required, but a provision for adding one where there is none
2026   the same, the provision electrical; and no receptacle within 24 in below the top, save in a drawer
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from server.dwelling.length import Inches, format_length
from server.editions.edition import Edition
from server.reckon.counter_layout import (
    Counter,
    CounterReceptacle,
    divides_wall_counter,
    outlets_of,
    why_not_serving,
)
from server.reckon.floor_line import FloorLine, Place, Span, Stretch
from server.reckon.receptacles_that_count import Uncounted, plain_word
from server.reckon.spacing_result import Added, CounterSpace, Part, part_of
from server.reckon.work import SILENT, Work

__all__ = ["IslandAnswer", "receptacles_by_area", "reckon_island"]

_IN2_PER_FT2 = 144


@dataclass(slots=True)
class IslandAnswer:
    """What one island or peninsula comes to."""

    spaces: list[CounterSpace] = field(default_factory=list)
    too_narrow: list[Part] = field(default_factory=list)
    added: list[Added] = field(default_factory=list)
    uncounted: list[Uncounted] = field(default_factory=list)
    not_allowed: list[Uncounted] = field(default_factory=list)
    inspector: list[str] = field(default_factory=list)
    unseen: list[str] = field(default_factory=list)


Serving = list[tuple[Inches, str]]
"""Where along the top an outlet stands, and the receptacle's id."""


def receptacles_by_area(area_ft2: Fraction, code: Edition, work: Work = SILENT) -> int:
    """How many a top of an area needs by the rule of 2020: 9 ft2 -> 1, 9.1 -> 2, 27 -> 2, 27.1 -> 3."""
    first, more = code.number("counter.island.first_ft2", work), code.number("counter.island.more_ft2", work)
    if area_ft2 <= 0:
        return 0
    return 1 + int(-(-max(area_ft2 - first, Fraction(0)) // more))


def reckon_island(counter: Counter, code: Edition, work: Work = SILENT) -> IslandAnswer:
    """Reckon the receptacles of one island or peninsula."""
    answer = IslandAnswer()
    name = counter.name or f"counter {counter.id}"
    line = FloorLine((counter.id,), (counter.length_in,), False, (name,))
    serving = _serving(counter, answer, code, work)
    if code.has("counter.island.long_in"):
        _by_sides(counter, line, serving, answer, code, work)
    elif code.has("counter.island.first_ft2"):
        _by_area(counter, line, serving, answer, code, work)
    else:
        _by_provision(counter, line, serving, answer, code, work)
    return answer


def _serving(counter: Counter, answer: IslandAnswer, code: Edition, work: Work) -> Serving:
    found: Serving = []
    for receptacle in counter.receptacles:
        banned = _banned(receptacle, code, work)
        if banned is not None:
            answer.not_allowed.append(banned)
            continue
        why = why_not_serving(receptacle, counter, code, work)
        if why is None:
            found.extend((at, receptacle.id) for at in outlets_of(receptacle, code, work))
        else:
            answer.uncounted.append(why)
    return sorted(found)


def _banned(receptacle: CounterReceptacle, code: Edition, work: Work) -> Uncounted | None:
    node = "counter.ban_below_in"
    if receptacle.below_in is None or receptacle.below_in <= 0 or receptacle.in_drawer or not code.has(node):
        return None
    ban, cites = code.number(node, work), code.cites(node)
    if receptacle.below_in > ban:
        return None
    why = f"{format_length(receptacle.below_in)} below the top; not within {format_length(ban)}"
    if work:
        work.step(f"Receptacle {receptacle.id} is not allowed there: {why}", False, "", cites)
    return Uncounted(receptacle.id, why, cites)


def _by_sides(
    counter: Counter, line: FloorLine, serving: Serving, answer: IslandAnswer, code: Edition, work: Work
) -> None:
    long_least = code.number("counter.island.long_in", work)
    short_least = code.number("counter.island.short_in", work)
    cites = code.cites("counter.island.long_in")
    if counter.depth_in is None:
        answer.unseen.append(f"the depth of {line.names[0]}")
        return
    for span in line.free(_dividers(counter, code, work)):
        part = part_of(line, span)
        long, short = max(span.length_in, counter.depth_in), min(span.length_in, counter.depth_in)
        sides = f"{format_length(long)} by {format_length(short)}"
        if long < long_least or short < short_least:
            answer.too_narrow.append(part)
            if work:
                least = f"{format_length(long_least)} by {format_length(short_least)}"
                work.skip(f"{part}: {sides}, less than {least}: none required", cites)
            continue
        here = [(at, name) for at, name in serving if span.start_in <= at <= span.end_in]
        if work:
            work.step(f"{part}: {sides}, one whatever its length", 1, "count", cites)
        answer.spaces.append(_space(counter, line, span, 1, here, () if here else (span,)))
        if not here:
            middle = (span.start_in + span.end_in) / 2
            answer.added.append(_added(counter, line, middle, code))


def _dividers(counter: Counter, code: Edition, work: Work) -> list[Stretch]:
    """2017: what divides the top: a refrigerator, or a sink or cooking unit with too little counter behind."""
    least = code.number("counter.island.divides_under_in", work)
    found = []
    for item in counter.breaks:
        if plain_word(item.kind) in code.names("counter.break.with_depth_behind"):
            if item.behind_in is not None and item.behind_in >= least:
                continue
        elif not divides_wall_counter(item, code):
            continue
        found.append(Stretch(item.from_in, item.to_in))
        if work:
            behind = "not given" if item.behind_in is None else format_length(item.behind_in)
            text = f"The {plain_word(item.kind)} divides the top: counter behind it {behind}"
            work.step(text, cites=code.cites("counter.island.divides_under_in"))
    return found


def _by_area(
    counter: Counter, line: FloorLine, serving: Serving, answer: IslandAnswer, code: Edition, work: Work
) -> None:
    span = line.free(())[0]
    cites = code.cites("counter.island.first_ft2")
    for item in counter.breaks:
        divides_wall_counter(item, code)  # refuses an unknown kind
    if counter.depth_in is None and counter.area_ft2 is None:
        answer.unseen.append(f"the depth or area of {line.names[0]}")
        return
    least = code.number("counter.least_width_in", work)
    if counter.depth_in is not None and min(counter.depth_in, counter.length_in) < least:
        answer.too_narrow.append(part_of(line, span))
        if work:
            work.skip(f"{line.names[0]}: less than {format_length(least)} wide: none required", cites)
        return
    area = counter.area_ft2
    if area is None:
        area = counter.length_in * (counter.depth_in or 0) / _IN2_PER_FT2
    required = receptacles_by_area(area, code, work)
    if work:
        first, more = code.number("counter.island.first_ft2"), code.number("counter.island.more_ft2")
        work.step(f"Area of {line.names[0]}, sinks and cooktops not taken off", area, "ft2", cites)
        work.step(
            f"1 for the first {first} ft2 + 1 for each further {more} ft2 or part", required, "count", cites
        )
    missing: list[Stretch] = [span] if len(serving) < required else []
    new: list[Inches] = []
    rest = counter.length_in
    if counter.kind == "peninsula":
        end = code.number("counter.island.end_in", work)
        zone = Stretch(max(counter.length_in - end, Fraction(0)), counter.length_in)
        if not any(at >= zone.start_in for at, _ in serving):
            missing = missing or [zone]
            new.append((zone.start_in + zone.end_in) / 2)
            rest = zone.start_in or rest
            if work:
                text = f"None within {format_length(end)} of the outer end"
                work.step(text, cites=code.cites("counter.island.end_in"))
    # The others may stand anywhere: they are spread evenly over what the one at the end leaves.
    others = max(required - len(serving) - len(new), 0)
    new += [(2 * index + 1) * rest / (2 * others) for index in range(others)]
    answer.added.extend(_added(counter, line, at, code) for at in sorted(new))
    answer.spaces.append(_space(counter, line, span, required, serving, missing, short_by=len(new)))
    if len({name for _, name in serving}) < required and serving:
        answer.inspector.append("whether several receptacles in one box count as more than one outlet")


def _by_provision(
    counter: Counter, line: FloorLine, serving: Serving, answer: IslandAnswer, code: Edition, work: Work
) -> None:
    span = line.free(())[0]
    for item in counter.breaks:
        divides_wall_counter(item, code)  # refuses an unknown kind
    electrical = code.flag("counter.island.provision_electrical", work)
    cites = code.cites("counter.island.provision")
    code.flag("counter.island.provision", work)
    missing: tuple[Stretch, ...] = ()
    if work:
        work.step(f"{line.names[0]}: none required", 0, "count", cites)
    if not serving:
        kind = "an electrical provision" if electrical else "a provision"
        if counter.provision is None:
            answer.unseen.append(f"whether {line.names[0]} has {kind} for adding a receptacle later")
        elif not counter.provision:
            missing = (span,)
        answer.inspector.append(f"what counts as {kind} for adding a receptacle later")
        if work:
            work.step(
                f"{line.names[0]}: no receptacle serves the top, so {kind} for adding one is due", cites=cites
            )
    if any((each.below_in or 0) > 0 for each in counter.receptacles) and not code.has("counter.ban_below_in"):
        answer.inspector.append("whether a receptacle below the top, which does not serve it, may be there")
    answer.spaces.append(_space(counter, line, span, 0, serving, missing))


def _space(
    counter: Counter,
    line: FloorLine,
    span: Span,
    required: int,
    here: Serving,
    missing: Sequence[Stretch],
    short_by: int | None = None,
) -> CounterSpace:
    return CounterSpace(
        kind=counter.kind,
        part=part_of(line, span),
        required=required,
        receptacles=tuple(dict.fromkeys(name for _, name in here)),
        gaps=(),
        uncovered=tuple(part_of(line, each) for each in missing),
        short_by=max(required - len(here), 0) if short_by is None else short_by,
    )


def _added(counter: Counter, line: FloorLine, at: Inches, code: Edition) -> Added:
    below = code.has("counter.below_max_in") and counter.flat
    return Added(
        Place(counter.id, at, line.names[0]), "in the top, or below it" if below else "on or in the top"
    )
