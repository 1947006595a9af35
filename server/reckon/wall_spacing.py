"""Receptacle spacing along the walls of a room: 210.52(A), and (I) for a foyer.

The floor line is walked around corners and cut only by what breaks it; each wall space of 2 ft or more must
have a receptacle within 6 ft of each of its points, measured along the line, in that same space. In a large
foyer each wall space of 3 ft or more must have one, wherever in it. A hallway has its own rule (210.52(H));
other rooms are outside.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from server.dwelling.length import Inches, format_length
from server.editions.edition import Edition
from server.reckon.floor_line import FloorLine, Place, Span, Stretch, uncovered
from server.reckon.placement import Placement, ToServe, fewest_anywhere, place_fewest
from server.reckon.receptacles_that_count import Uncounted, plain_word, why_not_counted
from server.reckon.required_receptacles import Hallway, hallway_receptacle
from server.reckon.spacing_result import (
    Added,
    BothWays,
    Part,
    RoomRule,
    WallSpace,
    WallSpacing,
    gaps_of,
    part_of,
)
from server.reckon.wall_layout import (
    Opening,
    WallLayout,
    WallReceptacle,
    breaks_of,
    floor_line,
    grounds_of,
    reading_of,
)
from server.reckon.work import SILENT, Work

__all__ = ["reckon_wall_spacing", "room_rule"]


def room_rule(room: str, code: Edition) -> RoomRule:
    """Which rule of 210.52 the walls of a kind of room follow. A room that no list names is taken for a
    similar room or area under (A)."""
    word = plain_word(room)
    if word in code.names("spacing.wall.hallways"):
        return "hallway"
    if word in code.names("spacing.wall.foyers"):
        return "foyer"
    if word in code.names("spacing.wall.rooms_outside"):
        return "outside"
    return "spacing"


def reckon_wall_spacing(
    layout: WallLayout, code: Edition, work: Work = SILENT, *, propose: bool = True
) -> WallSpacing:
    """Reckon the receptacles that the walls of a room need, what is missing, and where to add the fewest.

    ``propose=False`` leaves ``added`` empty: a verdict needs no cure, and the cure is most of the work.

    Raises:
        LayoutError: the layout cannot be, naming the wall or receptacle and what was expected.
    """
    line = floor_line(layout)
    rule = room_rule(layout.room, code)
    if rule == "outside":
        return _outside(layout, code, work)
    if rule == "hallway":
        return _in_hallway(layout, line, code, work, propose=propose)
    if rule == "foyer":
        area_over = code.number("spacing.foyer.area_over_ft2", work)
        area = _foyer_area(layout)
        if area is not None and area <= area_over:
            return _small_foyer(layout, area, area_over, code, work)
    return _along_walls(layout, line, rule, code, work, propose=propose)


def _along_walls(
    layout: WallLayout, line: FloorLine, rule: RoomRule, code: Edition, work: Work, *, propose: bool
) -> WallSpacing:
    foyer = rule == "foyer"
    counted, uncounted = _counted(layout, code, work)
    spaces, short, placed = _spaces(layout, line, foyer, None, counted, code, work, propose=propose)
    missing = tuple(part for space in spaces for part in space.uncovered)
    not_allowed = _below_divider_top(layout, code, work)
    unseen = []
    if foyer and _foyer_area(layout) is None:
        area_over = code.number("spacing.foyer.area_over_ft2")
        unseen.append(f"the foyer's floor area: the rule reaches it only above {area_over} ft2")
    complies: bool | None = not missing and not not_allowed
    if unseen and not complies:
        complies = None
    fewest = sum(space.fewest for space in spaces)
    if work:
        work.step("Fewest for the room without receptacles", fewest, "count")
        work.step(
            "Every wall space is served" if complies else "Not every wall space is served", bool(complies)
        )
    return WallSpacing(
        rule=rule,
        why=_rule_in_words(foyer, code),
        spaces=spaces,
        too_short=short,
        uncovered=missing,
        complies=complies,
        fewest=fewest,
        added=placed,
        uncounted=(*uncounted, *_elsewhere(counted, spaces, foyer, code, work)),
        not_allowed=not_allowed,
        inspector=_asks(layout, rule, code),
        both_ways=_both_ways(layout, line, foyer, counted, code, complies),
        unseen=tuple(unseen),
    )


def _counted(
    layout: WallLayout, code: Edition, work: Work
) -> tuple[tuple[WallReceptacle, ...], tuple[Uncounted, ...]]:
    counted, uncounted = [], []
    for receptacle in layout.receptacles:
        why = why_not_counted(receptacle, code, work, room_has_lighting_outlet=layout.lighting_outlet)
        if why is None:
            counted.append(receptacle)
            if work and receptacle.height_in is None and receptacle.floor_offset_in is None:
                work.skip(f"Receptacle {receptacle.id}: height not given, taken as not too high")
        else:
            uncounted.append(why)
    return tuple(counted), tuple(uncounted)


def _elsewhere(
    counted: Sequence[WallReceptacle], spaces: Sequence[WallSpace], foyer: bool, code: Edition, work: Work
) -> tuple[Uncounted, ...]:
    """Receptacles that could count but stand in no wall space: in a doorway, on a wall that is too short."""
    placed = {name for space in spaces for name in space.receptacles}
    cites = code.cites("spacing.foyer.least_width_in" if foyer else "spacing.wall.least_width_in")
    found = []
    for receptacle in counted:
        if receptacle.id not in placed:
            found.append(Uncounted(receptacle.id, "it stands in no wall space", cites))
            if work:
                work.skip(f"Receptacle {receptacle.id} stands in no wall space and serves none", cites)
    return tuple(found)


def _spaces(
    layout: WallLayout,
    line: FloorLine,
    foyer: bool,
    turned: Opening | None,
    counted: Sequence[WallReceptacle],
    code: Edition,
    work: Work,
    *,
    propose: bool,
) -> tuple[tuple[WallSpace, ...], tuple[Part, ...], tuple[Added, ...]]:
    width_node = "spacing.foyer.least_width_in" if foyer else "spacing.wall.least_width_in"
    least, cites = code.number(width_node, work), code.cites(width_node)
    reach = code.number("spacing.wall.reach_in", SILENT if foyer else work)
    spaces: list[WallSpace] = []
    short: list[Part] = []
    added: list[Added] = []
    for span in line.free(breaks_of(layout, line, code, foyer=foyer, turned=turned)):
        part = part_of(line, span)
        if span.length_in < least:
            short.append(part)
            if work:
                work.skip(f"{part}: {format_length(part.length_in)}, less than {format_length(least)}", cites)
            continue
        name = f"Wall space {len(spaces) + 1}"
        if work:
            corners = line.corners_within(span)
            around = (
                "" if not corners else ", around a corner" if corners == 1 else f", around {corners} corners"
            )
            text = "all the way round" if span.ring else f"{part}{around}"
            work.step(f"{name}: {text}", span.length_in, "in", cites)
        # In a foyer one receptacle serves a wall space wherever it stands: as if it reached from end to end.
        within = span.length_in if foyer else reach
        space, placement = _space(
            layout, line, span, within, counted, code, work, foyer=foyer, propose=propose
        )
        spaces.append(space)
        added.extend(Added(line.place(spot.at_in), spot.ground) for spot in placement.spots)
    return tuple(spaces), tuple(short), tuple(added)


def _space(
    layout: WallLayout,
    line: FloorLine,
    span: Span,
    reach: Inches,
    counted: Sequence[WallReceptacle],
    code: Edition,
    work: Work,
    *,
    foyer: bool,
    propose: bool,
) -> tuple[WallSpace, Placement]:
    here = sorted(
        (at, receptacle.id)
        for receptacle in counted
        if (at := span.holds(line.running(Place(receptacle.wall, receptacle.at_in)), line)) is not None
    )
    points = [at for at, _ in here]
    cites = code.cites("spacing.foyer.least_width_in" if foyer else "spacing.wall.reach_in")
    fewest = 1 if foyer else fewest_anywhere(span.length_in, reach)
    if work:
        text = "One for this wall space" if foyer else (
            f"Fewest for it: {format_length(span.length_in)} / {format_length(2 * reach)}, rounded up"
        )  # fmt: skip
        work.step(text, fewest, "count", cites)
    gaps = () if foyer else gaps_of(line, span, here, reach)
    for gap in gaps:
        if work:
            ends = " and ".join(f"receptacle {name}" if name else "an end" for name in gap.between)
            over = f", over by {format_length(gap.over_in)}" if gap.over_in else ""
            text = f"{gap.part}, between {ends}: at most {format_length(gap.most_in)}{over}"
            work.step(text, gap.part.length_in, "in", cites)
    missing = uncovered(span, points, reach)
    placement = Placement(())
    if missing and propose:
        studs, grounds = grounds_of(layout, line, span, code)
        placement = place_fewest(ToServe(span, reach, tuple(points), grounds, studs), work)
    if work:
        for spot in placement.spots:
            work.step(f"Add one {spot.ground}: {line.place(spot.at_in)}")
    return WallSpace(
        part=part_of(line, span),
        unbroken_ring=span.ring,
        receptacles=tuple(name for _, name in here),
        gaps=gaps,
        uncovered=tuple(part_of(line, stretch) for stretch in missing),
        fewest=fewest,
    ), placement


def _both_ways(
    layout: WallLayout,
    line: FloorLine,
    foyer: bool,
    counted: Sequence[WallReceptacle],
    code: Edition,
    complies: bool | None,
) -> tuple[BothWays, ...]:
    """Each thing in doubt read the other way, by itself: benches and the like always, a cabinet where that
    would turn the answer."""
    found = []
    cabinets = code.names("spacing.opening.cabinets")
    for wall, start in zip(layout.walls, line.starts_in, strict=True):
        for item in wall.openings:
            reading = reading_of(item.kind, layout.room, code, foyer=foyer)
            word = plain_word(item.kind)
            if reading != "in doubt" and word not in cabinets:
                continue
            spaces, _, _ = _spaces(layout, line, foyer, item, counted, code, SILENT, propose=False)
            otherwise = not any(space.uncovered for space in spaces)
            part = part_of(line, Stretch(start + item.from_in, start + item.to_in))
            if reading == "in doubt":
                question = f"whether the {word} {part} breaks the wall space"
                found.append(BothWays(question, part, otherwise, complies))
            elif otherwise != complies:
                question = f"whether the {word} {part} is a fixed cabinet without a work surface"
                found.append(BothWays(question, part, complies, otherwise))
    return tuple(found)


def _below_divider_top(layout: WallLayout, code: Edition, work: Work) -> tuple[Uncounted, ...]:
    """2026: no receptacle on a fixed divider within 24 in below the counter that lies on it (210.52(A)(5))."""
    node = "spacing.divider.ban_below_in"
    tops = {wall.id: wall.top_in for wall in layout.walls if wall.top_in is not None}
    if not code.has(node) or not tops:
        return ()
    ban, cites = code.number(node, work), code.cites(node)
    found = []
    for receptacle in layout.receptacles:
        top = tops.get(receptacle.wall)
        if top is None or receptacle.height_in is None or receptacle.floor_offset_in is not None:
            continue
        below = top - receptacle.height_in
        if 0 < below <= ban:
            why = f"{format_length(below)} below the divider's top; not within {format_length(ban)}"
            found.append(Uncounted(receptacle.id, why, cites))
            if work:
                work.step(f"Receptacle {receptacle.id} is not allowed there: {why}", False, "", cites)
    return tuple(found)


def _rule_in_words(foyer: bool, code: Edition) -> str:
    if foyer:
        return (
            f"each wall space of {format_length(code.number('spacing.foyer.least_width_in'))} or more has one"
        )
    return f"no point more than {format_length(code.number('spacing.wall.reach_in'))} from a receptacle"


def _asks(layout: WallLayout, rule: RoomRule, code: Edition) -> tuple[str, ...]:
    asks = []
    word = plain_word(layout.room)
    if rule == "spacing" and word not in code.names("spacing.wall.rooms"):
        asks.append(f"whether a room called {layout.room!r} is a similar room under 210.52(A); taken as one")
    if rule == "foyer":
        asks.append(
            "whether this is a foyer or a part of a hallway, and whether its wall space goes around corners"
        )
    half_fixed = code.names("spacing.opening.half_fixed")
    for wall in layout.walls:
        for item in wall.openings:
            if rule == "spacing" and plain_word(item.kind) in half_fixed:
                name = wall.name or f"wall {wall.id}"
                asks.append(
                    f"whether the fixed half of the {plain_word(item.kind)} on {name} counts as wall space"
                )
    if any(receptacle.switched == "half" for receptacle in layout.receptacles):
        asks.append(
            "whether a half-switched duplex counts; commonly it does, by the half that is always live"
        )
    return tuple(asks)


def _outside(layout: WallLayout, code: Edition, work: Work) -> WallSpacing:
    why = f"the spacing of wall receptacles does not reach a {plain_word(layout.room)}"
    if work:
        work.skip(why[0].upper() + why[1:], code.cites("spacing.wall.rooms_outside"))
    return WallSpacing("outside", why, (), (), (), None, 0, ())


def _foyer_area(layout: WallLayout) -> Fraction | None:
    """Its floor area in ft2: as given, or length by width where four walls make a rectangle."""
    if layout.floor_area_ft2 is not None or not layout.closed or len(layout.walls) != 4:
        return layout.floor_area_ft2
    a, b, c, d = (wall.length_in for wall in layout.walls)
    return a * b / 144 if (a, b) == (c, d) else None


def _small_foyer(
    layout: WallLayout, area: Fraction, area_over: Fraction, code: Edition, work: Work
) -> WallSpacing:
    why = f"{float(area):g} ft2 is not more than {area_over} ft2: none required"
    cites = code.cites("spacing.foyer.area_over_ft2")
    if work:
        work.step(f"Foyer: {why}", 0, "count", cites)
    return WallSpacing("foyer", why, (), (), (), True, 0, (), inspector=_asks(layout, "foyer", code))


def _in_hallway(
    layout: WallLayout, line: FloorLine, code: Edition, work: Work, *, propose: bool
) -> WallSpacing:
    """One receptacle in a long hallway. Where its length along the middle is not given, the longest wall
    stands for it in a straight one, where they are equal; a hallway of another shape waits for the length."""
    length = layout.centerline_in
    if length is None and (len(layout.walls) == 4 or not layout.closed):
        length = max(wall.length_in for wall in layout.walls)
        if work:
            work.skip("Length along the middle not given: the longest wall stands for it")
    hall = Hallway(layout.room, length, layout.receptacles)
    found = hallway_receptacle(hall, code, work)
    added: tuple[Added, ...] = ()
    if found.short_by and propose:
        spans = line.free(breaks_of(layout, line, code))
        span = max(spans, key=lambda each: each.length_in, default=None)
        if span is not None:
            studs, grounds = grounds_of(layout, line, span, code)
            task = ToServe(span, span.length_in, (), grounds, studs)
            added = tuple(Added(line.place(spot.at_in), spot.ground) for spot in place_fewest(task).spots)
    return WallSpacing(
        "hallway", found.why, (), (), (), found.complies, found.required or 0, added,
        uncounted=found.uncounted, unseen=found.unseen,
        inspector=("whether this is a hallway or a foyer",),
    )  # fmt: skip
