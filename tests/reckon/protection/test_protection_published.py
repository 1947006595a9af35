"""Who needs protection, against published rules and puzzles: every row of two matrices and every question.

Sources stand in each row of the data files. A published "conditional" agrees with ``"inspector"``, or with an
answer that names the missing facts on which it turns. Where we differ, the row says why.
"""

from __future__ import annotations

from typing import Any

import pytest

from server.reckon.protection.afci_required import afci_required
from server.reckon.protection.gfci_required import gfci_required
from tests.protection_facts import ASK, edition, outlet, rows

MATRIX = [
    pytest.param(ask, row, year, cell, id=f"{row['id']}-{year}")
    for ask, name in ((gfci_required, "gfci_rows.json"), (afci_required, "afci_rows.json"))
    for row in rows(name)
    for year, cell in row["by_edition"].items()
]
PUZZLES = rows("protection_puzzles.json")


def agrees(published: str, required: Any, missing: tuple[str, ...]) -> bool:
    if published == "conditional":
        return required == "inspector" or (required is None and bool(missing))
    return bool(required is {"yes": True, "no": False}[published])


@pytest.mark.parametrize(("ask", "row", "year", "cell"), MATRIX)
def test_a_published_row_is_answered_as_published(
    ask: Any, row: dict[str, Any], year: str, cell: dict[str, Any]
) -> None:
    found = ask(outlet(row["facts"]), edition(year))

    if "ours" in cell:
        assert cell["because"]
        assert found.required is cell["ours"]
    else:
        assert agrees(cell["published"], found.required, found.missing), found.why


@pytest.mark.parametrize(
    ("ask", "row", "year", "cell"), [case for case in MATRIX if case.values[3]["published"] == "yes"]
)
def test_a_published_yes_is_cited_by_the_published_articles(
    ask: Any, row: dict[str, Any], year: str, cell: dict[str, Any]
) -> None:
    found = ask(outlet(row["facts"]), edition(year))

    cited = ", ".join(found.cites)
    wanted = [part.strip() for part in cell["section"].split(",")]
    # "(8)" after "210.8(A)(7)" means the same list's item (8)
    missing = [part for part in wanted if part not in cited]
    assert missing == []


@pytest.mark.parametrize(
    ("puzzle", "year"),
    [
        pytest.param(puzzle, year, id=f"{puzzle['id']}-{year}")
        for puzzle in PUZZLES
        for year in puzzle["expect"]
    ],
)
def test_a_published_question_is_answered(puzzle: dict[str, Any], year: str) -> None:
    code = edition(year, puzzle.get("amendment", ""))

    found = ASK[puzzle["asks"]](outlet(puzzle["facts"]), code)

    assert found.required == puzzle["expect"][year], found.why


def test_every_row_and_question_names_its_source() -> None:
    everything = [*rows("gfci_rows.json"), *rows("afci_rows.json"), *PUZZLES]

    assert [row["id"] for row in everything if not row["sources"] or not all(row["sources"])] == []
    assert len({row["id"] for row in everything}) == len(everything)


def test_where_we_differ_the_row_says_why() -> None:
    cells = [
        cell
        for name in ("gfci_rows.json", "afci_rows.json")
        for row in rows(name)
        for cell in row["by_edition"].values()
    ]

    assert all(len(cell["because"]) > 40 for cell in cells if "ours" in cell)
    assert sum("ours" in cell for cell in cells) == 3  # row A021 in three editions


@pytest.mark.parametrize(
    ("ask", "row", "year", "cell"),
    [case for case in MATRIX if case.values[2] == "2026" and case.values[3]["confidence"] == "carry"],
)
def test_a_2026_row_that_nobody_verified_is_not_shown_as_verified(
    ask: Any, row: dict[str, Any], year: str, cell: dict[str, Any]
) -> None:
    found = ask(outlet(row["facts"]), edition(year))

    assert found.confidence in ("carry", "memory", "derived", "one"), (found.confidence, found.why)
