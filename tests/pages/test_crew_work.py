"""Who has what, four eyes, visits and what was written, links for guests, files that leave."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from fastapi import FastAPI
from fastapi.testclient import TestClient
from icalendar import Calendar
from PIL import Image
from sqlalchemy import Engine, select, update

from server.pages import exports
from server.store.engine import reading, writing
from server.store.summaries import count_stale, summaries_of
from server.store.tables import JobRow
from server.store.tables.audit import AuditRow
from server.store.tables.people import GuestLinkRow, SignInSessionRow
from tests.cast import CREW, OTHER_CREW, client_for
from tests.pages.houses import bedroom_house, put_house

As = Callable[[str], TestClient]
WORK = "/jobs/job-1/work"


@pytest.fixture(autouse=True)
def job(engine: Engine, cast: object) -> str:
    house = bedroom_house()
    house.change("box-2", volume_in3=10)
    return put_house(engine, CREW, house)


def give(as_: As, **more: str) -> Any:
    return as_("hugo").post(
        WORK, data={"room_id": "room-1", "person_id": "account-elena", "due": "2026-12-01", **more}
    )


def assignment(as_: As) -> str:
    found = re.search(rf"{WORK}/([0-9a-f-]{{36}})/", as_("hugo").get(WORK).text)
    assert found is not None
    return found[1]


def test_a_correction_is_given_mended_and_looked_at_again_by_somebody_else(as_: As) -> None:
    give(as_, rule="box-fill", note="before Friday")
    item = assignment(as_)
    assert "before Friday" in as_("elena").get(WORK).text

    as_("elena").post(f"{WORK}/{item}/done")
    own = as_("elena").post(f"{WORK}/{item}/check")
    assert "looked at again by" not in as_("gus").get(WORK).text
    as_("hugo").post(f"{WORK}/{item}/check")

    assert own.status_code == 303
    page = as_("gus").get(WORK).text
    assert "Mended by Elena Novak, looked at again by Hugo Lind" in page


def test_what_is_not_right_after_all_is_open_again(as_: As) -> None:
    give(as_)
    item = assignment(as_)
    as_("elena").post(f"{WORK}/{item}/done")

    as_("pat").post(f"{WORK}/{item}/reopen")

    assert "Opened again 1 time" in as_("gus").get(WORK).text


@pytest.mark.parametrize(
    ("field", "typed", "says"),
    [
        ("person_id", "account-sol", "Choose somebody of the crew"),
        ("room_id", "no-room", "Choose one of the rooms"),
        ("rule", "no-rule", "no such rule"),
        ("due", "soon", "Expected a date"),
    ],
)
def test_a_wrong_assignment_is_named_and_kept(as_: As, field: str, typed: str, says: str) -> None:
    answer = give(as_, note="typed with care", **{field: typed})

    assert answer.status_code == 422
    assert says in answer.text
    assert "typed with care" in answer.text


@pytest.mark.parametrize(("name", "status"), [("elena", 403), ("pat", 403), ("gus", 403), ("sol", 404)])
def test_only_a_foreman_gives_work(as_: As, name: str, status: int) -> None:
    assert (
        as_(name).post(WORK, data={"room_id": "room-1", "person_id": "account-elena"}).status_code == status
    )


def test_what_the_inspector_wrote_is_matched_to_rules_and_rooms(as_: As) -> None:
    as_("elena").post(
        "/jobs/job-1/visits",
        data={
            "stage": "rough-in",
            "on_date": "2026-11-24",
            "result": "corrections",
            "written": "- Bedroom 1: box fill, box too small 314.16\n- Window flashing missing at north side",
        },
    )

    page = as_("gus").get(WORK).text

    assert "/rules/box-fill" in page
    assert "Window flashing missing at north side" in page
    assert "matches no rule here" in page


def test_a_cover_is_signed_only_after_an_approved_visit(as_: As) -> None:
    for result in ("corrections", "approved"):
        as_("elena").post(
            "/jobs/job-1/visits", data={"stage": "rough-in", "on_date": "2026-11-24", "result": result}
        )
    page = as_("hugo").get(WORK).text
    (visit,) = re.findall(r"/visits/([0-9a-f-]{36})/cover", page)

    as_("hugo").post(f"/jobs/job-1/visits/{visit}/cover", data={"on": "2026-11-25"})

    assert "Covered on Wed 25 Nov 2026, signed by Hugo Lind" in as_("gus").get(WORK).text


def test_the_first_visit_rate_counts_each_job_and_stage_once(as_: As) -> None:
    for day, result in (("2026-11-01", "corrections"), ("2026-11-08", "approved")):
        as_("elena").post("/jobs/job-1/visits", data={"stage": "rough-in", "on_date": day, "result": result})

    assert "0 of 1" in as_("hugo").get("/jobs/patterns").text


# links for guests


def link(as_: As, **more: str) -> str:
    page = as_("hugo").post("/jobs/job-1/guests", data={"label": "Inspector", "days": "7", **more}).text
    found = re.search(r"/guest/([A-Za-z0-9_-]{43})", page)
    assert found is not None
    return found[1]


def guest(app: FastAPI, token: str) -> TestClient:
    client = client_for(app)
    answer = client.get(f"/guest/{token}")
    assert answer.status_code == 303, answer.text
    client.cookies.set("studbay-guest", token, domain="127.0.0.1")
    return client


def test_a_link_opens_its_job_and_nothing_else_and_writes_nothing(
    as_: As, app: FastAPI, engine: Engine
) -> None:
    put_house(engine, CREW, bedroom_house(prefix="o-"), job_id="other", name="Another house")
    client = guest(app, link(as_))

    assert client.get("/jobs/job-1/packet").status_code == 200
    assert "Another house" not in client.get("/jobs").text
    assert client.get("/jobs/other/rooms").status_code == 404
    assert client.post("/jobs/job-1/rooms", data={"kind": "den"}).status_code == 403
    assert (
        client.post(
            "/jobs/job-1/rooms/room-1/walk/box-whole", data={"key": "12345678", "answer": "right"}
        ).status_code
        == 403
    )
    assert client.get("/crew").status_code == 403


def test_an_ended_or_revoked_link_opens_nothing(as_: As, app: FastAPI, engine: Engine) -> None:
    token = link(as_)
    client = guest(app, token)
    page = as_("hugo").get("/jobs/job-1/guests").text
    (made,) = re.findall(r"/guests/([0-9a-f-]{36})/revoke", page)

    as_("hugo").post(f"/jobs/job-1/guests/{made}/revoke")

    assert client.get("/jobs/job-1/rooms").status_code == 303
    other = link(as_)
    with writing(engine) as session:
        session.execute(
            update(GuestLinkRow).values(ends_at=datetime.now(UTC) - timedelta(seconds=1), revoked_at=None)
        )
    assert client_for(app).get(f"/guest/{other}").status_code == 404


def test_a_links_token_is_kept_nowhere_and_its_page_is_not_indexed(
    as_: As, app: FastAPI, engine: Engine
) -> None:
    token = link(as_)

    answer = client_for(app).get(f"/guest/{token}")

    assert answer.headers["x-robots-tag"] == "noindex"
    assert answer.headers["referrer-policy"] == "no-referrer"
    with reading(engine) as session:
        rows = session.execute(GuestLinkRow.__table__.select()).all()
    assert token not in str(rows)


def test_links_made_and_ended_are_written_down_without_their_secret(as_: As, engine: Engine) -> None:
    token = link(as_)
    (made,) = re.findall(r"/guests/([0-9a-f-]{36})/revoke", as_("hugo").get("/jobs/job-1/guests").text)
    as_("hugo").post(f"/jobs/job-1/guests/{made}/revoke")

    with reading(engine) as session:
        rows = session.scalars(select(AuditRow).order_by(AuditRow.number)).all()
        told = [(row.what, row.person_id, row.crew_id, row.job_id, bool(row.request_id)) for row in rows]
        kept = str([row.details for row in rows])
    assert told == [
        (what, "account-hugo", CREW, "job-1", True) for what in ("guest link made", "guest link revoked")
    ]
    assert token not in kept


def test_a_link_takes_the_password_again_after_a_while_and_ending_one_does_not(
    as_: As, engine: Engine
) -> None:
    hugo = as_("hugo")
    link(as_)
    (made,) = re.findall(r"/guests/([0-9a-f-]{36})/revoke", hugo.get("/jobs/job-1/guests").text)
    with writing(engine) as session:
        session.execute(update(SignInSessionRow).values(proved_at=datetime.now(UTC) - timedelta(hours=1)))

    asked = hugo.post("/jobs/job-1/guests", data={"label": "Builder", "days": "7"})
    ended = hugo.post(f"/jobs/job-1/guests/{made}/revoke")

    assert asked.headers["location"].startswith("/prove?next=")
    assert ended.headers["location"] == "/jobs/job-1/guests"
    with reading(engine) as session:
        assert [row.revoked_at is not None for row in session.scalars(select(GuestLinkRow))] == [True]


# photographs


def send_photograph(as_: As, job: str, name: str = "a.jpg", more: bytes = b"") -> Any:
    out = io.BytesIO()
    Image.new("RGB", (64, 64), "grey").save(out, "JPEG")
    return as_("pat").post(
        f"/jobs/{job}/photographs",
        files={"file": (name, out.getvalue() + more, "image/svg+xml")},
        headers={"Accept": "application/json"},
    )


def test_a_photograph_is_sent_in_a_sandbox_under_no_name_that_came(as_: As) -> None:
    made = send_photograph(as_, "job-1", '../../"x".svg')

    headers = as_("gus").get(f"/jobs/job-1/photographs/{made.json()['id']}").headers

    assert made.status_code == 201
    assert headers["content-type"] == "image/jpeg"
    assert headers["content-security-policy"] == "default-src 'none'; sandbox"
    assert headers["x-content-type-options"] == "nosniff"
    assert headers["content-disposition"] == "inline"
    assert headers["cache-control"] == "no-store"


def test_a_photograph_opens_through_its_own_job_only(as_: As, app: FastAPI, engine: Engine) -> None:
    put_house(engine, CREW, bedroom_house(prefix="o-"), job_id="other", name="Another house")
    own, other = (send_photograph(as_, job).json() for job in ("job-1", "other"))
    as_("pat").post(f"/jobs/job-1/photographs/{own['id']}/remove")
    whoever_has_the_link = guest(app, link(as_))

    for path in (f"/jobs/other/photographs/{other['id']}", f"/jobs/other/pictures/{other['sha256']}.jpg"):
        assert as_("gus").get(path).status_code == 200
        assert as_("sol").get(path).status_code == 404
        assert whoever_has_the_link.get(path).status_code == 404
        assert whoever_has_the_link.get(path.replace("/other/", "/job-1/")).status_code == 404


def test_a_photograph_over_the_limit_is_refused_by_its_route(as_: As) -> None:
    assert send_photograph(as_, "job-1", more=b"0" * 3_000_000).status_code == 201
    assert send_photograph(as_, "job-1", more=b"0" * 25_000_000).status_code == 413


# files


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_a_cell_that_a_spreadsheet_would_reckon_with_is_text(start: str) -> None:
    assert exports._cell(f"{start}1+1") == f"'{start}1+1"
    assert exports._cell(f"1{start}1") == f"1{start}1"


def test_findings_leave_as_csv_and_no_cell_is_a_formula(as_: As, engine: Engine) -> None:
    as_("elena").post(
        "/jobs/job-1/rooms/room-1/edit",
        data={"name": '=HYPERLINK("http://x")', "kind": "bedroom", "level_id": "level-1"},
    )

    answer = as_("gus").get("/jobs/job-1/findings.csv")

    rows = list(csv.DictReader(io.StringIO(answer.text.lstrip("\ufeff"))))
    assert any(row["rule"] and "too small" in row["sentence"] for row in rows)
    assert not [cell for row in rows for cell in row.values() if cell.startswith(("=", "+", "@"))]
    assert any(row["room"].startswith("'=") for row in rows)


def test_the_punch_list_says_who_has_what(as_: As) -> None:
    give(as_, rule="box-fill")

    rows = list(
        csv.DictReader(io.StringIO(as_("gus").get("/jobs/job-1/punch-list.csv").text.lstrip("\ufeff")))
    )

    assert [row["given to"] for row in rows if "too small" in row["what is wrong"]] == ["Elena Novak"]


def test_visits_are_a_calendar_of_the_crews_own_jobs(as_: As, engine: Engine) -> None:
    put_house(engine, OTHER_CREW, bedroom_house(prefix="t-"), job_id="theirs", name="Theirs")
    with writing(engine) as session:
        session.execute(update(JobRow).values(inspection_date=datetime(2026, 12, 4, tzinfo=UTC).date()))

    made = Calendar.from_ical(as_("gus").get("/visits.ics").content)

    events = [str(event["summary"]) for event in made.walk("VEVENT")]
    assert events == ["Inspection: Alder Court (rough-in)"]


# the page of all jobs


def test_the_board_shows_what_was_counted_in_the_same_queries_for_two_hundred_jobs(
    as_: As, engine: Engine, query_count: Any
) -> None:
    client = as_("hugo")
    count_stale(engine)
    with query_count() as few:
        page = client.get("/jobs").text
    with writing(engine) as session:
        for number in range(200):
            session.add(
                JobRow(
                    id=f"j{number}",
                    crew_id=CREW,
                    name=f"Job {number}",
                    edition=2023,
                    created_at=datetime.now(UTC),
                )
            )
    with query_count() as many:
        assert client.get("/jobs").text.count('class="row job-row"') == 201

    assert "rooms ready" in page
    assert "Falls short: " in page
    assert few.count == many.count <= 7


def test_a_job_that_moved_on_is_counted_again(engine: Engine, as_: As) -> None:
    assert count_stale(engine) == 1
    assert count_stale(engine) == 0

    as_("pat").post("/jobs/job-1/rooms/room-1/walk/box-whole", data={"key": "12345678-a", "answer": "wrong"})

    with reading(engine) as session:
        assert summaries_of(session, ["job-1"])["job-1"].stale
    assert count_stale(engine) == 1
    with reading(engine) as session:
        summary = summaries_of(session, ["job-1"])["job-1"]
    assert not summary.stale
    assert summary.by_rule["box-whole"] == 1  # one of its three boxes, and nobody said which
