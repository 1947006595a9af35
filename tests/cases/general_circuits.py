"""Cases for the number of general circuits and for the smallest ones: 210.11(A), 210.18, 210.23(A)."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import CircuitPurpose, DeviceKind, Ref
from tests.cases.case import Case, House

RULE = "general-circuits"
EMATH = "3 VA for each square foot, one 15 A circuit for 600 sq ft (electrician's arithmetic, two published sources in editions/dwelling_load.toml)"


def house_of(
    area: int | None, *ratings: int | None, purpose: CircuitPurpose = CircuitPurpose.GENERAL
) -> House:
    def build(house: HouseBuilder) -> Ref:
        house.site = HouseBuilder(floor_area_ft2=area).site
        panel = house.panel()
        for rating in ratings:
            house.circuit(panel, "General", rating_a=rating, purpose=purpose)
        return Ref("job", house.site.id)

    return build


SMALL = "smallest-circuits"
ELR = "210.23(A), 10 A circuits (ElectricalLicenseRenewal.com, sections 1432 and 1857; ExpertCE)"
SINCE_2023 = (2023, 2026)
LIGHT, FAN, RECEPTACLE = DeviceKind.LUMINAIRE, DeviceKind.EXHAUST_FAN, DeviceKind.RECEPTACLE


def feeding(
    rating_a: int | None, *kinds: DeviceKind, purpose: CircuitPurpose = CircuitPurpose.GENERAL
) -> House:
    def build(house: HouseBuilder) -> Ref:
        room = house.room("bathroom", length_in=144, width_in=120)
        circuit = house.circuit(house.panel(), "Lights", rating_a=rating_a, purpose=purpose)
        boxes = [
            house.box(room, wall=1, at_in=12 * (number + 1), height_in=48) for number, _ in enumerate(kinds)
        ]
        for box, kind in zip(boxes, kinds, strict=True):
            house.device(box, kind)
        if boxes:
            house.home_run(circuit, *boxes)
        return Ref("circuit", circuit)

    return build


CASES = [
    # 1,200 sq ft x 3 VA = 3,600 VA = 2 x 15 A x 120 V
    Case(RULE, "clear - exactly enough", house_of(1200, 15, 15), "enough", source=EMATH),
    Case(RULE, "clear - a little smaller", house_of(1199, 15, 15), "enough"),
    Case(RULE, "correction - a square foot more", house_of(1201, 15, 15), "too-few", source=EMATH),
    Case(RULE, "clear - two of 20 A carry 1,600 sq ft", house_of(1600, 20, 20), "enough"),
    Case(RULE, "unseen - one circuit's rating is not recorded", house_of(1200, 15, None), "rating-not-recorded"),
    Case(RULE, "unseen - the area is not recorded", house_of(None, 15), "area-not-recorded"),
    Case(RULE, "unseen - only a laundry circuit so far", house_of(1200, 20, purpose=CircuitPurpose.LAUNDRY), "no-circuit"),
    Case(SMALL, "clear - 10 A for lights and the bathroom's fan", feeding(10, LIGHT, LIGHT, FAN), "suits", SINCE_2023, ELR),
    Case(SMALL, "correction - 10 A with a receptacle", feeding(10, LIGHT, RECEPTACLE), "not-allowed", SINCE_2023, ELR),
    Case(SMALL, "correction - 10 A for a receptacle alone", feeding(10, RECEPTACLE), "not-allowed", SINCE_2023, ELR),
    Case(SMALL, "correction - 10 A with something wired in", feeding(10, LIGHT, DeviceKind.HARDWIRED), "not-allowed", SINCE_2023, ELR),
    Case(SMALL, "correction - 9 A is just under", feeding(9, LIGHT, LIGHT), "too-small", SINCE_2023),
    Case(SMALL, "correction - 10 A before there was such a circuit", feeding(10, LIGHT, LIGHT), "too-small", (2017, 2020), ELR),
    Case(SMALL, "correction - 14 A is just under", feeding(14, LIGHT, LIGHT), "too-small", (2017, 2020)),
    Case(SMALL, "clear - exactly 15 A", feeding(15, LIGHT, RECEPTACLE), "ordinary"),
    Case(SMALL, "outside - one thing alone", feeding(10, DeviceKind.HARDWIRED), "one-outlet"),
    Case(SMALL, "outside - a feeder", feeding(10, LIGHT, LIGHT, purpose=CircuitPurpose.FEEDER), "feeder"),
    Case(SMALL, "unseen - nothing on it yet", feeding(10), "no-outlet"),
    Case(SMALL, "unseen - its rating is not recorded", feeding(None, LIGHT), "not-recorded"),
]  # fmt: skip
