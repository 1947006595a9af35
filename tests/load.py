"""``make load``: fifty tablets on one job, on two server processes over PostgreSQL, against a bare endpoint.

    python -m tests.load [--seconds 300] [--tablets 50] [--think 3 5]

The server is ``python -m server`` with ``STUDBAY_WORKERS=2``, plus one route: ``POST /bare`` inserts a row and selects it,
which is what recording cannot cost less than. Each tablet signs in with its password, opens a room's walk, and then taps
every three to five seconds; now and then it goes to another room. As many clients ask for the bare endpoint with the same
pauses, in the same minutes, from the same processes. Times are taken by the client. Errors end it with exit code 1.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import random
import re
import signal
import statistics
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import UTC, datetime
from pathlib import Path
from uuid import uuid4

import httpx
from fastapi import FastAPI, Request
from sqlalchemy import Column, Engine, MetaData, String, Table, func, insert, select

from seed_demo.house import demo_house
from server.__main__ import build as build_server
from server.__main__ import prepare, serve
from server.people.accounts import add_membership
from server.people.current import open_to_anyone
from server.people.passwords import hash_password
from server.people.roles import Role
from server.security.log import configure
from server.settings import Settings
from server.store import schema
from server.store.engine import make_engine, reading, writing
from server.store.jobs import make_job, store_facts
from server.store.journal import NOBODY
from server.store.kinds import JobSettings
from server.store.tables import ObservationRow
from server.store.tables.people import AccountRow, CrewRow, InstallationRow
from tests.conftest import fresh_postgres
from tests.house.test_serving import ROOT, environment, free_port
from tests.postgres import cluster

AIM = 2.5
WORKERS = 2
PASSWORD = "ladder copper blue seven"
CREW, JOB = "crew-of-load", "job-of-load"
OPENS_A_ROOM = 0.12
"""How often a tablet goes to another room instead of tapping."""
_BARE = Table("bare", MetaData(), Column("id", String(64), primary_key=True), Column("note", String(200)))
_TAP = re.compile(r'action="(/jobs/[^"]+/walk/[a-z0-9-]+)" data-record>')


def build() -> FastAPI:
    """The server's application in one of its processes, with the bare endpoint."""
    app = build_server()
    engine: Engine = app.state.engine

    @app.post("/bare", dependencies=[open_to_anyone("a measurement, on this machine only")])
    def bare(_request: Request) -> dict[str, str]:
        row_id = str(uuid4())
        with writing(engine) as session:
            session.execute(insert(_BARE).values(id=row_id, note="bare"))
            found = session.execute(select(_BARE.c.id).where(_BARE.c.id == row_id)).scalar_one()
        return {"id": found}

    return app


@dataclass
class Tally:
    """What was asked, how long each took in seconds, and what went wrong."""

    times: dict[str, list[float]] = field(default_factory=dict)
    errors: Counter[str] = field(default_factory=Counter)
    kept: list[str] = field(default_factory=list)
    """The keys of what was recorded."""
    counting: bool = False

    async def ask(
        self, what: str, asking: httpx.AsyncClient, method: str, path: str, **more: object
    ) -> httpx.Response | None:
        """One request, counted; None where it did not go well."""
        start = time.perf_counter()
        try:
            answer = await asking.request(method, path, **more)  # type: ignore[arg-type]
        except httpx.HTTPError as error:
            self.errors[f"{what}: {type(error).__name__}"] += 1
            return None
        if self.counting:
            self.times.setdefault(what, []).append(time.perf_counter() - start)
        if answer.status_code != (303 if what == "sign in" else 200):
            self.errors[f"{what}: {answer.status_code}"] += 1
            return None
        return answer


