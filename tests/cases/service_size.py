"""Cases for the rating of the service: 230.79, 230.42, 310.12, 220.82, 408.36."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Ref, WorkKind
from tests.cases.case import Case, House, seen
from tests.cases.whole_jobs import a_job, a_panel, a_subpanel

__all__ = ["CASES", "sized_cases"]

SIZE, LOAD, CONDUCTORS, BUS = (
    "service-size",
    "service-carries-load",
    "service-conductor-size",
    "panel-protected",
)
FM_230 = "Minimum service size (quotes 230.79, Mike Holt Forums)"
BY_HAND = "45,000 VA: 10,000 + 40 % of 35,000 = 24,000 VA, 100 A at 240 V (reckoned by hand after 220.82)"
TABLE_12 = "Table 310.12 (83 %): 200 A takes 2/0 copper or 4/0 aluminum (reference tables)"
BEFORE_2026 = (2017, 2020, 2023)
APPLIANCES: tuple[tuple[str, Any], ...] = (
    ("range", 12000), ("dryer", 6000), ("water heater", 4500), ("hot tub", 13500),
)  # fmt: skip


def with_main(main_a: int | None, *more: int) -> House:
    def build(house: HouseBuilder) -> Ref:
        house.panel("Panel A", main_a=main_a)
        for rating in more:
            house.panel("Panel B", is_service=True, main_a=rating)
        return Ref("job", house.site.id)

    return build


def loaded(
    main_a: int = 100, *, area: int | None = 1500, more: tuple[tuple[str, Any], ...] = (), without: str = ""
) -> House:
    """A house of 1,500 ft² with the appliances, 45,000 VA connected."""

    def build(house: HouseBuilder) -> Ref:
        house.site = HouseBuilder(work=WorkKind.NEW, floor_area_ft2=area).site
        room = house.room("kitchen", length_in=144, width_in=120)
        for kind, va in (*APPLIANCES, *more):
            house.fixture(room, kind, va=None if kind == without else va)
        house.panel(main_a=main_a)
        return Ref("job", house.site.id)

    return build


def fed_by(awg: str, material: str = "copper", main_a: int = 200) -> House:
    """A service panel with its service conductors recorded."""

    def build(house: HouseBuilder) -> Ref:
        panel = house.panel(main_a=main_a)
        made = house.cable(
            panel,
            house.box(house.room("garage"), at_in=12),
            awg=awg,
            insulated=2,
            kind="se",
            material=material,
        )
        house.change(made, b_box_id=None)
        return Ref("job", house.site.id)

    return build


def sized_cases(rule: str) -> list[Case]:
    """The cases of a look that says the sizes it waits for."""
    job = with_main(200)
    return [
        Case(rule, "unseen - nobody has looked", job, "not-looked"),
        Case(rule, "clear - somebody found it right", seen(job, rule, Answer.RIGHT), "seen-right"),
        Case(rule, "correction - somebody found it wrong", seen(job, rule, Answer.WRONG), "seen-wrong"),
        Case(rule, "outside - there is none", seen(job, rule, Answer.NOT_HERE), "not-here"),
        Case(rule, "unseen - no service panel", a_job(), "fact-missing"),
        Case(rule, "unseen - its rating is not recorded", with_main(None), "fact-missing"),
    ]


CASES = [
    Case(SIZE, "clear - exactly 100 A", with_main(100), "enough", source=FM_230),
    Case(SIZE, "correction - just under: 90 A", with_main(90), "too-small", source=FM_230),
    Case(SIZE, "clear - just over: 110 A", with_main(110), "enough", source=FM_230),
    Case(SIZE, "clear - two of 60 A", with_main(60, 60), "enough"),
    Case(SIZE, "unseen - no panel is recorded", a_job(), "not-recorded"),
    Case(SIZE, "unseen - the rating is not recorded", with_main(None), "not-recorded"),
    Case(LOAD, "clear - exactly 100 A", loaded(), "carries", BEFORE_2026, BY_HAND),
    Case(LOAD, "clear - just under", loaded(area=1499), "carries", BEFORE_2026, BY_HAND),
    Case(LOAD, "correction - just over: 300 VA more round up to 101 A", loaded(more=(("disposer", 300),)), "overloaded", BEFORE_2026, BY_HAND),
    Case(LOAD, "clear - 299 VA more are 100.498 A, 100 A", loaded(more=(("disposer", 299),)), "carries", BEFORE_2026, BY_HAND),
    Case(LOAD, "correction - on 90 A", loaded(90), "overloaded", BEFORE_2026),
    Case(LOAD, "clear - on 200 A in every edition", loaded(200), "carries"),
    Case(LOAD, "correction - a large charger on 100 A", loaded(more=(("EV charger", 11520),)), "overloaded"),
    Case(LOAD, "unseen - the floor area is not recorded", loaded(area=None), "not-recorded"),
    Case(LOAD, "unseen - the range's nameplate is not recorded", loaded(without="range"), "not-recorded"),
    Case(LOAD, "unseen - no panel is recorded", a_job(), "not-recorded"),
    *sized_cases(CONDUCTORS),
    Case(CONDUCTORS, "clear - 2/0 copper, exactly", fed_by("2/0"), "recorded-enough", source=TABLE_12),
    Case(CONDUCTORS, "correction - just under: 1/0 copper", fed_by("1/0"), "recorded-short", source=TABLE_12),
    Case(CONDUCTORS, "clear - just over: 3/0 copper", fed_by("3/0"), "recorded-enough"),
    Case(CONDUCTORS, "clear - 4/0 aluminum, exactly", fed_by("4/0", "aluminum"), "recorded-enough", source=TABLE_12),
    Case(CONDUCTORS, "correction - just under: 3/0 aluminum", fed_by("3/0", "aluminum"), "recorded-short", source=TABLE_12),
    Case(CONDUCTORS, "unseen - a size that does not exist", fed_by("11"), "fact-missing"),
    Case(BUS, "clear - exactly: 200 A on 200 A", a_panel(bus_a=200, main_a=200), "protected"),
    Case(BUS, "correction - just over", a_panel(bus_a=200, main_a=225), "too-large"),
    Case(BUS, "clear - just under", a_panel(bus_a=200, main_a=175), "protected"),
    Case(BUS, "clear - a subpanel behind its feeder", a_subpanel(feeder={"rating_a": 100}), "protected"),
    Case(BUS, "correction - a feeder larger than the busbars", a_subpanel(feeder={"rating_a": 125}), "too-large"),
    Case(BUS, "clear - its own main protects it", a_subpanel(feeder={"rating_a": 125}, main_a=100), "protected"),
    Case(BUS, "unseen - the busbars are not recorded", a_panel(bus_a=None), "not-recorded"),
    Case(BUS, "unseen - no main is recorded", a_panel(main_a=None), "not-recorded"),
    Case(BUS, "unseen - no feeder is recorded", a_subpanel(), "not-recorded"),
]  # fmt: skip
