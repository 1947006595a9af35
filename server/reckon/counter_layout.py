"""Kitchen counters with what divides them and the receptacles meant for them: the facts of counter spacing."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from server.dwelling.length import Inches, format_length
from server.editions.edition import Edition
from server.reckon.floor_line import LayoutError
from server.reckon.receptacles_that_count import Uncounted, plain_word
from server.reckon.work import SILENT, Work

__all__ = [
    "Counter",
    "CounterBreak",
    "CounterReceptacle",
    "check_counters",
    "divides_wall_counter",
    "outlets_of",
    "why_not_serving",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class CounterBreak:
    """A sink, range, cooktop, refrigerator ... along a counter. ``behind_in``: depth of counter behind it (None:
    not given, taken as too little to count). ``corner``: set across a corner."""

    from_in: Inches
    to_in: Inches
    kind: str
    behind_in: Inches | None = None
    corner: bool = False
    id: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class CounterReceptacle:
    """A receptacle for a counter, ``at_in`` along it. ``above_in`` over the top or ``below_in`` under it, there with
    the ``overhang_in`` of the top. ``in_top``: in the top itself, and whether its assembly is listed for that.
    ``out_of_reach``: behind a fixed or dedicated appliance. ``assembly_in``: length of a multioutlet assembly
    with two or more receptacles in each foot, its middle at ``at_in``."""

    id: str
    at_in: Inches
    above_in: Inches | None = None
    below_in: Inches | None = None
    overhang_in: Inches | None = None
    in_top: Literal["no", "listed", "not listed"] = "no"
    in_drawer: bool = False
    out_of_reach: bool = False
    assembly_in: Inches | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Counter:
    """A counter. A wall counter is measured along its wall and may continue the one before it around a corner
    (``continues``); a peninsula from the wall it is joined to, so that its outer end is at ``length_in``; an
    island along its long side.

    ``flat``: no backsplash or divider on an island or peninsula. ``for_disability``: built for someone with a
    disability. ``provision``: whether an island or peninsula without a receptacle has one provided for.
    ``area_ft2``: of an island or peninsula that is no rectangle.
    """

    id: str
    length_in: Inches
    kind: Literal["wall", "island", "peninsula"] = "wall"
    name: str = ""
    depth_in: Inches | None = None
    breaks: tuple[CounterBreak, ...] = ()
    receptacles: tuple[CounterReceptacle, ...] = ()
    continues: bool = False
    flat: bool = True
    for_disability: bool = False
    provision: bool | None = None
    area_ft2: Fraction | None = None
    stud_spacing_in: Inches | None = None
    first_stud_in: Inches | None = None


def check_counters(counters: Sequence[Counter]) -> None:
    """Refuse counters that cannot be.

    Raises:
        LayoutError: naming the counter, what was expected and what came.
    """
    for index, counter in enumerate(counters):
        whole = format_length(counter.length_in)
        if counter.length_in <= 0:
            raise LayoutError(f"{counter.id}: expected a length above zero, came {whole}")
        if counter.continues and (index == 0 or counter.kind != "wall" or counters[index - 1].kind != "wall"):
            raise LayoutError(f"{counter.id}: expected a wall counter before the one that it continues")
        for item in counter.breaks:
            if not 0 <= item.from_in < item.to_in <= counter.length_in:
                raise LayoutError(
                    f"{counter.id}: expected the {plain_word(item.kind)} from 0 to at most {whole}; "
                    f"came {format_length(item.from_in)} to {format_length(item.to_in)}"
                )
        for receptacle in counter.receptacles:
            if not 0 <= receptacle.at_in <= counter.length_in:
                raise LayoutError(
                    f"{counter.id}: expected receptacle {receptacle.id} from 0 to {whole}; "
                    f"came {format_length(receptacle.at_in)}"
                )
    _each_once("counter", [counter.id for counter in counters])
    _each_once("receptacle", [receptacle.id for counter in counters for receptacle in counter.receptacles])


def _each_once(what: str, names: Sequence[str]) -> None:
    if len(set(names)) != len(names):
        twice = next(name for name in names if names.count(name) > 1)
        raise LayoutError(f"expected a name of its own for each {what}, came {twice!r} twice")


def divides_wall_counter(item: CounterBreak, code: Edition, work: Work = SILENT) -> bool:
    """Whether something along a wall counter divides it (210.52(C)(1) and its figure).

    A sink or cooking unit does where the counter behind it is less than 12 in deep, or 18 in where it is set
    across a corner; with more, the wall behind it counts and the space goes on.

    Raises:
        LayoutError: the kind is none of the edition's words; lists them.
    """
    word = plain_word(item.kind)
    if word in code.names("counter.break.always"):
        return True
    if word in code.names("counter.break.never"):
        return False
    if word in code.names("counter.break.with_depth_behind"):
        corner = item.corner or word.startswith("corner")
        node = "counter.behind_corner_in" if corner else "counter.behind_straight_in"
        least = code.number(node, work)
        if item.behind_in is None or item.behind_in < least:
            return True
        if work:
            text = f"{format_length(item.behind_in)} of counter behind the {word}, {format_length(least)} or more"
            work.step(f"{text}: the wall behind it counts", item.behind_in, "in", code.cites(node))
        return False
    known = sorted(
        name for node in ("always", "with_depth_behind", "never") for name in code.names(f"counter.break.{node}")
    )  # fmt: skip
    raise LayoutError(f"expected one of {', '.join(known)}; came {item.kind!r}")


def outlets_of(receptacle: CounterReceptacle, code: Edition, work: Work = SILENT) -> tuple[Inches, ...]:
    """Where along the counter a receptacle counts as an outlet: once at its place, or once in the middle of
    each foot of a multioutlet assembly (from 2020)."""
    if receptacle.assembly_in is None or not code.has("counter.assembly_each_in"):
        return (receptacle.at_in,)
    each = code.number("counter.assembly_each_in", work)
    count = max(int(receptacle.assembly_in // each), 1)
    left = receptacle.at_in - count * each / 2
    return tuple(left + each / 2 + index * each for index in range(count))


def why_not_serving(
    receptacle: CounterReceptacle, counter: Counter, code: Edition, work: Work = SILENT
) -> Uncounted | None:
    """Why a receptacle does not serve its counter, or None where it does (210.52(C)(5), from 2020 (C)(3))."""
    refusal = _refusal(receptacle, counter, code, work)
    if refusal is None:
        return None
    node, why = refusal
    cites = code.cites(node)
    if work:
        work.skip(f"Receptacle {receptacle.id} does not count: {why}", cites)
    return Uncounted(receptacle.id, why, cites)


def _refusal(
    receptacle: CounterReceptacle, counter: Counter, code: Edition, work: Work
) -> tuple[str, str] | None:
    place = "counter.above_max_in"
    if receptacle.out_of_reach and code.flag("counter.not_reachable", work):
        return "counter.not_reachable", "an appliance puts it out of reach"
    if receptacle.in_drawer:
        return place, "it is inside a drawer"
    if receptacle.in_top == "not listed":
        return place, "it is in the top and its assembly is not listed for that"
    if receptacle.below_in is not None and receptacle.below_in > 0:
        return _below(receptacle, receptacle.below_in, counter, code, work)
    above_max = code.number(place, work)
    if receptacle.above_in is not None and receptacle.above_in > above_max:
        above = format_length(receptacle.above_in)
        return place, f"{above} above the counter; more than {format_length(above_max)}"
    return None


def _below(
    receptacle: CounterReceptacle, below: Inches, counter: Counter, code: Edition, work: Work
) -> tuple[str, str] | None:
    node = "counter.below_max_in"
    if not code.has(node):
        return node, f"it is below the top, which {code.year} does not count as serving it"
    if not counter.for_disability:
        if counter.kind == "wall":
            return node, "it is below the top of a wall counter"
        if not counter.flat:
            return node, "it is below a top that is not flat: it can be mounted above"
    most, overhang_most = code.number(node, work), code.number("counter.overhang_max_in", work)
    if below > most:
        return node, f"{format_length(below)} below the top; more than {format_length(most)}"
    if receptacle.overhang_in is None:
        if work:
            work.skip(f"Receptacle {receptacle.id}: overhang not given, taken as not too much")
    elif receptacle.overhang_in > overhang_most:
        over = format_length(receptacle.overhang_in)
        return (
            "counter.overhang_max_in",
            f"the top hangs over it by {over}; more than {format_length(overhang_most)}",
        )
    return None
