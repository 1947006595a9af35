"""Cases for what joins a solar array or battery to the house: 690.9 to 690.56, 705."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, DeviceKind, Ref
from tests.cases.case import Case, House, measure_cases, seen
from tests.cases.whole_jobs import SIZE, a_fixture, a_job, looks

RATING, BUSBAR, LABELS = "solar-breaker-rating", "solar-busbar", "solar-raceway-labels"
SOLAR, OTHER = (
    a_fixture("solar array", "outdoors"),
    {"an air conditioner": a_fixture("air conditioner", "outdoors")},
)
BATTERY = a_fixture("energy storage", "garage")
BUS = "200 A main on 200 A busbars leaves 40 A, an output of 32 A (705.12(B): 125 % of the source and the main, 120 % of the bus)"
SUM = "All breakers but the main within the busbar's rating (705.12(B)(3)(3) of 2020)"


def sources(
    *kinds: tuple[str, Any, int | None],
    main_a: int | None = 200,
    bus_a: int | None = 200,
    loads: tuple[int | None, ...] = (50, 50, 50, 50, 50),
    sub: int | None = None,
) -> House:
    """Sources (kind, VA, breaker) in a panel with load breakers; ``sub``: in a subpanel on a feeder of so many amperes."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("garage", **SIZE)
        panel = house.panel("Panel A", room_id=room, main_a=main_a, bus_a=bus_a)
        if sub is not None:
            feeder = house.circuit(panel, "Panel B", rating_a=sub, poles=2, volts=240)
            panel = house.panel("Panel B", room_id=room, is_service=False, main_a=None, bus_a=bus_a)
            house.change(panel, fed_by_circuit_id=feeder)
        for number, rating_a in enumerate(loads):
            house.circuit(panel, f"Load {number}", rating_a=rating_a)
        made = []
        for number, (kind, va, rating_a) in enumerate(kinds):
            made.append(house.fixture(room, kind, va=va, volts=240))
            box = house.box(room, wall=1, at_in=12 * (number + 1), height_in=48)
            house.device(box, DeviceKind.HARDWIRED, fixture_id=made[-1])
            circuit = house.circuit(panel, f"Source {number}", rating_a=rating_a, poles=2, volts=240)
            house.cable(panel, box, circuit)
        return Ref("fixture", made[0])

    return build


def solar(va: Any = 7680, rating_a: int | None = 40, **more: Any) -> House:
    return sources(("solar array", va, rating_a), **more)


CASES = [
    Case(RATING, "clear - exactly: 32 A on 40 A", solar(7680), "enough"),
    Case(RATING, "clear - just under", solar(7679), "enough"),
    Case(RATING, "correction - just over", solar(7681), "too-small"),
    Case(RATING, "correction - a battery of 24 A on 25 A", sources(("energy storage", 5760, 25)), "too-small"),
    Case(RATING, "unseen - the output is not recorded", solar(None), "not-recorded"),
    Case(RATING, "unseen - no circuit", SOLAR, "not-recorded"),
    Case(RATING, "outside - an air conditioner", OTHER["an air conditioner"], "other-kind"),
    Case(BUSBAR, "clear - exactly 240 A on busbars of 200 A", solar(7680), "carries", source=BUS),
    Case(BUSBAR, "clear - just under", solar(7679), "carries", source=BUS),
    Case(BUSBAR, "correction - just over", solar(7681), "too-much", source=BUS),
    Case(BUSBAR, "correction - 60 A on a full 200 A panel", solar(11520, 60), "too-much", source=BUS),
    Case(BUSBAR, "clear - the same with a main of 175 A", solar(11520, 60, main_a=175), "carries", source=BUS),
    Case(BUSBAR, "clear - the same on busbars of 225 A", solar(11520, 60, bus_a=225), "carries", source=BUS),
    Case(BUSBAR, "correction - a battery in the same panel counts too", sources(("solar array", 7680, 40), ("energy storage", 240, 15)), "too-much", source=BUS),
    Case(BUSBAR, "clear - all breakers together are within the rating, exactly", solar(11520, 60, loads=(100, 40)), "breakers-fit", source=SUM),
    Case(BUSBAR, "correction - all breakers together just over it", solar(11520, 60, loads=(100, 41)), "too-much", source=SUM),
    Case(BUSBAR, "clear - in a subpanel against its feeder", solar(5760, 30, sub=50, bus_a=100), "carries", source=BUS),
    Case(BUSBAR, "correction - in a subpanel with a large feeder", solar(5760, 30, sub=100, bus_a=100), "too-much", source=BUS),
    Case(BUSBAR, "clear - somebody saw the power control", seen(solar(11520, 60), BUSBAR, Answer.RIGHT), "looked-right"),
    Case(BUSBAR, "correction - somebody found it wrong", seen(solar(), BUSBAR, Answer.WRONG), "looked-wrong"),
    Case(BUSBAR, "outside - it is connected ahead of the main", seen(solar(11520, 60), BUSBAR, Answer.NOT_HERE), "not-here"),
    Case(BUSBAR, "unseen - the busbars are not recorded", solar(bus_a=None), "not-recorded"),
    Case(BUSBAR, "unseen - the main is not recorded", solar(main_a=None), "not-recorded"),
    Case(BUSBAR, "unseen - the output is not recorded", solar(None), "not-recorded"),
    Case(BUSBAR, "unseen - a breaker is not recorded where their sum decides", solar(11520, 60, loads=(100, None)), "not-recorded"),
    Case(BUSBAR, "unseen - no circuit", BATTERY, "not-recorded"),
    Case(BUSBAR, "outside - an air conditioner", OTHER["an air conditioner"], "other-kind"),
    *looks(
        SOLAR, "solar-disconnect", "solar-utility-disconnect", "solar-inverter-disconnect", "solar-inverter-place",
        "solar-rapid-shutdown", "solar-rapid-shutdown-label", "solar-dc-label", "solar-ac-label",
        "solar-arc-and-ground-fault", outside=OTHER | {"a battery": BATTERY},
    ),
    *looks(BATTERY, "source-breaker-end", "source-supply-side", outside=OTHER),
    *looks(a_job(fixture="solar array"), "power-sources-plaque", outside={"neither is recorded": a_job()}),
    *measure_cases(LABELS, SOLAR, "10'", least=False, source="690.31, from memory", outside=OTHER),
]  # fmt: skip
