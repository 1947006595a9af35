"""Where an edition is in force, as far as anybody has read: a start, never an answer in place of the department's.

Grammar of ``adoption/in_force.toml``::

    read = "2026-11-25"                # when the lists were read
    [sources]
    HOLT = "NEC adoption list by state, with dates; ..."

    [[place]]
    code = "CO"                        # the state's two letters
    name = "Colorado"
    adoption = "state"                 # state: for the whole state; local: towns adopt; unsettled: sources disagree or are old
    edition = 2023                     # for local places the usual one; left out where nothing was read
    since = 2023-08-01                 # where a date was read
    amended = true                     # the state has amendments of its own
    source = ["HOLT"]                  # empty only with confidence memory
    confidence = "two"
    note = "..."

``in_force_in("CO")`` gives what was read for a place; its ``advice`` is a sentence for a person and always ends with whom to
ask.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache
from types import MappingProxyType
from typing import Any, Final, Literal, cast

from server.editions.edition import YEARS, EditionError
from server.editions.loader import CONFIDENCES, read_own

__all__ = ["AdoptedBy", "Adoption", "in_force_in", "load_in_force", "parse_in_force"]

AdoptedBy = Literal["state", "local", "unsettled"]
_FILE: Final = "adoption/in_force.toml"
_KEYS: Final = frozenset(
    {"code", "name", "adoption", "edition", "since", "amended", "source", "confidence", "note"}
)
_ADOPTIONS: Final = ("state", "local", "unsettled")
_FIRST_EDITION: Final = 1999
_ASK: Final = "Ask your department which edition holds for your permit, and what it has amended."


@dataclass(frozen=True, slots=True)
class Adoption:
    """What was read about a place. ``edition`` may be one that Studbay does not know (2014), or None."""

    code: str
    name: str
    adoption: AdoptedBy
    edition: int | None
    since: date | None
    amended: bool
    sources: tuple[str, ...]
    confidence: str
    note: str
    read: date

    @property
    def known(self) -> bool:
        """Whether Studbay has the values of this edition."""
        return self.edition in YEARS

    @property
    def settled(self) -> bool:
        """Whether a whole state has an edition that nobody contradicts, and Studbay knows it. Even then one asks."""
        return self.adoption == "state" and self.known

    @property
    def advice(self) -> str:
        """One or two sentences for a person, which always end with whom to ask."""
        since = f", since {self.since.isoformat()}" if self.since else ""
        amended = ", with amendments of its own" if self.amended else ""
        match self.adoption, self.edition:
            case "state", int():
                said = f"{self.name}: NEC {self.edition}{since}{amended}, as read {self.read.isoformat()}."
            case "local", int():
                said = f"{self.name} leaves it to its towns; NEC {self.edition} is met there."
            case "local", None:
                said = f"{self.name} leaves it to its towns."
            case _, int():
                said = f"{self.name}: NEC {self.edition}{since}{amended} was read, and may be out of date."
            case _:
                said = f"{self.name}: no edition was read."
        return " ".join(part for part in (said, self.note, _ASK) if part)


def parse_in_force(text: str, file: str) -> Mapping[str, Adoption]:
    """Read the file into places by their two letters.

    Raises:
        EditionError: naming the file, the place and what is wrong.
    """
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise EditionError(f"{file}: {error}") from None
    if odd := sorted(set(raw) - {"read", "sources", "place"}):
        raise EditionError(f"{file}: unknown key {', '.join(map(repr, odd))}")
    try:
        read = date.fromisoformat(raw.get("read", ""))
    except (TypeError, ValueError):
        raise EditionError(f"{file}: expected read to be a day, came {raw.get('read')!r}") from None
    sources: Mapping[str, str] = raw.get("sources", {})
    found: dict[str, Adoption] = {}
    for item in raw.get("place", ()):
        place = _place(item, sources, read, file)
        if place.code in found:
            raise EditionError(f"{file}: {place.code} stands twice")
        found[place.code] = place
    return MappingProxyType(found)


def _place(item: Mapping[str, Any], sources: Mapping[str, str], read: date, file: str) -> Adoption:
    where = f"{file}: {item.get('code', 'a place')}"
    if odd := sorted(set(item) - _KEYS):
        raise EditionError(f"{where}: unknown key {', '.join(map(repr, odd))}; expected {sorted(_KEYS)}")
    code, name = item.get("code"), item.get("name")
    if not (isinstance(code, str) and len(code) == 2 and code.isalpha() and code.isupper()):
        raise EditionError(f"{where}: expected code to be two capital letters, came {code!r}")
    if not (isinstance(name, str) and name.strip()):
        raise EditionError(f"{where}: expected a name, came {name!r}")
    if item.get("adoption") not in _ADOPTIONS:
        raise EditionError(f"{where}: expected adoption of {_ADOPTIONS}, came {item.get('adoption')!r}")
    edition, since = item.get("edition"), item.get("since")
    if edition is not None and not (
        isinstance(edition, int) and edition >= _FIRST_EDITION and (edition - 1999) % 3 == 0
    ):
        raise EditionError(f"{where}: expected edition to be a year of the code, came {edition!r}")
    if item["adoption"] == "state" and edition is None:
        raise EditionError(f"{where}: a state that has adopted names its edition")
    if since is not None and not isinstance(since, date):
        raise EditionError(f"{where}: expected since to be a day, came {since!r}")
    if item.get("confidence") not in CONFIDENCES:
        raise EditionError(f"{where}: expected confidence of {CONFIDENCES}, came {item.get('confidence')!r}")
    named = item.get("source", ())
    for key in named:
        if key not in sources:
            raise EditionError(f"{where}: source {key!r} is not in [sources]")
    if not named and item["confidence"] != "memory":
        raise EditionError(f"{where}: a place without source must have confidence 'memory'")
    return Adoption(
        code, name, cast(AdoptedBy, item["adoption"]), edition, since, bool(item.get("amended", False)),
        tuple(sources[key] for key in named), item["confidence"], item.get("note", ""), read,
    )  # fmt: skip


@cache
def load_in_force() -> Mapping[str, Adoption]:
    """What was read, by the two letters of the state."""
    return parse_in_force(read_own(_FILE), _FILE)


def in_force_in(code: str) -> Adoption | None:
    """What was read about a state, by its two letters in any case; None for anything else."""
    return load_in_force().get(code.strip().upper())
