"""Passwords: which are taken, and how they are kept.

Kept as argon2id (t=3, m=64 MiB, p=4: the low-memory profile of RFC 9106, above the floor of OWASP ASVS 5.0 appendix
C), made again when the profile grows. Taken: 10 to 256 characters of any kind, exactly as typed; refused when it
is a common one, a run or a repetition, or made of the person's or the crew's own names. Nothing is sent anywhere.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from functools import lru_cache
from pathlib import Path
from typing import Final

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from zxcvbn.frequency_lists import FREQUENCY_LISTS

__all__ = ["LONGEST", "SHORTEST", "UNUSABLE", "hash_password", "needs_rehash", "verify", "weakness"]

SHORTEST: Final = 10
LONGEST: Final = 256
UNUSABLE: Final = "!"
"""Stands where no password has been set yet: no password verifies against it."""

_HASHER: Final = PasswordHasher()
_FEWEST_DIFFERENT: Final = 5
_FEWEST_OWN: Final = 5
_SHORTEST_CONTEXT: Final = 4
_SHORTEST_COMMON: Final = 6
_CONTEXT: Final = (
    "studbay",
    "electric",
    "electrician",
    "electrical",
    "wiring",
    "inspector",
    "apprentice",
    "foreman",
)
_RUNS: Final = (
    "abcdefghijklmnopqrstuvwxyz", "01234567890123456789", "qwertyuiopasdfghjklzxcvbnm", "1qaz2wsx3edc4rfv5tgb6yhn7ujm8ik9ol0p",
    "1q2w3e4r5t6y7u8i9o0p", "azertyuiopqsdfghjklmwxcvbn", "qazwsxedcrfvtgbyhnujmikolp",
)  # fmt: skip
_LIKE_LETTERS: Final = str.maketrans(
    {"0": "o", "1": "l", "3": "e", "4": "a", "5": "s", "7": "t", "8": "b", "@": "a", "$": "s", "!": "i"}
)
_LIST: Final = Path(__file__).parent / "common_passwords.txt"


def hash_password(password: str) -> str:
    """Hash a password. Takes about a tenth of a second: never inside a transaction."""
    return _HASHER.hash(password)


@lru_cache(maxsize=1)
def _nobodys_hash() -> str:
    return _HASHER.hash("nobody has this password")


def verify(password: str, kept: str | None) -> bool:
    """Whether a password is the one that was kept.

    Without one (an unknown name, an account that has not set its password) it takes as long and says no, so that
    the time does not tell who exists.
    """
    usable = kept is not None and kept != UNUSABLE
    try:
        return _HASHER.verify(kept if usable and kept is not None else _nobodys_hash(), password) and usable
    except (VerificationError, InvalidHashError):
        return False


def needs_rehash(kept: str) -> bool:
    """Whether a hash was made with other parameters than today's."""
    return _HASHER.check_needs_rehash(kept)


@lru_cache(maxsize=1)
def _common() -> frozenset[str]:
    lines = _LIST.read_text(encoding="utf-8").splitlines()
    ours = {line.strip() for line in lines if line.strip() and not line.startswith("#")}
    # shorter ones would be found inside what is long and random enough
    return frozenset(
        ours.union(word for word in FREQUENCY_LISTS["passwords"] if len(word) >= _SHORTEST_COMMON)
    )


def weakness(password: str, own_words: Iterable[str] = ()) -> str | None:
    """Why a password is refused, as a sentence; None when it is taken.

    Args:
        own_words: names of the person and the crew, and the sign-in name.
    """
    if len(password) < SHORTEST:
        return f"Expected at least {SHORTEST} characters, came {len(password)}. A few words in a row are easy to keep in mind."
    if len(password) > LONGEST:
        return f"Expected at most {LONGEST} characters, came {len(password)}."
    plain = unicodedata.normalize("NFKC", password).casefold()
    if len(set(plain)) < _FEWEST_DIFFERENT:
        return (
            "The same few characters again and again are guessed first. Take something longer or more mixed."
        )
    bare = re.sub(r"[^a-z0-9]", "", plain)
    if _is_run(bare):
        return "Characters in the order of the alphabet or the keyboard are guessed first."
    if _forms(plain) & _common() or _is_doubled(bare):
        return "This is one of the passwords that are guessed first."
    for word in _words_of(own_words):
        rest = plain.replace(word, "")
        if word in plain and len(set(re.sub(r"[\W\d_]", "", rest))) < _FEWEST_OWN:
            return f"It is little more than “{word}”, which others would try."
    return None


def _forms(plain: str) -> set[str]:
    """A password and what is left of it without marks and digits around it, and with letters for digits."""
    stem = re.sub(r"^[\W\d_]+|[\W\d_]+$", "", plain)
    read = {
        plain,
        plain.replace(" ", ""),
        stem,
        stem.translate(_LIKE_LETTERS),
        plain.translate(_LIKE_LETTERS),
    }
    return (
        read
        | {re.sub(r"[^a-z0-9]", "", text) for text in read}
        | {re.sub(r"[^a-z]", "", text) for text in read}
    )


def _words_of(own_words: Iterable[str]) -> list[str]:
    found = [*_CONTEXT]
    for text in own_words:
        folded = unicodedata.normalize("NFKC", text).casefold()
        found += [folded, *re.split(r"[\W_]+", folded)]
    return sorted({word for word in found if len(word) >= _SHORTEST_CONTEXT}, key=len, reverse=True)


def _is_run(bare: str) -> bool:
    """Made of two or fewer stretches of a well-known row, forward or backward: ``abcdefghij``, ``qwertyuiop12345``."""
    rest, pieces = bare, 0
    while rest:
        longest = max(
            (
                length
                for row in _RUNS
                for way in (row, row[::-1])
                for length in range(len(rest), 2, -1)
                if rest[:length] in way
            ),
            default=0,
        )
        if not longest:
            return False
        rest, pieces = rest[longest:], pieces + 1
    return 0 < pieces <= 3


def _is_doubled(bare: str) -> bool:
    """One common word or short piece twice or more: ``passwordpassword``, ``abc12abc12``."""
    for size in range(1, len(bare) // 2 + 1):
        if len(bare) % size == 0 and bare == bare[:size] * (len(bare) // size):
            return size <= 5 or bool(_forms(bare[:size]) & _common())
    return False
