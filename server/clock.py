"""The clock of a server process: counts the jobs that have moved on, so that the page of all jobs need not judge any."""

from __future__ import annotations

import logging
import threading
from typing import Final

from sqlalchemy import Engine
from sqlalchemy.exc import SQLAlchemyError

from server.store.summaries import count_stale

__all__ = ["Clock"]

LOG = logging.getLogger("studbay.clock")
_EVERY_S: Final = 12.0
_MOST_AT_ONCE: Final = 3


class Clock:
    """A thread that wakes every few seconds. Several processes may each have one: a job counted twice is the same."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._stop = threading.Event()
        self._thread = threading.Thread(target=self._run, name="studbay-clock", daemon=True)

    def start(self) -> None:
        self._thread.start()

    def stop(self) -> None:
        """Stop after what is being counted."""
        self._stop.set()
        self._thread.join(timeout=20)

    def _run(self) -> None:
        wait = 1.0
        while not self._stop.wait(wait):
            try:
                counted = count_stale(self._engine, most=_MOST_AT_ONCE)
            except SQLAlchemyError:
                # a busy or restarting database: the next tick tries again
                LOG.warning("jobs were not counted this time", exc_info=True)
                counted = 0
            wait = 0.5 if counted == _MOST_AT_ONCE else _EVERY_S
