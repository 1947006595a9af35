"""GFCI, AFCI, tamper and weather resistance."""

from __future__ import annotations

from datetime import date
from typing import Any

from seed_demo.building import HouseBuilder
from tests.examined.kitchens import shared
from tests.examined.situation import TWENTY, Build, outlet, situation

JDB3 = "2020 text of 210.8(A), asked about a dryer beside the washer (forums.mikeholt.com, post 2711350)"
ECMAG23 = "examining adjustments to chapter 2, part 6: all kitchen receptacles since 2023 (ecmag.com)"
DW = "210.8(D) and 422.5 through the editions (forums.mikeholt.com 210-8d.2559641)"
MN2020 = "inspection checklist for one-family homes, 2020 (Minnesota DLI, docslib.org)"

GFCI, AFCI = "gfci-locations", "afci-locations"
FORTY: dict[str, Any] = {
    "rating_a": 50,
    "conductor_awg": "6",
    "poles": 2,
    "volts": 240,
    "purpose": "individual",
}
THIRTY: dict[str, Any] = {
    "rating_a": 30,
    "conductor_awg": "10",
    "poles": 2,
    "volts": 240,
    "purpose": "individual",
}
THREE: dict[str, Any] = {"insulated": 3}


def big(room: str, kind: str, configuration: str, circuit: dict[str, Any], **more: Any) -> Build:
    box = {"height_in": 6, "volume_in3": 60, "gangs": 2} | more.pop("box", {})
    fixture = {"kind": kind, "volts": 240, "fuel_burning": False} | more.pop("fixture", {})
    return outlet(
        room, box=box, circuit=circuit, cable=THREE, fixture=fixture, configuration=configuration, receptacles=1,
        serves=kind, dedicated=True, **more,
    )  # fmt: skip


def wired_in(
    room: str, kind: str, circuit: dict[str, Any], *, cable: dict[str, Any] | None = None, **fixture: Any
) -> Build:
    return outlet(
        room, device="hardwired", circuit={"purpose": "individual"} | circuit, cable=cable, fixture={"kind": kind, "fastened_in_place": True} | fixture,
        serves=kind, dedicated=True, box={"volume_in3": 60, "gangs": 2}, volts=circuit.get("volts", 120),
    )  # fmt: skip


def plain(
    room: str,
    breaker: str = "standard",
    *,
    purpose: str = "general",
    box: dict[str, Any] | None = None,
    **more: Any,
) -> Build:
    return outlet(
        room,
        circuit={"breaker": breaker, "purpose": purpose} | TWENTY | more.pop("circuit", {}),
        box=box,
        **more,
    )


def basement_storey(finished: bool, breaker: str = "AFCI") -> Build:
    def build(house: HouseBuilder) -> None:
        house.level("Basement", below_grade=True)
        kind = "recreation room" if finished else "basement"
        outlet(kind, circuit={"breaker": breaker} | TWENTY, room={"finished": finished})(house)
        house.level("First floor", below_grade=False)

    return build


