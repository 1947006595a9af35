"""``make demo``: a database of its own under ``var/demo``, the demo in it, served on the loopback address."""

from __future__ import annotations

import argparse
import os
import socket
import sys
from pathlib import Path

from seed_demo.seed import RealData, seed
from server.__main__ import prepare, serve
from server.settings import Settings
from server.store.engine import make_engine

_FOLDER = Path("var/demo")


def main() -> int:
    """Seed and serve (or only seed, with ``--seed-only``)."""
    asked = argparse.ArgumentParser(prog="seed_demo", description=__doc__)
    asked.add_argument("--seed-only", action="store_true", help="make the demo and stop")
    asked.add_argument(
        "--port",
        type=int,
        default=int(os.environ.get("STUDBAY_PORT", "0")),
        help="0: 8000, or the next free one",
    )
    wanted = asked.parse_args()
    folder = Path(os.environ.get("STUDBAY_DATA_DIR", _FOLDER))
    port = wanted.port or _free_port(8000)
    os.environ |= {"STUDBAY_DATA_DIR": str(folder), "STUDBAY_DEMO": "true", "STUDBAY_PORT": str(port)}
    settings = Settings()
    prepare(settings)
    engine = make_engine(settings.database)
    try:
        made = seed(engine)
    except RealData as error:
        print(f"Refused: {error}.", file=sys.stderr)
        return 1
    finally:
        engine.dispose()
    state = "is there already" if made.already else "is built"
    print(
        f"The demo house {state}: {made.rooms} rooms, {made.boxes} boxes, {made.circuits} circuits, "
        f"{made.observations} looks recorded."
    )
    if wanted.seed_only:
        return 0
    print(f"\n  Open http://127.0.0.1:{port}/demo and choose whom to be. Stop with Ctrl-C.\n", flush=True)
    serve(settings)
    return 0


def _free_port(first: int) -> int:
    for port in range(first, first + 50):
        with socket.socket() as probe:
            if probe.connect_ex(("127.0.0.1", port)) != 0:
                return port
    return first


if __name__ == "__main__":
    sys.exit(main())
