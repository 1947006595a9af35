"""Cases for grounds at receptacles: 250.140, 406.4(A), 250.118."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Breaker, DeviceKind, Ref, WorkKind
from tests.cases.case import Case, House

CONTACT, BROUGHT = "receptacle-has-ground", "ground-brought"
REPL = "Receptacle replacement requirements (IAEI Magazine)"


def device(
    configuration: str | None = "5-15",
    *,
    kind: DeviceKind = DeviceKind.RECEPTACLE,
    work: WorkKind = WorkKind.NEW,
    wired: bool = True,
    **cable: Any,
) -> House:
    def build(house: HouseBuilder) -> Ref:
        house.site = HouseBuilder(work=work).site
        room = house.room("laundry", length_in=96, width_in=96)
        box = house.box(room, wall=1, at_in=24)
        made = house.device(box, kind, configuration=configuration)
        if wired:
            house.home_run(house.circuit(house.panel(), "Circuit"), box, **cable)
        return Ref("device", made)

    return build


CASES = [
    *(Case(CONTACT, f"clear - a {name}", device(name), "has-one") for name in ("5-15", "5-20", "14-30", "14-50", "6-20")),
    *(Case(CONTACT, f"correction - a {name}", device(name), "without") for name in ("1-15", "10-30", "10-50")),
    Case(CONTACT, "outside - replaced on an old circuit", device("10-30", work=WorkKind.REPLACEMENT), "old-circuit", source=REPL),
    Case(CONTACT, "unseen - its kind is not recorded", device(None), "not-recorded"),
    Case(CONTACT, "outside - a switch", device(None, kind=DeviceKind.SWITCH), "no-receptacle"),
    Case(BROUGHT, "clear - a cable with ground", device(), "brought"),
    Case(BROUGHT, "correction - a cable without", device(has_ground=False), "missing"),
    Case(BROUGHT, "unseen - no cable", device(wired=False), "no-cable"),
    Case(BROUGHT, "outside - a switch", device(kind=DeviceKind.SWITCH), "no-need"),
]  # fmt: skip


def replaced(configuration: str = "5-15", *, gfci: bool = False, breaker: str = "standard") -> House:
    def build(house: HouseBuilder) -> Ref:
        ref = device(configuration, work=WorkKind.REPLACEMENT, has_ground=False)(house)
        house.change(ref.id, gfci=gfci)
        house.change(house.facts().circuits[0].id, breaker=Breaker(breaker))
        return ref

    return build


CASES += [
    Case(
        BROUGHT,
        "correction - replaced by one with three slots and nothing else",
        replaced(),
        "replaced-bare",
        source=REPL,
    ),
    Case(BROUGHT, "clear - replaced by a GFCI", replaced(gfci=True), "gfci-instead", source=REPL),
    Case(
        BROUGHT, "clear - replaced on a GFCI breaker", replaced(breaker="GFCI"), "gfci-instead", source=REPL
    ),
    Case(BROUGHT, "clear - replaced by one with two slots", replaced("1-15"), "two-slot", source=REPL),
    Case(
        BROUGHT,
        "clear - replaced where a ground comes",
        device(work=WorkKind.REPLACEMENT),
        "brought",
        source=REPL,
    ),
]


def armored(house: HouseBuilder) -> Ref:
    ref = device(has_ground=False)(house)
    house.change(house.facts().cables[0].id, kind="ac")
    return ref


CASES.append(Case(BROUGHT, "clear - armor counts as the ground", armored, "brought"))
