"""``python -m server.backup write FILE`` while the service runs; ``python -m server.backup read FILE`` into a new one.

Which database and which folder of photographs is decided by the same ``STUDBAY_*`` settings as for serving. Reading
takes an empty database: set ``STUDBAY_DATABASE_URL`` (and ``STUDBAY_DATA_DIR``) to where it shall be, read, then serve.
"""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

from pydantic import ValidationError
from sqlalchemy.exc import DBAPIError

from server.settings import Settings
from server.store.backup import BackupError, read_backup, write_backup
from server.store.engine import make_engine

__all__ = ["main"]


def main(arguments: Sequence[str] | None = None) -> int:
    """The command; returns the process's exit code."""
    parser = argparse.ArgumentParser(prog="python -m server.backup", description=__doc__.split("\n")[0])
    parser.add_argument("what", choices=("write", "read"))
    parser.add_argument("file", type=Path)
    wanted = parser.parse_args(arguments)
    try:
        settings = Settings()
        settings.data_dir.mkdir(parents=True, exist_ok=True)
        engine = make_engine(settings.database)
        try:
            do = write_backup if wanted.what == "write" else read_backup
            done = do(engine, wanted.file, files=settings.data_dir / "photographs")
        finally:
            engine.dispose()
    except (BackupError, ValidationError, DBAPIError, OSError) as error:
        sys.stderr.write(f"Nothing was changed: {error}\n")
        return 1
    rows = sum(done.rows.values())
    sys.stdout.write(
        f"{wanted.what.capitalize()}: {rows:,} rows of {len(done.rows)} tables and {done.files:,} photographs, "
        f"as of {done.made_at:%Y-%m-%d %H:%M:%S} UTC, schema {done.revision}.\n"
    )
    return 0


if __name__ == "__main__":
    sys.exit(main())
