"""A job's own amendments: written with their source, tried before they are kept; and what another edition would change."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Annotated, Any, Final

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse
from pydantic import BaseModel, ConfigDict, Field
from starlette.responses import Response

from server.dwelling import Dwelling
from server.editions import YEARS, Edition, EditionError, EditionValue, load_edition
from server.pages import flash
from server.pages.changes import author_of, undo_path
from server.pages.forms import NOTHING_TYPED, Fields, Typed
from server.pages.opened import JobFacts, OpenJob, open_job
from server.pages.rendering import render
from server.people.access import NotFound, job_for
from server.people.current import Foreman, Reader, engine_of
from server.people.roles import Role
from server.readiness import Judged, line_of
from server.readiness.naming import subject_name
from server.rules.book import write_value
from server.rules.outcome import Verdict
from server.rules.registry import RULES, find_rule
from server.store.engine import reading, writing
from server.store.facts import changing
from server.store.houses import edition_of

__all__ = ["router", "value_of"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)
_MOST_CHANGES: Final = 200


@dataclass(frozen=True, slots=True)
class Own:
    """One of the job's own amendments in words."""

    place: int
    title: str
    source: str
    changes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class NodeChoice:
    """A value of the code that may be changed."""

    name: str
    means: str
    unit: str
    value: str


@dataclass(frozen=True, slots=True)
class AmendmentsPage:
    """The job's amendments, and the form of one more."""

    job: JobFacts
    shipped: tuple[str, ...]
    own: tuple[Own, ...]
    fields: Fields
    words: str
    nodes: tuple[NodeChoice, ...]
    rules: tuple[tuple[str, str], ...]


class NewAmendment(BaseModel):
    """An amendment of one value, or the suspension of one rule."""

    model_config = ConfigDict(extra="forbid")

    title: str = Field(min_length=1, max_length=120)
    source: str = Field(min_length=3, max_length=300)
    cites: str = Field(min_length=1, max_length=80)
    kind: str = Field(pattern="^(replaces|adds|suspends)$")
    node: str = Field(min_length=1, max_length=120)
    value: str = Field(default="", max_length=2000)
    why: str = Field(default="", max_length=500)


def value_of(text: str, unit: str) -> Any:
    """A value as it is typed, for a value of that unit: yes or no, words with commas between, a number.

    Raises:
        ValueError: it does not fit the unit.
    """
    plain = text.strip()
    if unit == "flag":
        found = {"yes": True, "no": False, "true": True, "false": False}.get(plain.lower())
        if found is None:
            raise ValueError(f"expected yes or no, came {text!r}")
        return found
    if unit == "names":
        return [word.strip() for word in plain.split(",") if word.strip()]
    if unit in ("table", "text table"):
        raise ValueError("a table is changed in the job file, not here")
    if unit == "text":
        return plain
    try:
        Fraction(plain)
    except (ValueError, ZeroDivisionError):
        raise ValueError(f"expected a number in {unit}, came {text!r}") from None
    return plain


def _page(
    request: Request,
    opened: OpenJob,
    layers: list[Mapping[str, Any]],
    fields: Fields,
    words: str,
    status: int = 200,
) -> HTMLResponse:
    code = opened.code
    own = tuple(
        Own(
            place,
            str(layer.get("title", "")),
            str(layer.get("source", "")),
            tuple(_told(change, code) for change in layer.get("change", ())),
        )
        for place, layer in enumerate(layers)
    )
    asked = words.lower().split()
    nodes = tuple(
        NodeChoice(node.name, node.means, node.unit, _value_in(code, node.name, node.unit))
        for node in code
        if asked
        and not node.name.startswith(("edition.", "practice."))
        and all(word in f"{node.name} {node.means}".lower() for word in asked)
    )[:40]
    rules = tuple(
        (rule.id, rule.title)
        for rule in RULES.values()
        if asked and all(word in f"{rule.id} {rule.title}".lower() for word in asked)
    )[:20]
    shipped = tuple(
        layer.title for layer in code.amendments if layer.title not in {item.title for item in own}
    )
    return render(
        request,
        "editions/amendments.html",
        AmendmentsPage(opened.job, shipped, own, fields, words, nodes, rules),
        job=opened.bar,
        status=status,
    )


def _told(change: Mapping[str, Any], code: Edition) -> str:
    name = str(change.get("node", ""))
    if name.startswith("rule:"):
        rule = find_rule(name.removeprefix("rule:"))
        what = f"the rule “{rule.title}”" if rule else name
    else:
        try:
            what = code.node(name).means
        except EditionError:
            what = name
    value = f": {change['value']}" if "value" in change else ""
    return f"{change.get('kind', '')} {what}{value} ({change.get('cites', '')})"


def _value_in(code: Edition, name: str, unit: str) -> str:
    entry = code.entry(name)
    value: EditionValue | None = entry.value
    return entry.absence or ("" if value is None else write_value(value, unit)[:120])


def _layers(request: Request, person: Any, job_id: str) -> list[Mapping[str, Any]]:
    with reading(engine_of(request)) as session:
        return list(job_for(session, person, job_id, Role.FOREMAN).layers)


