"""A job's house out of the database, in one query a kind of fact whatever its size; and the code it is judged by."""

from __future__ import annotations

import json
from collections.abc import Mapping
from functools import lru_cache
from typing import Any, Final

from sqlalchemy import bindparam, select
from sqlalchemy.orm import Session

from server.dwelling import Dwelling, Facts, Observation, Ref, Site
from server.editions import Edition
from server.editions.edition import EditionError
from server.editions.loader import load_edition, load_presets, parse_amendment
from server.store.errors import NotThere
from server.store.kinds import KINDS, FactKind, JobSettings
from server.store.tables import JobRow, ObservationRow

__all__ = [
    "edition_of",
    "load_code",
    "load_facts",
    "load_house",
    "load_observations",
    "settings_of",
    "site_of",
]

_ORDERED_BY_THEIR_OWN: Final = ("level", "room", "panel", "circuit")
"""Kinds whose ``order`` counts through the whole job; the others come as they were entered."""


def _select(kind: FactKind) -> Any:
    table = kind.row.__table__
    order = [table.c.order] if kind.name in _ORDERED_BY_THEIR_OWN else []
    return (
        select(*kind.columns)
        .where(table.c.job_id == bindparam("job"), table.c.deleted_at.is_(None))
        .order_by(*order, table.c.entered)
    )


_SELECTS: Final = {kind.plural: (kind.fact, _select(kind)) for kind in KINDS.values()}
_log = ObservationRow.__table__.c
_OBSERVATIONS: Final = (
    select(
        _log.id, _log.subject_kind, _log.subject_id, _log.rule, _log.answer, _log.measure, _log.note, _log.by,
        _log.at, _log.photographs, _log.takes_back,
    )
    .where(_log.job_id == bindparam("job"))
    .order_by(_log.sequence)
)  # fmt: skip


def site_of(job: JobRow) -> Site:
    """What holds for the whole job, as the rules read it."""
    return Site(
        id=job.id, name=job.name, stage=job.stage, work=job.work, permit_date=job.permit_date,
        floor_area_ft2=job.floor_area_ft2,
    )  # fmt: skip


def load_observations(session: Session, job_id: str) -> tuple[Observation, ...]:
    """The whole log of a job, oldest first."""
    return tuple(
        Observation(id_, Ref(kind, subject), *rest)
        for id_, kind, subject, *rest in session.execute(_OBSERVATIONS, {"job": job_id})
    )


def load_facts(session: Session, job: JobRow | str, *, with_log: bool = True) -> Facts:
    """Every fact of a job that was not deleted, and its whole log. One query a kind.

    Raises:
        NotThere: there is no such job.
    """
    if isinstance(job, str):
        job_id, found = job, session.get(JobRow, job)
        if found is None:
            raise NotThere("job", job_id)
        job = found
    facts = {
        plural: tuple(fact(*row) for row in session.execute(statement, {"job": job.id}))
        for plural, (fact, statement) in _SELECTS.items()
    }
    observations = load_observations(session, job.id) if with_log else ()
    return Facts(site=site_of(job), **facts, observations=observations)


def load_house(session: Session, job: JobRow | str) -> Dwelling:
    """A job's house, indexed, ready for the rules.

    Raises:
        NotThere: there is no such job.
    """
    return Dwelling(load_facts(session, job))


def settings_of(job: JobRow) -> JobSettings:
    """What is entered about a job itself."""
    return JobSettings(
        id=job.id, name=job.name, edition=job.edition, address=job.address, presets=job.presets,
        layers=tuple(job.layers), stage=job.stage, work=job.work,
        permit_number=job.permit_number, permit_date=job.permit_date, inspection_date=job.inspection_date, floor_area_ft2=job.floor_area_ft2,
    )  # fmt: skip


def load_code(job: JobRow | JobSettings) -> Edition:
    """The edition of a job with its amendments over it.

    Raises:
        EditionError: there is no such edition or preset, a layer is wrong, or two touch one node.
    """
    return edition_of(job.edition, job.presets, tuple(job.layers))


def edition_of(
    year: int, presets: tuple[str, ...] = (), layers: tuple[Mapping[str, Any], ...] = ()
) -> Edition:
    """An edition with shipped amendments by id and own ones as documents; built once for the same content.

    Raises:
        EditionError: there is no such edition or preset, a layer is wrong, or two touch one node.
    """
    return _edition(year, presets, json.dumps(layers, sort_keys=True))


@lru_cache(maxsize=256)
def _edition(year: int, presets: tuple[str, ...], layers: str) -> Edition:
    shipped = {layer.id: layer for layer in load_presets()}
    if unknown := [name for name in presets if name not in shipped]:
        known = ", ".join(sorted(shipped)) or "none"
        raise EditionError(f"expected amendments that ship with Studbay ({known}), came {unknown[0]!r}")
    own = [parse_amendment(raw, f"amendments.own.{place}") for place, raw in enumerate(json.loads(layers))]
    ids = [*presets, *(layer.id for layer in own)]
    if twice := [name for name in dict.fromkeys(ids) if ids.count(name) > 1]:
        raise EditionError(f"the amendment {twice[0]!r} stands twice")
    edition = load_edition(year)
    return edition.amended([*(shipped[name] for name in presets), *own]) if ids else edition
