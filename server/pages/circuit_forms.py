"""The form of a circuit: what is proposed for a new one, how spaces are typed, what is wrong with them."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Final, Literal

from pydantic import BaseModel, ConfigDict, Field

from server.dwelling import Breaker, Circuit, CircuitPurpose, ConductorMaterial, Dwelling, Panel
from server.editions import Edition
from server.pages.border import OptionalNumber, Ticked, YesOrNo
from server.pages.circuit_words import BREAKERS, MATERIALS, PURPOSES
from server.pages.forms import Fields
from server.pages.opened import JobFacts, OpenJob
from server.pages.typed_facts import typed_of
from server.readiness.circuit_proposal import (
    RATINGS_A,
    conductor_for,
    conductor_sizes,
    next_free_spaces,
    usual_breaker,
)

__all__ = ["CircuitForm", "CircuitFormPage", "form_page", "proposed", "typed_circuit", "values_of"]

_SPACES: Final = re.compile(r"[\s,/;&+]+|\band\b")
_MOST_SPACE: Final = 200


class CircuitForm(BaseModel):
    """The form of a circuit. Spaces are typed as printed beside the breaker: ``7``, ``2/4``."""

    model_config = ConfigDict(extra="forbid", arbitrary_types_allowed=True)

    panel_id: str = Field(max_length=64)
    name: str = Field(default="", max_length=80)
    spaces: str = Field(default="", max_length=40)
    tandem: Ticked = False
    poles: Literal["1", "2"] = "1"
    rating_a: int | None = Field(default=None, ge=1, le=4000)
    breaker: Breaker | None = None
    purpose: CircuitPurpose = CircuitPurpose.GENERAL
    conductor_awg: str | None = Field(default=None, max_length=10)
    material: ConductorMaterial = ConductorMaterial.COPPER
    multiwire_with: str | None = Field(default=None, max_length=64)
    handle_tied: YesOrNo = None
    va: OptionalNumber = Field(default=None, le=1_000_000)
    continuous_va: OptionalNumber = Field(default=None, le=1_000_000)
    note: str = Field(default="", max_length=2000)


@dataclass(frozen=True, slots=True)
class CircuitFormPage:
    """The form of a circuit, new or there; ``path`` is where it posts."""

    job: JobFacts
    name: str
    path: str
    back: str
    fields: Fields
    is_new: bool
    panels: tuple[tuple[str, str], ...]
    ratings: tuple[tuple[int, str], ...]
    breakers: tuple[tuple[str, str, str], ...]
    purposes: tuple[tuple[str, str], ...]
    conductors: tuple[tuple[str, str], ...]
    materials: tuple[tuple[str, str], ...]
    partners: tuple[tuple[str, str], ...]
    asks_tandem: bool
    by_rating: str


def form_page(opened: OpenJob, fields: Fields, circuit: Circuit | None = None) -> CircuitFormPage:
    """The context of the form."""
    house, code, base = opened.house, opened.code, f"/jobs/{opened.job.id}"
    ratings = [(rating, f"{rating} A") for rating in RATINGS_A]
    now = fields.value("rating_a")
    if now.isdigit() and int(now) not in RATINGS_A:
        ratings.append((int(now), f"{now} A"))
    partners = [
        each
        for each in house.facts.circuits
        if each.poles == 1 and (circuit is None or each.id != circuit.id)
    ]
    by_rating = ", ".join(f"{conductor_for(rating, code)} for {rating} A" for rating in RATINGS_A[:3])
    return CircuitFormPage(
        opened.job, circuit.name if circuit else "", f"{base}/circuits/{circuit.id}/edit" if circuit else f"{base}/circuits",
        f"{base}/circuits/{circuit.id}" if circuit else f"{base}/panels", fields, circuit is None,
        tuple((panel.id, panel.name) for panel in house.facts.panels), tuple(sorted(ratings)), BREAKERS, PURPOSES,
        (("", "Not recorded" if circuit else "By the rating"), *((awg, f"{awg} AWG") for awg in conductor_sizes(code))), MATERIALS,
        (("", "No"), *((each.id, each.name) for each in partners)),
        bool(fields.value("tandem")) or "already" in fields.error("spaces"), by_rating,
    )  # fmt: skip


def proposed(
    panel: Panel, house: Dwelling, *, space: int | None = None, partner: Circuit | None = None
) -> Fields:
    """What stands in the form of a new circuit; with ``partner`` it shares that one's neutral."""
    spaces = (space,) if space is not None else next_free_spaces(panel, 1, house)
    values = {
        "panel_id": panel.id, "spaces": "/".join(map(str, spaces)), "poles": "1", "rating_a": "15",
        "breaker": usual_breaker(CircuitPurpose.GENERAL).value, "purpose": CircuitPurpose.GENERAL.value, "material": "copper",
    }  # fmt: skip
    if partner is not None:
        values |= {
            "rating_a": str(partner.rating_a or 15), "breaker": partner.breaker.value if partner.breaker else "",
            "purpose": partner.purpose.value, "conductor_awg": partner.conductor_awg or "", "multiwire_with": partner.id,
            "handle_tied": "yes", "material": partner.material.value,
        }  # fmt: skip
        below = [each + 2 for each in partner.spaces]
        if below:
            values["spaces"] = str(below[0])
    return Fields(values)


