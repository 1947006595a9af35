"""Cases for circuits that share a neutral or a yoke: 210.4(B), 210.7."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import DeviceKind, Ref
from tests.cases.case import Case, House

SHARED, YOKE = "multiwire-disconnect", "yoke-disconnect"
ECM = "Code Q&A: multiwire disconnects (EC&M)"
MH = "210.7 multiple circuits on one yoke (Mike Holt Enterprises)"


def pair(
    *,
    shared: bool = True,
    spaces: tuple[int, int] = (1, 3),
    about: str = "circuit",
    partner: bool = True,
    second: bool = True,
    kind: DeviceKind = DeviceKind.RECEPTACLE,
    **both: Any,
) -> House:
    """Two circuits, with a receptacle on both of them."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("kitchen", length_in=144, width_in=120)
        panel = house.panel()
        one = house.circuit(panel, "Left", rating_a=20, spaces=(spaces[0],), **both)
        two = house.circuit(panel, "Right", rating_a=20, spaces=(spaces[1],), **both)
        if shared:
            house.change(one, multiwire_with=two if partner else "circuit-99")
            house.change(two, multiwire_with=one)
        box = house.box(room, wall=1, at_in=36, height_in=44)
        device = house.device(box, kind, circuit_id=one, second_circuit_id=two if second else None)
        house.cable(panel, box, one, two, insulated=3)
        return Ref("circuit", one) if about == "circuit" else Ref("device", device)

    return build


def yoke(**more: Any) -> House:
    return pair(about="device", **more)


CASES = [
    Case(SHARED, "clear - handles tied", pair(handle_tied=True), "together", source=ECM),
    Case(SHARED, "clear - a two-pole breaker", pair(poles=2), "together", source=ECM),
    Case(SHARED, "correction - nothing ties them", pair(handle_tied=False), "apart", source=ECM),
    Case(SHARED, "correction - tied, and both on the same leg", pair(handle_tied=True, spaces=(1, 5)), "one-leg"),
    Case(SHARED, "correction - side by side across the panel is the same leg", pair(handle_tied=True, spaces=(1, 2)), "one-leg"),
    Case(SHARED, "clear - next to each other on one side", pair(handle_tied=True, spaces=(2, 4)), "together"),
    Case(SHARED, "unseen - the tie is not recorded", pair(), "not-recorded"),
    Case(SHARED, "unseen - the other circuit is not recorded", pair(partner=False), "partner-missing"),
    Case(SHARED, "outside - a neutral of its own", pair(shared=False), "own-neutral"),
    Case(YOKE, "clear - handles tied", yoke(handle_tied=True), "together", source=MH),
    Case(YOKE, "correction - nothing ties them", yoke(handle_tied=False), "apart", source=MH),
    Case(YOKE, "unseen - the tie is not recorded", yoke(), "not-recorded"),
    Case(YOKE, "outside - one circuit", yoke(second=False), "one-circuit"),
    Case(YOKE, "outside - a switch", yoke(kind=DeviceKind.SWITCH), "one-circuit"),
]  # fmt: skip
