"""Facts as plain JSON values and back: what the journal and the job file are written in.

Exact numbers become text (``"149/2"``), words their spelling, dates ISO 8601, tuples lists.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from enum import StrEnum
from fractions import Fraction
from functools import cache
from types import UnionType
from typing import Any, Union, get_args, get_origin, get_type_hints

from server.store.base import exact_from_text, exact_to_text

__all__ = ["fact_from_plain", "field_types", "plain_of", "plain_value", "value_from_plain"]


def plain_value(value: Any) -> Any:
    """One value of a fact as JSON can hold it."""
    match value:
        case bool() | None:
            return value
        case Fraction():
            return exact_to_text(value)
        case StrEnum():
            return value.value
        case date():
            return value.isoformat()
        case tuple() | list():
            return [plain_value(part) for part in value]
        case int() | str():
            return value
        case Mapping():
            return {str(key): plain_value(part) for key, part in value.items()}
        case _:
            raise TypeError(
                f"expected a value that a fact can have, came {value!r} of {type(value).__name__}"
            )


def plain_of(fact: Any, names: tuple[str, ...]) -> dict[str, Any]:
    """Some fields of a fact as JSON can hold them."""
    return {name: plain_value(getattr(fact, name)) for name in names}


@cache
def field_types(fact: Any) -> Mapping[str, Any]:
    """The types of a dataclass's fields, resolved."""
    return get_type_hints(fact)


def value_from_plain(fact: Any, name: str, value: Any) -> Any:
    """What :func:`plain_value` wrote for a field, as the field's own type."""
    return _reader(field_types(fact)[name])(value)


def fact_from_plain(fact: type[Any], plain: Mapping[str, Any]) -> Any:
    """A fact from what :func:`plain_of` wrote of all its fields."""
    return fact(**{name: value_from_plain(fact, name, value) for name, value in plain.items()})


def _as_it_is(value: Any) -> Any:
    return value


@cache
def _reader(wanted: Any) -> Callable[[Any], Any]:
    origin = get_origin(wanted)
    if origin in (Union, UnionType):
        (inner,) = [_reader(part) for part in get_args(wanted) if part is not type(None)]
        return lambda value: None if value is None else inner(value)
    if origin is tuple:
        part = _reader(get_args(wanted)[0])
        return lambda value: tuple(part(item) for item in value)
    if wanted is Fraction:
        return exact_from_text
    if wanted is date:
        return date.fromisoformat
    if isinstance(wanted, type) and issubclass(wanted, StrEnum):
        return wanted
    return _as_it_is
