"""A sheet's request as a form: drawn from its model, read back into the same JSON.

A name with dots is a place in the JSON: ``conductors.0.awg``. Lists of things are rows; an empty row is left out, and
a button named ``rows`` asks for one more. What is empty is not given, so that the model's own defaults hold.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Final

from server.pages.forms import Fields

__all__ = ["Group", "Item", "Rows", "draw_form", "flat_of", "json_of"]

_MOST_ROWS: Final = 60
_UNITS: Final = (
    ("_in3", "in³"), ("_ft2", "ft²"), ("_in", "in"), ("_ft", "ft"), ("_va", "VA"), ("_a", "A"), ("_f", "°F"), ("_c", "°C"),
    ("_deg", "degrees"), ("_percent", "%"),
)  # fmt: skip
_WORDS: Final[Mapping[str, str]] = {
    "awg": "Wire size, AWG", "amps": "Amperes", "volts": "Volts", "ev": "Vehicle chargers", "a": "From", "b": "To",
    "id": "Name", "k": "K", "cool_va": "Cooling", "heat_va": "Electric heat", "gfci": "GFCI", "afci": "AFCI",
    "dryers_va": "Dryers", "awg_": "Wire size",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Item:
    """One field. ``kind``: text, number, choice."""

    name: str
    label: str
    kind: str
    unit: str
    hint: str
    value: str
    error: str
    options: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Group:
    """Fields that belong together under a heading; a row of a list is a group too."""

    label: str
    parts: tuple[Item | Rows | Group, ...]


@dataclass(frozen=True, slots=True)
class Rows:
    """A list: its rows, and whether another may be added."""

    name: str
    label: str
    hint: str
    rows: tuple[Group, ...]
    may_add: bool
    singular: str


def draw_form(
    schema: Mapping[str, Any], fields: Fields, *, shown: Sequence[str], more: Mapping[str, int]
) -> tuple[Group, Group]:
    """The main fields of a request's JSON schema, and the rest.

    Args:
        schema: of the request's model.
        fields: what was typed, and what is wrong with it, by dotted name.
        shown: the fields that stand first; the others follow under *more*.
        more: rows asked for by list name.
    """
    drawer = _Drawer(schema.get("$defs", {}), fields, more)
    names = schema["properties"]
    main = [name for name in shown if name in names]
    return drawer.group("", names, main), drawer.group(
        "More", names, [name for name in names if name not in main]
    )


@dataclass(frozen=True, slots=True)
class _Drawer:
    definitions: Mapping[str, Any]
    fields: Fields
    more: Mapping[str, int]

    def group(
        self, label: str, properties: Mapping[str, Any], names: Sequence[str], prefix: str = ""
    ) -> Group:
        return Group(label, tuple(self.part(f"{prefix}{name}", name, properties[name]) for name in names))

    def part(self, place: str, name: str, raw: Mapping[str, Any]) -> Item | Rows | Group:
        schema = self.resolved(raw)
        hint = str(raw.get("description") or schema.get("description") or "").split("\n")[0]
        if "properties" in schema:
            return self.group(_label(name), schema["properties"], list(schema["properties"]), f"{place}.")
        if schema.get("type") == "array":
            return self.rows(place, name, schema, hint)
        options = self.options(schema, optional="default" in raw or "default" in schema)
        return Item(
            place, _label(name), "choice" if options else _input_kind(schema), _unit(name), _hint(hint, raw, schema),
            self.fields.value(place), self.fields.error(place), options,
        )  # fmt: skip

    def resolved(self, raw: Mapping[str, Any]) -> Mapping[str, Any]:
        """The schema behind references; of alternatives the fullest (an object before a text before nothing)."""
        if "$ref" in raw:
            return self.resolved(self.definitions[raw["$ref"].rpartition("/")[2]])
        if "anyOf" in raw:
            choices = [self.resolved(choice) for choice in raw["anyOf"]]
            real = [choice for choice in choices if choice.get("type") != "null"]
            for wanted in ("array", "object", "enum", "string"):
                for choice in real:
                    if choice.get("type") == wanted or (wanted == "enum" and "enum" in choice):
                        return choice
            return real[0]
        return raw

    def options(self, schema: Mapping[str, Any], *, optional: bool) -> tuple[tuple[str, str], ...]:
        if schema.get("type") == "boolean":
            return (("", "not said"), ("true", "yes"), ("false", "no"))
        if "enum" in schema:
            words = tuple((str(value), str(value)) for value in schema["enum"])
            return (("", "as usual"), *words) if optional else words
        return ()

    def rows(self, place: str, name: str, schema: Mapping[str, Any], hint: str) -> Rows:
        item = self.resolved(schema.get("items", {}))
        filled = {
            int(rest.partition(".")[0])
            for typed, value in self.fields.values.items()
            if typed.startswith(f"{place}.") and value and (rest := typed[len(place) + 1 :]).partition(".")[0].isdigit()
        }  # fmt: skip
        count = min(_MOST_ROWS, max(filled, default=-1) + 1 + self.more.get(place, 0 if filled else 1))
        rows = []
        for number in range(count):
            at = f"{place}.{number}"
            if "properties" in item:
                rows.append(
                    self.group(
                        f"{_singular(name)} {number + 1}",
                        item["properties"],
                        list(item["properties"]),
                        f"{at}.",
                    )
                )
            else:
                rows.append(Group(f"{_singular(name)} {number + 1}", (self.part(at, name, item),)))
        return Rows(place, _label(name), hint, tuple(rows), count < _MOST_ROWS, _singular(name).lower())


def _label(name: str) -> str:
    if name in _WORDS:
        return _WORDS[name]
    words = name
    for ending, _ in _UNITS:
        words = words.removesuffix(ending)
    return words.replace("_", " ").strip().capitalize() or name


def _singular(name: str) -> str:
    word = _label(name)
    for many, one in (("Switches", "Switch"), ("Boxes", "Box"), ("ies", "y"), ("ches", "ch")):
        if word.endswith(many):
            return word.removesuffix(many) + one
    return word.removesuffix("s")


def _unit(name: str) -> str:
    return next(
        (unit for ending, unit in _UNITS if name.endswith(ending) and name not in ("a", "from_in_a")), ""
    )


def _input_kind(schema: Mapping[str, Any]) -> str:
    return "number" if schema.get("type") in ("number", "integer") else "text"


def _hint(hint: str, raw: Mapping[str, Any], schema: Mapping[str, Any]) -> str:
    examples = raw.get("examples") or schema.get("examples") or ()
    shown = ", ".join(str(example) for example in examples[:4])
    return hint or (f"such as {shown}" if shown else "")


def json_of(values: Mapping[str, str]) -> dict[str, Any]:
    """What was typed as JSON: dotted names nested, numbers as places of lists, empty rows and fields left out.

    ``true`` and ``false`` become what they say; everything else stays text, which the models read.
    """
    tree: dict[str, Any] = {}
    for name, text in values.items():
        if text.strip() == "":
            continue
        node = tree
        *path, last = name.split(".")
        for part in path:
            child = node.setdefault(part, {})
            if not isinstance(child, dict):
                break
            node = child
        else:
            node[last] = {"true": True, "false": False}.get(text, text)
    made = _listed(tree)
    assert isinstance(made, dict)
    return made


def _listed(node: Any) -> Any:
    if not isinstance(node, dict):
        return node
    if node and all(key.isdigit() for key in node):
        return [_listed(node[key]) for key in sorted(node, key=int)]
    return {key: _listed(child) for key, child in node.items()}


def flat_of(document: Any, prefix: str = "") -> dict[str, str]:
    """A JSON document as dotted names and text: how an example fills a form."""
    if isinstance(document, Mapping):
        pairs = document.items()
    elif isinstance(document, list | tuple):
        pairs = ((str(place), part) for place, part in enumerate(document))  # type: ignore[assignment]
    else:
        text = (
            {True: "true", False: "false", None: ""}.get(document, document)
            if isinstance(document, bool | None)
            else document
        )
        return {prefix: str(text)}
    return {
        name: text
        for key, part in pairs
        for name, text in flat_of(part, f"{prefix}.{key}" if prefix else key).items()
    }
