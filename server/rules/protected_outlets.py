"""How GFCI and AFCI rules come to their verdict over one outlet: what it needs, against what it has.

The two rules differ only in the requirement that they read; the walk along the circuit is done once for both.
"""

from __future__ import annotations

from typing import Literal

from server.dwelling import Device, Dwelling
from server.editions import Edition
from server.reckon.protection.afci_required import afci_required
from server.reckon.protection.gfci_required import gfci_required
from server.reckon.work import Work
from server.rules.naming import circuit_name
from server.rules.outcome import Lazily, Missing, Outcome, ask_inspector, clear, correction, outside, unseen
from server.rules.outlet_facts import circuits_of, missing_facts, outlet_facts
from server.rules.protection_tree import CircuitProtection, cure_words, protected_by_words, protection

__all__ = ["SAYS", "judge_protection"]

SAYS = {
    "protected": "{why} It is protected by {by}.",
    "unprotected": "{why} Neither {circuit} nor a device on the way protects it.",
    "breakers-share": "{why} The breakers of {circuit} have that protection but share a neutral: each would trip, and protects nothing.",
    "protected-anyway": "{why} It is protected by {by}, so nothing is left to ask.",
    "not-needed": "{why}",
    "inspector": "{why}",
    "fact-missing": "{why}",
    "no-circuit": "{why} Which circuit feeds it is not recorded.",
    "not-fed": "{why} No recorded cable leads from the panel to it.",
    "breaker-not-recorded": "{why} What kind of breaker {circuit} has is not recorded.",
    "no-outlet": "A faceless device is no outlet.",
}


def judge_protection(
    device: Device, what: Literal["gfci", "afci"], house: Dwelling, code: Edition, work: Work
) -> Outcome:
    """The verdict over one outlet for one kind of protection."""
    all_of_it = house.derive(protection, code)
    need = all_of_it.needs.get(device.id)
    if need is None:
        return outside("no-outlet")
    required = need.gfci if what == "gfci" else need.afci
    if work:
        facts = outlet_facts(device, house, code)
        assert facts is not None
        (gfci_required if what == "gfci" else afci_required)(facts, code, work)
    why = Lazily(lambda: required.why)
    cites = required.cites[0] if len(required.cites) == 1 else ", ".join(required.cites)
    if required.required is False:
        return outside("not-needed", cites=cites, why=why)
    coverage = need.coverage
    by = None if coverage is None else coverage.gfci_by if what == "gfci" else coverage.afci_by
    circuits = circuits_of(device, house)
    found = all_of_it.by_circuit.get(circuits[0].id) if circuits else None
    if work and coverage is not None:
        work.step(coverage.why, by is not None)
    if by is not None:
        named = Lazily(lambda: protected_by_words(by, circuits, house))
        reason = "protected" if required.required is True else "protected-anyway"
        return clear(reason, cites=cites, confidence=required.confidence, why=why, by=named)
    if required.required is None:
        return unseen("fact-missing", *missing_facts(required.missing, device, house), cites=cites, why=why)
    if required.required == "inspector":
        return ask_inspector("inspector", cites=cites, why=why)
    if found is None or coverage is None:
        field = "device.circuit_id" if house.circuits_of_box(device.box_id) else "cable.circuit_ids"
        return unseen("no-circuit", Missing("the circuit that feeds it", field), cites=cites, why=why)
    if not coverage.fed:
        return unseen("not-fed", Missing("the cables from the panel to it", "cable"), cites=cites, why=why)
    return _lacking(found, what, house, code, why, cites, required.confidence)


def _lacking(
    found: CircuitProtection,
    what: Literal["gfci", "afci"],
    house: Dwelling,
    code: Edition,
    why: Lazily,
    cites: str,
    confidence: str,
) -> Outcome:
    name = Lazily(lambda: " and ".join(circuit_name(circuit) for circuit in found.circuits))
    if any(circuit.breaker is None for circuit in found.circuits):
        missing = Missing("the kind of breaker", "circuit.breaker")
        return unseen("breaker-not-recorded", missing, cites=cites, why=why, circuit=name)
    cure = Lazily(lambda: cure_words(found, house, code))
    source = found.tree.source
    has_kind = source.gfci if what == "gfci" else bool(source.arc)
    shared = any(
        problem.kind == "shared neutral" and not problem.device for problem in found.coverage.problems
    )
    reason = "breakers-share" if has_kind and shared else "unprotected"
    return correction(reason, cites=cites, confidence=confidence, why=why, circuit=name, cure=cure)
