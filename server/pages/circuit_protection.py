"""Who is protected on a circuit, by what; and the cheapest cure, entered with one tap."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from fastapi import APIRouter, Request
from fastapi.responses import RedirectResponse

from server.dwelling import Circuit, CircuitPurpose, Dwelling, Ref
from server.pages import flash
from server.pages.entering import change_of, done
from server.pages.opened import OpenJob, open_job
from server.people.access import NotFound
from server.people.current import Builder
from server.people.roles import Role
from server.readiness.naming import subject_name
from server.readiness.protection_edits import protection_edits
from server.rules.naming import device_name
from server.rules.protection_tree import cure_words, protected_by_words, protection

__all__ = ["Lacking", "ProtectionPart", "outlets_lacking", "protection_part", "router"]

router = APIRouter(prefix="/jobs/{job_id}", include_in_schema=False)


@dataclass(frozen=True, slots=True)
class Lacking:
    """An outlet without the protection that it needs."""

    name: str
    link: str
    lacks: str
    why: str


@dataclass(frozen=True, slots=True)
class ProtectionPart:
    """Who is protected on a circuit: ``by`` says by what and how many."""

    outlets: int
    by: tuple[tuple[str, int], ...]
    lacking: tuple[Lacking, ...]
    cure: str
    to_enter: str
    problems: tuple[str, ...]


_WORDS: Final = {"gfci": "GFCI", "afci": "AFCI", "no gfci": "freedom from GFCI"}


def outlets_lacking(opened: OpenJob, circuit: Circuit) -> int:
    """How many outlets of a circuit lack a protection that they need; 0 for a feeder."""
    found = opened.house.derive(protection, opened.code).by_circuit.get(circuit.id)
    if found is None or circuit.purpose is CircuitPurpose.FEEDER:
        return 0
    return sum(
        outlet.outlet in opened.house.devices and any(each in _WORDS for each in outlet.lacks)
        for outlet in found.coverage.outlets
    )


def protection_part(opened: OpenJob, circuit: Circuit) -> ProtectionPart | None:
    """What follows from breaker and devices for the circuit's outlets; None for a feeder."""
    house, code, base = opened.house, opened.code, f"/jobs/{opened.job.id}"
    found = house.derive(protection, code).by_circuit.get(circuit.id)
    if found is None or circuit.purpose is CircuitPurpose.FEEDER:
        return None
    by: dict[str, int] = {}
    lacking = []
    for outlet in found.coverage.outlets:
        for word, source in (("GFCI", outlet.gfci_by), ("AFCI", outlet.afci_by)):
            if source is not None:
                words = f"{word} by {protected_by_words(source, found.circuits, house)}"
                by[words] = by.get(words, 0) + 1
        lacks = [_WORDS[each] for each in outlet.lacks if each in _WORDS]
        device = house.devices.get(outlet.outlet)
        if lacks and device is not None:
            name = device_name(device, house)
            lacking.append(
                Lacking(name[:1].upper() + name[1:], f"{base}/boxes/{device.box_id}", " and ".join(lacks), "")
            )
    edits = protection_edits(circuit.id, house, code) if lacking else None
    return ProtectionPart(
        len(found.coverage.outlets), tuple(by.items()), tuple(lacking), cure_words(found, house, code) if lacking else "",
        edits.said if edits else "",
        tuple(_sentence(problem.sentence, house) for problem in found.coverage.problems),
    )  # fmt: skip


def _sentence(text: str, house: Dwelling) -> str:
    """A sentence of the protection tree, whose words are ids, with devices and cables called by name."""
    for kind, known in (("device", house.devices), ("cable", house.cables), ("box", house.boxes)):
        for word in {part.strip(".,;:") for part in text.split()}:
            if word in known:
                text = text.replace(word, subject_name(Ref(kind, word), house))
    return text


@router.post("/circuits/{circuit_id}/protect", name="protect_circuit")
def protect_circuit(request: Request, job_id: str, circuit_id: str, person: Builder) -> RedirectResponse:
    """Enter the cheapest cure into the facts, as one change that can be undone."""
    opened = open_job(request, person, job_id, Role.ELECTRICIAN)
    circuit = opened.house.circuits.get(circuit_id)
    if circuit is None:
        raise NotFound
    here = f"/jobs/{job_id}/circuits/{circuit_id}"
    edits = protection_edits(circuit_id, opened.house, opened.code)
    if edits is None:
        return flash.redirect(f"{here}#protection", "There is nothing left to enter: nothing was changed.")
    with change_of(request, person, job_id, f"protected {circuit.name}") as change:
        change.add(*edits.add)
        for kind, each, values in edits.change:
            change.edit(kind, each, dict(values))
    return done(f"{here}#protection", f"Entered: {edits.said}.", change)
