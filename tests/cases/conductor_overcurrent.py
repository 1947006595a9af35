"""Cases for wire against breaker and receptacle against circuit: 240.4, 310.15, 210.21(B)."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, DeviceKind, Ref
from tests.cases.case import Case, House, seen

WIRE, RECEPTACLE = "conductor-overcurrent", "receptacle-rating"
ELR = "240.4(D), 2017 (ElectricalLicenseRenewal.com)"
MH_334 = "334.80: adjustment starts from the 90 degree column (Mike Holt Forum)"
FM_WASH = "P078; 15 A duplex on a 20 A laundry circuit (ElectricianTalk)"
EM_21B = "210.21(B), Code in Focus (Electrical Contractor)"


def wire(
    awg: str | None,
    amps: int | None,
    *,
    circuit: dict[str, Any] | None = None,
    on: bool = True,
    unit: Any = None,
    **cable: Any,
) -> House:
    """One cable on a circuit of a rating; ``unit`` is the largest device marked on an air conditioner at its end."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("bedroom", length_in=144, width_in=120)
        panel = house.panel()
        circuit_id = house.circuit(panel, "Circuit", rating_a=amps, **(circuit or {}))
        box = house.box(room, wall=1, at_in=36)
        if unit is not None:
            fixture = house.fixture(room, "air conditioner", maximum_overcurrent_a=unit)
            house.device(box, DeviceKind.HARDWIRED, fixture_id=fixture)
        made = house.cable(panel, box, *([circuit_id] if on else []), awg=awg, **cable)
        return Ref("cable", made)

    return build


def receptacle(
    configuration: str | None,
    amps: int | None,
    *,
    contacts: int = 2,
    more: int = 0,
    wired: bool = True,
    kind: DeviceKind = DeviceKind.RECEPTACLE,
) -> House:
    def build(house: HouseBuilder) -> Ref:
        room = house.room("bedroom", length_in=144, width_in=120)
        circuit = house.circuit(house.panel(), "Circuit", rating_a=amps, conductor_awg="12")
        boxes = [house.box(room, wall=1, at_in=12 * (n + 1)) for n in range(more + 1)]
        made = house.device(boxes[0], kind, configuration=configuration, receptacles=contacts)
        for box in boxes[1:]:
            house.receptacle(box, configuration="5-15")
        if wired:
            house.home_run(circuit, *boxes)
        return Ref("device", made)

    return build


