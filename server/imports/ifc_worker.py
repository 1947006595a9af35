"""The process that reads one IFC file: ``python -m server.imports.ifc_worker FILE SECONDS MEGABYTES``.

A file from outside can make a library loop, swallow memory or die. So it is read here: with a limit on processor time
and memory, and with nothing but one line of JSON coming back, ``{"rooms": CSV, "notes": [...]}`` or
``{"problems": [[where, what], ...]}``.
"""

from __future__ import annotations

import json
import resource
import sys

__all__ = ["main"]


def main(path: str, seconds: int, megabytes: int) -> int:
    """Read a file and write what it came to."""
    memory = megabytes * 1_000_000
    resource.setrlimit(resource.RLIMIT_AS, (memory, memory))
    resource.setrlimit(resource.RLIMIT_CPU, (seconds, seconds + 1))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    # imported under the limits: the library is a part of what is limited
    from server.imports.csv_rooms import write_csv
    from server.imports.ifc_rooms import read_ifc
    from server.imports.plans import NotReadable

    answer: dict[str, object]
    try:
        plan = read_ifc(path)
        answer = {"rooms": write_csv(plan), "notes": list(plan.notes)}
    except NotReadable as error:
        answer = {"problems": [[item.where, item.what] for item in error.problems]}
    except MemoryError:
        answer = {"problems": [["", f"It takes more than {megabytes} MB of memory to read."]]}
    sys.stdout.write(json.dumps(answer))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1], int(sys.argv[2]), int(sys.argv[3])))