@router.get("/amendments", name="amendments")
def amendments(
    request: Request,
    job_id: str,
    person: Foreman,
    q: Annotated[str, Query(max_length=80)] = "",
    node: Annotated[str, Query(max_length=120)] = "",
) -> HTMLResponse:
    """The job's amendments; ``q`` finds a value or a rule to change."""
    opened = open_job(request, person, job_id, Role.FOREMAN)
    fields = (
        Fields({"node": node, "kind": "suspends" if node.startswith("rule:") else "replaces"})
        if node
        else NOTHING_TYPED
    )
    return _page(request, opened, _layers(request, person, job_id), fields, q)


@router.post("/amendments", name="add_amendment")
def add(request: Request, job_id: str, person: Foreman, form: Typed) -> Response:
    """Add one; it is tried on the edition first, and refused with the reason where it does not fit."""
    read = form.read(NewAmendment)
    opened = open_job(request, person, job_id, Role.FOREMAN)
    fields = read.fields
    layer: dict[str, Any] = {}
    if read.model is not None:
        wanted = read.model
        change: dict[str, Any] = {"kind": wanted.kind, "node": wanted.node, "cites": wanted.cites}
        if wanted.why:
            change["why"] = wanted.why
        try:
            if wanted.kind != "suspends":
                change["value"] = value_of(wanted.value, opened.code.node(wanted.node).unit)
        except EditionError as error:
            fields = fields.wrong("node", f"{error}.")
        except ValueError as error:
            fields = fields.wrong("value", f"{error}.")
        if wanted.node.startswith("rule:") and find_rule(wanted.node.removeprefix("rule:")) is None:
            fields = fields.wrong("node", "There is no such rule.")
        layer = {
            "id": f"own-{wanted.node}"[:60],
            "title": wanted.title,
            "place": "this job",
            "source": wanted.source,
            "confidence": "one",
            "change": [change],
        }
    layers = _layers(request, person, job_id)
    if layer and not fields.errors:
        try:
            with reading(engine_of(request)) as session:
                row = job_for(session, person, job_id, Role.FOREMAN)
                edition_of(row.edition, row.presets, (*layers, layer))
        except EditionError as error:
            fields = fields.wrong("node", f"{error}.")
    if read.model is None or fields.errors:
        return _page(request, opened, layers, fields, "", 422)
    return _keep(
        request,
        job_id,
        person,
        [*layers, layer],
        f"amended: {read.model.title}",
        f"{read.model.title} is in force for this job.",
    )


@router.post("/amendments/{place}/remove", name="remove_amendment")
def remove(request: Request, job_id: str, place: int, person: Foreman) -> Response:
    """Take one away."""
    layers = _layers(request, person, job_id)
    if not 0 <= place < len(layers):
        raise NotFound
    return _keep(
        request,
        job_id,
        person,
        layers[:place] + layers[place + 1 :],
        "took an amendment away",
        "The amendment was taken away.",
    )


def _keep(
    request: Request, job_id: str, person: Any, layers: list[Mapping[str, Any]], what: str, said: str
) -> Response:
    with writing(engine_of(request)) as session:
        job_for(session, person, job_id, Role.FOREMAN)
        with changing(session, job_id, author_of(person), what) as change:
            change.edit("job", job_id, {"layers": tuple(layers)})
    return flash.redirect(f"/jobs/{job_id}/amendments", flash.Said(said, undo_path(job_id, change.id)))


@dataclass(frozen=True, slots=True)
class Changed:
    """One finding that would be otherwise under another edition."""

    where: str
    title: str
    before: str
    after: str
    before_says: str
    after_says: str


@dataclass(frozen=True, slots=True)
class OtherEditionPage:
    """What a job's findings would be under another edition."""

    job: JobFacts
    year: int
    years: tuple[int, ...]
    verified: bool
    changed: tuple[Changed, ...]
    more: int


@router.get("/editions/{year}", name="other_edition")
def other_edition(request: Request, job_id: str, year: int, person: Reader) -> HTMLResponse:
    """Item by item, what would change under another edition. Nothing is changed by looking."""
    if year not in YEARS:
        raise NotFound
    opened = open_job(request, person, job_id)
    with reading(engine_of(request)) as session:
        row = job_for(session, person, job_id)
        try:
            code = edition_of(year, row.presets, tuple(row.layers))
        except EditionError:
            code = load_edition(year)
    changed = _differences(opened, Judged.of(Dwelling(opened.house.facts), code))
    page = OtherEditionPage(
        opened.job,
        year,
        tuple(y for y in YEARS if y != opened.job.edition),
        code.flag("edition.verified"),
        tuple(changed[:_MOST_CHANGES]),
        max(0, len(changed) - _MOST_CHANGES),
    )
    return render(request, "editions/other.html", page, job=opened.bar)


def _differences(opened: OpenJob, other: Judged) -> list[Changed]:
    now = {(f.rule.id, f.subject): f for f in opened.findings}
    found = []
    for finding in other.findings:
        before = now.get((finding.rule.id, finding.subject))
        if before is None or before.outcome.verdict is finding.outcome.verdict:
            continue
        one, two = line_of(before, opened.code), line_of(finding, other.code)
        found.append(
            Changed(
                subject_name(finding.place, other.house),
                finding.rule.title,
                one.verdict.value,
                two.verdict.value,
                one.sentence,
                two.sentence,
            )
        )
    return sorted(found, key=lambda item: (item.after != Verdict.CORRECTION.value, item.title, item.where))
