"""Demand of household cooking appliances (the range table and its notes), for a service or feeder and for a branch
circuit.

The appliances are sorted by rating: column A (small), B (middle), C (large, with notes 1 and 2 above 12 kW). Column
C may be used for all of them; note 3 allows the small and middle ones to be taken by their own columns instead.
Both ways are reckoned and the smaller is used, as the code permits. Where some exceed 12 kW, the small and middle
ones always stand on their own, since note 2 averages only the large ones.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from server.editions import Edition
from server.reckon.code_rows import number_row, number_rows
from server.reckon.dwelling_loads import CookingKind, CookingUnit
from server.reckon.figures import as_listed, percent_of, written
from server.reckon.work import SILENT, Work, round_half_up

__all__ = ["CookingCircuit", "cooking_circuits", "cooking_demand", "demand_of_ratings", "table_row"]

_KILO = 1000


@dataclass(frozen=True, slots=True)
class TableRow:
    """The table's row for a number of appliances."""

    a_percent: Fraction
    b_percent: Fraction
    c_kw: Fraction


@dataclass(frozen=True, slots=True)
class CookingCircuit:
    """A branch circuit of cooking appliances: what it carries and the least rating it may have."""

    name: str
    members: tuple[CookingUnit, ...]
    va: Fraction
    amperes: Fraction
    least_rating_a: int | None


@dataclass(frozen=True, slots=True)
class _Columns:
    """The appliances of one service or feeder, sorted by rating."""

    exempt: tuple[Fraction, ...]
    """Too small for the table, or too large for its notes: nameplate."""
    a: tuple[Fraction, ...]
    b: tuple[Fraction, ...]
    c: tuple[Fraction, ...]


def table_row(number: int, code: Edition, work: Work = SILENT) -> TableRow:
    """Columns A, B and C for a number of appliances (1 or more)."""
    if (row := number_row("load.cooking_rows", str(number), code, work)) is not None:
        return TableRow(row[0], row[1], row[2])
    reached = [row for row in number_rows("load.cooking_rows_many", code, work) if row[0] <= number]
    _, a, b, plus_kw, each_kw = reached[-1]
    return TableRow(a, b, plus_kw + each_kw * number)


def demand_of_ratings(ratings_va: Iterable[Fraction], code: Edition, work: Work = SILENT) -> Fraction:
    """Demand of cooking appliances by their ratings, in volt-amperes, for a service or feeder."""
    sorted_ = _sort(ratings_va, code, work)
    total = sum(sorted_.exempt, Fraction(0))
    if work and sorted_.exempt:
        work.step(
            f"Cooking outside the table, at nameplate: {as_listed(sorted_.exempt)} VA", total, "VA",
            code.cites("load.cooking_over_w"),
        )  # fmt: skip
    if not (sorted_.a or sorted_.b or sorted_.c):
        return total
    each_column, together = Work(silent=not work), Work(silent=not work)
    apart = _by_columns(sorted_, code, each_column)
    if sorted_.c and max(sorted_.c) > _limit("c_through", code):
        if work and (sorted_.a or sorted_.b):
            work.skip(
                "All in column C: note 2 averages only ranges over 8 3/4 kW",
                code.cites("load.cooking_percent_per_kw"),
            )
        return total + _adopt(work, each_column, apart)
    if not (sorted_.a or sorted_.b):
        return total + _adopt(work, each_column, apart)
    all_c = _column_c((*sorted_.a, *sorted_.b, *sorted_.c), code, together)
    if apart <= all_c:
        demand, used, left, how = apart, each_column, all_c, "All in column C"
    else:
        demand, used, left, how = all_c, together, apart, "Note 3, each column on its own"
    _adopt(work, used, demand)
    if work:
        work.skip(
            f"{how} would be {written(left)} VA; the smaller is permitted",
            f"{code.cites('load.cooking_rows')} Note 3",
        )
    return total + demand


def cooking_demand(units: Sequence[CookingUnit], code: Edition, work: Work = SILENT) -> Fraction:
    """Demand of cooking appliances, one entry each, for a service or feeder."""
    return demand_of_ratings((unit.va for unit in units), code, work)


def cooking_circuits(
    units: Sequence[CookingUnit], volts: Fraction, code: Edition, work: Work = SILENT
) -> tuple[CookingCircuit, ...]:
    """The branch circuits: appliances that name the same circuit share it, the others stand alone (note 4)."""
    groups: dict[str, list[CookingUnit]] = {}
    for place, unit in enumerate(units):
        groups.setdefault(
            unit.circuit if unit.circuit is not None else f"{unit.kind.value} {place + 1}", []
        ).append(unit)
    return tuple(_circuit(name, tuple(members), volts, code, work) for name, members in groups.items())


