"""The people of every test that asks who may do what: one crew's five, and a stranger who owns another crew.

ana    owner         hugo   foreman      elena  electrician      pat   apprentice      gus  guest
sol    owner of another crew
"""

from __future__ import annotations

import atexit
import shutil
import tempfile
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path

from fastapi import FastAPI
from fastapi.testclient import TestClient
from sqlalchemy import Engine

from server.app import create_app
from server.people import passwords, sessions
from server.people.accounts import add_membership
from server.people.current import cookie_name
from server.people.person import Person
from server.people.roles import Role
from server.people.seal import Seal
from server.people.sessions import Lifetime
from server.settings import Settings
from server.store.engine import writing
from server.store.tables.people import AccountRow, CrewRow, InstallationRow

PASSWORD = "ladder copper blue seven"
LIFETIME = Lifetime(timedelta(hours=72), timedelta(days=30))
DATA = Path(tempfile.mkdtemp(prefix="studbay-tests-"))
"""The data folder of the tests' applications; it goes when the run does."""
SEAL = Seal(DATA)
"""What the test application seals with."""
atexit.register(shutil.rmtree, DATA, ignore_errors=True)
_HASHES: dict[str, str] = {}
_APPS: dict[tuple[tuple[str, str], ...], FastAPI] = {}

CREW = "crew-of-ana"
OTHER_CREW = "crew-of-sol"
_ROLES = {
    "ana": (CREW, "Ana Ruiz", Role.OWNER),
    "hugo": (CREW, "Hugo Lind", Role.FOREMAN),
    "elena": (CREW, "Elena Novak", Role.ELECTRICIAN),
    "pat": (CREW, "Pat Osei", Role.APPRENTICE),
    "gus": (CREW, "Gus Ames", Role.GUEST),
    "sol": (OTHER_CREW, "Sol Vance", Role.OWNER),
}
NAMES = tuple(_ROLES)


@dataclass(frozen=True, slots=True)
class Cast:
    """The people by their first names; ``engine`` is where they stand."""

    engine: Engine
    people: dict[str, Person]

    def __getitem__(self, name: str) -> Person:
        return self.people[name]

    def token(self, name: str, *, now: datetime | None = None) -> str:
        """A fresh session's token for somebody."""
        person = self.people[name]
        with writing(self.engine) as session:
            return sessions.start(
                session,
                person.id,
                person.crew_id,
                "Mozilla/5.0 (iPad) Safari/605",
                now or datetime.now(UTC),
                LIFETIME,
            )


def password_hash(password: str = PASSWORD) -> str:
    """The hash of a password, made once a run: making one is slow on purpose."""
    if password not in _HASHES:
        _HASHES[password] = passwords.hash_password(password)
    return _HASHES[password]


def make_cast(engine: Engine) -> Cast:
    """Put everybody into an empty database."""
    now = datetime.now(UTC)
    people = {}
    with writing(engine) as session:
        session.add(InstallationRow(id=1, made_at=now))
        session.add(CrewRow(id=CREW, name="Ruiz Wiring", made_at=now))
        session.add(CrewRow(id=OTHER_CREW, name="Vance & Vance", made_at=now))
        for name, (_crew, full_name, _role) in _ROLES.items():
            session.add(
                AccountRow(
                    id=f"account-{name}", sign_in_name=name, name=full_name, password_hash=password_hash(),
                    password_set_at=now, made_at=now,
                )
            )  # fmt: skip
        session.flush()
        for name, (crew_id, full_name, role) in _ROLES.items():
            add_membership(session, crew_id, f"account-{name}", role, now)
            people[name] = Person(f"account-{name}", full_name, crew_id, role)
    return Cast(engine, people)


def make_app(engine: Engine, **settings: object) -> FastAPI:
    """The application over a test's database; settings come from here alone, not from the environment.

    One application for the same settings serves test after test, each with its own database: what a new one costs
    is its first request (it settles its two hundred routes then), and that would be paid in every test.
    """
    key = tuple(sorted((name, str(value)) for name, value in settings.items()))
    app = _APPS.get(key)
    if app is None:
        app = _APPS[key] = create_app(
            # a second process for paper would be started for one page or two
            Settings.model_validate({"data_dir": DATA, "pdf_workers": 1, **settings}),
            engine,
        )
    app.state.engine = engine
    app.dependency_overrides.clear()
    return app


def client_for(app: FastAPI, token: str = "", *, base_url: str = "http://127.0.0.1:8000") -> TestClient:
    """A browser: it says that its requests come from our own pages, and carries a session where one is given."""
    client = TestClient(
        app,
        base_url=base_url,
        headers={"Sec-Fetch-Site": "same-origin", "Accept": "text/html"},
        follow_redirects=False,
        raise_server_exceptions=False,
    )
    if token:
        client.cookies.set(
            cookie_name(app.state.settings.secure),
            token,
            domain="127.0.0.1" if "127.0.0.1" in base_url else None,
        )
    return client
