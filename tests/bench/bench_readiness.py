"""Judging the demo house against reading its rows; growth from one house to a thousand; one look against a bare
endpoint; the packet against WeasyPrint on the same HTML."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import uuid4

from fastapi import FastAPI, Request
from fastapi.testclient import TestClient
from sqlalchemy import Engine, insert, select
from weasyprint import CSS, HTML
from weasyprint.text.fonts import FontConfiguration

from seed_demo.faults import put_in
from seed_demo.house import demo_house
from seed_demo.seed import seed
from seed_demo.walked import walk_half
from server.app import create_app
from server.dwelling import Dwelling
from server.editions import load_edition
from server.pages.packet import report_css
from server.people.current import open_to_anyone
from server.readiness import evaluate, standings
from server.reckon.remembered import forget
from server.reports.pdf import Press, Section
from server.settings import Settings
from server.store import schema
from server.store.engine import make_engine, reading, writing
from server.store.houses import load_facts
from server.store.tables import ObservationRow
from tests.bench.ratio import compare, median_of, slope, told

CODE = load_edition(2023)


@contextmanager
def seeded() -> Iterator[tuple[Engine, str, Path]]:
    """A database on disk with the demo in it."""
    with tempfile.TemporaryDirectory() as folder:
        engine = make_engine(f"sqlite:///{folder}/bench.sqlite3")
        schema.upgrade(engine)
        made = seed(engine)
        yield engine, made.job_id, Path(folder)
        engine.dispose()


def main() -> None:
    with seeded() as (engine, job_id, folder):
        _judging(engine, job_id)
        _growth()
        _one_look(engine, job_id, folder)
        _paper(engine, job_id, folder)


def _judging(engine: Engine, job_id: str) -> None:
    with reading(engine) as session:
        facts = load_facts(session, job_id)

    def load() -> None:
        with reading(engine) as session:
            load_facts(session, job_id)

    def judge() -> None:
        house = Dwelling(facts)
        standings(house, evaluate(house, CODE))

    def judge_afresh() -> None:
        forget()
        judge()

    told("full readiness of the demo house against reading its rows", *compare(judge, load), aim=1.0)
    told("the same where nothing was reckoned before", *compare(judge_afresh, load), aim=1.0)


def _growth() -> None:
    house = demo_house()
    walk_half(house)
    put_in(house)
    facts = house.builder.facts()
    sizes, times = (1, 10, 100, 1000), []
    for size in sizes:

        def judge_all(count: int = size) -> None:
            for _ in range(count):
                one = Dwelling(facts)
                standings(one, evaluate(one, CODE))

        times.append(median_of(judge_all, rounds=9 if size < 100 else 1))
    print(
        f"{'growth from 1 to 1,000 houses, slope on log-log paper':<74} {slope(sizes, times):6.3f}  (aim 1.05)"
    )


def _one_look(engine: Engine, job_id: str, folder: Path) -> None:
    app = create_app(Settings(data_dir=folder, demo=True), engine)
    _add_bare(app, engine, job_id)
    with TestClient(app, base_url="http://127.0.0.1:8000") as client:
        headers = {"Sec-Fetch-Site": "same-origin", "Origin": "http://127.0.0.1:8000"}
        _sign_in(client, headers)
        room = "alder-room-9"
        path = f"/jobs/{job_id}/rooms/{room}/walk/sheath-into-box"
        client.get(f"/jobs/{job_id}/rooms/{room}/walk")

        def look() -> None:
            answer = client.post(
                path, data={"key": str(uuid4()), "answer": "measured", "measure": "3/8", "seen_at": ""},
                headers=headers | {"HX-Request": "true"},
            )  # fmt: skip
            assert answer.status_code == 200, answer.status_code

        def bare() -> None:
            assert client.post("/bare", headers=headers).status_code == 200

        told(
            "one recorded look with its fragment against inserting and selecting a row",
            *compare(look, bare, rounds=60),
            aim=2.5,
        )


def _add_bare(app: FastAPI, engine: Engine, job_id: str) -> None:
    """An endpoint that inserts one row of the same table and selects it: what a look cannot cost less than."""
    table: Any = ObservationRow.__table__
    count = iter(range(10**9, 2 * 10**9))

    @app.post("/bare", dependencies=[open_to_anyone("a bench, on this machine only")])
    def bare(_request: Request) -> dict[str, str]:
        row_id = str(uuid4())
        with writing(engine) as session:
            session.execute(
                insert(table).values(
                    id=row_id, job_id=job_id, sequence=next(count), subject_kind="room", subject_id="alder-room-9",
                    rule="bench", answer="right", measure=None, note="", by="", at="", photographs=(), takes_back=None,
                    person_id=None, recorded_at=datetime.now(UTC),
                )
            )  # fmt: skip
            found = session.execute(select(table.c.id).where(table.c.id == row_id)).scalar_one()
        return {"id": found}


def _sign_in(client: TestClient, headers: dict[str, str]) -> None:
    page = client.get("/demo").text
    account = re.search(r'name="account_id" value="([^"]+)"', page)
    assert account is not None
    client.post("/demo", data={"account_id": account[1]}, headers=headers)


class _Kept(Press):
    """A press that remembers what it was given, so that the bench prints what the page prints."""

    sections: Sequence[Section] = ()

    def start(self, job_id: str, sections: Sequence[Section], css: str) -> str:
        self.sections = sections
        return super().start(job_id, sections, css)


def _paper(engine: Engine, job_id: str, folder: Path) -> None:
    press = _Kept(folder / "paper", processes=Settings().pdf_workers)
    app = create_app(Settings(data_dir=folder, demo=True), engine)
    app.state.press = press
    with TestClient(app, base_url="http://127.0.0.1:8000") as client:
        headers = {"Sec-Fetch-Site": "same-origin", "Origin": "http://127.0.0.1:8000"}
        _sign_in(client, headers)
        client.post(f"/jobs/{job_id}/packet/pdf", headers=headers, follow_redirects=False)
    sections = list(press.sections)
    css = report_css()
    bodies = [re.sub(r"(?s)^.*<body>|</body>.*$", "", section.html) for section in sections]
    whole = sections[0].html.replace("</body>", "".join(bodies[1:]) + "</body>")
    fonts = FontConfiguration()
    style = CSS(string=css, font_config=fonts)
    count = iter(range(1000))

    def ours() -> None:
        mark = f"/* {next(count)} */"  # another style: nothing is taken from what was rendered before
        ticket = press.start(job_id, sections, css + mark)
        press.wait(job_id, ticket)
        press.collect(job_id, ticket, "x")

    def theirs() -> None:
        HTML(string=whole).write_pdf(stylesheets=[style], font_config=fonts)

    first, bare = compare(ours, theirs, rounds=3)
    told(
        f"the packet ({len(sections)} parts, {Settings().pdf_workers} processes) against WeasyPrint on the same HTML",
        first,
        bare,
        aim=1.15,
    )
    press.wait(job_id, press.start(job_id, sections, css))

    def again() -> None:
        changed = list(sections)
        changed[5] = replace(
            changed[5], html=changed[5].html.replace("</body>", f"<p>{next(count)}</p></body>")
        )
        ticket = press.start(job_id, changed, css)
        press.wait(job_id, ticket)
        press.collect(job_id, ticket, "x")

    told(
        "issued again after one room changed against the first time",
        median_of(again, rounds=3),
        first,
        aim=0.25,
    )
    press.close()


if __name__ == "__main__":
    main()