def typed_circuit(circuit: Circuit) -> dict[str, str]:
    """A circuit as it would be typed."""
    return {
        **typed_of(circuit, yes_or_no=("handle_tied",)), "spaces": "/".join(map(str, circuit.spaces)),
        "poles": str(circuit.poles),
    }  # fmt: skip


def values_of(
    wanted: CircuitForm, fields: Fields, house: Dwelling, code: Edition, circuit: Circuit | None = None
) -> tuple[dict[str, Any], Fields]:
    """The fields of the fact, and what is wrong with the form."""
    panel = house.panels.get(wanted.panel_id)
    if panel is None:
        return {}, fields.wrong("panel_id", "Choose one of the panels.")
    spaces, fields = _spaces(wanted, fields, panel, house, circuit)
    if wanted.multiwire_with and wanted.multiwire_with not in house.circuits:
        fields = fields.wrong("multiwire_with", "Choose one of the circuits: this one is gone.")
    if wanted.multiwire_with and wanted.poles == "2":
        fields = fields.wrong("multiwire_with", "A two-pole circuit shares no neutral with another one.")
    if wanted.continuous_va is not None and wanted.va is not None and wanted.continuous_va > wanted.va:
        fields = fields.wrong("continuous_va", "Expected at most the whole load.")
    poles = int(wanted.poles)
    values: dict[str, Any] = wanted.model_dump(exclude={"tandem", "name", "spaces", "poles"})
    values |= {
        "name": wanted.name or _free_name(spaces, house),
        "spaces": spaces,
        "poles": poles,
        "volts": circuit.volts
        if circuit is not None and circuit.poles == poles
        else 240
        if poles == 2
        else 120,
    }
    if wanted.conductor_awg is None and wanted.rating_a is not None and circuit is None:
        values["conductor_awg"] = conductor_for(wanted.rating_a, code, wanted.material)
    return values, fields


def _free_name(spaces: tuple[int, ...], house: Dwelling) -> str:
    taken = {circuit.name for circuit in house.facts.circuits}
    name = f"Circuit {spaces[0]}" if spaces else "Circuit"
    number = 2
    found = name
    while found in taken:
        found, number = f"{name} ({number})", number + 1
    return found


def _spaces(
    wanted: CircuitForm, fields: Fields, panel: Panel, house: Dwelling, circuit: Circuit | None
) -> tuple[tuple[int, ...], Fields]:
    parts = [part for part in _SPACES.split(wanted.spaces.strip()) if part]
    if any(not part.isdigit() or not 1 <= int(part) <= _MOST_SPACE for part in parts):
        return (), fields.wrong("spaces", f"Expected numbers such as 7 or 2/4; came {wanted.spaces[:40]!r}.")
    spaces = tuple(dict.fromkeys(int(part) for part in parts))
    poles = int(wanted.poles)
    if len(spaces) == 1 and poles == 2:
        spaces = (spaces[0], spaces[0] + 2)
    if spaces and len(spaces) != poles:
        return spaces, fields.wrong(
            "spaces",
            f"Expected {poles} of them for {poles} {'pole' if poles == 1 else 'poles'}; came {len(spaces)}.",
        )
    if panel.spaces and any(space > panel.spaces for space in spaces):
        return spaces, fields.wrong("spaces", f"{panel.name} has {panel.spaces} spaces; came {max(spaces)}.")
    taken: Mapping[int, str] = {
        space: other.name
        for other in house.facts.circuits
        if other.panel_id == panel.id and (circuit is None or other.id != circuit.id)
        for space in other.spaces
    }
    clash = next((space for space in spaces if space in taken), None)
    if clash is not None and not wanted.tandem:
        fields = fields.wrong(
            "spaces",
            f"Space {clash} holds {taken[clash]} already. Tick the tandem breaker if both are meant.",
        )
    return spaces, fields
