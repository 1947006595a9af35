"""Published cases of protection as outlet facts: read from ``tests/data/protection``."""

from __future__ import annotations

import json
from datetime import date
from fractions import Fraction
from pathlib import Path
from typing import Any

from server.editions import Edition, load_edition, load_presets
from server.reckon.protection.afci_required import afci_required
from server.reckon.protection.facts import NOWHERE_NEAR, OutletFacts
from server.reckon.protection.gfci_required import gfci_required
from server.reckon.protection.tamper_resistant import tamper_resistance_required
from server.reckon.protection.weather_resistant import weather_resistance_required

DATA = Path(__file__).parent / "data" / "protection"
ASK = {
    "gfci": gfci_required,
    "afci": afci_required,
    "tamper": tamper_resistance_required,
    "weather": weather_resistance_required,
}
FAR = {"from_sink_in": NOWHERE_NEAR, "from_tub_in": NOWHERE_NEAR}


def rows(name: str) -> list[dict[str, Any]]:
    """The rows of a data file."""
    found: list[dict[str, Any]] = json.loads((DATA / name).read_text(encoding="utf-8"))["rows"]
    return found


def outlet(raw: dict[str, Any]) -> OutletFacts:
    """JSON as facts: lengths exact, ``"none"`` for a fixture that is not there."""
    facts: dict[str, Any] = {}
    for name, value in raw.items():
        if name.endswith("_in"):
            value = NOWHERE_NEAR if value == "none" else Fraction(value)
        elif name == "permit_date":
            value = date.fromisoformat(value)
        elif isinstance(value, list):
            value = tuple(value)
        facts[name] = value
    return OutletFacts(**facts)


def edition(year: int | str, amendment: str = "") -> Edition:
    """An edition, perhaps under one of the presets that ship."""
    code = load_edition(int(year))
    return code.amended([layer for layer in load_presets() if layer.id == amendment]) if amendment else code


def receptacle(room: str, **facts: Any) -> OutletFacts:
    """A 20 A, 125 V receptacle on a 120 V circuit with no sink or tub near, and what else is said of it."""
    usual = {"volts": 125, "amps": 20, "circuit_volts": 120, "circuit_amps": 20, **FAR}
    return OutletFacts(room, **{**usual, **facts})  # type: ignore[arg-type]


def hardwired(room: str, **facts: Any) -> OutletFacts:
    """The outlet of hardwired equipment: 240 V, 30 A, and what else is said of it."""
    usual = {"kind": "hardwired", "volts": 240, "amps": 30, "circuit_volts": 240, "circuit_amps": 30}
    return OutletFacts(room, **{**usual, **facts})  # type: ignore[arg-type]
