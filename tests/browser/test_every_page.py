"""Every page of the route table over the demo house: axe, targets of 44 px, nothing sideways, nothing that breaks the
content security policy. On the telephone in dark and on the tablet in light; ``make shots`` takes the pictures."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, ConsoleMessage, Page
from sqlalchemy import Engine, select

from seed_demo.seed import seed
from server.app import create_app
from server.people import sessions
from server.people.guest_links import make_link
from server.people.person import Person
from server.people.roles import Role
from server.people.sessions import Lifetime
from server.settings import Settings
from server.store.base import Base
from server.store.engine import make_engine, reading, writing
from server.store.tables import (
    BoxRow,
    CableRow,
    CircuitRow,
    DeviceRow,
    FixtureRow,
    LevelRow,
    PanelRow,
    RoomRow,
    WallRow,
)
from server.store.tables.people import MembershipRow
from server.store.tables.practice import PracticeRow
from tests.browser.accessibility import assert_accessible
from tests.browser.conftest import TABLET, TELEPHONE, Live, serve
from tests.cast import DATA
from tests.conftest import fresh_sqlite
from tests.house.routes import Line, route_table

pytestmark = pytest.mark.browser
_ROUTES = route_table(create_app(Settings.model_validate({"data_dir": DATA})))
_NO_PAGE = {
    "file": "a download", "csv": "a download", "ics": "a calendar", "calendar": "a calendar", "json": "a document",
    "manifest": "a document", "take-along": "a document", "health": "a document", "worker": "a script", "pictures": "a picture",
    "live": "parts of a page",
}  # fmt: skip
_ONE_TIME = {"token", "ticket", "photograph_id", "sha256", "digest"}
"""Parameters of pages that need a secret or something in the making; their own tests look at them."""
_BEFORE_ACCOUNTS = ("/first-account", "/demo")
"""Gone once there is an account, or outside the demo; the tests of signing in look at them."""


def is_page(line: Line) -> bool:
    return (
        line.method == "GET"
        and not line.path.startswith(("/api/", *_BEFORE_ACCOUNTS))
        and not _ONE_TIME & set(line.parameters)
        and not _NO_PAGE.keys() & set(line.path.replace(".", "/").split("/"))
    )


PAGES = [line for line in _ROUTES if is_page(line)]
OF_A_JOB = [line for line in PAGES if line.role is Role.GUEST and "job_id" in line.parameters]


@pytest.fixture(scope="module")
def engine(memory_folder: Path) -> Iterator[Engine]:
    """The demo, in a database of its own."""
    made = make_engine(fresh_sqlite(memory_folder))
    Base.metadata.create_all(made)
    yield made
    made.dispose()


@pytest.fixture(scope="module")
def ids(engine: Engine) -> dict[str, str]:
    """A row of every kind, by the names of the routes' parameters."""
    job = seed(engine).job_id
    now = datetime.now(UTC)
    with writing(engine) as session:
        crew = session.scalars(select(MembershipRow.crew_id)).first() or ""
        session.add(
            PracticeRow(
                id="a-class", crew_id=crew, title="Tuesday class", seed=4, faults=3, framing="wood", edition=2023, made_by="R. Ames",
                made_at=now,
            )
        )  # fmt: skip
        apprentice = session.scalars(
            select(MembershipRow.account_id).where(MembershipRow.role == Role.APPRENTICE.word)
        ).one()
    found = {
        "job_id": job, "practice_id": "a-class", "account_id": apprentice, "rule_id": "sheath-into-box", "name": "box-fill",
        "kind": "box", "subject_kind": "box", "year": "2023", "edition": "2023",
    }  # fmt: skip
    with reading(engine) as session:
        # a kitchen has a bit of everything
        room = session.scalars(select(RoomRow.id).where(RoomRow.kind == "kitchen")).first() or ""
        box = session.scalars(select(BoxRow.id).where(BoxRow.room_id == room)).first() or ""
        found |= {"room_id": room, "box_id": box, "subject_id": box, "fact_id": box}
        rows: dict[str, Any] = {
            "wall_id": select(WallRow.id).where(WallRow.room_id == room),
            "part_id": select(FixtureRow.id).where(FixtureRow.room_id == room),
            "device_id": select(DeviceRow.id).where(DeviceRow.box_id == box),
            "panel_id": select(PanelRow.id),
            "circuit_id": select(CircuitRow.id),
            "cable_id": select(CableRow.id),
            "level_id": select(LevelRow.id),
        }
        found |= {name: session.scalars(statement).first() or "" for name, statement in rows.items()}
    return found


