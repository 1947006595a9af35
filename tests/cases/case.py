"""A case: one house, one subject, one rule, the verdict that it must give."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Dwelling, Ref, parse_length
from server.editions import YEARS, Amendment, Edition, load_edition

__all__ = ["Case", "House", "look_cases", "measure_cases", "seen"]

House = Callable[[HouseBuilder], Ref]
"""Builds a house and says which subject is meant."""


@dataclass(frozen=True, slots=True)
class Case:
    """``name`` is a sentence that begins with the verdict: ``clear - sheath is exactly 1/4 in inside``."""

    rule: str
    name: str
    house: House
    reason: str = ""
    years: tuple[int, ...] = YEARS
    source: str = ""
    layers: tuple[Amendment, ...] = ()

    @property
    def verdict(self) -> str:
        return self.name.split(" - ", 1)[0]

    def edition(self, year: int) -> Edition:
        """The edition of a year under the case's local amendments."""
        return load_edition(year).amended(self.layers) if self.layers else load_edition(year)

    def build(self) -> tuple[Dwelling, Ref]:
        builder = HouseBuilder()
        ref = self.house(builder)
        return builder.dwelling(), ref


def seen(house: House, rule: str, what: Any, *, in_room: bool = False) -> House:
    """The same house with one more observation of its subject (or of the subject's room): an answer or a measure."""

    def build(builder: HouseBuilder) -> Ref:
        ref = house(builder)
        kind, subject = ref.kind, ref.id
        if in_room:
            kind, subject = "room", room_of(builder, ref)
        if isinstance(what, Answer):
            builder.observe(kind, subject, rule, what)
        else:
            builder.observe(kind, subject, rule, measure=what)
        return ref

    return build


def room_of(builder: HouseBuilder, ref: Ref) -> str:
    """The first room of a subject."""
    house = builder.dwelling()
    subject = house.find(ref)
    assert subject is not None
    return house.rooms_of(subject)[0].id


def look_cases(
    rule: str,
    house: House,
    *,
    outside: Mapping[str, House] | None = None,
    unknown: Mapping[str, House] | None = None,
    years: tuple[int, ...] = YEARS,
) -> list[Case]:
    """The cases of a rule that a look settles, in a house where it applies.

    ``outside``: houses that it does not reach, by the words for them; ``unknown``: houses where a fact is missing
    to tell whether it does.
    """
    cases = [
        Case(rule, "unseen - nobody has looked", house, "not-looked", years),
        Case(rule, "clear - somebody looked and found it right", seen(house, rule, Answer.RIGHT), "seen-right", years),
        Case(rule, "correction - somebody found it wrong", seen(house, rule, Answer.WRONG), "seen-wrong", years),
        Case(rule, "outside - somebody recorded that there is none", seen(house, rule, Answer.NOT_HERE), "not-here", years),
        Case(rule, "unseen - the look was taken back", seen(seen(house, rule, Answer.RIGHT), rule, Answer.TAKEN_BACK), "not-looked", years),
    ]  # fmt: skip
    if house(HouseBuilder()).kind in ("box", "device", "fixture", "counter", "wall", "cable"):
        for_room = seen(house, rule, Answer.RIGHT, in_room=True)
        cases.append(Case(rule, "clear - the whole room was looked over", for_room, "seen-right", years))
    return cases + _reach_cases(rule, outside, unknown, years)


def measure_cases(
    rule: str,
    house: House,
    limit: Any,
    *,
    least: bool,
    step: str = "1/64",
    source: str = "",
    outside: Mapping[str, House] | None = None,
    unknown: Mapping[str, House] | None = None,
    years: tuple[int, ...] = YEARS,
) -> list[Case]:
    """The cases of a measured rule around its limit, which is given here a second time, from its own source."""
    at, by = parse_length(limit), Fraction(step)
    within, beyond = (at + by, at - by) if least else (at - by, at + by)
    good, bad = ("just over", "just under") if least else ("just under", "just over")

    def measuring(figure: Fraction) -> House:
        return seen(house, rule, figure)

    cases = [
        Case(rule, "clear - exactly the limit", measuring(at), "measured-enough", years, source),
        Case(rule, f"clear - {good} the limit", measuring(within), "measured-enough", years, source),
        Case(rule, "unseen - nobody measured", house, "not-measured", years),
        Case(rule, "clear - looked at and found right without a figure", seen(house, rule, Answer.RIGHT), "looked-right", years),
        Case(rule, "correction - looked at and found wrong", seen(house, rule, Answer.WRONG), "looked-wrong", years),
    ]  # fmt: skip
    if beyond >= 0:
        cases.append(
            Case(rule, f"correction - {bad} the limit", measuring(beyond), "measured-short", years, source)
        )
    if house(HouseBuilder()).kind in ("box", "device", "fixture", "counter", "wall", "cable"):
        for_room = seen(house, rule, at, in_room=True)
        cases.append(
            Case(rule, "clear - the room's worst one was measured", for_room, "measured-enough", years)
        )
    return cases + _reach_cases(rule, outside, unknown, years)


def _reach_cases(
    rule: str,
    outside: Mapping[str, House] | None,
    unknown: Mapping[str, House] | None,
    years: tuple[int, ...],
) -> list[Case]:
    beyond = [
        Case(rule, f"outside - {words}", house, "not-reached", years)
        for words, house in (outside or {}).items()
    ]
    asked = [
        Case(rule, f"unseen - {words}", house, "fact-missing", years)
        for words, house in (unknown or {}).items()
    ]
    return beyond + asked
