"""Cases for the circuits of laundry, bathroom and garage: 210.11(C)(2) to (4)."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import DeviceKind, Ref
from tests.cases.case import Case, House
from tests.cases.houses import a_room, wired_room

LIFE = "Required branch circuits of a dwelling (forum answer quoting 210.11(C))"
STEWART = "P073; bathroom circuit puzzle (Stewart Electric)"
LAUNDRY, BATH, GARAGE = "laundry-circuit", "bathroom-circuit", "garage-circuit"


def room(
    kind: str,
    *,
    rating_a: int | None = 20,
    wired: bool = True,
    others: tuple[tuple[str, DeviceKind], ...] = (),
) -> House:
    """A room with a receptacle on a circuit; ``others`` are rooms and devices that hang on the same circuit."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(kind, length_in=144, width_in=120)
        circuit = house.circuit(house.panel(), kind.capitalize(), rating_a=rating_a, conductor_awg="12")
        box = house.box(room_id, wall=1, at_in=36, height_in=44)
        house.receptacle(box, configuration="5-20")
        boxes = [box] if wired else []
        for where, device in others:
            other = room_id if where == "here" else house.room(where, length_in=96, width_in=96)
            boxes.append(house.box(other, wall=2, at_in=12, height_in=44))
            house.device(boxes[-1], device)
        house.home_run(circuit, *boxes)
        return Ref("room", room_id)

    return build


RECEPTACLE, LIGHT, FAN = DeviceKind.RECEPTACLE, DeviceKind.LUMINAIRE, DeviceKind.EXHAUST_FAN


def common(rule: str, kind: str) -> list[Case]:
    return [
        Case(rule, "clear - 20 A and alone", room(kind), "own", source=LIFE),
        Case(rule, "correction - 15 A", room(kind, rating_a=15), "too-small", source=LIFE),
        Case(rule, "correction - 30 A", room(kind, rating_a=30), "too-small"),
        Case(rule, "correction - with a bedroom receptacle", room(kind, others=(("bedroom", RECEPTACLE),)), "shared", source=LIFE),
        Case(rule, "unseen - the rating is not recorded", room(kind, rating_a=None), "rating-not-recorded"),
        Case(rule, "unseen - the circuit is not recorded", room(kind, wired=False), "circuit-not-recorded"),
        Case(rule, "unseen - no receptacle yet", a_room(kind), "nothing-recorded"),
        Case(rule, "outside - a bedroom", wired_room(), "other-room"),
    ]  # fmt: skip


CASES = [
    *common(LAUNDRY, "laundry"),
    Case(LAUNDRY, "correction - with the laundry's own light", room("laundry", others=(("here", LIGHT),)), "shared", source=LIFE),
    Case(LAUNDRY, "clear - with a second laundry receptacle", room("laundry", others=(("here", RECEPTACLE),)), "own"),
    *common(BATH, "bathroom"),
    Case(BATH, "clear - with the receptacle of another bathroom", room("bathroom", others=(("bathroom", RECEPTACLE),)), "own", source=LIFE),
    Case(BATH, "clear - with the fan and light of this bathroom alone", room("bathroom", others=(("here", FAN), ("here", LIGHT))), "own", source=STEWART),
    Case(BATH, "correction - two bathrooms and the fan of one", room("bathroom", others=(("here", FAN), ("bathroom", RECEPTACLE))), "shared", source=STEWART),
    Case(BATH, "correction - with the hall light", room("bathroom", others=(("hallway", LIGHT),)), "shared", source=STEWART),
    *common(GARAGE, "garage"),
    Case(GARAGE, "clear - with an outdoor receptacle", room("garage", others=(("outdoors", RECEPTACLE),)), "own", source=LIFE),
    Case(GARAGE, "correction - with the garage light", room("garage", others=(("here", LIGHT),)), "shared", source=LIFE),
    Case(GARAGE, "correction - with an outdoor light", room("garage", others=(("outdoors", LIGHT),)), "shared"),
]  # fmt: skip


def second_is_right(house: HouseBuilder) -> Ref:
    """A garage with a shared circuit and, for another receptacle, one of its own."""
    ref = room("garage", others=(("bedroom", RECEPTACLE),))(house)
    box = house.box(ref.id, wall=3, at_in=36)
    house.receptacle(box)
    house.home_run(
        house.circuit(house.facts().panels[0].id, "Garage 2", rating_a=20, conductor_awg="12"), box
    )
    return ref


def opener_alone(house: HouseBuilder) -> Ref:
    """A shared receptacle circuit, and the door opener's receptacle alone on a good one: that one does not count."""
    ref = second_is_right(house)
    last = house.facts().devices[-1]
    house.change(last.id, serves="garage door opener", dedicated=True)
    return ref


CASES.append(Case(GARAGE, "correction - only the opener's circuit is its own", opener_alone, "shared"))
CASES.append(Case(GARAGE, "clear - one of two circuits is its own", second_is_right, "own"))