def _circuit(
    name: str, members: tuple[CookingUnit, ...], volts: Fraction, code: Edition, work: Work
) -> CookingCircuit:
    connected = sum((unit.va for unit in members), Fraction(0))
    kinds = [unit.kind for unit in members]
    most_ovens = int(code.number("load.cooking_ovens_as_one", work))
    counter_and_ovens = (
        kinds.count(CookingKind.COOKTOP) == 1 and 1 <= kinds.count(CookingKind.OVEN) <= most_ovens
    )
    as_one = len(kinds) == 1 + kinds.count(CookingKind.OVEN) and counter_and_ovens
    if kinds == [CookingKind.RANGE]:
        va, how = demand_of_ratings([connected], code, work), "one range, by the table"
    elif as_one:
        va, how = demand_of_ratings([connected], code, work), "counter unit and ovens as one range"
    else:
        va, how = connected, "nameplate"
    least = None
    if kinds == [CookingKind.RANGE] and connected >= code.number("load.range_circuit_from_va", work):
        least = int(code.number("load.range_circuit_least_a", work))
    if work:
        at_least = f" (a circuit of at least {least} A)" if least else ""
        work.step(
            f"Branch circuit {name}, {how}: {written(va)} VA ÷ {written(volts)} V{at_least}", va / volts, "A",
            code.cites("load.cooking_ovens_as_one"),
        )  # fmt: skip
    return CookingCircuit(name, members, va, va / volts, least)


def _limit(name: str, code: Edition, work: Work = SILENT) -> Fraction:
    found = code.table("load.cooking_columns_w", work)[name]
    assert isinstance(found, int | Fraction)
    return Fraction(found)


def _sort(ratings_va: Iterable[Fraction], code: Edition, work: Work) -> _Columns:
    over, most = code.number("load.cooking_over_w", work), _limit("notes_through", code, work)
    b_from, b_through = _limit("b_from", code), _limit("b_through", code)
    ratings = sorted(ratings_va)
    return _Columns(
        exempt=tuple(va for va in ratings if va <= over or va > most),
        a=tuple(va for va in ratings if over < va < b_from),
        b=tuple(va for va in ratings if b_from <= va <= b_through),
        c=tuple(va for va in ratings if b_through < va <= most),
    )


def _by_columns(sorted_: _Columns, code: Edition, work: Work) -> Fraction:
    """Note 3: each column on its own, added."""
    total = Fraction(0)
    for letter, ratings in (("A", sorted_.a), ("B", sorted_.b)):
        if not ratings:
            continue
        row = table_row(len(ratings), code, work)
        percent = row.a_percent if letter == "A" else row.b_percent
        demand = percent_of(percent, sum(ratings, Fraction(0)))
        if work:
            work.step(
                f"Cooking, column {letter}, {len(ratings)} on it: ({as_listed(ratings)}) VA × {written(percent)} %",
                demand, "VA", f"{code.cites('load.cooking_rows')} Note 3",
            )  # fmt: skip
        total += demand
    if sorted_.c:
        total += _column_c(sorted_.c, code, work)
    return total


def _column_c(ratings: tuple[Fraction, ...], code: Edition, work: Work) -> Fraction:
    """Column C, with the increase of notes 1 and 2 where the (average) rating exceeds 12 kW."""
    row = table_row(len(ratings), code, work)
    base = row.c_kw * _KILO
    full = _limit("c_through", code)
    cites = code.cites("load.cooking_rows")
    if work:
        work.step(f"Cooking, column C, {len(ratings)} on it: {written(row.c_kw)} kW", base, "VA", cites)
    if max(ratings) <= full:
        return base
    counted = tuple(max(va, full) for va in ratings)
    average = sum(counted, Fraction(0)) / len(counted)
    percent_each = code.number("load.cooking_percent_per_kw", work)
    steps = round_half_up((average - full) / _KILO)
    percent = percent_each * steps
    demand = base + percent_of(percent, base)
    if work:
        note = code.cites("load.cooking_percent_per_kw")
        if len(set(ratings)) > 1:
            work.step(
                f"Average rating, those below {written(full / _KILO)} kW counted as that: ({as_listed(counted)}) VA ÷ {len(counted)}",
                average, "VA", note,
            )  # fmt: skip
        work.step(
            f"{written(average / _KILO)} kW is {written((average - full) / _KILO)} kW over {written(full / _KILO)}, counted as {steps}: "
            f"{written(base)} VA + {steps} × {written(percent_each)} %", demand, "VA", note,
        )  # fmt: skip
    return demand


def _adopt(work: Work, part: Work, demand: Fraction) -> Fraction:
    """Take over the steps of the way that was used."""
    if work:
        work.steps.extend(part.steps)
        work.confidences |= part.confidences
    return demand
