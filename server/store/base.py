"""What every table has in common: names of constraints, and how our values stand in a column.

Exact numbers are written as text (``149/2``), so that what comes back is what went in. Words (enums) are
written as they are spelled in the job file. Tuples are written as JSON. Times are kept in UTC and come back
with their zone on both databases.
"""

from __future__ import annotations

import enum
import json
from datetime import UTC, datetime
from fractions import Fraction
from functools import lru_cache
from typing import Annotated, Any, ClassVar, Final

from sqlalchemy import DateTime, Dialect, Enum, MetaData, String, Text, TypeDecorator
from sqlalchemy.orm import DeclarativeBase, mapped_column

__all__ = [
    "NAMING",
    "Base",
    "ExactText",
    "Id",
    "Key",
    "Moment",
    "NumberList",
    "OptionalId",
    "WordList",
    "exact_from_text",
    "exact_to_text",
]

NAMING: Final = {
    "ix": "ix_%(table_name)s_%(column_0_N_name)s",
    "uq": "uq_%(table_name)s_%(column_0_N_name)s",
    "ck": "ck_%(table_name)s_%(constraint_name)s",
    "fk": "fk_%(table_name)s_%(column_0_N_name)s_%(referred_table_name)s",
    "pk": "pk_%(table_name)s",
}
"""Alembic can only alter a constraint that has a name; SQLite gives it none by itself."""

_LONGEST_ID: Final = 64
_LONGEST_WORD: Final = 40


def exact_to_text(number: Fraction) -> str:
    """``149/2``, or ``74`` where it is whole."""
    return str(number)


@lru_cache(maxsize=65_536)
def exact_from_text(text: str) -> Fraction:
    """Read what :func:`exact_to_text` wrote. A house repeats few lengths often, hence the memory."""
    return Fraction(text)


class ExactText(TypeDecorator[Fraction]):
    """An exact number as text."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: Fraction | None, dialect: Dialect) -> str | None:
        return None if value is None else exact_to_text(value)

    def process_result_value(self, value: str | None, dialect: Dialect) -> Fraction | None:
        return None if value is None else exact_from_text(value)


class WordList(TypeDecorator[tuple[str, ...]]):
    """A tuple of ids or words as a JSON list."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: tuple[str, ...] | None, dialect: Dialect) -> str | None:
        return None if value is None else json.dumps(list(value), ensure_ascii=False)

    def process_result_value(self, value: str | None, dialect: Dialect) -> tuple[str, ...] | None:
        if value is None:
            return None
        return () if value == "[]" else tuple(json.loads(value))


class NumberList(TypeDecorator[tuple[int, ...]]):
    """A tuple of whole numbers as a JSON list."""

    impl = Text
    cache_ok = True

    def process_bind_param(self, value: tuple[int, ...] | None, dialect: Dialect) -> str | None:
        return None if value is None else json.dumps(list(value))

    def process_result_value(self, value: str | None, dialect: Dialect) -> tuple[int, ...] | None:
        if value is None:
            return None
        return () if value == "[]" else tuple(json.loads(value))


class Moment(TypeDecorator[datetime]):
    """A point in time. A time without zone is refused: nobody could say later which clock it was."""

    impl = DateTime(timezone=True)
    cache_ok = True

    def process_bind_param(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        if value.tzinfo is None:
            raise ValueError(f"expected a time with its zone, came {value!r}")
        return value.astimezone(UTC)

    def process_result_value(self, value: datetime | None, dialect: Dialect) -> datetime | None:
        if value is None:
            return None
        # SQLite keeps no zone; what was written was UTC
        return value.replace(tzinfo=UTC) if value.tzinfo is None else value.astimezone(UTC)


Key = Annotated[str, mapped_column(String(_LONGEST_ID), primary_key=True)]
"""A table's own id: a UUID in text, or whatever the client made."""

Id = Annotated[str, mapped_column(String(_LONGEST_ID))]
"""The id of something else."""

OptionalId = Annotated[str | None, mapped_column(String(_LONGEST_ID))]


class Base(DeclarativeBase):
    """All tables of the store."""

    metadata = MetaData(naming_convention=NAMING)
    type_annotation_map: ClassVar[dict[Any, Any]] = {
        str: Text,
        Fraction: ExactText,
        datetime: Moment,
        tuple[str, ...]: WordList,
        tuple[int, ...]: NumberList,
        enum.StrEnum: Enum(
            enum.StrEnum,
            native_enum=False,
            create_constraint=False,
            length=_LONGEST_WORD,
            values_callable=lambda words: [word.value for word in words],
        ),
    }

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {getattr(self, 'id', '?')}>"
