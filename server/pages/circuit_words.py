"""What circuits, their breakers and their cables are called on pages, and the choices of their forms."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from server.dwelling import (
    Breaker,
    CableKind,
    Circuit,
    CircuitPurpose,
    ConductorMaterial,
    Dwelling,
    Room,
)
from server.rules.runs import Run

__all__ = [
    "BREAKERS", "CABLE_KINDS", "MATERIALS", "PURPOSES", "breaker_words", "rooms_reached", "spaces_words", "wire_words",
]  # fmt: skip

BREAKERS: Final = (
    (Breaker.STANDARD.value, "Standard", "overcurrent only"),
    (Breaker.AFCI.value, "AFCI", "arc faults too"),
    (Breaker.GFCI.value, "GFCI", "ground faults too"),
    (Breaker.DUAL.value, "AFCI and GFCI", "both"),
    (Breaker.FUSE.value, "Fuse", ""),
)
PURPOSES: Final = (
    (CircuitPurpose.GENERAL.value, "General: lights and receptacles"),
    (CircuitPurpose.SMALL_APPLIANCE.value, "Small appliances: kitchen, dining, pantry"),
    (CircuitPurpose.LAUNDRY.value, "Laundry"),
    (CircuitPurpose.BATHROOM.value, "Bathroom receptacles"),
    (CircuitPurpose.GARAGE.value, "Garage receptacles"),
    (CircuitPurpose.OUTDOOR.value, "Outdoors"),
    (CircuitPurpose.INDIVIDUAL.value, "One appliance alone"),
    (CircuitPurpose.ALARMS.value, "Smoke and CO alarms"),
    (CircuitPurpose.FEEDER.value, "Feeder of another panel"),
)
CABLE_KINDS: Final = (
    (CableKind.NM_B.value, "NM-B"),
    (CableKind.UF_B.value, "UF-B"),
    (CableKind.MC.value, "MC"),
    (CableKind.AC.value, "AC"),
    (CableKind.SE.value, "SE"),
    (CableKind.RACEWAY.value, "Raceway"),
)
MATERIALS: Final = tuple((each.value, each.value.capitalize()) for each in ConductorMaterial)


def breaker_words(circuit: Circuit) -> str:
    """``20 A, AFCI``; ``50 A two-pole, breaker not recorded``."""
    rating = f"{circuit.rating_a} A" if circuit.rating_a else "rating not recorded"
    poles = " two-pole" if circuit.poles == 2 else ""
    kind = (
        ""
        if circuit.breaker is Breaker.STANDARD
        else circuit.breaker.value
        if circuit.breaker
        else "breaker not recorded"
    )
    return f"{rating}{poles}" + (f", {kind}" if kind else "")


def spaces_words(circuit: Circuit) -> str:
    """``7``; ``2 and 4``; empty where none is recorded."""
    return " and ".join(map(str, circuit.spaces))


def wire_words(circuit: Circuit) -> str:
    """``12 AWG copper``."""
    return (
        f"{circuit.conductor_awg} AWG {circuit.material}"
        if circuit.conductor_awg
        else "conductor not recorded"
    )


def rooms_reached(run: Run, house: Dwelling) -> list[Room]:
    """The rooms whose boxes a run passes through, in its order."""
    boxes = [house.boxes[each] for each in run.reached if each in house.boxes]
    return list({room.id: room for box in boxes if (room := house.room_of_box(box)) is not None}.values())


def named(rooms: Sequence[Room], most: int = 4) -> str:
    """``Stair, Upper hallway and 2 more``."""
    names = [room.name for room in rooms]
    return (
        ", ".join(names) if len(names) <= most else f"{', '.join(names[:most])} and {len(names) - most} more"
    )
