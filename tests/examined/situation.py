"""A situation: a small house as somebody might find it, and what an examiner would write up about it.

What was expected was written down before the rules were read. ``wrong`` names the rules that must call for a correction,
in the editions from ``since`` to ``until``; in all other editions nothing may be written up. Rules that only say that a sketch
of two rooms is no whole house (``UNFURNISHED``) are heard where a situation expects them and nowhere else.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import CircuitPurpose, DeviceKind, Dwelling
from server.editions import YEARS

__all__ = ["MEMORY", "PRACTICE", "UNFURNISHED", "Situation", "outlet", "situation"]

MEMORY, PRACTICE = "from memory", "common practice"

UNFURNISHED = frozenset({
    "wall-receptacle-spacing", "hallway-receptacle", "counter-receptacle-spacing", "bathroom-receptacle", "laundry-receptacle",
    "basement-receptacle", "accessory-building-receptacle", "deck-receptacle", "room-lighting-outlet", "passage-light",
    "entrance-light", "smoke-alarm-in-bedroom", "smoke-alarm-outside-bedrooms", "smoke-alarm-on-storey", "co-alarms",
    "counter-circuits", "laundry-circuit", "bathroom-circuit", "garage-circuit", "outdoor-receptacles", "general-circuits",
    "service-size", "alarms-joined", "storage-light", "garage-receptacle", "equipment-service-receptacle",
})  # fmt: skip
"""What a house of one or two rooms lacks because nobody drew the rest of it."""

Build = Callable[[HouseBuilder], object]


@dataclass(frozen=True, slots=True, eq=False)
class Situation:
    """``name`` says what was found; ``clear`` names rules that must have looked and found it good."""

    name: str
    build: Build
    wrong: frozenset[str]
    since: int
    until: int
    source: str
    clear: frozenset[str]
    unsettled: frozenset[str]
    stage: str
    years: tuple[int, ...]
    site: dict[str, Any]

    def house(self) -> Dwelling:
        builder = HouseBuilder(stage=self.stage, **self.site)
        self.build(builder)
        return builder.dwelling()

    def expected(self, year: int) -> frozenset[str]:
        """The rules that must be written up under this edition."""
        return self.wrong if self.since <= year <= self.until else frozenset()


def situation(
    name: str,
    build: Build,
    *wrong: str,
    since: int = YEARS[0],
    until: int = YEARS[-1],
    source: str = MEMORY,
    clear: tuple[str, ...] = (),
    unsettled: tuple[str, ...] = (),
    stage: Any = None,
    years: tuple[int, ...] = YEARS,
    **site: Any,
) -> Situation:
    from server.dwelling import Stage

    return Situation(
        name, build, frozenset(wrong), since, until, source, frozenset(clear), frozenset(unsettled),
        Stage(stage) if stage else Stage.ROUGH_IN, years, site,
    )  # fmt: skip


def outlet(
    kind: str,
    *,
    device: str = "receptacle",
    room: dict[str, Any] | None = None,
    box: dict[str, Any] | None = None,
    circuit: dict[str, Any] | None = None,
    cable: dict[str, Any] | None = None,
    fixture: dict[str, Any] | None = None,
    then: Callable[[HouseBuilder, dict[str, str]], object] | None = None,
    **given: Any,
) -> Build:
    """One outlet in a room on a circuit of the only panel; ``then`` adds more, given the ids that were made."""

    def build(house: HouseBuilder) -> dict[str, str]:
        room_id = house.room(kind, **({"length_in": 144, "width_in": 120} | (room or {})))
        place: dict[str, Any] = {"wall": 1, "at_in": 36, "height_in": 16} | (box or {})
        if place.get("surface") in ("ceiling", "floor"):
            place = {
                name: value for name, value in place.items() if name not in ("wall", "at_in", "height_in")
            }
        if place.get("gangs", 1) > 1:
            place = {"clamps": "internal"} | place
        made = house.box(room_id, **place)
        more = dict(given)
        ids = {"room": room_id, "box": made}
        if fixture:
            ids["fixture"] = more["fixture_id"] = house.fixture(room_id, **fixture)
        plain = {"configuration": "5-15", "tamper_resistant": True} if device == "receptacle" else {}
        if device:
            ids["device"] = house.device(made, DeviceKind(device), **(plain | more))
        ids["panel"] = house.panel()
        ids["circuit"] = house.circuit(ids["panel"], "Outlets of the sketch", **(circuit or {}))
        ids["cable"] = house.home_run(ids["circuit"], made, **(cable or {}))[0]
        if then:
            then(house, ids)
        return ids

    return build


TWENTY: dict[str, Any] = {"rating_a": 20, "conductor_awg": "12"}
PURPOSE = CircuitPurpose