def seed(url: str, tablets: int) -> list[str]:
    """People, and the demo house as their job; returns the ids of its rooms."""
    engine = make_engine(url)
    schema.upgrade(engine)
    _BARE.metadata.create_all(engine)
    now, kept = datetime.now(UTC), hash_password(PASSWORD)
    with writing(engine) as session:
        session.add_all(
            [InstallationRow(id=1, made_at=now), CrewRow(id=CREW, name="Many Hands", made_at=now)]
        )
        session.flush()
        for number in range(tablets):
            account = f"account-{number}"
            session.add(
                AccountRow(
                    id=account, sign_in_name=f"tablet{number}", name=f"Tablet {number}", password_hash=kept, password_set_at=now,
                    made_at=now,
                )
            )  # fmt: skip
            session.flush()
            add_membership(session, CREW, account, Role.APPRENTICE, now)
        facts = demo_house().builder.facts()
        job = make_job(session, CREW, JobSettings(id=JOB, name="Load", edition=2023), NOBODY)
        store_facts(session, job, facts, NOBODY, "built")
    engine.dispose()
    return [room.id for room in facts.rooms]


@contextmanager
def serving(url: str, folder: Path) -> Iterator[str]:
    """The server; yields its address."""
    port = free_port()
    # each tablet comes from an address of its own, as through a proxy: fifty at one address are slowed at signing in
    given = environment(
        folder,
        PORT=str(port),
        DATABASE_URL=url,
        WORKERS=str(WORKERS),
        TRUSTED_PROXIES="127.0.0.1",
        LOG_FORMAT="json",
    )
    log_path = folder / "server.log"
    with log_path.open("wb") as log:
        process = subprocess.Popen(
            [sys.executable, "-m", "tests.load", "--serve"], cwd=ROOT, env=given, stderr=log
        )
    address = f"http://127.0.0.1:{port}"
    try:
        until = time.monotonic() + 60
        while True:
            if process.poll() is not None or time.monotonic() > until:
                raise RuntimeError(f"the server did not start: {log_path.read_text()[-2000:]}")
            try:
                httpx.get(address + "/health")
                break
            except httpx.TransportError:
                time.sleep(0.1)
        yield address
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(60)
        failures = [line for line in log_path.read_text(errors="replace").splitlines() if '"trace"' in line]
        for line in failures[:3]:
            print(line[:1500])


@dataclass
class Tablet:
    """Somebody walking: taps, pauses, goes to another room."""

    number: int
    client: httpx.AsyncClient
    rooms: Sequence[str]
    think: tuple[float, float]
    tally: Tally
    chance: random.Random
    taps: list[str] = field(default_factory=list)

    async def sign_in(self) -> None:
        form = {"sign_in_name": f"tablet{self.number}", "password": PASSWORD}
        answer = await self.tally.ask("sign in", self.client, "POST", "/sign-in", data=form)
        if answer is not None:
            self.client.cookies.update(answer.cookies)
        await self.open_room()

    async def open_room(self) -> None:
        room = self.chance.choice(self.rooms)
        answer = await self.tally.ask("open a room", self.client, "GET", f"/jobs/{JOB}/rooms/{room}/walk")
        if answer is not None:
            self.taps = list(dict.fromkeys(_TAP.findall(answer.text))) or self.taps

    async def tap(self) -> None:
        key = str(uuid4())
        answer_word = "right" if self.chance.random() < 0.9 else "wrong"
        form = {"key": key, "answer": answer_word, "seen_at": datetime.now(UTC).isoformat(), "note": ""}
        headers = {"HX-Request": "true"}
        answer = await self.tally.ask(
            "record", self.client, "POST", self.chance.choice(self.taps), data=form, headers=headers
        )
        if answer is not None:
            self.tally.kept.append(key)

    async def walk(self, until: float) -> None:
        while await pause(self.chance, self.think, until):
            if not self.taps or self.chance.random() < OPENS_A_ROOM:
                await self.open_room()
            else:
                await self.tap()


async def pause(chance: random.Random, think: tuple[float, float], until: float) -> bool:
    """Think; whether there is time for another."""
    wait = chance.uniform(*think)
    if time.monotonic() + wait > until:
        return False
    await asyncio.sleep(wait)
    return True


async def bare(
    client: httpx.AsyncClient, think: tuple[float, float], tally: Tally, chance: random.Random, until: float
) -> None:
    """A client of the bare endpoint."""
    while await pause(chance, think, until):
        await tally.ask("bare", client, "POST", "/bare")


