"""Cases for arc-fault protection in whole houses: 210.12, and every published row that a house can express."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Breaker, DeviceKind, Ref, WorkKind
from tests.cases.case import Case, House
from tests.cases.gfci_locations import arc_fault_device, shared_neutral
from tests.cases.published_rows import published_cases, puzzle_cases

AFCI = "afci-locations"


def device(
    room: str = "bedroom", kind: DeviceKind = DeviceKind.RECEPTACLE, *, also: str = "", work: WorkKind = WorkKind.NEW,
    fed: bool = True, space: dict[str, Any] | None = None, **circuit: Any,
) -> House:  # fmt: skip
    """One device on a circuit; ``also`` is another room with a light on the same circuit."""

    def build(house: HouseBuilder) -> Ref:
        house.site = HouseBuilder(work=work).site
        room_id = house.room(room, length_in=144, width_in=120, **(space or {}))
        circuit_id = house.circuit(house.panel(), "General", **circuit)
        box = house.box(room_id, wall=1, at_in=36, height_in=16)
        made = house.device(box, kind, **({"configuration": "5-15"} if kind is DeviceKind.RECEPTACLE else {}))
        boxes = [box]
        if also:
            boxes.append(house.box(house.room(also, length_in=96, width_in=96), surface="ceiling"))
            house.luminaire(boxes[1])
        if fed:
            house.home_run(circuit_id, *boxes)
        return Ref("device", made)

    return build


def behind_device() -> House:
    def build(house: HouseBuilder) -> Ref:
        arc_fault_device(kind="mc")(house)
        return Ref("device", house.facts().devices[0].id)

    return build


CASES = [
    Case(AFCI, "correction - a bedroom receptacle on an ordinary breaker", device(), "unprotected"),
    Case(AFCI, "clear - on an arc-fault breaker", device(breaker=Breaker.AFCI), "protected"),
    Case(AFCI, "clear - on a breaker with both", device(breaker=Breaker.DUAL), "protected"),
    Case(AFCI, "correction - a GFCI breaker is no AFCI", device(breaker=Breaker.GFCI), "unprotected"),
    Case(AFCI, "correction - a switch counts as a device", device(kind=DeviceKind.SWITCH), "unprotected"),
    Case(AFCI, "correction - a smoke alarm counts as an outlet", device(kind=DeviceKind.SMOKE_ALARM), "unprotected"),
    Case(AFCI, "correction - a garage outlet on a circuit with a closet", device("garage", also="closet"), "unprotected"),
    Case(AFCI, "outside - a garage circuit of its own", device("garage"), "not-needed"),
    Case(AFCI, "outside - 240 V", device(kind=DeviceKind.HARDWIRED, volts=240, poles=2), "not-needed"),
    Case(AFCI, "outside - 30 A", device(rating_a=30), "not-needed"),
    Case(AFCI, "outside - 10 A circuits came in 2023", device(kind=DeviceKind.LUMINAIRE, rating_a=10), "not-needed", (2017, 2020)),
    Case(AFCI, "correction - a 10 A lighting circuit", device(kind=DeviceKind.LUMINAIRE, rating_a=10), "unprotected", (2023, 2026)),
    Case(AFCI, "unseen - no circuit is recorded", device(fed=False), "no-circuit"),
    Case(AFCI, "unseen - the circuit's rating is not recorded", device(rating_a=None, kind=DeviceKind.LUMINAIRE), "fact-missing"),
    Case(AFCI, "unseen - the breaker is not recorded", device(breaker=None), "breaker-not-recorded"),
    Case(AFCI, "unseen - a basement, finished or not", device("basement", space={"finished": None}), "fact-missing"),
    Case(AFCI, "inspector - a pantry", device("pantry"), "inspector"),
    Case(AFCI, "correction - an outlet added to an old circuit", device(work=WorkKind.EXTENSION), "unprotected"),
    Case(AFCI, "clear - an arc-fault receptacle in the first box, in metal", behind_device(), "protected"),
    Case(AFCI, "correction - two single-pole AFCI breakers share a neutral", shared_neutral("AFCI"), "breakers-share"),
    Case(AFCI, "clear - one two-pole AFCI breaker for both", shared_neutral("AFCI", poles=2), "protected"),
    *published_cases(AFCI, "afci_rows.json"),
    *puzzle_cases(AFCI, "afci"),
]  # fmt: skip
