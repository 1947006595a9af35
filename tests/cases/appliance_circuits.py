"""Cases for appliances on their circuits: 422.12, 210.23."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import DeviceKind, Ref
from tests.cases.case import Case, House

HEAT, OWN, SHARE = "heating-own-circuit", "appliance-own-circuit", "fixed-load-share"
EV = "ev-own-circuit"
XCE = "625.40 in 2023: above 16 A or 120 V (ExpertCE; Leviton Captain Code)"
ELR = "422.12 as widened in 2026; ElectricalLicenseRenewal.com, section 1938"
ECM = "P092; Code Q&A: cord- and plug-connected equipment, a 13 A central vacuum on 20 A (EC&M)"


def fixture(
    kind: str,
    *,
    also: DeviceKind | None = None,
    serves: str = "",
    outlet: bool = True,
    wired: bool = True,
    amps: int = 20,
    volts: int = 120,
    **given: Any,
) -> House:
    """An appliance with its outlet, alone on its circuit or with one more outlet."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("mechanical room", length_in=144, width_in=120)
        made = house.fixture(room, kind, **given)
        circuit = house.circuit(house.panel(), "Circuit", rating_a=amps, volts=volts, conductor_awg="12")
        box = house.box(room, wall=1, at_in=36)
        if outlet:
            house.device(box, DeviceKind.HARDWIRED, fixture_id=made)
        boxes = [box]
        if also:
            boxes.append(house.box(room, wall=2, at_in=36))
            house.device(boxes[1], also, serves=serves)
        if wired:
            house.home_run(circuit, *boxes)
        return Ref("fixture", made)

    return build


def vacuum(va: Any, **more: Any) -> House:
    return fixture("other", **({"also": DeviceKind.RECEPTACLE, "fastened_in_place": True, "va": va} | more))


RECEPTACLE = DeviceKind.RECEPTACLE
CASES = [
    Case(HEAT, "clear - the furnace alone", fixture("furnace"), "alone"),
    Case(HEAT, "clear - with its own service receptacle", fixture("furnace", also=RECEPTACLE, serves="HVAC service"), "alone"),
    Case(HEAT, "correction - with a light", fixture("furnace", also=DeviceKind.LUMINAIRE), "shared", (2017, 2020, 2023)),
    Case(HEAT, "clear - with the light of its place, from 2026", fixture("furnace", also=DeviceKind.LUMINAIRE), "with-light", (2026,), source=ELR),
    Case(HEAT, "correction - with a general receptacle", fixture("furnace", also=RECEPTACLE), "shared"),
    Case(HEAT, "unseen - no outlet is recorded for it", fixture("boiler", outlet=False), "no-outlet"),
    Case(HEAT, "unseen - no circuit", fixture("furnace", wired=False), "no-circuit"),
    Case(OWN, "outside - a gas range's igniter", fixture("range", also=RECEPTACLE, fuel_burning=True), "burns-fuel"),
    Case(HEAT, "outside - a dishwasher", fixture("dishwasher"), "other-kind"),
    Case(OWN, "clear - the dishwasher alone", fixture("dishwasher"), "alone"),
    Case(OWN, "correction - with a receptacle", fixture("dishwasher", also=RECEPTACLE), "shared"),
    Case(OWN, "unseen - no outlet is recorded for it", fixture("microwave", outlet=False), "no-outlet"),
    Case(EV, "clear - the charger alone", fixture("EV charger"), "alone"),
    Case(EV, "correction - with a receptacle", fixture("EV charger", also=RECEPTACLE), "shared"),
    Case(EV, "outside - exactly 16 A at 120 V", fixture("EV charger", also=RECEPTACLE, va=1920), "small", (2023, 2026), XCE),
    Case(EV, "outside - just under", fixture("EV charger", also=RECEPTACLE, va=1919), "small", (2023, 2026), XCE),
    Case(EV, "correction - just over", fixture("EV charger", also=RECEPTACLE, va=1921), "shared", (2023, 2026), XCE),
    Case(EV, "correction - 16 A at 240 V", fixture("EV charger", also=RECEPTACLE, va=3840, volts=240), "shared"),
    Case(EV, "correction - the same small one, before 2023", fixture("EV charger", also=RECEPTACLE, va=1920), "shared", (2017, 2020)),
    Case(EV, "unseen - no outlet is recorded for it", fixture("EV charger", outlet=False), "no-outlet"),
    Case(EV, "outside - a dryer", fixture("dryer"), "other-kind"),
    Case(OWN, "outside - a charger, which has its own article", fixture("EV charger"), "other-kind"),
    Case(OWN, "outside - a refrigerator", fixture("refrigerator"), "other-kind"),
    # half of 20 A x 120 V = 1,200 VA; 13 A x 120 V = 1,560 VA
    Case(SHARE, "clear - exactly half of the circuit", vacuum(1200), "within", source=ECM),
    Case(SHARE, "clear - just under", vacuum(1199), "within"),
    Case(SHARE, "correction - just over", vacuum(1201), "too-much"),
    Case(SHARE, "correction - the published central vacuum", vacuum(1560), "too-much", source=ECM),
    Case(SHARE, "unseen - its load is not recorded", vacuum(None), "load-not-recorded"),
    Case(SHARE, "unseen - no circuit", vacuum(1200, wired=False), "no-circuit"),
    Case(SHARE, "outside - alone on its circuit", vacuum(1560, also=None), "alone"),
    Case(SHARE, "outside - plugged in", vacuum(1560, fastened_in_place=False), "plugged"),
    Case(SHARE, "outside - no outlet", vacuum(1560, outlet=False), "no-outlet"),
]  # fmt: skip
