"""Published load examples, figure by figure: Annex D and worked examples of training publishers and forums.

Sources stand beside each example in tests/data/loads (annex_d.json, examples.json); figures of Annex D that were not
seen in print are marked "memory" there. A printed figure that ours contradicts carries its arithmetic, and the
contradiction is asserted. The printed figures hold for 2017, 2020 and 2023.

Where a figure stands (``of`` in the data files):

- ``"unit total_va"``                     a field of the answer to the request called ``unit`` (dots go deeper)
- ``"unit part cooking"``                 what a part of the load counts for
- ``"unit step Remainder 6,000 VA"``      the value of the step whose text starts so
- ``{"text": "unit step ...", "says": s}`` the text of that step says ``s`` (for figures that have no step of their own)
- ``{"value"|"part"|"step"|"input": ..., "divided_by": n, "times": n, "minus": n}`` the same with plain arithmetic
"""

from __future__ import annotations

import json
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pytest

from server.api.sheets import SHEETS, answer

DATA = Path(__file__).parents[1] / "data" / "loads"


@cache
def read(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((DATA / name).read_text(encoding="utf-8"))
    return found


def asked(request: dict[str, Any], edition: str) -> dict[str, Any]:
    """The sheet's whole answer as JSON would carry it."""
    body = {key: value for key, value in request.items() if key != "sheet"}
    sheet = SHEETS[request.get("sheet", "dwelling-load")]
    return answer(sheet.name, sheet.asks.model_validate({**body, "edition": edition})).model_dump(mode="json")


class Found:
    """Every request of an example, answered."""

    def __init__(self, example: dict[str, Any], edition: str) -> None:
        self.requests: dict[str, dict[str, Any]] = example["requests"]
        self.answers = {name: asked(request, edition) for name, request in self.requests.items()}

    def _split(self, where: str) -> tuple[str, str]:
        names = [name for name in self.answers if where.startswith(f"{name} ")]
        assert len(names) >= 1, where
        name = max(names, key=len)
        return name, where.removeprefix(f"{name} ")

    def step(self, where: str) -> dict[str, Any]:
        name, text = self._split(where)
        text = text.removeprefix("step ")
        steps = [step for step in self.answers[name]["steps"] if step["text"].startswith(text)]
        assert steps, f"no step starts with {text!r}"
        found: dict[str, Any] = steps[0]
        return found

    def part(self, where: str) -> float:
        name, part = self._split(where)
        rows = {row["name"]: row["demand_va"] for row in self.answers[name]["result"]["parts"]}
        value: float = rows[part.removeprefix("part ")]
        return value

    def number(self, where: str) -> Any:
        name, rest = self._split(where)
        if rest.startswith("step "):
            return self.step(where)["value"]
        if rest.startswith("part "):
            return self.part(where)
        value: Any = self.answers[name]["result"]
        for key in rest.split("."):
            value = value[int(key)] if key.isdigit() else value[key]
        return value

    def figure(self, of: str | dict[str, Any]) -> Any:
        """The figure that a row of the example is about."""
        if isinstance(of, str):
            return self.number(of)
        if "input" in of:
            name, field = self._split(of["input"])
            value = self.requests[name][field]
        elif "step" in of:
            value = self.step(of["step"])["value"]
        elif "value" in of:
            value = self.number(of["value"])
        else:
            value = self.part(of["part"])
        if "minus_part" in of:
            value -= self.part(of["minus_part"])
        return (value - of.get("minus", 0)) * of.get("times", 1) / of.get("divided_by", 1)


def printed(value: Any, like: Any) -> Any:
    """A value as the example prints it: as many decimals as the printed figure has, a half counts up.

    Our exact value comes through JSON as the nearest double, so it is read to nine digits first.
    """
    if isinstance(like, bool) or not isinstance(like, int | float):
        return value
    exact = Decimal(repr(round(float(value), 9)))
    places = Decimal(repr(like)).as_tuple().exponent
    assert isinstance(places, int)
    step = Decimal(1) if isinstance(like, int) else Decimal(1).scaleb(places)
    return Fraction(exact.quantize(step, rounding=ROUND_HALF_UP))


def same(value: Any, published: Any) -> bool:
    """Whether our figure, printed alike, is the published one."""
    if not isinstance(published, int | float):
        return bool(value == published)
    return bool(printed(value, published) == Fraction(Decimal(repr(published))))


def holds(row: dict[str, Any], found: Found, expected: Any) -> bool:
    """Whether a row's figure is ``expected``: a number, a size, or words in a step's text."""
    of = row["of"]
    if isinstance(of, dict) and "text" in of:
        said = of["says"] if expected == row["published"] else expected
        return said in found.step(of["text"])["text"]
    return same(found.figure(of), expected)


def check(row: dict[str, Any], found: Found) -> None:
    """The printed figure is ours; or it is not, and ours is the one explained beside it."""
    if "why" not in row:
        assert holds(row, found, row["published"]), (
            f"{row['step']}: {row['published']} against {_ours(row, found)}"
        )
        return
    assert not holds(row, found, row["published"]), f"{row['step']} agrees after all"
    assert holds(row, found, row["ours"]), f"{row['step']}: {row['ours']} against {_ours(row, found)}"


def _ours(row: dict[str, Any], found: Found) -> Any:
    of = row["of"]
    return found.step(of["text"])["text"] if isinstance(of, dict) and "text" in of else found.figure(of)


ANNEX_D: list[dict[str, Any]] = read("annex_d.json")["examples"]
OTHERS: list[dict[str, Any]] = read("examples.json")["examples"]
EDITIONS = ("2017", "2020", "2023")
CASES = [
    pytest.param(example, edition, id=f"{example['id']}-{edition}")
    for example in (*ANNEX_D, *OTHERS)
    for edition in example.get("only", EDITIONS)
]


@pytest.mark.parametrize(("example", "edition"), CASES)
def test_every_published_figure_is_reproduced_or_its_difference_explained(
    example: dict[str, Any], edition: str
) -> None:
    found = Found(example, edition)

    for row in example["steps"]:
        check(row, found)


def test_no_example_and_no_figure_went_missing() -> None:
    figures = [[row for example in examples for row in example["steps"]] for examples in (ANNEX_D, OTHERS)]

    assert (len(ANNEX_D), len(figures[0])) == (11, 155)
    assert (len(OTHERS), len(figures[1])) == (31, 144)
    assert [sum("why" in row for row in rows) for rows in figures] == [11, 12]


@pytest.mark.parametrize("example", [*ANNEX_D, *OTHERS], ids=lambda example: example["id"])
def test_every_example_names_its_source_and_explains_differences_with_numbers(
    example: dict[str, Any],
) -> None:
    assert example.get("source") or example["sources"]
    for row in example["steps"]:
        if "why" in row:
            assert any(character.isdigit() for character in row["why"]), row["step"]


@pytest.mark.parametrize(
    ("name", "total_va", "amperes"),
    [("D1(a)", 18075, 75), ("D2(a)", 19680, 82), ("D2(b)", 27400, 114), ("D2(c)", 32790, 137)],
)
def test_the_2026_values_give_the_derived_totals(name: str, total_va: int, amperes: int) -> None:
    # Own arithmetic with 2 VA/ft2 and, in the optional method, 8 kVA in full: no 2026 printing was seen.
    example = next(example for example in ANNEX_D if example["id"] == name)

    found = asked(example["requests"]["it"], "2026")

    assert found["result"]["total_va"] == total_va
    assert found["result"]["amperes"] == amperes
    assert found["confidence"] in ("carry", "memory")


def test_the_load_control_example_of_2026_has_its_amperes() -> None:
    # ecmag on Annex D.15 (2026): 29,040 VA at 240 V is 121 A; a 50 A charger is 12,000 VA.
    found = asked({"method": "standard", "heat_va": 29040}, "2026")
    charger = asked({"method": "standard", "ev": [{"amps": 50, "volts": 240}]}, "2026")

    assert found["result"]["amperes"] == 121
    assert charger["result"]["total_va"] == 12000
