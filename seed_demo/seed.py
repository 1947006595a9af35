"""Puts the demo into a database: an invented crew, its people without usable passwords, and the house on Alder Court.

It refuses a database that has a real job or a real account, whatever else is asked of it.
"""

from __future__ import annotations

import secrets
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from sqlalchemy import Engine, func, select

from seed_demo.faults import put_in
from seed_demo.house import YEAR, demo_house
from seed_demo.walked import walk_half
from server.dwelling import Stage
from server.people.accounts import add_account, add_membership
from server.people.first_account import make_first_account
from server.people.passwords import hash_password
from server.people.roles import Role
from server.store.engine import writing
from server.store.jobs import make_job, store_facts
from server.store.journal import Author, take_revisions
from server.store.kinds import JobSettings
from server.store.observations import row_of
from server.store.tables import JobRow, ObservationRow
from server.store.tables.people import AccountRow

__all__ = ["CREW", "PEOPLE", "RealData", "Seeded", "seed"]

CREW = "Harrow and Lane Electric"
PEOPLE = (
    ("R. Ames", "ames", Role.OWNER),
    ("L. Sandoval", "sandoval", Role.FOREMAN),
    ("D. Okoro", "okoro", Role.ELECTRICIAN),
    ("T. Brandt", "brandt", Role.APPRENTICE),
    ("Inspector's desk", "desk", Role.GUEST),
)
JOB_NAME = "14 Alder Court"
DAYS_TO_VISIT = 6


class RealData(RuntimeError):
    """The database holds something that is not a demo."""


@dataclass(frozen=True, slots=True)
class Seeded:
    """What was made: the job's id, and how many facts and observations it has."""

    job_id: str
    rooms: int
    boxes: int
    circuits: int
    observations: int
    already: bool = False


def seed(engine: Engine) -> Seeded:
    """Make the demo, once: a database that has it is left as it is.

    Raises:
        RealData: there is a job that is no demo, or an account without one.
    """
    house = demo_house(prefix="alder-")
    walk_half(house)
    put_in(house)
    facts = house.builder.facts()
    with writing(engine) as session:
        real = session.scalar(select(func.count()).select_from(JobRow).where(JobRow.is_demo.is_(False)))
        if real:
            raise RealData(f"this database has {real} real jobs: the demo goes into one of its own")
        demo = session.scalar(select(JobRow.id).where(JobRow.is_demo))
        counts = (len(facts.rooms), len(facts.boxes), len(facts.circuits), len(facts.observations))
        if demo is not None:
            return Seeded(demo, *counts, already=True)
        if session.scalar(select(func.count()).select_from(AccountRow)):
            raise RealData("this database has accounts but no demo: the demo goes into one of its own")
        now = datetime.now(UTC)
        (name, sign_in, _), *others = PEOPLE
        # nobody knows these passwords: the demo is entered through its own page
        account_id, crew_id = make_first_account(
            session,
            name=name,
            sign_in_name=sign_in,
            password_hash=hash_password(secrets.token_urlsafe(24)),
            crew_name=CREW,
            now=now,
        )
        for other, sign_in, role in others:
            made = add_account(
                session,
                name=other,
                sign_in_name=sign_in,
                password_hash=hash_password(secrets.token_urlsafe(24)),
                now=now,
            )
            session.flush()
            add_membership(session, crew_id, made, role, now)
        author = Author(account_id, name)
        settings = JobSettings(
            id="", name=JOB_NAME, edition=YEAR, address="14 Alder Court, Wexbridge", stage=Stage.ROUGH_IN,
            inspection_date=(now + timedelta(days=DAYS_TO_VISIT)).date(), permit_number="E-26-0418", permit_date=(now - timedelta(days=41)).date(),
            floor_area_ft2=facts.site.floor_area_ft2,
        )  # fmt: skip
        job_id = make_job(session, crew_id, settings, author, is_demo=True)
        store_facts(session, job_id, facts, author, "built the demo house")
        first = take_revisions(session, job_id, len(facts.observations), of_facts=False)
        log = ObservationRow.__table__
        session.execute(
            log.insert(),  # type: ignore[attr-defined]
            [row_of(job_id, seen, first + place, now, None) for place, seen in enumerate(facts.observations)],
        )
    return Seeded(job_id, *counts)