FEEDER = wire("3", 100, kind="se", circuit={"poles": 2, "volts": 240})
CASES = [
    Case(WIRE, "clear - 14 AWG copper on exactly 15 A", wire("14", 15), "fits", source=ELR),
    Case(WIRE, "correction - 14 AWG copper on 20 A", wire("14", 20), "too-small", source=ELR),
    Case(WIRE, "clear - 12 AWG on exactly 20 A", wire("12", 20), "fits", source=ELR),
    Case(WIRE, "correction - 12 AWG on 25 A", wire("12", 25), "too-small", source=ELR),
    Case(WIRE, "clear - 12 AWG on 15 A", wire("12", 15), "fits"),
    Case(WIRE, "clear - 10 AWG on exactly 30 A", wire("10", 30), "fits", source=ELR),
    Case(WIRE, "correction - 10 AWG on 35 A", wire("10", 35), "too-small", source=ELR),
    Case(WIRE, "correction - 12 AWG aluminum on 20 A", wire("12", 20, material="aluminum"), "too-small", source=ELR),
    Case(WIRE, "clear - 6 AWG NM on 60 A: 55 A, and the next standard rating", wire("6", 60, circuit={"poles": 2, "volts": 240}), "fits"),
    Case(WIRE, "correction - 6 AWG NM on 70 A", wire("6", 70, circuit={"poles": 2, "volts": 240}), "too-small"),
    # nine 12-2 in one bundle: 18 conductors, 30 A x 0.50 = 15 A; the same eight times (16) are 15 A too; four (8): 21 A
    Case(WIRE, "correction - nine 12-2 bundled over a long way on 20 A", wire("12", 20, bundled_with=8, bundled_length_in=60), "too-small", source=MH_334),
    Case(WIRE, "clear - four 12-2 bundled stay at 20 A", wire("12", 20, bundled_with=3, bundled_length_in=60), "fits", source=MH_334),
    Case(WIRE, "clear - nine bundled for exactly 24 in", wire("12", 20, bundled_with=8, bundled_length_in=24), "fits"),
    Case(WIRE, "correction - nine bundled for just over 24 in", wire("12", 20, bundled_with=8, bundled_length_in="24 1/64"), "too-small"),
    Case(WIRE, "clear - 10 AWG for an air conditioner marked for 40 A", wire("10", 40, unit=40, circuit={"poles": 2, "volts": 240}), "fits"),
    Case(WIRE, "outside - and on 45 A: the breaker is told at the equipment", wire("10", 45, unit=40, circuit={"poles": 2, "volts": 240}), "nameplate"),
    # 3 AWG copper: 85 A in the 60 degree column (90 A breaker), 100 A in the 75 degree column
    Case(WIRE, "unseen - 3 AWG SE on 100 A, if the terminals are marked for 75 degrees", FEEDER, "terminals"),
    Case(WIRE, "clear - somebody read the marking", seen(FEEDER, WIRE, Answer.RIGHT), "fits"),
    Case(WIRE, "correction - they are marked for 60 degrees", seen(FEEDER, WIRE, Answer.WRONG), "too-small"),
    Case(WIRE, "correction - 3 AWG on 110 A, whatever the terminals", wire("3", 110, kind="se"), "too-small"),
    Case(WIRE, "unseen - wire size not recorded", wire(None, 15), "size-not-recorded"),
    Case(WIRE, "unseen - rating not recorded", wire("14", None), "rating-not-recorded"),
    Case(WIRE, "unseen - on no circuit", wire("14", 15, on=False), "no-circuit"),
    Case(WIRE, "unseen - a size that does not exist", wire("13", 15), "no-such-wire"),
    Case(RECEPTACLE, "clear - a 15 A duplex on 15 A", receptacle("5-15", 15), "suits"),
    Case(RECEPTACLE, "clear - a 15 A duplex on 20 A", receptacle("5-15", 20), "suits", source=FM_WASH),
    Case(RECEPTACLE, "clear - a 20 A duplex on 20 A", receptacle("5-20", 20), "suits", source=EM_21B),
    Case(RECEPTACLE, "correction - a 20 A duplex on 15 A", receptacle("5-20", 15), "does-not", source=EM_21B),
    Case(RECEPTACLE, "correction - a single 15 A one alone on 20 A", receptacle("5-15", 20, contacts=1), "does-not", source=EM_21B),
    Case(RECEPTACLE, "clear - a single 20 A one alone on 20 A", receptacle("5-20", 20, contacts=1), "suits", source=EM_21B),
    Case(RECEPTACLE, "clear - a single 15 A one beside others on 20 A", receptacle("5-15", 20, contacts=1, more=1), "suits"),
    Case(RECEPTACLE, "clear - a 50 A range receptacle on 40 A", receptacle("14-50", 40, contacts=1), "suits"),
    Case(RECEPTACLE, "correction - a duplex on 30 A", receptacle("5-20", 30), "does-not", source=EM_21B),
    Case(RECEPTACLE, "unseen - its kind is not recorded", receptacle(None, 15), "not-recorded"),
    Case(RECEPTACLE, "unseen - no circuit", receptacle("5-15", 15, wired=False), "no-circuit"),
    Case(RECEPTACLE, "unseen - the circuit's rating", receptacle("5-15", None), "rating-not-recorded"),
    Case(RECEPTACLE, "outside - a luminaire", receptacle(None, 15, kind=DeviceKind.LUMINAIRE), "no-receptacle"),
]  # fmt: skip


def charger(awg: str, va: int, rating: int = 60, appliance: str = "EV charger", **cable: Any) -> House:
    """A load that runs for hours at 240 V, wired in at the end of one cable."""

    def build(house: HouseBuilder) -> Ref:
        ref = wire(awg, rating, circuit={"poles": 2, "volts": 240}, **cable)(house)
        fixture = house.fixture(house.facts().rooms[0].id, appliance, va=va, volts=240)
        house.device(house.facts().boxes[0].id, DeviceKind.HARDWIRED, fixture_id=fixture)
        return ref

    return build


FM_EV = "EV charger, 48 A on 6 AWG NM (Mike Holt Forums 2572317): 125 percent is 60 A, the cable carries 55 A"
MC: dict[str, Any] = {"kind": "mc"}
CASES += [
    Case(WIRE, "correction - 6 AWG NM for 48 A that run for hours", charger("6", 11520), "load", source=FM_EV),
    Case(WIRE, "clear - 4 AWG NM for the same", charger("4", 11520), "fits", source=FM_EV),
    Case(WIRE, "clear - 6 AWG NM for exactly 44 A", charger("6", 10560), "fits", source=FM_EV),
    Case(WIRE, "correction - just over 44 A", charger("6", 10561), "load"),
    Case(WIRE, "unseen - 6 AWG MC for 48 A: the terminals decide", charger("6", 11520, **MC), "terminals"),
    Case(WIRE, "clear - somebody saw 75 C terminals", seen(charger("6", 11520, **MC), WIRE, Answer.RIGHT), "fits"),
    Case(WIRE, "correction - somebody saw 60 C terminals", seen(charger("6", 11520, **MC), WIRE, Answer.WRONG), "load"),
    Case(WIRE, "clear - the circuit itself is too small, and that is told at the charger", charger("6", 11520, 50), "fits"),
    Case(WIRE, "clear - a pump does not run for hours", charger("6", 11520, appliance="well pump"), "fits"),
    Case(WIRE, "outside - the breaker is larger than the nameplate, and that is told there", wire("10", 40, unit=30), "nameplate"),
]  # fmt: skip
