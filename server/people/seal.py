"""Seals what the database must be able to give back but not to whoever merely reads it: secrets of the second factor.

The key is no part of the database or of its backup. It stands in a file beside it that only the server's own user reads,
or in ``STUDBAY_SEAL_KEY`` where several machines serve one database. Without it the secrets are lost: codes on paper
still open, and the second factor is set up anew.
"""

from __future__ import annotations

import os
import secrets
from functools import cached_property
from pathlib import Path
from typing import Final

from cryptography.fernet import Fernet, InvalidToken

__all__ = ["Seal", "key_file"]

_BEGINS: Final = "gAAAA"
"""How everything sealed begins (Fernet, version 128); a secret of the second factor is in capitals."""


def key_file(data_dir: Path) -> Path:
    """Where the key stands when no setting gives it."""
    return data_dir / "seal.key"


class Seal:
    """Seals and opens texts with one installation's key, made when it is first needed."""

    def __init__(self, data_dir: Path, key: str = "") -> None:
        self._data_dir = data_dir
        self._key = key

    def close(self, text: str) -> str:
        """A text that only this installation opens."""
        return self._fernet.encrypt(text.encode()).decode()

    def open(self, sealed: str) -> str | None:
        """What was sealed; None where it was sealed with another key. What was never sealed is given back as it is."""
        if not sealed.startswith(_BEGINS):
            return sealed
        try:
            return self._fernet.decrypt(sealed.encode()).decode()
        except InvalidToken:
            return None

    @staticmethod
    def is_sealed(text: str) -> bool:
        """Whether a text was sealed: those from before there was a seal were not."""
        return text.startswith(_BEGINS)

    @cached_property
    def _fernet(self) -> Fernet:
        return Fernet(self._key or _key_in(self._data_dir))


def _key_in(data_dir: Path) -> str:
    """The key in the file, made where there is none. Of several workers that start together one makes it."""
    data_dir.mkdir(parents=True, exist_ok=True)
    path, fresh = key_file(data_dir), data_dir / f"seal.key.{secrets.token_hex(8)}"
    if not path.exists():
        handle = os.open(fresh, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
        with os.fdopen(handle, "wb") as file:
            file.write(Fernet.generate_key())
        try:
            os.link(fresh, path)  # whole or not at all, and never over another's
        except FileExistsError:
            pass
        finally:
            fresh.unlink()
    return path.read_text(encoding="ascii").strip()
