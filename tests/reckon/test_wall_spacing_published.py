"""Published layout questions, walls and counters: where ours agrees, and where the printed answer is wrong.

Every question names who printed it. One that disagrees carries the arithmetic, and the test holds both: that ours
is what the arithmetic says, and that the printed number is another.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from server.api.sheets import SHEETS, answer

PUZZLES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parents[1] / "data" / "spacing" / "puzzles.json").read_text(encoding="utf-8")
)["puzzles"]
CASES = [(puzzle, edition) for puzzle in PUZZLES for edition in puzzle["editions"]]
KNOWN_EXPECTATIONS = {"fewest", "complies", "spaces_in", "uncovered_in", "asks", "uncounted"}


@pytest.mark.parametrize(("puzzle", "edition"), CASES, ids=[f"{p['id']}-{edition}" for p, edition in CASES])
def test_a_published_layout_comes_out_as_its_rule_says(puzzle: dict[str, Any], edition: str) -> None:
    request = SHEETS[puzzle["sheet"]].asks.model_validate({**puzzle["request"], "edition": edition})

    result: Any = answer(puzzle["sheet"], request).result

    expect = puzzle["expect"]
    assert expect, "a puzzle that expects nothing proves nothing"
    assert set(expect) <= KNOWN_EXPECTATIONS
    if "fewest" in expect:
        assert result.fewest == expect["fewest"]
    if "complies" in expect:
        assert result.complies is expect["complies"]
    if "spaces_in" in expect:
        assert [space.length_in for space in result.spaces] == expect["spaces_in"]
    if "uncovered_in" in expect:
        assert [part.length_in for part in result.uncovered] == expect["uncovered_in"]
    if "asks" in expect:
        assert any(expect["asks"] in question for question in result.inspector)
    if "uncounted" in expect:
        assert len(result.uncounted) == expect["uncounted"]


@pytest.mark.parametrize("puzzle", [p for p in PUZZLES if not p["agrees"]], ids=lambda puzzle: puzzle["id"])
def test_a_printed_answer_that_is_wrong_differs_from_ours_and_carries_its_arithmetic(
    puzzle: dict[str, Any],
) -> None:
    assert puzzle["arithmetic"]
    if isinstance(puzzle["published"], int) and "fewest" in puzzle["expect"]:
        assert puzzle["published"] != puzzle["expect"]["fewest"]


def test_the_published_questions_are_of_both_sheets_and_each_has_a_source() -> None:
    assert {puzzle["sheet"] for puzzle in PUZZLES} == {"wall-receptacles", "counter-receptacles"}
    assert all(puzzle["source"] and puzzle["url"] for puzzle in PUZZLES)
    assert len({puzzle["id"] for puzzle in PUZZLES}) == len(PUZZLES) >= 40
    assert sum(not puzzle["agrees"] for puzzle in PUZZLES) == 9
