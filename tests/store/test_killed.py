"""The writing process is killed in the middle, again and again: what it had acknowledged is there, once."""

from __future__ import annotations

import os
import random
import signal
import time

from sqlalchemy import Engine

from server.dwelling import Answer, Observation, Ref
from server.store.engine import make_engine, reading, writing
from server.store.journal import Author
from server.store.observations import log, record
from server.store.tables import JobRow

TIMES = 100
LONGEST_S = 0.012


def write_until_killed(url: str, job: str, number: int, acknowledge: int) -> None:
    """Record one observation after another and acknowledge each once its transaction is done."""
    engine = make_engine(url, pool_size=1)
    place = 0
    while True:
        name = f"{number}-{place}"
        seen = Observation(f"seen-{name}", Ref("room", "room-1"), "cables-dressed", Answer.RIGHT)
        with writing(engine) as session:
            record(session, job, seen, key=name, author=Author("tablet", "T"))
        os.write(acknowledge, f"{name}\n".encode())
        place += 1


def test_what_was_acknowledged_before_a_kill_is_there_once(
    engine: Engine, database_url: str, job: str
) -> None:
    chance = random.Random(20261125)
    acknowledged: list[str] = []
    for number in range(TIMES):
        read_end, write_end = os.pipe()
        child = os.fork()
        if child == 0:
            try:
                write_until_killed(database_url, job, number, write_end)
            finally:
                os._exit(1)
        os.close(write_end)
        with os.fdopen(read_end) as told:
            first = told.readline()  # it is writing by now
            time.sleep(chance.random() * LONGEST_S)
            os.kill(child, signal.SIGKILL)
            rest = told.read()
        _, status = os.waitpid(child, 0)
        assert os.WTERMSIG(status) == signal.SIGKILL
        acknowledged += [line for line in (first + rest).split("\n") if line]

    with reading(engine) as session:
        entries = [item.observation.id.removeprefix("seen-") for item in log(session, job)]
        sequences = [item.sequence for item in log(session, job)]
        revision = session.get_one(JobRow, job).revision
    assert len(acknowledged) >= TIMES
    assert len(entries) == len(set(entries))
    assert set(acknowledged) <= set(entries)
    # a kill may fall between the commit and its acknowledgement: at most one entry a kill
    assert len(entries) - len(acknowledged) <= TIMES
    assert sequences == list(range(2, revision + 1))
