"""Whole houses out of thin air: every kind of fact, every field, references that hold."""

from __future__ import annotations

from dataclasses import MISSING, fields
from datetime import date
from enum import StrEnum
from fractions import Fraction
from types import UnionType
from typing import Any, Union, get_args, get_origin

from hypothesis import strategies as st

from server.dwelling import Answer, Facts, Observation, Ref, Site, Stage, WorkKind
from server.store.kinds import KINDS, FactKind, Reference
from server.store.plain import field_types

__all__ = ["facts_of_a_house", "text"]

# what both databases and JSON can hold; a NUL or half a surrogate pair is refused at the border
text = st.text(st.characters(blacklist_categories=("Cs",), blacklist_characters="\x00"), max_size=12)
lengths = st.builds(Fraction, st.integers(0, 4000), st.sampled_from([1, 2, 4, 8, 16, 32, 64, 3, 127]))
_PLACES = ("plan_x_in", "plan_y_in")
_RANGES = {
    "turn_deg": (-359, 359), "ambient_f": (-60, 200), "door_swing_deg": (0, 360), "gangs": (1, 12), "gangs_wide": (1, 12),
    "poles": (1, 3), "insulated": (1, 60), "receptacles": (1, 12), "volts": (1, 1000), "risers": (0, 200),
    "luminaire_studs": (0, 20), "hickeys": (0, 20),
}  # fmt: skip


def _values(name: str, hint: Any) -> st.SearchStrategy[Any]:
    origin = get_origin(hint)
    if origin in (Union, UnionType):
        (inner,) = [part for part in get_args(hint) if part is not type(None)]
        return st.none() | _values(name, inner)
    if origin is tuple:
        return st.lists(_values(name, get_args(hint)[0]), max_size=3).map(tuple)
    if hint is Fraction:
        return lengths.flatmap(lambda n: st.sampled_from([n, -n])) if name in _PLACES else lengths
    if hint is bool:
        return st.booleans()
    if hint is int:
        return st.integers(*_RANGES.get(name, (0, 1_000_000)))
    if hint is str:
        return text
    if hint is date:
        return st.dates(date(2000, 1, 1), date(2040, 1, 1))
    assert issubclass(hint, StrEnum), (name, hint)
    return st.sampled_from(list(hint))


def _reference(reference: Reference, ids: dict[str, list[str]], hint: Any) -> st.SearchStrategy[Any]:
    there = ids.get(reference.kind, [])
    if reference.many:
        return st.lists(st.sampled_from(there), max_size=3, unique=True).map(tuple) if there else st.just(())
    if get_origin(hint) in (Union, UnionType):
        return st.none() | st.sampled_from(there) if there else st.none()
    return st.sampled_from(there)


@st.composite
def _fact(draw: st.DrawFn, kind: FactKind, fact_id: str, ids: dict[str, list[str]]) -> Any:
    hints = field_types(kind.fact)
    references = {reference.field: reference for reference in kind.references}
    values: dict[str, Any] = {"id": fact_id}
    for field in fields(kind.fact):
        if field.name == "id":
            continue
        if field.name in references:
            values[field.name] = draw(_reference(references[field.name], ids, hints[field.name]))
        elif field.default is MISSING or draw(st.booleans()):
            values[field.name] = draw(_values(field.name, hints[field.name]))
    if {"from_in", "to_in"} <= set(values):
        values["to_in"] = values["from_in"] + draw(lengths.filter(bool))
    if kind.name in ("wall", "counter"):
        values["length_in"] += 1
    if kind.name == "counter":
        values["depth_in"] += 1
    return kind.fact(**values)


@st.composite
def facts_of_a_house(draw: st.DrawFn, prefix: str = "") -> Facts:
    """Facts whose references hold, in the order in which a database gives them back."""
    ids: dict[str, list[str]] = {}
    for kind in KINDS.values():
        owned = kind.owner is None or bool(ids[kind.owner.kind])
        number = draw(st.integers(0, 3)) if owned else 0
        ids[kind.name] = [f"{prefix}{kind.name}-{place}" for place in range(number)]
    found: dict[str, tuple[Any, ...]] = {}
    for kind in KINDS.values():
        members = [draw(_fact(kind, fact_id, ids)) for fact_id in ids[kind.name]]
        if kind.name in ("level", "room", "panel", "circuit"):
            members.sort(key=lambda fact: fact.order)
        found[kind.plural] = tuple(members)
    site = Site(
        f"{prefix}job", draw(text), draw(st.sampled_from(Stage)), draw(st.sampled_from(WorkKind)),
        draw(st.none() | st.dates(date(2000, 1, 1), date(2040, 1, 1))), draw(st.none() | st.integers(0, 20_000)),
    )  # fmt: skip
    subjects = [Ref("job", site.id)] + [
        Ref(kind, fact_id)
        for kind, some in ids.items()
        for fact_id in some
        if kind not in ("opening", "break")
    ]
    log: list[Observation] = []
    for place in range(draw(st.integers(0, 4))):
        takes_back = draw(st.none() | st.sampled_from([seen.id for seen in log])) if log else None
        log.append(
            Observation(
                f"{prefix}seen-{place}", draw(st.sampled_from(subjects)),
                draw(st.sampled_from(["sheath-into-box", "box-fill"])), draw(st.sampled_from(Answer)),
                draw(st.none() | lengths), draw(text), draw(text), draw(st.sampled_from(["", "2026-11-20T09:00:00Z"])),
                draw(st.lists(st.sampled_from(["a" * 64, "b" * 64]), max_size=2, unique=True).map(tuple)), takes_back,
            )
        )  # fmt: skip
    return Facts(site=site, **found, observations=tuple(log))
