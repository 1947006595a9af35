"""What was typed into a form: kept as typed, read into a model, wrong fields named.

    form: Typed                                   # a route's argument
    read = form.read(NewRoom)                     # a Pydantic model
    if read.model is None:                        # shown again, nothing typed is lost
        return render(request, "rooms/new.html", NewRoomPage(fields=read.fields), status=422)

Templates take ``fields`` and write each field with its label, hint and error (``_partials/forms.html``).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Annotated, Any, Final, Generic, TypeVar

from fastapi import Depends, Request
from pydantic import BaseModel, ValidationError
from starlette.exceptions import HTTPException

__all__ = ["NOTHING_TYPED", "Fields", "Form", "Read", "Typed", "typed"]

M = TypeVar("M", bound=BaseModel)
_TYPES: Final = ("application/x-www-form-urlencoded", "multipart/form-data")
_MOST_FIELDS: Final = 500


@dataclass(frozen=True, slots=True)
class Fields:
    """Values and errors by field name; a field that is in neither is empty and right."""

    values: Mapping[str, str] = field(default_factory=dict)
    errors: Mapping[str, str] = field(default_factory=dict)

    def value(self, name: str, otherwise: str = "") -> str:
        """What stands in a field."""
        return self.values.get(name, otherwise)

    def error(self, name: str) -> str:
        """What is wrong with a field; empty: nothing."""
        return self.errors.get(name, "")

    def wrong(self, name: str, error: str) -> Fields:
        """The same with an error on a field."""
        return replace(self, errors={**self.errors, name: error})

    def without(self, *names: str) -> Fields:
        """The same with fields emptied: passwords are not sent back."""
        return replace(self, values={k: v for k, v in self.values.items() if k not in names})


NOTHING_TYPED: Final = Fields()


@dataclass(frozen=True, slots=True)
class Read(Generic[M]):
    """A model, or None with the fields' errors."""

    model: M | None
    fields: Fields


@dataclass(frozen=True, slots=True)
class Form:
    """A form as it was sent. ``lists`` has every value of a name that was sent more than once."""

    values: Mapping[str, str]
    lists: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def read(self, model: type[M], **more: Any) -> Read[M]:
        """Read into a model; ``more`` are values that come from elsewhere (the path).

        A name that was sent twice is refused unless the model's field takes a list or a tuple. Empty text counts
        as not given, so that an optional field may be left empty.
        """
        raw: dict[str, Any] = dict(more)
        errors: dict[str, str] = {}
        for name, text in self.values.items():
            known = model.model_fields.get(name)
            takes_list = known is not None and any(
                word in str(known.annotation) for word in ("list[", "tuple[", "set[")
            )
            if takes_list:
                raw[name] = self.lists.get(name, (text,))
            elif name in self.lists:
                errors[name] = f"expected one value, came {len(self.lists[name])}"
            elif text != "":
                raw[name] = text
        try:
            found = model.model_validate(raw)
        except ValidationError as error:
            for item in error.errors(include_url=False, include_context=False):
                errors.setdefault(str(item["loc"][0]) if item["loc"] else "", _sentence(item))
            return Read(None, Fields(self.values, errors))
        return Read(None if errors else found, Fields(self.values, errors))


_OURS: Final = (
    ("Input should be a valid integer, unable to parse string as an integer", "expected a whole number"),
    ("greater than or equal to", "at least"), ("less than or equal to", "at most"), ("String should have", "expected"),
    ("Input should be", "expected"),
)  # fmt: skip


def _sentence(item: Any) -> str:
    match item["type"]:
        case "missing":
            return "Fill this in."
        case "extra_forbidden":
            return "This form has no such field."
        case "value_error":
            text = str(item["msg"]).removeprefix("Value error, ")
        case _:
            text = f"{_plain(str(item['msg']))}; came {str(item['input'])[:60]!r}"
    return f"{text[:1].upper()}{text[1:].rstrip('.')}."


def _plain(text: str) -> str:
    """What a check of the library says, in our words."""
    for theirs, ours in _OURS:
        text = text.replace(theirs, ours)
    return text


async def typed(request: Request) -> Form:
    """Read the body of a form.

    Raises:
        HTTPException: 415 for a body that is no form.
    """
    if request.headers.get("content-type", "").partition(";")[0].strip().lower() not in _TYPES:
        raise HTTPException(415, "expected a form")
    values: dict[str, str] = {}
    lists: dict[str, list[str]] = {}
    async with request.form(max_files=0, max_fields=_MOST_FIELDS) as sent:
        for name, value in sent.multi_items():
            text = (value if isinstance(value, str) else "").replace("\x00", "").replace("\r\n", "\n")
            if name in values:
                lists.setdefault(name, [values[name]]).append(text)
            else:
                values[name] = text
    return Form(values, {name: tuple(found) for name, found in lists.items()})


Typed = Annotated[Form, Depends(typed)]
"""The form of a request."""
