"""Cases for what must be there, and open, before the cover."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Ref, WorkKind
from tests.cases.case import House, look_cases
from tests.cases.houses import a_room, wired_room


def device(kind: str) -> House:
    def build(house: HouseBuilder) -> Ref:
        room = house.room("bathroom", length_in=96, width_in=60)
        return Ref("device", house.device(house.box(room, surface="ceiling"), kind))  # type: ignore[arg-type]

    return build


def panel(house: HouseBuilder) -> Ref:
    return Ref("panel", house.panel(room_id=house.room("garage", length_in=240, width_in=240)))


def with_fixture(kind: str, **fixture: Any) -> House:
    def build(house: HouseBuilder) -> Ref:
        room = house.room("mechanical room", length_in=96, width_in=60)
        house.fixture(room, kind, **fixture)
        return Ref("room", room)

    return build


def appliance(kind: str) -> House:
    def build(house: HouseBuilder) -> Ref:
        room = house.room("kitchen", length_in=96, width_in=60)
        return Ref("fixture", house.fixture(room, kind))

    return build


def job(work: WorkKind) -> House:
    def build(house: HouseBuilder) -> Ref:
        house.site = HouseBuilder(work=work).site
        return Ref("job", house.site.id)

    return build


NO_BOX = {"no box here": a_room()}
CASES = [
    *look_cases("wiring-open-to-view", wired_room(), outside=NO_BOX),
    *look_cases("covered-early-opened", wired_room(), outside=NO_BOX),
    *look_cases("rough-in-complete", wired_room(), outside=NO_BOX),
    *look_cases("disconnect-in-sight", appliance("heat pump"), outside={"a dishwasher": appliance("dishwasher")}),
    *look_cases("dishwasher-outlet-place", appliance("dishwasher"), outside={"a furnace": appliance("furnace")}),
    *look_cases("exhaust-fan-set", device("exhaust fan"), outside={"a luminaire": device("luminaire")}),
    *look_cases("panel-set", panel),
    *look_cases("comfort-equipment-secured", with_fixture("furnace"), outside={"a water heater": with_fixture("water heater")}),
    *look_cases("detached-building-ground", wired_room("accessory building"), outside={"a garage": wired_room("garage")}),
    *look_cases("low-voltage-apart", wired_room(), outside=NO_BOX),
    *look_cases("small-permit-alarms", job(WorkKind.EXTENSION), outside={"a new house": job(WorkKind.NEW)}),
]  # fmt: skip
