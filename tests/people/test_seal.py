"""The seal over secrets in the database: one key an installation, in a file of its own."""

from __future__ import annotations

import stat
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from cryptography.fernet import Fernet
from pydantic import ValidationError

from server.people.__main__ import main
from server.people.seal import Seal, key_file
from server.settings import Settings


def test_what_was_sealed_opens_with_the_same_key_and_no_other(tmp_path: Path) -> None:
    sealed = Seal(tmp_path / "ours").close("JBSWY3DPEHPK3PXP")

    assert "JBSWY3DPEHPK3PXP" not in sealed
    assert Seal(tmp_path / "ours").open(sealed) == "JBSWY3DPEHPK3PXP"
    assert Seal(tmp_path / "theirs").open(sealed) is None


def test_what_was_changed_does_not_open(tmp_path: Path) -> None:
    seal = Seal(tmp_path)
    sealed = seal.close("JBSWY3DPEHPK3PXP")
    middle = len(sealed) // 2

    assert seal.open(sealed[:middle] + ("A" if sealed[middle] != "A" else "B") + sealed[middle + 1 :]) is None


def test_only_the_servers_own_user_reads_the_key(tmp_path: Path) -> None:
    Seal(tmp_path).close("x")

    assert stat.S_IMODE(key_file(tmp_path).stat().st_mode) == 0o600
    assert [path.name for path in tmp_path.iterdir()] == ["seal.key"]


def test_no_key_is_made_before_something_is_sealed(tmp_path: Path) -> None:
    seal = Seal(tmp_path / "data")

    assert seal.open("NEVERSEALED") == "NEVERSEALED"
    assert not (tmp_path / "data").exists()


def test_workers_that_start_together_have_one_key(tmp_path: Path) -> None:
    with ThreadPoolExecutor(8) as pool:
        sealed = list(pool.map(lambda number: Seal(tmp_path).close(str(number)), range(8)))

    assert [Seal(tmp_path).open(text) for text in sealed] == [str(number) for number in range(8)]


def test_the_key_may_come_from_the_settings(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["seal-key"]) == 0
    key = capsys.readouterr().out.strip()
    settings = Settings(seal_key=key)

    sealed = Seal(tmp_path, settings.seal_key).close("x")

    assert Fernet(key).decrypt(sealed) == b"x"
    assert list(tmp_path.iterdir()) == []
    assert key not in repr(settings)


def test_what_is_no_key_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ValidationError, match="seal-key"):
        Settings(seal_key="too short")
