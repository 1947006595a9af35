"""Single reckonings without a job: a page for every sheet, over the same function that the API calls."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.exceptions import RequestValidationError
from fastapi.responses import HTMLResponse
from pydantic import BaseModel, ValidationError

from server.api.problems import field_errors
from server.api.sheets import SHEETS, answer
from server.api.sheets.base import SheetAnswer
from server.dwelling import format_length, parse_length
from server.pages.forms import NOTHING_TYPED, Fields, Form, Typed
from server.pages.rendering import render
from server.pages.sheet_examples import SHEET_PAGES
from server.pages.sheet_forms import Group, draw_form, flat_of, json_of
from server.people.access import NotFound
from server.people.current import Reader

__all__ = ["router"]

router = APIRouter(prefix="/sheets", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class SheetLink:
    """A sheet in the list."""

    name: str
    title: str
    answers: str


@dataclass(frozen=True, slots=True)
class SheetsPage:
    """All sheets."""

    sheets: tuple[SheetLink, ...]


@router.get("", name="sheets")
def sheets(request: Request, person: Reader) -> HTMLResponse:
    """All sheets."""
    links = tuple(
        SheetLink(name, SHEETS[name].title, page.answers)
        for name, page in SHEET_PAGES.items()
        if name in SHEETS
    )
    return render(request, "sheets/list.html", SheetsPage(links))


@dataclass(frozen=True, slots=True)
class Figure:
    """One field of a result, in words."""

    label: str
    value: str
    rows: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetFormPage:
    """A sheet: its form, and its answer where one was asked for."""

    name: str
    title: str
    answers: str
    main: Group
    more: Group
    errors: tuple[tuple[str, str], ...]
    more_open: bool
    figures: tuple[Figure, ...]
    reckoned: SheetAnswer[BaseModel] | None


@router.get("/{name}", name="sheet")
def sheet(
    request: Request, name: str, person: Reader, example: Annotated[bool, Query()] = False
) -> HTMLResponse:
    """A sheet's form, empty or with its example filled in."""
    if name not in SHEETS or name not in SHEET_PAGES:
        raise NotFound
    fields = Fields(flat_of(SHEET_PAGES[name].example)) if example else NOTHING_TYPED
    return render(request, "sheets/sheet.html", _page(name, fields, {}))


@router.post("/{name}", name="reckon_sheet")
def reckon_sheet(request: Request, name: str, person: Reader, form: Typed) -> HTMLResponse:
    """Reckon a sheet; nothing is stored. A button named ``rows`` asks for one more row instead."""
    if name not in SHEETS or name not in SHEET_PAGES:
        raise NotFound
    values = {key: text for key, text in form.values.items() if key != "rows"}
    if "rows" in form.values:
        return render(request, "sheets/sheet.html", _page(name, Fields(values), {form.values["rows"]: 1}))
    if not json_of(values).keys() - {"edition"}:
        first = SHEET_PAGES[name].shown[0]
        untyped = Fields(values, {first: "Nothing is typed yet. An example shows what a sheet can be told."})
        return render(request, "sheets/sheet.html", _page(name, untyped, {}), status=422)
    try:
        asked = SHEETS[name].asks.model_validate(json_of(_without_twice(form, values)))
        reckoned = answer(name, asked)
    except (ValidationError, RequestValidationError) as error:
        wrong = {item["field"]: _sentence(item["expected"]) for item in field_errors(error.errors())}
        return render(request, "sheets/sheet.html", _page(name, Fields(values, wrong), {}), status=422)
    return render(request, "sheets/sheet.html", _page(name, Fields(values), {}, reckoned))


def _without_twice(form: Form, values: dict[str, str]) -> dict[str, str]:
    """A name that came twice counts as its last."""
    return values | {name: found[-1] for name, found in form.lists.items() if name in values}


def _sentence(text: str) -> str:
    plain = text.removeprefix("Value error, ").strip().rstrip(".")
    return f"{plain[:1].upper()}{plain[1:]}." if plain else "Another value is needed."


def _page(
    name: str, fields: Fields, rows: dict[str, int], reckoned: SheetAnswer[BaseModel] | None = None
) -> SheetFormPage:
    chosen = SHEET_PAGES[name]
    main, more = draw_form(SHEETS[name].asks.model_json_schema(), fields, shown=chosen.shown, more=rows)
    hidden = [
        key
        for key in (*fields.values, *rows)
        if key.partition(".")[0] not in chosen.shown and (key in rows or fields.value(key))
    ]
    figures = (
        tuple(
            _figure(label, value) for label, value in _answers_first(reckoned.result.model_dump(mode="json"))
        )
        if reckoned
        else ()
    )
    return SheetFormPage(
        name,
        SHEETS[name].title,
        chosen.answers,
        main,
        more,
        tuple(fields.errors.items()),
        bool(hidden),
        figures,
        reckoned,
    )


def _answers_first(figures: dict[str, Any]) -> list[tuple[str, Any]]:
    """What is answered with yes or no comes first; what is not there is not listed."""
    there = [(name, value) for name, value in figures.items() if value not in (None, "", [], {})]
    return sorted(there, key=lambda item: not isinstance(item[1], bool))


def _figure(name: str, value: Any) -> Figure:
    label = name.replace("_", " ").capitalize()
    for ending, unit in (
        (" in3", "in³"),
        (" percent", "%"),
        (" va", "VA"),
        (" ft", "ft"),
        (" a", "A"),
        (" v", "V"),
        (" in", "in"),
    ):
        if label.endswith(ending) and not isinstance(value, list | dict):
            return Figure(label.removesuffix(ending), _written(value, unit))
    if name == "room_for" and isinstance(value, dict):
        return Figure(label, "; ".join(f"{more} more of {awg} AWG" for awg, more in value.items()))
    if isinstance(value, list):
        return Figure(label, f"{len(value)}" if value else "none", tuple(_written(item) for item in value))
    return Figure(label, _written(value))


def _written(value: Any, unit: str = "") -> str:
    match value:
        case None:
            return "not known"
        case bool():
            return "yes" if value else "no"
        case int() | float() if unit == "in":
            return format_length(parse_length(value)) if value >= 0 else f"{value:g} in"
        case int() | float():
            return f"{value:,.6g} {unit}".strip()
        case dict():
            return "; ".join(
                f"{key.replace('_', ' ')} {_written(part, 'in' if key.endswith('_in') else '')}"
                for key, part in value.items()
            )
        case list():
            return ", ".join(_written(part) for part in value) or "none"
        case _:
            return f"{value} {unit}".strip()
