"""Secrets that we hand out: 32 random bytes; only their SHA-256 is kept.

A fast hash is enough here: nobody can guess 256 random bits, unlike a password.
"""

from __future__ import annotations

import hashlib
import re
import secrets
import uuid
from typing import Final

__all__ = ["looks_like_token", "new_id", "new_token", "token_hash"]

_BYTES: Final = 32
_SHAPE: Final = re.compile(r"^[A-Za-z0-9_-]{43}$")


def new_token() -> str:
    """A fresh secret, safe in a cookie and in a path."""
    return secrets.token_urlsafe(_BYTES)


def token_hash(token: str) -> str:
    """What is stored of a secret."""
    return hashlib.sha256(token.encode()).hexdigest()


def looks_like_token(text: str) -> bool:
    """Whether it can be one of ours; saves the database a look for everything else."""
    return _SHAPE.match(text) is not None


def new_id() -> str:
    """An id that may be shown; it opens nothing by itself."""
    return str(uuid.uuid4())