SITUATIONS = [
    situation("A range's receptacle stands 8 ft from the sink", big("kitchen", "range", "14-50", FORTY, box={"from_sink_in": 96}, fixture={"va": 12000}), GFCI, since=2023, source=ECMAG23),
    situation("A range's receptacle stands 5 ft from the sink", big("kitchen", "range", "14-50", FORTY, box={"from_sink_in": 60}, fixture={"va": 12000}), GFCI, since=2020, source=JDB3),
    situation("A dryer's receptacle is in the laundry", big("laundry", "dryer", "14-30", THIRTY, fixture={"va": 5000}), GFCI, since=2020, source=JDB3),
    situation("The same on a GFCI breaker", big("laundry", "dryer", "14-30", THIRTY | {"breaker": "GFCI"}, fixture={"va": 5000}), clear=(), source=JDB3),
    situation("A dishwasher is wired in on an AFCI breaker", wired_in("kitchen", "dishwasher", TWENTY | {"breaker": "AFCI"}, va=1200, volts=120), GFCI, source=DW),
    situation("A dishwasher is wired in on a breaker with both", wired_in("kitchen", "dishwasher", TWENTY | {"breaker": "AFCI and GFCI"}, va=1200, volts=120), clear=(GFCI, AFCI), source=DW),
    situation("A sump pump's receptacle is in the unfinished basement", outlet("basement", room={"finished": False}, circuit={"purpose": "individual"} | TWENTY, fixture={"kind": "sump pump", "va": 900, "volts": 120}, serves="sump pump", dedicated=True), GFCI),
    situation("A recreation room in the basement has a receptacle on AFCI only", basement_storey(True), GFCI, since=2020, source="2020 changes: all basements, finished or not (pdf4pro.com)"),
    situation("An unfinished basement has a receptacle on a plain breaker", basement_storey(False, "standard"), GFCI),
    situation("A garage door opener's receptacle is in the ceiling", outlet("garage", circuit=TWENTY, box={"surface": "ceiling", "x_in": 70, "y_in": 60}, serves="garage door opener", fixture={"kind": "garage door opener", "va": 600, "volts": 120}), GFCI),
    situation("A refrigerator's receptacle is 9 ft from the sink", outlet("kitchen", circuit={"breaker": "AFCI", "purpose": "small-appliance"} | TWENTY, box={"from_sink_in": 108}, fixture={"kind": "refrigerator"}, serves="refrigerator"), GFCI, since=2023, source=ECMAG23),
    situation("A crawl space has a light on a plain breaker", outlet("crawl space", device="luminaire", box={"surface": "ceiling", "x_in": 70, "y_in": 60}), GFCI),
    situation("A charger's receptacle is in the garage", big("garage", "EV charger", "14-50", FORTY, fixture={"va": 7680}), GFCI, since=2020, unsettled=(GFCI,), source="625.54; in 2017 by an interim amendment that the office applies or not"),
    situation("A condenser outdoors is wired in on a plain breaker", wired_in("outdoors", "air conditioner", THIRTY, minimum_circuit_a=18, maximum_overcurrent_a=30, volts=240, listed_hvac=True), source="210.8(F) and the interim amendment that excepts listed HVAC until September 2026", permit_date=date(2025, 5, 1), years=(2017, 2020, 2023)),
    situation("A water heater is wired in on a plain breaker", wired_in("basement", "water heater", THIRTY, va=4500, volts=240)),
    situation("A bedroom receptacle is on a plain breaker", plain("bedroom"), AFCI),
    situation("A hallway's receptacle is on a plain breaker", plain("hallway"), AFCI),
    situation("A kitchen's counter receptacle has AFCI and no GFCI", shared(("kitchen", {"box": {"from_sink_in": 30}}), breaker="AFCI", purpose="small-appliance"), GFCI),
    situation("A kitchen's counter receptacle has GFCI and no AFCI", shared(("kitchen", {"box": {"from_sink_in": 30}}), breaker="GFCI", purpose="small-appliance"), AFCI, source=MN2020),
    situation("A washer's receptacle has GFCI and no AFCI", plain("laundry", "GFCI", purpose="laundry"), AFCI, source=MN2020),
    situation("A bathroom's receptacle has GFCI and no AFCI", plain("bathroom", "GFCI", purpose="bathroom"), clear=(GFCI,)),
    situation("A garage's receptacle has GFCI and no AFCI", plain("garage", "GFCI", purpose="garage"), clear=(GFCI,)),
    situation("An outdoor receptacle has GFCI and no AFCI", plain("outdoors", "GFCI", weather_resistant=True), clear=(GFCI,)),
    situation("A closet's light is on a plain breaker", outlet("closet", device="luminaire", box={"surface": "ceiling", "x_in": 70, "y_in": 60}, lamp="LED", recessed=True), AFCI),
    situation("A smoke alarm in a bedroom is on a plain breaker", outlet("bedroom", device="smoke alarm", box={"surface": "ceiling", "x_in": 70, "y_in": 60}), AFCI),
    situation("A smoke alarm in a bedroom is on the bedroom's AFCI breaker", outlet("bedroom", device="smoke alarm", box={"surface": "ceiling", "x_in": 70, "y_in": 60}, circuit={"breaker": "AFCI"}), clear=(AFCI,)),
    situation("A bedroom's baseboard heater of 240 V is on a plain breaker", wired_in("bedroom", "electric heat", TWENTY | {"poles": 2, "volts": 240}, va=2000, volts=240)),
    situation("A bedroom receptacle at 18 in is not tamper-resistant", outlet("bedroom", circuit={"breaker": "AFCI"}, tamper_resistant=False), "tamper-resistant", stage="final"),
    situation("A bedroom receptacle at 67 in is not tamper-resistant", outlet("bedroom", circuit={"breaker": "AFCI"}, box={"height_in": 67}, tamper_resistant=False), stage="final"),
    situation("An outdoor receptacle is not weather-resistant", outlet("outdoors", circuit={"breaker": "GFCI"} | TWENTY, weather_resistant=False), "weather-resistant", stage="final"),
    situation("A receptacle is 30 in from the tub's rim", outlet("bathroom", circuit={"breaker": "GFCI", "purpose": "bathroom"} | TWENTY, box={"from_tub_in": 30}, fixture={"kind": "bathtub"}, ), "receptacle-in-tub-zone", since=2020),
    situation("A receptacle is 40 in from the tub's rim", outlet("bathroom", circuit={"breaker": "GFCI", "purpose": "bathroom"} | TWENTY, box={"from_tub_in": 40}, fixture={"kind": "bathtub"})),
    situation("A bedroom receptacle is 5 ft from a wet bar's sink", outlet("bedroom", circuit={"breaker": "AFCI"}, box={"from_sink_in": 60}), GFCI),
]  # fmt: skip
