"""Readiness with its reckonings, and the packet on screen and on paper."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path

import pytest
from fastapi.testclient import TestClient
from pypdf import PdfReader
from sqlalchemy import Engine

from tests.cast import CREW, Cast, client_for, make_app
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]


@pytest.fixture(autouse=True)
def job(engine: Engine, cast: object) -> str:
    house = bedroom_house()
    house.change("box-2", volume_in3=10)
    house.observe("box", "box-1", "sheath-into-box", measure="1/8")
    return put_house(engine, CREW, house)


def test_a_correction_stands_with_its_number_article_and_cure(as_: As) -> None:
    page = as_("gus").get("/jobs/job-1/readiness").text

    assert "What holds it open" in page
    assert "314.16" in page
    assert "in³ too small" in page
    assert "Cure" in page


def test_the_reckoning_unfolds_as_a_fragment_and_stands_as_a_page(as_: As) -> None:
    path = "/jobs/job-1/why/box-fill/box/box-2"

    part = as_("gus").get(path, headers={"HX-Request": "true"})
    page = as_("gus").get(path)

    assert "<html" not in part.text
    assert "<html" in page.text
    for answer in (part, page):
        assert answer.status_code == 200
        assert 'class="steps"' in answer.text
        assert answer.headers["vary"].find("HX-Request") >= 0


@pytest.mark.parametrize(
    "path", ["why/no-rule/box/box-2", "why/box-fill/box/none", "why/box-fill/room/room-1"]
)
def test_no_reckoning_of_what_is_not_there(as_: As, path: str) -> None:
    assert as_("gus").get(f"/jobs/job-1/{path}").status_code == 404


def test_an_edition_that_nobody_verified_says_so(as_: As) -> None:
    as_("hugo").post(
        "/jobs/job-1/settings",
        data={"name": "Alder Court", "edition": "2026", "stage": "rough-in", "work": "new"},
    )

    page = as_("gus").get("/jobs/job-1/readiness").text

    assert "This edition is not verified" in page
    assert "not verified for this edition" in page


def test_the_packet_on_screen_has_a_sheet_for_every_room_and_panel(as_: As) -> None:
    page = as_("gus").get("/jobs/job-1/packet").text

    for words in (
        "Cover",
        "Bedroom 1",
        "Panel A",
        "Box fill, 314.16",
        "too small",
        "De-energise and prove dead",
    ):
        assert words in page


def test_the_packet_tells_what_belongs_to_no_room_and_who_looked_at_it(as_: As) -> None:
    as_("pat").post(
        "/jobs/job-1/whole-job/walk/temporary-pole-braced",
        data={"key": "0b6a2f5e-6f0c-4f7e-9d53-3f0a3c1f2a77", "answer": "wrong", "note": "leans to the street", "seen_at": ""},
    )  # fmt: skip

    page = as_("gus").get("/jobs/job-1/packet").text
    part = page.partition('<h2 class="plain">Of no room</h2>')[2].partition("<details")[0]

    titles = re.findall(r"</svg> ([^<(]+?)(?: \(\d+\))?</p>", part)
    assert "The permit is issued and posted where it is seen" in titles
    corrections = part.partition("<h2>Corrections</h2>")[2].partition("<h2>")[0]
    assert "the whole job" in corrections
    assert "leans to the street" in part.partition("Who looked, and when")[2]


def test_the_cover_names_the_permit_that_was_entered(as_: As) -> None:
    assert "number not entered" in as_("gus").get("/jobs/job-1/packet").text

    as_("hugo").post(
        "/jobs/job-1/settings",
        data={"name": "Alder Court", "edition": "2023", "stage": "rough-in", "work": "new", "permit_number": "B-77 <9>"},
    )  # fmt: skip

    assert "<span>Permit</span>B-77 &lt;9&gt;" in as_("gus").get("/jobs/job-1/packet").text


def test_the_torque_record_has_a_line_to_fill_in_for_every_breaker(as_: As) -> None:
    page = as_("gus").get("/jobs/job-1/packet").text
    record = page.partition('<h2 class="plain">Torque record: Panel A</h2>')[2].partition(
        "</table>\n</section>"
    )[0]

    rows = re.findall(r"<tr><td>([^<]+)</td><td>([^<]*)</td><td></td>", record)
    assert rows[:2] == [("Feeding lugs or main breaker", ""), ("Grounded conductor lug", "")]
    assert ("1 Bedrooms", "14 AWG") in rows


@pytest.fixture
def printing(engine: Engine, cast: Cast, tmp_path: Path) -> Iterator[TestClient]:
    app = make_app(engine, data_dir=str(tmp_path))
    yield client_for(app, cast.token("gus"))
    if hasattr(app.state, "press"):
        app.state.press.close()


def test_the_packet_is_made_as_pdf_with_its_progress(printing: TestClient) -> None:
    where = printing.post("/jobs/job-1/packet/pdf").headers["location"]

    for _ in range(120):
        page = printing.get(where)
        if "Open the PDF" in page.text:
            break
        time.sleep(0.5)
    file = printing.get(f"{where}/file")

    assert file.headers["content-type"] == "application/pdf"
    paper = PdfReader(BytesIO(file.content))
    words = [page.extract_text() for page in paper.pages]
    assert "Alder Court" in words[0]
    marks = [mark.title for mark in paper.outline if not isinstance(mark, list)]
    assert marks[0] == "Cover"
    assert "Bedroom 1" in marks
    assert len(marks) == len(set(marks)), "a section each, not the headings that all of them have"
    assert any("Bedroom 1" in text and "too small" in text for text in words)


def test_another_crew_cannot_open_a_packet_by_its_ticket(printing: TestClient, as_: As) -> None:
    where = printing.post("/jobs/job-1/packet/pdf").headers["location"]

    assert as_("sol").get(where).status_code == 404
    assert as_("sol").get(f"{where}/file").status_code == 404
    assert printing.get("/jobs/job-1/packet/pdf/" + "0" * 32).status_code == 404


def test_every_place_of_the_navigation_is_a_page_and_no_document_of_the_api(
    as_: As,
) -> None:
    for path in ("/jobs", "/jobs/job-1/rooms"):
        places = re.search(r'<nav class="places".*?</nav>', as_("hugo").get(path).text, re.DOTALL)
        assert places is not None
        links = re.findall(r'href="([^"]+)"', places[0])
        assert len(links) >= 5
        for link in links:
            answer = as_("hugo").get(link)
            assert not link.startswith("/api/")
            assert answer.status_code == 303 or answer.headers["content-type"].startswith("text/html"), link


@pytest.mark.parametrize("path", ["/jobs/job-1/readiness", "/jobs/job-1/rooms", "/jobs/job-1/rooms/room-1"])
def test_the_title_is_answered_before_anything_else_is_said(as_: As, path: str) -> None:
    title = as_("gus").get(path).text.partition('class="title-block"')[2].partition("</header>")[0]

    assert title.index("hold open") < title.index('class="cell-label"')
    assert title.count("hold open") == 1


def test_a_cure_that_holds_for_all_of_a_rule_is_said_once(as_: As, engine: Engine) -> None:
    house = bedroom_house(prefix="same-")
    for box in ("same-box-1", "same-box-2"):
        house.change(box, volume_in3=10)
    put_house(engine, CREW, house, job_id="same")

    page = as_("gus").get("/jobs/same/readiness").text
    part = page.partition('href="/rules/box-fill"')[2].partition("</article>")[0]

    assert part.count('class="unfold why"') == 2
    assert part.count("<strong>Cure</strong>") == 1


def test_what_nobody_has_looked_at_for_the_whole_job_is_a_line_a_rule(as_: As) -> None:
    page = as_("gus").get("/jobs/job-1/readiness").text
    part = page.partition("Of the whole job, still to enter or see")[2].partition("</section>")[0]

    assert "The permit is issued and posted where it is seen" in part
    assert "Nobody has looked yet" not in part, "the heading says it for all of them"
    assert part.count('class="row brief"') == part.count('href="/rules/')


def test_on_paper_a_correction_of_several_boxes_stands_once_and_a_walk_is_one_entry_of_the_log(
    as_: As, engine: Engine
) -> None:
    house = bedroom_house(prefix="same-")
    for box in ("same-box-1", "same-box-2"):
        house.change(box, volume_in3=10)
    put_house(engine, CREW, house, job_id="same")
    room = f"/jobs/same/rooms/{house.facts().rooms[0].id}/walk"
    for number, (who, rule) in enumerate(
        (("pat", "box-whole"), ("pat", "box-fastened"), ("elena", "openings-closed"))
    ):
        as_(who).post(
            f"{room}/{rule}",
            data={"key": f"12345678-{number}", "answer": "right", "seen_at": "2026-11-20T09:00:00Z"},
        )

    page = as_("gus").get("/jobs/same/packet").text
    part = page.partition('<h2 class="plain">Bedroom 1</h2>')[2].partition("<details")[0]
    corrections = part.partition("<h2>Corrections</h2>")[2].partition('<div class="walls">')[0]
    log = part.partition("<h2>Who looked, and when</h2>")[2]

    assert corrections.count("too small") == 1
    assert "<b>R1, wall 1 at 12 in; R2, wall 1 at 2 ft.</b>" in corrections
    entries = re.findall(r"<h3>2026-11-20 09:00 UTC, ([^<]+)</h3>(.*?)</div>", log, re.DOTALL)
    assert len(entries) == 2, "two people, each once"
    assert [words.count("<p>") for _, words in entries] == [2, 1]
    assert "The box is whole: <b>right</b>" in entries[0][1]


def test_on_paper_a_room_says_first_whether_it_is_ready_and_each_number_has_its_name(as_: As) -> None:
    page = as_("gus").get("/jobs/job-1/packet").text
    block = page.partition('<h2 class="plain">Bedroom 1</h2>')[2].partition("</table>")[0]

    cells = re.findall(r"<span>([^<]+)</span>(?:<b>)?([^<]+)", block)
    assert cells[0] == ("Standing", "hold open")
    assert [name for name, _ in cells[1:4]] == ["Corrections", "Not seen yet", "Clear"]
    assert all(number.isdigit() for _, number in cells[1:4])
