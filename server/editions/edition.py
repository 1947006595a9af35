"""An edition of the code as its named, dated values, and the amendments that change it.

EditionError
|-- UnknownNode          a name that no file defines (a typo in a rule)
|-- Absent               the name is known, but this edition has no value: says which of three absences
`-- AmendmentConflict    two amendments touch one node: names both
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, Final, Literal, Protocol, cast

__all__ = [
    "ABSENCES",
    "YEARS",
    "Absent",
    "Amendment",
    "AmendmentConflict",
    "Change",
    "Edition",
    "EditionError",
    "EditionValue",
    "Entry",
    "Node",
    "Reads",
    "UnknownNode",
]

YEARS: Final = (2017, 2020, 2023, 2026)
"""The editions that Studbay knows, oldest first."""

ABSENCES: Final = ("not in this edition", "removed", "not entered")
"""The three ways a value can be missing: the edition never had the rule; an earlier one had it and this one
dropped it; nobody has entered it yet (which is our gap, not the code's)."""

EditionValue = Fraction | int | str | bool | tuple["EditionValue", ...] | Mapping[str, "EditionValue"]
ChangeKind = Literal["replaces", "adds", "suspends"]


class Reads(Protocol):
    """Whoever wants to know how well a number that was read is supported (a reckoning's recorder)."""

    def trust(self, confidence: str) -> None: ...


class EditionError(LookupError):
    """Something about an edition's data is wrong or missing."""


class UnknownNode(EditionError):
    """A name that no file defines."""

    def __init__(self, name: str) -> None:
        super().__init__(f"expected a name from the edition files, came {name!r}")


class Absent(EditionError):
    """The edition has no value under a known name."""

    def __init__(self, name: str, year: int, absence: str) -> None:
        self.name, self.year, self.absence = name, year, absence
        super().__init__(f"{name} has no value for {year}: {absence}")


class AmendmentConflict(EditionError):
    """Two amendments touch one node; there is no "last one wins"."""

    def __init__(self, node: str, first: str, second: str) -> None:
        self.node, self.first, self.second = node, first, second
        super().__init__(f"{node} is changed by both {first!r} and {second!r}; keep one of them")


@dataclass(frozen=True, slots=True)
class Entry:
    """One value as it holds in some editions, with where it comes from."""

    value: EditionValue | None
    cites: str
    sources: tuple[str, ...]
    confidence: str
    absence: str = ""
    amended_by: str = ""
    note: str = ""

    @property
    def verified(self) -> bool:
        """Whether anybody has seen this value in print for this edition."""
        return not self.absence and self.confidence not in ("carry", "memory")


@dataclass(frozen=True, slots=True)
class Node:
    """A named number, list or table of the code: what it means, its unit, its file, its entry per year."""

    name: str
    means: str
    unit: str
    file: str
    by_year: Mapping[int, Entry]


@dataclass(frozen=True, slots=True)
class Change:
    """What one amendment does to one node, or to one rule (``rule:<id>``, suspend only)."""

    kind: ChangeKind
    node: str
    cites: str
    value: EditionValue | None = None
    why: str = ""


@dataclass(frozen=True, slots=True)
class Amendment:
    """A local layer over an edition, with its own source."""

    id: str
    title: str
    place: str
    source: str
    changes: tuple[Change, ...]
    years: tuple[int, ...] = YEARS
    confidence: str = "one"


class Edition:
    """The code of one year, perhaps under local amendments. Immutable once built."""

    __slots__ = ("_entries", "_kept", "_nodes", "amendments", "suspended_rules", "year")

    def __init__(self, year: int, nodes: Mapping[str, Node], amendments: tuple[Amendment, ...] = ()) -> None:
        if year not in YEARS:
            raise EditionError(f"expected an edition of {', '.join(map(str, YEARS))}; came {year!r}")
        self.year: Final = year
        self.amendments: Final = amendments
        self._nodes: Final = nodes
        self._entries: dict[str, Entry] = {
            name: node.by_year[year] for name, node in nodes.items() if year in node.by_year
        }
        self.suspended_rules: Mapping[str, str] = {}
        self._apply(amendments)
        # what was read once in its own type; rules read the same few hundred values thousands of times
        self._kept: dict[tuple[str, str], Any] = {}

    def _apply(self, amendments: Iterable[Amendment]) -> None:
        touched: dict[str, str] = {}
        suspended: dict[str, str] = {}
        for layer in amendments:
            if self.year not in layer.years:
                continue
            for change in layer.changes:
                if change.node in touched:
                    raise AmendmentConflict(change.node, touched[change.node], layer.id)
                touched[change.node] = layer.id
                if change.node.startswith("rule:"):
                    suspended[change.node.removeprefix("rule:")] = layer.id
                    continue
                if change.node not in self._nodes:
                    raise UnknownNode(change.node)
                self._entries[change.node] = Entry(
                    value=None if change.kind == "suspends" else change.value,
                    cites=change.cites,
                    sources=(layer.source,),
                    confidence=layer.confidence,
                    absence="removed" if change.kind == "suspends" else "",
                    amended_by=layer.id,
                    note=change.why,
                )
        self.suspended_rules = suspended

    def amended(self, layers: Iterable[Amendment]) -> Edition:
        """This edition with more amendments over it.

        Raises:
            AmendmentConflict: two amendments touch one node.
            UnknownNode: an amendment names a node that no file defines.
        """
        return Edition(self.year, self._nodes, self.amendments + tuple(layers))

    def entry(self, name: str) -> Entry:
        """The entry behind a name, absent ones included.

        Raises:
            UnknownNode: no file defines the name.
        """
        found = self._entries.get(name)
        if found is None:
            if name not in self._nodes:
                raise UnknownNode(name)
            return Entry(None, "", (), "memory", absence="not entered")
        return found

    def node(self, name: str) -> Node:
        """What a name means, its unit and file."""
        try:
            return self._nodes[name]
        except KeyError:
            raise UnknownNode(name) from None

    def has(self, name: str) -> bool:
        """Whether this edition has a value under a known name."""
        return not self.entry(name).absence

    def value(self, name: str, reads: Reads | None = None) -> EditionValue:
        """The value under a name.

        Raises:
            UnknownNode: no file defines the name.
            Absent: this edition has none.
        """
        found = self._entries.get(name)
        if found is None or found.absence:
            raise Absent(name, self.year, self.entry(name).absence)
        if reads is not None:
            reads.trust(found.confidence)
        assert found.value is not None
        return found.value

    def number(self, name: str, reads: Reads | None = None) -> Fraction:
        """A numeric value, exact."""
        return cast(Fraction, self._read("number", name, reads))

    def flag(self, name: str, reads: Reads | None = None) -> bool:
        """A yes-or-no value; an absent one is no."""
        return cast(bool, self._read("flag", name, reads))

    def names(self, name: str, reads: Reads | None = None) -> tuple[str, ...]:
        """A list of words; an absent one is empty."""
        return cast("tuple[str, ...]", self._read("names", name, reads))

    def table(self, name: str, reads: Reads | None = None) -> Mapping[str, EditionValue]:
        """A table: row name to value (which may be a table again)."""
        return cast("Mapping[str, EditionValue]", self._read("table", name, reads))

    def _read(self, what: str, name: str, reads: Reads | None) -> Any:
        kept = self._kept.get((what, name))
        if kept is None:
            kept = self._kept[what, name] = self._typed(what, name)
        if reads:
            found = self.entry(name)
            if not found.absence:
                reads.trust(found.confidence)
        return kept

    def _typed(self, what: str, name: str) -> Any:
        """A value as what the caller wants it to be.

        Raises:
            EditionError: it is something else.
            Absent: there is none, and what is wanted has no empty form.
        """
        if what == "flag" and not self.has(name):
            return False
        if what == "names" and not self.has(name):
            return ()
        value = self.value(name)
        match what, value:
            case "flag", bool():
                return value
            case "names", tuple():
                return tuple(str(word) for word in value)
            case "table", Mapping():
                return value
            case "number", int() | Fraction() if not isinstance(value, bool):
                return Fraction(value)
        wanted = {"flag": "true or false", "names": "a list", "table": "a table", "number": "a number"}[what]
        raise EditionError(f"expected {wanted} under {name}, came {value!r}")

    def cites(self, name: str) -> str:
        """The article behind a name in this edition (empty where none is recorded)."""
        return self.entry(name).cites

    def confidence(self, name: str) -> str:
        """How well the value under a name is supported."""
        return self.entry(name).confidence

    def __iter__(self) -> Iterator[Node]:
        return iter(self._nodes.values())

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Edition):
            return NotImplemented
        return self.year == other.year and self.amendments == other.amendments

    def __hash__(self) -> int:
        return hash((self.year, self.amendments))

    def __repr__(self) -> str:
        layers = "".join(f" + {layer.id}" for layer in self.amendments)
        return f"<Edition {self.year}{layers}>"
