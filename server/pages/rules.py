"""The rule book: every rule on a page of its own, search by words, article or thing, and what differs by edition."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Final

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse
from markupsafe import Markup

from server.drawings.good_work import draw_good_work
from server.dwelling import Stage
from server.editions import YEARS, Edition, load_edition
from server.editions.loader import default_year
from server.pages.rendering import render
from server.people.access import NotFound
from server.people.current import Reader
from server.readiness.words import doubt_of
from server.rules.book import (
    Difference,
    NumberByEdition,
    by_subject,
    differences,
    find_rules,
    numbers_of,
    write_value,
)
from server.rules.registry import SUBJECTS, find_rule
from server.rules.rule import NOT_IN_EDITION, Carried, Kind, Rule

__all__ = ["router"]

router = APIRouter(prefix="/rules", include_in_schema=False)
_KINDS: Final = {
    Kind.RECKONED: "reckoned from the facts", Kind.MEASURED: "measured", Kind.SEEN: "seen with eyes", Kind.PAPER: "a paper to show",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class RulesPage:
    """Rules by subject, or as found."""

    words: str
    stage: str
    stages: tuple[str, ...]
    groups: tuple[tuple[str, tuple[Rule, ...]], ...]
    count: int
    years: tuple[int, ...]


@router.get("", name="rules")
def rules(
    request: Request,
    person: Reader,
    q: Annotated[str, Query(max_length=200)] = "",
    stage: Annotated[str, Query(max_length=30)] = "",
) -> HTMLResponse:
    """The book, or what words find in it."""
    chosen = Stage(stage) if stage in list(Stage) else None
    found = find_rules(q, stage=chosen)
    groups = (
        [("Found", tuple(found))]
        if q
        else [(name.capitalize(), tuple(members)) for name, members in by_subject(found).items()]
    )
    page = RulesPage(
        q,
        chosen.value if chosen else "",
        tuple(item.value for item in Stage),
        tuple(groups),
        len(found),
        YEARS,
    )
    return render(request, "rules/list.html", page)


@dataclass(frozen=True, slots=True)
class RulePage:
    """One rule."""

    rule: Rule
    subject: str
    kind: str
    articles: tuple[tuple[int, str, str], ...]
    numbers: list[NumberByEdition]
    drawing: Markup
    drawn_for: int
    limit: str
    related: tuple[Rule, ...]


@router.get("/editions", name="edition_differences")
def edition_differences(
    request: Request,
    person: Reader,
    earlier: Annotated[int, Query()] = YEARS[-3],
    later: Annotated[int, Query()] = YEARS[-2],
) -> HTMLResponse:
    """What differs between two editions."""
    if earlier not in YEARS or later not in YEARS:
        raise NotFound
    page = DifferencesPage(
        earlier, later, YEARS, tuple(differences(earlier, later)) if earlier != later else ()
    )
    return render(request, "rules/editions.html", page)


@dataclass(frozen=True, slots=True)
class DifferencesPage:
    """What one edition has otherwise than another."""

    earlier: int
    later: int
    years: tuple[int, ...]
    differences: tuple[Difference, ...]


@router.get("/{rule_id}", name="rule", response_model=None)
def rule(request: Request, rule_id: str, person: Reader) -> HTMLResponse | RedirectResponse:
    """One rule: why, what to look for, how to measure, its numbers by edition, what goes wrong, what mends it."""
    found = find_rule(rule_id)
    if found is None:
        raise NotFound
    if found.id != rule_id:
        return RedirectResponse(f"/rules/{found.id}", status_code=308)
    articles = tuple(
        (year, "no such rule", "")
        if (cites := found.cites[year]) == NOT_IN_EDITION
        else (year, str(cites), "not verified" if isinstance(cites, Carried) else doubt_of(cites))
        for year in YEARS
    )  # fmt: skip
    related = tuple(
        other for other in find_rules() if SUBJECTS[other.id] == SUBJECTS[found.id] and other is not found
    )
    code = load_edition(default_year())
    limit = _limit(found, code)
    page = RulePage(
        found, SUBJECTS[found.id], _KINDS[found.kind], articles, numbers_of(found),
        Markup(draw_good_work(found.id, SUBJECTS[found.id], code, limit)),  # noqa: S704 - our own drawing
        code.year, limit, related,
    )  # fmt: skip
    return render(request, "rules/rule.html", page)


def _limit(found: Rule, code: Edition) -> str:
    """The figure that a measured rule is judged by, as it is written beside a dimension."""
    if found.measure is None or not code.has(found.measure.limit):
        return ""
    written = write_value(code.number(found.measure.limit), found.measure.unit)
    return f"{'at least' if found.measure.least else 'at most'} {written}"
