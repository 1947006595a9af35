"""Reads the edition files: strict, and once.

Grammar of a file ``<subject>.toml``::

    [sources]                                   # what the ids below stand for
    FM-17TXT = "Update to NEC (quotes 210.8(A)), Mike Holt Forums, forum"

    [node."sheath.reach_in"]
    means = "Least length of cable sheath inside a box"
    unit = "in"                                 # in, ft, ft2, in3, a, va, v, percent, count, years ... or one of:
                                                # flag (true/false), names (list of words), table, text
    values = [
      { editions = [2017], value = "1/4", cites = "314.17(C)", source = ["FM-17TXT"], confidence = "one" },
      { editions = [2026], absent = "not entered" },
    ]

Numbers are integers or strings (``"1/4"``, ``"12.5"``): a TOML float is refused, since it is not exact.
In a table, strings that read as numbers become numbers unless the unit is ``text table``.
``source = []`` is allowed only with confidence ``memory``. Every year of an entry once only.

Amendment files ``amendments/<place>.toml``::

    id = "..."
    title = "..."
    place = "..."
    source = "..."
    confidence = "one"
    years = [2020]
    [[change]]
    kind = "replaces"
    node = "..."
    value = ...
    cites = "..."
    why = "..."

Unknown keys, duplicate keys, values without a source, odd years: refused, with file and key named.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from fractions import Fraction
from functools import cache
from pathlib import Path
from types import MappingProxyType
from typing import Any, Final

from server.editions.edition import (
    ABSENCES,
    YEARS,
    Amendment,
    Change,
    Edition,
    EditionError,
    EditionValue,
    Entry,
    Node,
)

__all__ = [
    "CONFIDENCES",
    "default_year",
    "load_edition",
    "load_presets",
    "parse_amendment",
    "parse_file",
    "read_own",
]

_HERE: Final = Path(__file__).parent
CONFIDENCES: Final = ("two", "one", "derived", "carry", "memory")
_NODE_KEYS: Final = frozenset({"means", "unit", "values"})
_VALUE_KEYS: Final = frozenset({"editions", "value", "absent", "cites", "source", "confidence", "note"})
_LAYER_KEYS: Final = frozenset({"id", "title", "place", "source", "confidence", "years", "change"})
_CHANGE_KEYS: Final = frozenset({"kind", "node", "value", "cites", "why"})
_WORDS: Final = frozenset({"names", "text", "text table", "flag"})


def parse_file(text: str, file: str) -> dict[str, Node]:
    """Read one edition file into its nodes by name.

    Raises:
        EditionError: naming file and key, whatever is wrong.
    """
    document = _toml(text, file)
    _only(document, {"sources", "node"}, file)
    sources: Mapping[str, str] = document.get("sources", {})
    return {name: _node(name, raw, sources, file) for name, raw in _table(document, "node", file).items()}


def _node(name: str, raw: Mapping[str, Any], sources: Mapping[str, str], file: str) -> Node:
    where = f"{file}: {name}"
    _only(raw, _NODE_KEYS, where)
    for key in _NODE_KEYS:
        if key not in raw:
            raise EditionError(f"{where}: expected the key {key!r}")
    by_year: dict[int, Entry] = {}
    for item in raw["values"]:
        _only(item, _VALUE_KEYS, where)
        entry = _entry(item, raw["unit"], sources, where)
        for year in item.get("editions", ()):
            if year not in YEARS:
                raise EditionError(f"{where}: expected an edition of {YEARS}, came {year!r}")
            if year in by_year:
                raise EditionError(f"{where}: {year} has two values")
            by_year[year] = entry
    if missing := [year for year in YEARS if year not in by_year]:
        raise EditionError(f"{where}: no value and no absence for {missing}")
    return Node(name, raw["means"], raw["unit"], file, MappingProxyType(by_year))


def _entry(item: Mapping[str, Any], unit: str, sources: Mapping[str, str], where: str) -> Entry:
    cites = item.get("cites", "")
    if "absent" in item:
        if item["absent"] not in ABSENCES:
            raise EditionError(f"{where}: expected absent to be one of {ABSENCES}, came {item['absent']!r}")
        if "value" in item:
            raise EditionError(f"{where}: both a value and an absence")
        return Entry(None, cites, _sources(item, sources, where), item.get("confidence", "one"), item["absent"],
                     note=item.get("note", ""))  # fmt: skip
    if "value" not in item:
        raise EditionError(f"{where}: expected 'value' or 'absent'")
    confidence = item.get("confidence")
    if confidence not in CONFIDENCES:
        raise EditionError(f"{where}: expected confidence of {CONFIDENCES}, came {confidence!r}")
    named = _sources(item, sources, where)
    if not named and confidence != "memory":
        raise EditionError(f"{where}: a value without source must have confidence 'memory'")
    return Entry(_value(item["value"], unit, where), cites, named, confidence, note=item.get("note", ""))


def _sources(item: Mapping[str, Any], sources: Mapping[str, str], where: str) -> tuple[str, ...]:
    for key in item.get("source", ()):
        if key not in sources:
            raise EditionError(f"{where}: source {key!r} is not in [sources]")
    return tuple(sources[key] for key in item.get("source", ()))


def _value(raw: Any, unit: str, where: str) -> EditionValue:
    match raw:
        case bool():
            return raw
        case int():
            return raw
        case float():
            raise EditionError(f"{where}: write {raw!r} as a string, so that it is exact")
        case str():
            if unit in _WORDS:
                return raw
            try:
                return Fraction(raw)
            except (ValueError, ZeroDivisionError):
                if unit == "table":
                    return raw
                raise EditionError(f"{where}: expected a number in {unit}, came {raw!r}") from None
        case list():
            return tuple(_value(part, unit, where) for part in raw)
        case dict():
            return MappingProxyType({key: _value(part, unit, where) for key, part in raw.items()})
        case _:
            raise EditionError(f"{where}: expected a number, word, list or table, came {type(raw).__name__}")


def parse_amendment(raw: Mapping[str, Any], where: str) -> Amendment:
    """Read one amendment layer from a TOML file or from a job.

    Raises:
        EditionError: naming the place and what is wrong.
    """
    _only(raw, _LAYER_KEYS, where)
    for key in ("id", "title", "source", "change"):
        if not raw.get(key):
            raise EditionError(f"{where}: expected {key!r}")
    nodes = _nodes()
    changes = []
    for item in raw["change"]:
        _only(item, _CHANGE_KEYS, where)
        node, kind = item.get("node", ""), item.get("kind")
        if kind not in ("replaces", "adds", "suspends"):
            raise EditionError(f"{where}: expected kind replaces, adds or suspends, came {kind!r}")
        if not item.get("cites"):
            raise EditionError(f"{where}: the change of {node!r} has no citation")
        if kind == "suspends":
            if "value" in item:
                raise EditionError(f"{where}: {node!r} is suspended and given a value")
            if not node.startswith("rule:") and node not in nodes:
                raise EditionError(f"{where}: no value is named {node!r}")
            changes.append(Change("suspends", node, item["cites"], None, item.get("why", "")))
            continue
        if node not in nodes:
            raise EditionError(f"{where}: no value is named {node!r}")
        if "value" not in item:
            raise EditionError(f"{where}: {node!r} is changed but given no value")
        value = _value(item["value"], nodes[node].unit, where)
        changes.append(Change(kind, node, item["cites"], value, item.get("why", "")))
    years = tuple(raw.get("years", YEARS))
    if odd := [year for year in years if year not in YEARS]:
        raise EditionError(f"{where}: expected editions of {YEARS}, came {odd}")
    return Amendment(
        raw["id"], raw["title"], raw.get("place", ""), raw["source"], tuple(changes), years,
        raw.get("confidence", "one"),
    )  # fmt: skip


@cache
def _nodes() -> Mapping[str, Node]:
    nodes: dict[str, Node] = {}
    for path in sorted(_HERE.glob("*.toml")):
        for name, node in parse_file(path.read_text(encoding="utf-8"), path.name).items():
            if name in nodes:
                raise EditionError(f"{path.name}: {name} stands in {nodes[name].file} too")
            nodes[name] = node
    return MappingProxyType(nodes)


@cache
def load_edition(year: int) -> Edition:
    """The edition of a year as the files give it, without amendments.

    Raises:
        EditionError: there is no such edition, or a file is wrong.
    """
    return Edition(year, _nodes())


@cache
def load_presets() -> tuple[Amendment, ...]:
    """The local amendments that ship with Studbay."""
    found = []
    for path in sorted((_HERE / "amendments").glob("*.toml")):
        found.append(parse_amendment(_toml(path.read_text(encoding="utf-8"), path.name), path.name))
    return tuple(found)


def read_own(name: str) -> str:
    """The text of a file of this folder, by its name in it."""
    return (_HERE / name).read_text(encoding="utf-8")


def default_year() -> int:
    """The newest edition whose values have been verified: what a sheet uses when nobody says otherwise."""
    return max(year for year in YEARS if load_edition(year).flag("edition.verified"))


def _toml(text: str, file: str) -> dict[str, Any]:
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        raise EditionError(f"{file}: {error}") from None


def _table(document: Mapping[str, Any], key: str, file: str) -> Mapping[str, Any]:
    found = document.get(key, {})
    if not isinstance(found, dict):
        raise EditionError(f"{file}: expected {key} to be a table")
    return found


def _only(raw: Mapping[str, Any], allowed: frozenset[str] | set[str], where: str) -> None:
    if unknown := sorted(set(raw) - allowed):
        raise EditionError(
            f"{where}: unknown key {', '.join(map(repr, unknown))}; expected {sorted(allowed)}"
        )
