"""Cases for ground-fault protection in whole houses: 210.8, and every published row that a house can express.

The published rows (tests/data/protection/gfci_rows.json) are built as real rooms, boxes and circuits: a published "yes"
must come out as a correction on an ordinary breaker, a "no" as outside.
"""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Answer, Breaker, Ref
from tests.cases.case import Case, House, seen
from tests.cases.published_rows import published_cases, puzzle_cases

GFCI, REACH, WIRED = "gfci-locations", "gfci-within-reach", "protection-wired"


def outlet(
    room: str = "bathroom",
    *,
    breaker: Breaker | None = Breaker.STANDARD,
    ahead: bool = False,
    backwards: bool = False,
    fed: bool = True,
    about: str = "device",
    space: dict[str, Any] | None = None,
    box: dict[str, Any] | None = None,
    **device: Any,
) -> House:
    """A receptacle in a room, behind another one: ``ahead`` makes that one a GFCI with the cable onward on its load
    side, ``backwards`` puts the feed on the load side instead."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(room, length_in=144, width_in=120, **(space or {}))
        circuit = house.circuit(house.panel(), "Baths", rating_a=20, conductor_awg="12", breaker=breaker)
        first = house.box(room_id, wall=1, at_in=12, height_in=44)
        second = house.box(room_id, **({"wall": 1, "at_in": 36, "height_in": 44} | (box or {})))
        guard = house.receptacle(first, gfci=ahead or backwards)
        made = house.receptacle(second, **device)
        if fed:
            feed, onward = house.home_run(circuit, first, second)
            if ahead or backwards:
                house.change(guard, load_cable_ids=(feed,) if backwards else (onward,))
        else:
            house.home_run(circuit, first)
        return {
            "device": Ref("device", made),
            "guard": Ref("device", guard),
            "circuit": Ref("circuit", circuit),
        }[about]

    return build


def by_sink(
    distance: Any = None, *, room: str = "bedroom", at_in: Any = 36, sink: dict[str, Any] | None = None
) -> House:
    """A bedroom receptacle with a sink in the room: taped, or placed on the plan."""

    def build(house: HouseBuilder) -> Ref:
        ref = outlet(room, box={"at_in": at_in, "height_in": 32, "from_sink_in": distance})(house)
        house.fixture(house.facts().rooms[0].id, "sink", **(sink or {}))
        return ref

    return build


def kitchen(at_in: Any, *, height_in: Any = 44) -> House:
    """A kitchen receptacle along a wall with a counter from 4 ft to 8 ft, and no sink in the room."""

    def build(house: HouseBuilder) -> Ref:
        ref = outlet("kitchen", box={"at_in": at_in, "height_in": height_in})(house)
        house.counter(house.facts().rooms[0].id, "wall", 48, 25, wall=1, from_in=48)
        return ref

    return build


def storey(below_grade: bool | None, *, levels: int = 2, order: int = 0) -> House:
    """A bedroom receptacle on the lowest of some storeys (or a higher one)."""

    def build(house: HouseBuilder) -> Ref:
        for number in range(levels):
            house.level(f"Storey {number}", below_grade=below_grade if number == 0 else False)
        lower = house.facts().levels[order].id
        return outlet("bedroom", space={"level_id": lower})(house)

    return build


def guarded(**device: Any) -> House:
    """The GFCI receptacle itself."""

    def build(house: HouseBuilder) -> Ref:
        box = {"surface": device.pop("surface", "wall")} if "surface" in device else {}
        room = house.room("garage", length_in=144, width_in=120)
        made = house.receptacle(house.box(room, **(box or {"wall": 1, "at_in": 36})), gfci=True, **device)
        return Ref("device", made)

    return build


SINK_AT_72 = {"wall": 1, "at_in": 90, "width_in": 12, "depth_in": 16, "out_in": 0}
SINCE_2020, SINCE_2023 = (2020, 2023, 2026), (2023, 2026)
PLAIN_RECEPTACLE = outlet()

CASES = [
    Case(GFCI, "correction - a bathroom receptacle on an ordinary breaker", outlet(), "unprotected"),
    Case(GFCI, "clear - on a GFCI breaker", outlet(breaker=Breaker.GFCI), "protected"),
    Case(GFCI, "clear - on a breaker with both", outlet(breaker=Breaker.DUAL), "protected"),
    Case(GFCI, "correction - an arc-fault breaker is no GFCI", outlet(breaker=Breaker.AFCI), "unprotected"),
    Case(GFCI, "clear - behind a GFCI receptacle", outlet(ahead=True), "protected"),
    Case(GFCI, "clear - the GFCI receptacle itself", outlet(ahead=True, about="guard"), "protected"),
    Case(GFCI, "correction - behind one that is fed backwards", outlet(backwards=True), "unprotected"),
    Case(GFCI, "unseen - the breaker is not recorded", outlet(breaker=None), "breaker-not-recorded"),
    Case(GFCI, "unseen - no cable leads to it", outlet(fed=False), "no-circuit"),
    Case(GFCI, "unseen - its circuit is named and no cable leads to it", outlet(fed=False, circuit_id="circuit-1"), "not-fed"),
    Case(GFCI, "outside - a bedroom", outlet("bedroom"), "not-needed"),
    Case(GFCI, "inspector - a toilet room", outlet("toilet room"), "inspector"),
    Case(GFCI, "clear - a toilet room, protected anyway", outlet("toilet room", ahead=True), "protected-anyway"),
    Case(GFCI, "correction - exactly 6 ft from a sink by the tape", by_sink(72), "unprotected"),
    Case(GFCI, "correction - just under 6 ft", by_sink("71 63/64"), "unprotected"),
    Case(GFCI, "outside - just over 6 ft", by_sink("72 1/64"), "not-needed"),
    Case(GFCI, "unseen - the sink has no place on the plan", by_sink(), "fact-missing"),
    # on the plan: 12 in wide, its left edge at 7 ft; the receptacle stands at rim height
    Case(GFCI, "correction - 5 ft 11 in on the plan", by_sink(at_in=13, sink=SINK_AT_72), "unprotected"),
    Case(GFCI, "unseen - 6 ft on the plan, and the rim's height decides", by_sink(at_in=12, sink=SINK_AT_72), "fact-missing"),
    Case(GFCI, "outside - just over 6 ft on the plan", by_sink(at_in="11 15/16", sink=SINK_AT_72), "not-needed"),
    Case(GFCI, "unseen - sizes that nobody took decide", by_sink(at_in=18, sink={"wall": 1, "at_in": 95}), "fact-missing"),
    Case(GFCI, "correction - a kitchen receptacle over the counter", kitchen(60), "unprotected"),
    Case(GFCI, "outside - a kitchen wall away from the counter", kitchen(24), "not-needed", (2017, 2020)),
    Case(GFCI, "correction - every kitchen receptacle", kitchen(24), "unprotected", SINCE_2023),
    Case(GFCI, "outside - below the counter", kitchen(60, height_in=16), "not-needed", (2017, 2020)),
    Case(GFCI, "unseen - over the counter or not, its height is not recorded", kitchen(60, height_in=None), "fact-missing", (2017, 2020)),
    Case(GFCI, "unseen - a storey that may be a basement", storey(None), "basement-not-recorded", SINCE_2020),
    Case(GFCI, "outside - 2017 asks only of unfinished basements", storey(None), "not-needed", (2017,)),
    Case(GFCI, "correction - a finished bedroom in the basement", storey(True), "unprotected", SINCE_2020),
    Case(GFCI, "outside - above grade", storey(False), "not-needed"),
    Case(GFCI, "outside - a house of one storey", storey(None, levels=1), "not-needed"),
    Case(GFCI, "outside - an upper storey", storey(None, order=1), "not-needed"),
    *published_cases(GFCI, "gfci_rows.json"),
    *puzzle_cases(GFCI, "gfci"),
    Case(REACH, "clear - recorded as reachable", guarded(readily_accessible=True), "reachable"),
    Case(REACH, "correction - recorded as not", guarded(readily_accessible=False), "not-reachable"),
    Case(REACH, "correction - in the ceiling", guarded(surface="ceiling"), "in-ceiling"),
    Case(REACH, "unseen - nobody looked", guarded(), "not-looked"),
    Case(REACH, "clear - somebody reached it", seen(guarded(), REACH, Answer.RIGHT), "looked-right"),
    Case(REACH, "correction - somebody could not", seen(guarded(), REACH, Answer.WRONG), "looked-wrong"),
    Case(REACH, "outside - an ordinary receptacle", outlet(), "no-gfci"),
    Case(WIRED, "clear - a GFCI breaker", outlet(breaker=Breaker.GFCI, about="circuit"), "wired"),
    Case(WIRED, "clear - a GFCI receptacle ahead", outlet(ahead=True, about="circuit"), "wired"),
    Case(WIRED, "correction - line and load exchanged", outlet(backwards=True, about="circuit"), "problem"),
    Case(WIRED, "outside - nothing protects", outlet(about="circuit"), "no-device"),
]  # fmt: skip


def arc_fault_device(*, kind: str, material: str = "metal") -> House:
    """An arc-fault receptacle in the first box, its home run in a raceway or cable."""

    def build(house: HouseBuilder) -> Ref:
        room = house.room("bedroom", length_in=144, width_in=120)
        circuit = house.circuit(house.panel(), "Bedroom")
        box = house.box(room, wall=1, at_in=36, material=material)
        house.receptacle(box, afci=True)
        house.home_run(circuit, box, kind=kind)
        return Ref("circuit", circuit)

    return build


CASES += [
    Case(WIRED, "clear - an arc-fault receptacle at the end of metal-clad cable and a metal box", arc_fault_device(kind="mc"), "wired"),
    Case(WIRED, "correction - at the end of NM cable it does not count", arc_fault_device(kind="nm-b"), "problem"),
    Case(WIRED, "unseen - in a raceway of which nobody said what it is", arc_fault_device(kind="raceway"), "not-settled"),
    Case(WIRED, "clear - somebody saw that it is metal", seen(arc_fault_device(kind="raceway"), WIRED, Answer.RIGHT), "looked-right"),
    Case(WIRED, "correction - somebody saw plastic", seen(arc_fault_device(kind="raceway"), WIRED, Answer.WRONG), "looked-wrong"),
]  # fmt: skip


def shared_neutral(breaker: str, *, poles: int = 1, room: str = "bedroom") -> House:
    """Two receptacles on two circuits that share a neutral, each on a protecting breaker of its own or both on one."""

    def build(house: HouseBuilder) -> Ref:
        place = house.room(room, length_in=144, width_in=120)
        panel = house.panel()
        first, second = (house.box(place, wall=1, at_in=at, height_in=44) for at in (20, 90))
        a = house.circuit(panel, "A", breaker=breaker, poles=poles, spaces=(1,), handle_tied=True)
        b = house.circuit(
            panel, "B", breaker=breaker, poles=poles, spaces=(3,), handle_tied=True, multiwire_with=a
        )
        house.change(a, multiwire_with=b)
        made = house.receptacle(first, circuit_id=a)
        house.receptacle(second, circuit_id=b)
        house.cable(panel, first, a, b, insulated=3)
        house.cable(first, second, b)
        return Ref("device", made)

    return build


def range_outlet(house: HouseBuilder) -> Ref:
    """A range's receptacle on an ordinary two-pole breaker."""
    room = house.room("kitchen", length_in=144, width_in=120)
    box = house.box(room, wall=1, at_in=36, height_in=6, from_sink_in=30)
    made = house.receptacle(box, configuration="14-50", receptacles=1, serves="range", dedicated=True)
    circuit = house.circuit(house.panel(), "Range", rating_a=50, conductor_awg="6", poles=2, volts=240)
    house.home_run(circuit, box, insulated=3)
    return Ref("device", made)


CASES += [
    Case(GFCI, "correction - two single-pole GFCI breakers share a neutral", shared_neutral("GFCI", room="garage"), "breakers-share"),
    Case(GFCI, "clear - one two-pole GFCI breaker for both", shared_neutral("GFCI", poles=2, room="garage"), "protected"),
    Case(GFCI, "correction - two ordinary ones", shared_neutral("standard", room="garage"), "unprotected"),
    Case(GFCI, "correction - a range's receptacle within 6 ft of the sink", range_outlet, "unprotected", SINCE_2020),
]  # fmt: skip
