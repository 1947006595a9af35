"""The vendored htmx is the one that was looked at, and nothing is written in the idioms of its former version."""

from __future__ import annotations

import base64
import hashlib
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
CHECK = ROOT / "tests" / "vendor" / "htmx_upgrade_check.py"
SHA384 = "Qp9rdC8H7EqOoX+nR0P3RPG2Noji+qdwJlGpfzwQJsfOpp3sGwIdSP9xO3+UlEhn"
"""Of dist/htmx.min.js in the npm package htmx.org 4.0.1."""


def check(folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, str(CHECK), str(folder)], capture_output=True, text=True, check=False, timeout=60
    )


def test_the_file_is_the_published_one() -> None:
    content = (ROOT / "static" / "vendor" / "htmx-4.0.1.min.js").read_bytes()

    assert base64.b64encode(hashlib.sha384(content).digest()).decode() == SHA384
    assert (ROOT / "static" / "vendor" / "htmx-LICENSE.txt").exists()


def test_no_template_speaks_the_former_dialect() -> None:
    found = check(ROOT / "templates")

    assert found.returncode == 0, found.stdout


def test_the_check_can_fail(tmp_path: Path) -> None:
    (tmp_path / "old.html").write_text('<div hx-vars="a:1"><p hx-disable>x</p></div>', encoding="utf-8")

    found = check(tmp_path)

    assert found.returncode == 1
    assert "hx-vars" in found.stdout
