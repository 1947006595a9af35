"""Other ids for facts, with everything that names them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from server.dwelling import Facts, Observation, Ref
from server.store.kinds import KINDS, FactKind

__all__ = ["Names", "rekey"]

Names = Mapping[str, Mapping[str, str]]
"""Kind of fact (or ``job``, ``observation``) to old id to new id. What is not in it keeps its id."""


def rekey(facts: Facts, names: Names) -> Facts:
    """The same house under other ids."""
    job_names = names.get("job", {})
    site = replace(facts.site, id=job_names.get(facts.site.id, facts.site.id))
    renamed = {
        kind.plural: tuple(_renamed(fact, kind, names) for fact in getattr(facts, kind.plural))
        for kind in KINDS.values()
    }
    return Facts(site=site, **renamed, observations=tuple(_seen(item, names) for item in facts.observations))


def _renamed(fact: Any, kind: FactKind, names: Names) -> Any:
    new: dict[str, Any] = {}
    own = names.get(kind.name, {})
    if fact.id in own:
        new["id"] = own[fact.id]
    for reference in kind.references:
        of_kind = names.get(reference.kind)
        value = getattr(fact, reference.field)
        if not of_kind or not value:
            continue
        if reference.many:
            new[reference.field] = tuple(of_kind.get(target, target) for target in value)
        elif value in of_kind:
            new[reference.field] = of_kind[value]
    return replace(fact, **new) if new else fact


def _seen(observation: Observation, names: Names) -> Observation:
    subject = observation.subject
    own = names.get("observation", {})
    new_subject = names.get(subject.kind, {}).get(subject.id, subject.id)
    back = observation.takes_back
    return replace(
        observation,
        id=own.get(observation.id, observation.id),
        subject=Ref(subject.kind, new_subject),
        takes_back=own.get(back, back) if back else back,
    )
