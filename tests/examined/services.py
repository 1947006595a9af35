"""Services against the loads of whole houses, extensions of old circuits, and what stands between."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import WorkKind
from tests.examined.circuits import AFCI15
from tests.examined.situation import Build, outlet, situation

VERIFIED = (2017, 2020, 2023)


def house_of(main_a: int, *, area: int = 2000, cooling: Any = 5000, range_va: Any = 12000) -> Build:
    """A house with range, dryer, water heater, dishwasher and an air conditioner, each on its circuit."""

    def build(house: HouseBuilder) -> None:
        kitchen = house.room("kitchen", length_in=192, width_in=168)
        garage = house.room("garage", length_in=240, width_in=240)
        main = house.panel(
            main_a=main_a,
            bus_a=main_a,
            room_id=garage,
            neutral_bonded=True,
            space_depth_in=36,
            space_width_in=30,
            space_height_in=78,
            handle_height_in=60,
        )
        plates = (
            (kitchen, "range", range_va, 240, 50, "6", 3), (garage, "dryer", 5000, 240, 30, "10", 3), (garage, "water heater", 4500, 240, 30, "10", 2),
            (kitchen, "dishwasher", 1200, 120, 20, "12", 2), (garage, "air conditioner", cooling, 240, 30, "10", 2),
        )  # fmt: skip
        for number, (room, kind, va, volts, rating, awg, insulated) in enumerate(plates):
            more = (
                {"minimum_circuit_a": 25, "maximum_overcurrent_a": 30, "listed_hvac": True}
                if kind == "air conditioner"
                else {}
            )
            made = house.fixture(
                room, kind, va=va, volts=volts, fastened_in_place=True, fuel_burning=False, **more
            )
            at = house.box(
                room, wall=1, at_in=20 + 20 * number, height_in=30, gangs=2, volume_in3=60, clamps="internal"
            )
            house.device(at, "hardwired", fixture_id=made, serves=kind, dedicated=True, volts=volts)  # type: ignore[arg-type]
            breaker = "AFCI and GFCI" if kind == "dishwasher" else "GFCI"
            circuit = house.circuit(
                main,
                kind.capitalize(),
                rating_a=rating,
                conductor_awg=awg,
                volts=volts,
                poles=2 if volts == 240 else 1,
                breaker=breaker,
                purpose="individual",
            )
            house.home_run(circuit, at, insulated=insulated)
        for number in (1, 2):
            house.circuit(
                main, f"Counter {number}", purpose="small-appliance", rating_a=20, conductor_awg="12"
            )
        house.circuit(main, "Laundry", purpose="laundry", rating_a=20, conductor_awg="12")

    return build


def no_ground_extension() -> Build:
    """A new box fed by a new cable with ground, from an old circuit."""
    return outlet("bedroom", circuit=AFCI15)


SITUATIONS = [
    situation("A house that needs 122 A has a service of 100 A", house_of(100), "service-carries-load", stage="service", floor_area_ft2=2000, years=VERIFIED, source="standard method 29,325 VA, optional 24,280 VA: both above 24,000"),
    situation("The same house has a service of 125 A", house_of(125), clear=("service-carries-load",), stage="service", floor_area_ft2=2000, years=VERIFIED, source="122 A"),
    situation("A smaller house with a service of 100 A", house_of(100, area=1000, cooling=2500, range_va=8000), clear=("service-carries-load", "service-size"), stage="service", floor_area_ft2=1000, years=VERIFIED, source="optional method: 10,000 + 40 % of 16,200 + 2500 VA = 18,980 VA, 79 A"),
    situation("A house with a service of 60 A", house_of(60, area=1000, cooling=2500, range_va=8000), "service-size", "service-carries-load", stage="service", floor_area_ft2=1000, years=VERIFIED, source="230.79(C): 100 A"),
    situation("A new box is fed from an old circuit by a cable with ground", no_ground_extension(), work=WorkKind.EXTENSION, clear=("ground-brought", "afci-locations")),
    situation("A new box is fed from an old circuit by a cable without", outlet("bedroom", circuit=AFCI15, cable={"has_ground": False}), "ground-brought", work=WorkKind.EXTENSION),
    situation("A GFCI receptacle feeds a new box without a ground", outlet("bedroom", circuit=AFCI15, cable={"has_ground": False}, gfci=True), "ground-brought", work=WorkKind.EXTENSION, source="an extension needs the ground; only a replacement may do without"),
]  # fmt: skip
