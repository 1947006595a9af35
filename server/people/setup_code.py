"""The code that the first account takes on an installation that others can reach.

Between starting the server and making the first account anybody could be first; so the server writes a code into a file
that only its own user reads, prints where it stands, and the first-account page asks for it.
"""

from __future__ import annotations

import hmac
import os
import secrets
from pathlib import Path
from typing import Final

__all__ = ["code_file", "forget_code", "is_code", "make_code"]

_LETTERS: Final = "abcdefghjkmnpqrstuvwxyz23456789"
_LENGTH: Final = 12


def code_file(data_dir: Path) -> Path:
    """Where the code stands."""
    return data_dir / "first-account-code"


def make_code(data_dir: Path) -> Path:
    """Write a code unless there is one; returns the file. Of several workers that start together one writes."""
    data_dir.mkdir(parents=True, exist_ok=True)
    path = code_file(data_dir)
    try:
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        return path
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write("".join(secrets.choice(_LETTERS) for _ in range(_LENGTH)) + "\n")
    return path


def is_code(data_dir: Path, text: str) -> bool:
    """Whether a text is the code; no when none was made."""
    try:
        code = code_file(data_dir).read_text(encoding="ascii").strip()
    except FileNotFoundError:
        return False
    typed = "".join(character for character in text.lower() if character in _LETTERS)
    return bool(code) and hmac.compare_digest(code.encode(), typed.encode())


def forget_code(data_dir: Path) -> None:
    """The first account was made."""
    code_file(data_dir).unlink(missing_ok=True)
