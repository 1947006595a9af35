"""Cases for small-appliance circuits: 210.11(C)(1), 210.52(B)."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import CircuitPurpose, DeviceKind, Ref
from tests.cases.case import Case, House
from tests.cases.houses import a_room

COUNTER, ROOM, ONLY = "counter-circuits", "small-appliance-receptacles", "small-appliance-only"
LIFE = "Required branch circuits of a dwelling (forum answer quoting 210.11(C))"
EXAM = "P075; small-appliance circuit permitted loads (Examzify)"
SMALL, GENERAL = CircuitPurpose.SMALL_APPLIANCE, CircuitPurpose.GENERAL


def kitchen(
    *circuits: CircuitPurpose | None, about: str = "room", rating_a: int = 20, extra: dict[str, Any] | None = None,
    room: str = "kitchen", **receptacle: Any,
) -> House:  # fmt: skip
    """A kitchen with a counter receptacle on each circuit; ``extra`` is one more outlet on the first one."""

    def build(house: HouseBuilder) -> Ref:
        room_id = house.room(room, length_in=144, width_in=120)
        counter = house.counter(room_id, "wall", 96, 25, wall=1, from_in=0)
        panel = house.panel()
        made = []
        for number, purpose in enumerate(circuits):
            box = house.box(room_id, wall=1, at_in=12 + 24 * number, height_in=42, counter_id=counter)
            house.receptacle(box, configuration="5-20", **receptacle)
            if purpose is None:
                continue
            made.append(
                house.circuit(
                    panel, f"Counter {number}", rating_a=rating_a, conductor_awg="12", purpose=purpose
                )
            )
            house.home_run(made[-1], box)
        if extra is not None:
            given = {"room": "kitchen", "kind": DeviceKind.RECEPTACLE} | extra
            kind, where = given.pop("kind"), given.pop("room")
            other = room_id if where == "kitchen" else house.room(where, length_in=96, width_in=96)
            box = house.box(other, wall=2, at_in=12, height_in=16)
            house.device(box, kind, circuit_id=made[0], **given)
            house.cable(panel, box, made[0])
        return Ref("circuit", made[0]) if about == "circuit" else Ref("room", room_id)

    return build


def only(**extra: Any) -> House:
    return kitchen(SMALL, about="circuit", extra=extra)


CASES = [
    Case(COUNTER, "clear - exactly two circuits", kitchen(SMALL, SMALL), "enough", source=LIFE),
    Case(COUNTER, "clear - three", kitchen(SMALL, SMALL, SMALL), "enough"),
    Case(COUNTER, "correction - one", kitchen(SMALL), "too-few", source=LIFE),
    Case(COUNTER, "correction - two of 15 A", kitchen(SMALL, SMALL, rating_a=15), "too-few", source=LIFE),
    Case(COUNTER, "correction - one of the two is a general circuit", kitchen(SMALL, GENERAL), "too-few"),
    Case(COUNTER, "unseen - the second circuit is not recorded", kitchen(SMALL, None), "circuit-not-recorded"),
    Case(COUNTER, "unseen - no counter receptacle", a_room("kitchen"), "no-counter"),
    Case(COUNTER, "outside - a bedroom", a_room("bedroom"), "other-room"),
    Case(ROOM, "clear - all on small-appliance circuits", kitchen(SMALL, SMALL), "all"),
    Case(ROOM, "correction - one on a general circuit", kitchen(SMALL, GENERAL), "not-on-one"),
    Case(ROOM, "correction - a dining room on a general circuit", kitchen(GENERAL, room="dining room"), "not-on-one"),
    Case(ROOM, "clear - an appliance with a circuit of its own", kitchen(GENERAL, dedicated=True, serves="refrigerator"), "all"),
    Case(ROOM, "correction - a small-appliance circuit of 15 A", kitchen(SMALL, rating_a=15), "wrong-rating"),
    Case(ROOM, "unseen - no circuit is recorded", kitchen(None), "circuit-not-recorded"),
    Case(ROOM, "unseen - no receptacle yet", a_room("pantry"), "nothing-recorded"),
    Case(ROOM, "outside - a bedroom", a_room("bedroom"), "other-room"),
    Case(ONLY, "clear - counter receptacles only", kitchen(SMALL, about="circuit"), "only"),
    Case(ONLY, "clear - a clock", only(serves="clock"), "only", source=EXAM),
    Case(ONLY, "clear - a gas range's light and ignition", only(serves="gas range"), "only", source=EXAM),
    Case(ONLY, "clear - the refrigerator", only(serves="refrigerator"), "only", source=EXAM),
    Case(ONLY, "clear - a dining room receptacle", only(room="dining room"), "only"),
    Case(ONLY, "correction - an electric range", only(serves="range"), "other-outlet", source=EXAM),
    Case(ONLY, "correction - a washer", only(serves="washer"), "other-outlet", source=EXAM),
    Case(ONLY, "correction - a light", only(kind=DeviceKind.LUMINAIRE), "other-outlet"),
    Case(ONLY, "correction - a bedroom receptacle", only(room="bedroom"), "other-outlet"),
    Case(ONLY, "unseen - nothing on it yet", lambda house: empty(house), "nothing-recorded"),
    Case(ONLY, "outside - a general circuit", kitchen(GENERAL, about="circuit"), "other-circuit"),
]  # fmt: skip


def empty(house: HouseBuilder) -> Ref:
    """A small-appliance circuit with nothing on it."""
    return Ref("circuit", house.circuit(house.panel(), "Counter", purpose=SMALL))


def two_kitchens(house: HouseBuilder) -> Ref:
    ref = kitchen(SMALL, about="circuit")(house)
    other = house.room("kitchen", "Summer kitchen", length_in=96, width_in=96)
    box = house.box(other, wall=1, at_in=24, height_in=42)
    house.receptacle(box)
    house.cable(house.facts().boxes[0].id, box, ref.id)
    return ref


CASES.append(Case(ONLY, "correction - two kitchens on one circuit", two_kitchens, "two-kitchens"))


def gas(kind: str, *, fuel_burning: bool = True) -> House:
    """The receptacle of a range that is recorded as burning gas, or not."""

    def build(house: HouseBuilder) -> Ref:
        ref = only(serves="range")(house)
        room = house.facts().rooms[0].id
        made = house.fixture(room, kind, fuel_burning=fuel_burning)
        house.change(next(d.id for d in house.facts().devices if d.serves == "range"), fixture_id=made)
        return ref

    return build


CASES += [
    Case(ONLY, "clear - a range that burns gas", gas("range"), "only", source=EXAM),
    Case(ONLY, "correction - an electric one", gas("range", fuel_burning=False), "other-outlet", source=EXAM),
]
