"""``kill -9`` of the whole server while tablets send: what it said it had kept is there once, and so is what it did not.

Writers send as the outbox does (static/outbox.js): one entry at a time under its own key, the same again until there is
an answer. ``STUDBAY_TESTS_KILLS=200`` kills more often than the suite has time for, and prints what it saw.
"""

from __future__ import annotations

import os
import random
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from uuid import uuid4

import httpx
import pytest
from sqlalchemy import Engine

from server.store.engine import make_engine, reading
from server.store.observations import log
from tests.cast import CREW, Cast, make_cast
from tests.conftest import fresh_postgres, fresh_sqlite
from tests.house.test_serving import ROOT, environment, free_port
from tests.pages.houses import bedroom_house, put_house

KILLS = int(os.environ.get("STUDBAY_TESTS_KILLS", "2"))
WRITERS = ("ana", "hugo", "elena", "pat")
LONGEST_S = 0.25
LOOK = "/jobs/job-1/rooms/room-1/walk/box-fastened"
_WAIT_S = 60.0


@pytest.fixture
def database(database_kind: str, request: pytest.FixtureRequest, memory_folder: Path) -> Iterator[str]:
    """The URL of an empty database of this test's own."""
    if database_kind == "sqlite":
        yield fresh_sqlite(memory_folder)
        return
    server, worker = request.getfixturevalue("postgres_server"), request.getfixturevalue("worker_name")
    with fresh_postgres(server, f"studbay_killed_{worker}") as url:
        yield url


@dataclass
class Server:
    """``python -m server`` on one port, started again and again."""

    database: str
    folder: Path
    port: int = field(default_factory=free_port)
    process: subprocess.Popen[bytes] | None = None

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def start(self) -> None:
        """Start it and wait until it answers."""
        given = environment(self.folder, PORT=str(self.port), DATABASE_URL=self.database)
        self.process = subprocess.Popen(
            [sys.executable, "-m", "server"], cwd=ROOT, env=given, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )  # fmt: skip
        until = time.monotonic() + _WAIT_S
        while True:
            assert self.process.poll() is None, "it did not start"
            assert time.monotonic() < until, "it did not answer in time"
            try:
                if httpx.get(self.url + "/health").status_code == 200:
                    return
            except httpx.TransportError:
                time.sleep(0.02)

    def kill(self) -> None:
        """No warning, no goodbye."""
        assert self.process is not None
        self.process.kill()
        self.process.wait(_WAIT_S)


@dataclass
class Writer:
    """A tablet that records without end, and sends again what was not answered."""

    url: str
    name: str
    token: str
    person: str
    stopped: threading.Event
    sent: list[str] = field(default_factory=list)
    """The keys in their order; all but the last are acknowledged."""
    acknowledged: list[str] = field(default_factory=list)
    unanswered: int = 0
    repeated: int = 0
    wrong: list[str] = field(default_factory=list)

    def run(self) -> None:
        headers = {"Sec-Fetch-Site": "same-origin", "HX-Request": "true", "Studbay-Person": self.person}
        client = httpx.Client(base_url=self.url, headers=headers, cookies={"studbay": self.token}, timeout=10)
        with client:
            while not self.stopped.is_set():
                if self.unanswered > self.repeated and self.acknowledged:
                    # the answer to one before was lost as well, for all the tablet knows
                    self.repeated += 1
                    self.deliver(client, self.acknowledged[-1])
                self.sent.append(str(uuid4()))
                self.deliver(client, self.sent[-1])
                self.acknowledged.append(self.sent[-1])

    def deliver(self, client: httpx.Client, key: str) -> None:
        """Send an entry until it is answered."""
        number = self.sent.index(key) if key in self.sent[-3:] else -1
        while True:
            try:
                answer = client.post(
                    LOOK, data={"key": key, "answer": "right" if number % 2 else "wrong", "note": f"{self.name} {number}"}
                )  # fmt: skip
            except httpx.TransportError:
                self.unanswered += 1
                time.sleep(0.02)
                continue
            if answer.status_code >= 500 or answer.status_code == 429:
                time.sleep(0.05)
                continue
            if answer.status_code != 200:
                self.wrong.append(f"{answer.status_code} for {key}")
            return


@contextmanager
def writing_all_the_time(server: Server, cast: Cast) -> Iterator[list[Writer]]:
    """Writers that write until the block ends, and then finish what they have begun."""
    stopped = threading.Event()
    writers = [Writer(server.url, name, cast.token(name), cast[name].id, stopped) for name in WRITERS]
    threads = [threading.Thread(target=writer.run, daemon=True) for writer in writers]
    for thread in threads:
        thread.start()
    try:
        yield writers
    finally:
        stopped.set()
        for thread in threads:
            thread.join(_WAIT_S)
    assert not any(thread.is_alive() for thread in threads)


def kept(engine: Engine) -> list[str]:
    with reading(engine) as session:
        return [item.observation.id for item in log(session, "job-1")]


def test_what_was_sent_while_the_server_was_killed_is_there_once(database: str, tmp_path: Path) -> None:
    chance = random.Random(20261125)
    server = Server(database, tmp_path)
    server.start()
    engine = make_engine(database)
    cast = make_cast(engine)
    put_house(engine, CREW, bedroom_house())
    kept_unanswered = 0
    try:
        with writing_all_the_time(server, cast) as writers:
            for _ in range(KILLS):
                before = sum(len(writer.acknowledged) for writer in writers)
                while sum(len(writer.acknowledged) for writer in writers) < before + len(WRITERS):
                    time.sleep(0.002)
                time.sleep(chance.random() * LONGEST_S)
                server.kill()
                acknowledged = {key for writer in writers for key in writer.acknowledged}
                there = kept(engine)
                assert acknowledged <= set(there)
                assert len(there) == len(set(there))
                kept_unanswered += len(set(there) - acknowledged)
                server.start()
        there = kept(engine)
    finally:
        server.kill()
        engine.dispose()

    assert [writer.wrong for writer in writers] == [[]] * len(WRITERS)
    assert all(writer.sent == writer.acknowledged for writer in writers)
    assert sorted(there) == sorted(key for writer in writers for key in writer.sent)
    for writer in writers:
        assert [key for key in there if key in set(writer.sent)] == writer.sent
    assert sum(writer.unanswered for writer in writers) >= KILLS
    assert sum(writer.repeated for writer in writers) >= 1
    print(
        f"{KILLS} kills: {len(there)} entries acknowledged and there once; {kept_unanswered} had been kept with their "
        f"answer lost, {sum(writer.repeated for writer in writers)} acknowledged ones sent again"
    )
