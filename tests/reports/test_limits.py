"""The process that makes paper cannot eat the machine."""

from __future__ import annotations

import os
import resource
from pathlib import Path

from server.reports.pdf import Press, Section


def test_the_process_that_renders_is_bounded_in_memory_and_gives_way(tmp_path: Path) -> None:
    press = Press(tmp_path)
    try:
        press.wait("job", press.start("job", [Section("A", "<p>text</p>", {})], ""))
        assert press._pool is not None
        soft, hard = press._pool.submit(resource.getrlimit, resource.RLIMIT_AS).result(60)
        nice = press._pool.submit(os.nice, 0).result(60)
    finally:
        press.close()

    assert soft == hard == 3 * 1024**3
    assert nice >= os.nice(0) + 10 or nice == 19