def address_of(line: Line, ids: dict[str, str]) -> str:
    """The address of a page for the demo's rows. A part of a room is no box: it has its own kind and id."""
    values = {**ids, "kind": "fixture", "fact_id": ids["part_id"]} if "/parts/" in line.path else ids
    path = line.at(**{name: values[name] for name in line.parameters})
    # four hundred rows alike cost axe half a minute: some of them, as a search gives them
    return f"{path}?q=fan" if path == "/rules" else path


@pytest.fixture(scope="module")
def demo(engine: Engine, ids: dict[str, str]) -> Iterator[Live]:
    """A server with the demo."""
    yield from serve(engine, None)


@pytest.fixture(scope="module")
def owner(engine: Engine, ids: dict[str, str]) -> Person:
    """The owner of the demo's crew."""
    with reading(engine) as session:
        row = session.scalars(select(MembershipRow).where(MembershipRow.role == Role.OWNER.word)).one()
        return Person(row.account_id, "", row.crew_id, Role.OWNER)


@pytest.fixture(scope="module")
def owners(demo: Live, engine: Engine, owner: Person, chromium: Browser) -> Iterator[Page]:
    """A page in the owner's browser."""
    lifetime = Lifetime(timedelta(hours=72), timedelta(days=30))
    with writing(engine) as session:
        token = sessions.start(session, owner.id, owner.crew_id, "test", datetime.now(UTC), lifetime)
    yield from _browser(chromium, demo, {"studbay": token})


@pytest.fixture(scope="module")
def guests(
    demo: Live, engine: Engine, owner: Person, ids: dict[str, str], chromium: Browser
) -> Iterator[Page]:
    """A page in the browser of whoever has a guest's link."""
    now = datetime.now(UTC)
    with writing(engine) as session:
        token = make_link(session, owner, ids["job_id"], "the inspector", now + timedelta(days=1), now)
    yield from _browser(chromium, demo, {"studbay-guest": token})


def _browser(chromium: Browser, demo: Live, cookies: dict[str, str]) -> Iterator[Page]:
    context = chromium.new_context(service_workers="block")
    context.set_default_timeout(30_000)
    context.add_cookies([{"name": name, "value": value, "url": demo.url} for name, value in cookies.items()])
    yield context.new_page()
    context.close()


_LOOKS = ((TELEPHONE, "dark"), (TABLET, "light"))


def look(page: Page, address: str, looks: Sequence[tuple[tuple[int, int], str]] = _LOOKS) -> None:
    """Ask a page for everything, in every size and theme of ``looks``."""
    trouble: list[str] = []

    def of_console(message: ConsoleMessage) -> None:
        if message.type == "error":
            trouble.append(message.text)

    page.on("console", of_console)
    for size, theme in looks:
        page.set_viewport_size({"width": size[0], "height": size[1]})
        page.emulate_media(color_scheme=theme)  # type: ignore[arg-type]
        answer = page.goto(address)
        assert answer is not None
        assert answer.status == 200, address
        assert_accessible(page)
    page.remove_listener("console", of_console)
    assert trouble == []


@pytest.mark.parametrize("line", [pytest.param(line, id=line.path) for line in PAGES])
def test_a_page_of_the_owner_is_accessible(line: Line, demo: Live, owners: Page, ids: dict[str, str]) -> None:
    look(owners, demo.url + address_of(line, ids))


@pytest.mark.parametrize("line", [pytest.param(line, id=line.path) for line in OF_A_JOB])
def test_a_page_of_a_guest_is_accessible(line: Line, demo: Live, guests: Page, ids: dict[str, str]) -> None:
    # the owner's pages with less on them: the narrow one is looked at
    look(guests, demo.url + address_of(line, ids), _LOOKS[:1])
