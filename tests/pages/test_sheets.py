"""The pages of the sheets: each reckons its example, keeps what was typed, and breaks on nothing."""

from __future__ import annotations

import html
import re
from collections.abc import Callable
from typing import Any

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from server.api.sheets import SHEETS, answer
from server.pages.sheet_examples import SHEET_PAGES
from server.pages.sheet_forms import flat_of, json_of

As = Callable[[str], TestClient]


def test_every_sheet_has_its_page() -> None:
    assert set(SHEET_PAGES) == set(SHEETS)


def test_the_list_leads_to_every_sheet(as_: As) -> None:
    page = as_("gus").get("/sheets").text

    assert all(f'href="/sheets/{name}"' in page for name in SHEETS)


@pytest.mark.parametrize("name", SHEET_PAGES)
def test_an_example_fills_the_form_and_is_reckoned(as_: As, name: str) -> None:
    client = as_("gus")
    filled = client.get(f"/sheets/{name}?example=true").text
    typed = {
        html.unescape(key): html.unescape(value)
        for key, value in re.findall(r'name="([^"]+)" type="text"[^>]*? value="([^"]*)"', filled)
    }
    typed |= {
        key: value
        for key, body in re.findall(r'<select id="[^"]*" name="([^"]+)"[^>]*>(.*?)</select>', filled, re.S)
        for value in re.findall(r'value="([^"]*)" selected', body)
    }

    page = client.post(f"/sheets/{name}", data=typed)

    assert page.status_code == 200, re.findall(r'class="error"[^>]*>.*?</p>', page.text, re.S)
    assert "The answer" in page.text
    assert 'class="steps"' in page.text
    figures = re.findall(r"<dt>([^<]*)</dt><dd><strong>([^<]*)</strong>", page.text)
    assert figures
    assert all(value not in ("", "not known") for _, value in figures), "what is not there is not listed"
    decided = [value in ("yes", "no") for _, value in figures]
    assert decided == sorted(decided, reverse=True), "what is answered with yes or no comes first"
    assert " in3" not in page.text.partition('class="steps"')[2].partition("</ol>")[0]


@pytest.mark.parametrize("name", SHEET_PAGES)
def test_the_form_carries_an_example_whole(name: str) -> None:
    """What goes through the form comes to the same answer as the JSON itself."""
    example: dict[str, Any] = dict(SHEET_PAGES[name].example)

    through_form = answer(name, SHEETS[name].asks.model_validate(json_of(flat_of(example))))

    assert through_form == answer(name, SHEETS[name].asks.model_validate(example))


def test_a_wrong_field_is_named_beside_itself_and_kept(as_: As) -> None:
    page = as_("gus").post(
        "/sheets/voltage-drop", data={"volts": "a lot", "load_a": "16", "one_way_ft": "95"}
    )

    assert page.status_code == 422
    assert 'id="e-volts"' in page.text
    assert 'value="a lot"' in page.text
    assert 'value="95"' in page.text


@pytest.mark.parametrize("name", SHEET_PAGES)
def test_a_sheet_of_which_nothing_is_typed_reckons_nothing(as_: As, name: str) -> None:
    answer = as_("elena").post(f"/sheets/{name}", data={"edition": "2023"})

    assert answer.status_code == 422
    assert "Nothing is typed yet" in answer.text
    assert "The answer" not in answer.text


def test_one_more_row_is_added_and_nothing_typed_is_lost(as_: As) -> None:
    page = as_("gus").post(
        "/sheets/box-fill", data={"rows": "conductors", "conductors.0.awg": "12", "conductors.0.count": "4"}
    )

    assert page.status_code == 200
    assert 'name="conductors.1.awg"' in page.text
    assert 'name="conductors.2.awg"' not in page.text
    assert re.search(r'name="conductors.0.count"[^>]*value="4"', page.text)


def test_what_is_no_sheet_is_not_found(as_: As) -> None:
    assert as_("gus").get("/sheets/horoscope").status_code == 404
    assert as_("gus").post("/sheets/horoscope", data={"a": "b"}).status_code == 404


@given(
    st.dictionaries(
        st.from_regex(
            r"\A(rows|edition|box\.table|conductors\.[0-9]{1,3}(\.(awg|count|role|x))?|devices(\.[0-9])?(\.kind)?|[a-z_.]{1,20}|\.+)\Z"
        ),
        st.text(max_size=30) | st.sampled_from(["12", "2023", "true", "9" * 30, "1e9", "-1"]),
        max_size=8,
    ),
    st.sampled_from(sorted(SHEET_PAGES)),
)
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_whatever_it_holds_breaks_a_sheet(as_: As, data: dict[str, str], name: str) -> None:
    answered = as_("gus").post(
        f"/sheets/{name}", data=data, headers={"Content-Type": "application/x-www-form-urlencoded"}
    )

    assert answered.status_code in (200, 422)


@given(
    st.recursive(
        st.text(min_size=1, max_size=5).filter(lambda t: t.strip() and t not in ("true", "false")),
        lambda inner: (
            st.lists(inner, min_size=1, max_size=3)
            | st.dictionaries(st.from_regex(r"\A[a-z_]{1,6}\Z"), inner, min_size=1, max_size=3)
        ),
        max_leaves=12,
    )
)
def test_a_document_survives_being_flat(document: Any) -> None:
    whole = {"top": document}

    assert json_of(flat_of(whole)) == whole