def client_of(address: str, number: int) -> httpx.AsyncClient:
    """A browser with an address of its own."""
    headers = {
        "Sec-Fetch-Site": "same-origin",
        "X-Forwarded-For": f"198.18.{number // 250}.{number % 250 + 1}",
    }
    return httpx.AsyncClient(base_url=address, headers=headers, timeout=30)


async def walk_all(address: str, rooms: list[str], asked: argparse.Namespace, tally: Tally) -> None:
    """Everybody signs in; then all walk for as long as was asked."""
    think = (asked.think[0], asked.think[1])
    tablets = [
        Tablet(number, client_of(address, number), rooms, think, tally, random.Random(number))
        for number in range(asked.tablets)
    ]
    plain = [client_of(address, 1000 + number) for number in range(asked.tablets)]
    for some in range(0, len(tablets), 5):
        await asyncio.gather(*(tablet.sign_in() for tablet in tablets[some : some + 5]))
    tally.counting = True
    until = time.monotonic() + asked.seconds
    await asyncio.gather(
        *(tablet.walk(until) for tablet in tablets),
        *(bare(client, think, tally, random.Random(-number), until) for number, client in enumerate(plain)),
    )
    for client in (*plain, *(tablet.client for tablet in tablets)):
        await client.aclose()


def at(times: list[float], part: float) -> float:
    """A percentile in milliseconds."""
    return statistics.quantiles(times, n=100, method="inclusive")[round(part * 100) - 1] * 1000


def tell(tally: Tally, there: list[str], asked: argparse.Namespace) -> bool:
    """Print what was measured; whether nothing went wrong."""
    print(f"{asked.tablets} tablets, {WORKERS} workers, {asked.seconds} s, load {os.getloadavg()[0]:.1f}")
    for what, times in sorted(tally.times.items()):
        if len(times) > 1:
            print(
                f"  {what:<12} {len(times):>6} requests   p50 {at(times, 0.5):7.1f} ms   p95 {at(times, 0.95):7.1f} ms   "
                f"slowest {max(times) * 1000:7.1f} ms"
            )
    record, plain = tally.times["record"], tally.times["bare"]
    for part in (0.5, 0.95):
        ratio = at(record, part) / at(plain, part)
        print(
            f"  recording / bare at p{part * 100:.0f}: {ratio:.2f}"
            + (f" (aim {AIM:g})" if part > 0.9 else "")
        )
    lost = set(tally.kept) - set(there)
    print(
        f"  errors {sum(tally.errors.values())} {dict(tally.errors) or ''}; recorded {len(tally.kept)}, in the log {len(there)}, "
        f"lost {len(lost)}, doubled {len(there) - len(set(there))}"
    )
    return not tally.errors and not lost and len(there) == len(set(there))


def main(arguments: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.load", description="fifty tablets on two workers")
    parser.add_argument("--seconds", type=int, default=300)
    parser.add_argument("--tablets", type=int, default=50)
    parser.add_argument("--think", type=float, nargs=2, default=(3.0, 5.0), metavar=("LEAST", "MOST"))
    parser.add_argument("--serve", action="store_true", help=argparse.SUPPRESS)
    asked = parser.parse_args(arguments)
    if asked.serve:
        settings = Settings()
        configure(settings.log_format)
        prepare(settings)
        serve(settings, "tests.load:build")
        return 0
    tally = Tally()
    with (
        tempfile.TemporaryDirectory(prefix="studbay-load-") as folder,
        cluster() as server,
        fresh_postgres(server, "studbay_load") as url,
    ):
        rooms = seed(url, asked.tablets)
        with serving(url, Path(folder)) as address:
            asyncio.run(walk_all(address, rooms, asked, tally))
        engine = make_engine(url)
        with reading(engine) as session:
            there = list(session.scalars(select(ObservationRow.id).where(ObservationRow.job_id == JOB)))
            assert session.scalar(select(func.count()).select_from(_BARE)) == len(tally.times["bare"])
        engine.dispose()
    return 0 if tell(tally, there, asked) else 1


if __name__ == "__main__":
    sys.exit(main())
