"""Which article numbers somebody has read in a published text, and which stand from memory.

A number is read where a value of the editions cites it with a source, or where ``articles/read.toml`` names the text in
which it stands beside its matter. A deeper subdivision that was read counts for its parent: whoever has seen
250.104(A)(1) has seen 250.104(A).

Grammar of ``articles/read.toml``::

    [sources]
    KEY = "what the text is; who published it, kind"
    [read]
    KEY = ["110.14(A)", "110.14(B)"]
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Final

from server.editions.edition import YEARS, EditionError
from server.editions.loader import load_edition, read_own

__all__ = ["ArticlesRead", "article_read", "articles_in", "load_articles_read", "parse_articles_read"]

_FILE: Final = "articles/read.toml"
_READ: Final = ("two", "one")
_NUMBER: Final = re.compile(r"(?P<number>[A-Z]?\d+(?:\.\d+)*)(?P<parts>(?:\([A-Za-z0-9]+\))*)")
_RELATIVE: Final = re.compile(r"^(?:\([A-Za-z0-9]+\))+$")


@dataclass(frozen=True, slots=True)
class ArticlesRead:
    """Sources by key, and the article numbers that were read in each."""

    sources: Mapping[str, str]
    read: Mapping[str, tuple[str, ...]]


def parse_articles_read(text: str) -> ArticlesRead:
    """Read such a file.

    Raises:
        EditionError: a source is unknown or unused, a number stands twice in one source or is none.
    """
    document = tomllib.loads(text)
    sources, read = document.get("sources", {}), document.get("read", {})
    if set(sources) != set(read):
        raise EditionError(
            f"{_FILE}: expected every source to be used, came {sorted(set(sources) ^ set(read))}"
        )
    for key, numbers in read.items():
        for number in numbers:
            if not _NUMBER.fullmatch(number):
                raise EditionError(f"{_FILE}: {key}: expected an article such as 250.104(A), came {number!r}")
        if len(set(numbers)) != len(numbers):
            raise EditionError(f"{_FILE}: {key}: a number stands twice")
    return ArticlesRead(sources, {key: tuple(numbers) for key, numbers in read.items()})


@cache
def load_articles_read() -> ArticlesRead:
    """The file that ships with Studbay."""
    return parse_articles_read(read_own(_FILE))


def articles_in(citation: str) -> Iterator[str]:
    """The article numbers of a citation: ``334.15(B), (C)`` names two, ``IRC R314.3 and 210.12`` two more."""
    base = ""
    for piece in re.split(r", | and | to |; ", citation.replace("IRC ", "").replace("Table ", "")):
        if _RELATIVE.match(piece):
            yield base + piece
        elif found := _NUMBER.match(piece.strip()):
            base = found["number"]
            yield found.group()


@cache
def article_read(citation: str) -> bool:
    """Whether every article of a citation was read; what names none (common practice, the department) was not asked."""
    return all(_stands(number) for number in articles_in(citation))


def _stands(number: str) -> bool:
    return number in _known() or any(known.startswith((f"{number}(", f"{number}.")) for known in _known())


@cache
def _known() -> frozenset[str]:
    by_file = (number for numbers in load_articles_read().read.values() for number in numbers)
    by_value = (
        number
        for year in YEARS
        for node in load_edition(year)
        for entry in (node.by_year[year],)
        if entry.confidence in _READ and entry.sources
        for number in articles_in(entry.cites)
    )
    return frozenset((*by_file, *by_value))
