"""A throw-away PostgreSQL cluster for one test session.

With ``STUDBAY_TEST_POSTGRES`` (a URL that may create databases) that server is used instead. Otherwise the
system's own binaries start a cluster in a temporary folder that listens on a socket there and nowhere else,
without fsync: what it holds is worth nothing. PostgreSQL refuses to run as root, so root starts it as the user
``postgres`` that Debian's package makes.
"""

from __future__ import annotations

import os
import pwd
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from urllib.parse import quote

__all__ = ["cluster"]

_SETTINGS = {
    "listen_addresses": "''",
    "fsync": "off",
    "synchronous_commit": "off",
    "full_page_writes": "off",
    "max_connections": "120",
    "shared_buffers": "64MB",
    "log_min_messages": "fatal",
}


def _binaries() -> Path:
    """The newest PostgreSQL of the system."""
    found = sorted(
        Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda path: int(path.parts[-3].split(".")[0])
    )
    if found:
        return found[-1].parent
    on_path = shutil.which("initdb")
    if on_path is None:
        raise RuntimeError(
            "expected PostgreSQL's initdb under /usr/lib/postgresql or on the PATH; install postgresql, or set "
            "STUDBAY_TEST_POSTGRES to the URL of a server whose user may create databases"
        )
    return Path(on_path).resolve().parent


@contextmanager
def cluster() -> Iterator[str]:
    """Start a cluster; yields the URL of its ``postgres`` database, stops and removes it afterwards."""
    given = os.environ.get("STUDBAY_TEST_POSTGRES")
    if given:
        yield given
        return
    binaries = _binaries()
    folder = Path(tempfile.mkdtemp(prefix="studbay-pg-"))
    as_user: list[str] = []
    if os.geteuid() == 0:
        owner = pwd.getpwnam("postgres")
        os.chown(folder, owner.pw_uid, owner.pw_gid)
        as_user = ["runuser", "-u", "postgres", "--"]
    data = folder / "data"

    def run(*command: str) -> None:
        done = subprocess.run(
            [*as_user, *command], check=False, capture_output=True, text=True, cwd=folder, timeout=120
        )
        if done.returncode:
            raise RuntimeError(f"{command[0]} failed: {done.stderr or done.stdout}")

    control = str(binaries / "pg_ctl")
    try:
        run(
            str(binaries / "initdb"), "-D", str(data), "-U", "studbay", "-A", "trust", "-E", "UTF8",
            "--locale=C", "--no-sync",
        )  # fmt: skip
        options = " ".join(f"-c {name}={value}" for name, value in _SETTINGS.items())
        # with its own log file pg_ctl keeps none of our pipes open
        run(
            control, "-D", str(data), "-w", "-l", str(folder / "log"), "-o", f"-k {folder} {options}", "start"
        )
        try:
            yield f"postgresql+psycopg://studbay@/postgres?host={quote(str(folder))}"
        finally:
            run(control, "-D", str(data), "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder, ignore_errors=True)
