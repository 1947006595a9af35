"""A file of rooms of either kind, told apart by what is in it and not by its name."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
import threading
from pathlib import Path
from typing import Final

from server.imports.csv_rooms import read_csv
from server.imports.plans import HousePlan, NotReadable, Problem

__all__ = ["MOST_BYTES", "read_rooms"]

MOST_BYTES: Final = 20_000_000
_ROOT: Final = Path(__file__).parents[2]
_SECONDS: Final = 25
_MEGABYTES: Final = 3000
_WAIT_FOR_ANOTHER: Final = 30
_BROKEN: Final = Problem("", "The file cannot be read: something in it is broken. Export it once more.")
_one_at_a_time = threading.BoundedSemaphore(1)


def read_rooms(content: bytes, *, seconds: int = _SECONDS, megabytes: int = _MEGABYTES) -> HousePlan:
    """Read an IFC file or a table.

    Raises:
        NotReadable: it is neither, or something in it is wrong; nothing of it is read then.
    """
    if len(content) > MOST_BYTES:
        raise NotReadable(Problem("", f"The file is larger than {MOST_BYTES // 1_000_000} MB."))
    start = content[:64].lstrip(b"\xef\xbb\xbf \t\r\n")
    if not start:
        raise NotReadable(Problem("", "The file is empty."))
    if start.startswith(b"ISO-10303-21"):
        return _read_ifc(content, seconds, megabytes)
    if start.startswith(b"PK\x03\x04"):
        raise NotReadable(
            Problem("", "This is a packed file: unpack it first, then choose the .ifc or .csv inside.")
        )
    if start.startswith((b"<", b"%PDF", b"{", b"\x89PNG", b"\xff\xd8")) or b"\x00" in content[:4096]:
        raise NotReadable(
            Problem("", "expected an IFC file (it begins with ISO-10303-21) or a table of rooms (CSV)")
        )
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        # tables from older spreadsheet programs
        text = content.decode("cp1252", errors="replace")
    return read_csv(text)


def _read_ifc(content: bytes, seconds: int, megabytes: int) -> HousePlan:
    if b"END-ISO-10303-21" not in content[-4096:]:
        last = content.count(b"\n") + 1
        raise NotReadable(
            Problem(
                f"line {last}",
                "the file ends early: expected END-ISO-10303-21 on its last line. Copy it once more.",
            )
        )
    if not _one_at_a_time.acquire(timeout=_WAIT_FOR_ANOTHER):
        raise NotReadable(Problem("", "Another plan is being read. Try again in a moment."))
    try:
        with tempfile.NamedTemporaryFile(suffix=".ifc") as file:
            file.write(content)
            file.flush()
            return _from_worker(file.name, seconds, megabytes)
    finally:
        _one_at_a_time.release()


def _from_worker(path: str, seconds: int, megabytes: int) -> HousePlan:
    command = [sys.executable, "-m", "server.imports.ifc_worker", path, str(seconds), str(megabytes)]
    try:
        done = subprocess.run(  # noqa: S603 - our own module; the path is ours
            command, cwd=_ROOT, stdin=subprocess.DEVNULL, capture_output=True, timeout=seconds + 10, check=False
        )  # fmt: skip
    except subprocess.TimeoutExpired:
        raise NotReadable(_too_long(seconds)) from None
    if done.returncode != 0:
        # stopped by its limit, or the library died of the file
        raise NotReadable(_too_long(seconds) if done.returncode in (-9, -24) else _BROKEN)
    try:
        answer = json.loads(done.stdout)
    except ValueError:
        raise NotReadable(_BROKEN) from None
    if "problems" in answer:
        raise NotReadable(*(Problem(str(where), str(what)) for where, what in answer["problems"]))
    plan = read_csv(answer["rooms"])
    return HousePlan(plan.rooms, tuple(str(note) for note in answer["notes"]))


def _too_long(seconds: int) -> Problem:
    return Problem(
        "",
        f"It takes longer than {seconds} s to read. Export the spaces, doors and windows alone, without furniture.",
    )
