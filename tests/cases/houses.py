"""Small houses that several case modules start from."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import Case, House

__all__ = ["CASES", "a_box", "a_room", "wired_box", "wired_room"]

CASES: list[Case] = []
"""None: this module only builds houses."""

SIZE: dict[str, Any] = {"length_in": 144, "width_in": 120}


def a_room(kind: str = "bedroom", **room: Any) -> House:
    """A room with nothing in it."""

    def build(house: HouseBuilder) -> Ref:
        return Ref("room", house.room(kind, **(SIZE | room)))

    return build


def a_box(kind: str = "bedroom", *, room: dict[str, Any] | None = None, **box: Any) -> House:
    """A box in a wall of a room, without cable or device."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(kind, **(SIZE | (room or {})))
        return Ref("box", house.box(room_id, **({"wall": 1, "at_in": 36, "height_in": 16} | box)))

    return build


def wired_box(
    kind: str = "bedroom",
    *,
    device: str = "receptacle",
    more: int = 0,
    room: dict[str, Any] | None = None,
    circuit: dict[str, Any] | None = None,
    cable: dict[str, Any] | None = None,
    **box: Any,
) -> House:
    """A box with a device and a home run, and ``more`` boxes fed on from it. The subject is the box."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(kind, **(SIZE | (room or {})))
        made = house.box(room_id, **({"wall": 1, "at_in": 36, "height_in": 16} | box))
        if device:
            house.device(made, device)  # type: ignore[arg-type]
        panel = house.panel()
        circuit_id = house.circuit(panel, "Bedroom", **(circuit or {}))
        onward = [house.box(room_id, wall=2, at_in=12 * (n + 1), height_in=16) for n in range(more)]
        house.home_run(circuit_id, made, *onward, **(cable or {}))
        return Ref("box", made)

    return build


def wired_room(kind: str = "bedroom", **given: Any) -> House:
    """The room of such a box."""

    def build(house: HouseBuilder) -> Ref:
        box = wired_box(kind, **given)(house)
        return Ref("room", house.dwelling().boxes[box.id].room_id)

    return build
