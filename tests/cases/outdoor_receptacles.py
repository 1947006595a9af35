"""Cases for receptacles outdoors and at decks: 210.52(E)."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import Case, House
from tests.cases.houses import a_room

SIDES, DECK = "outdoor-receptacles", "deck-receptacle"
EX = "210.52(E)(1) question (learn8)"
JADE = "Balconies, decks and porches (JADE Learning)"


def sides(*places: tuple[str, Any], **device: Any) -> House:
    """Places outdoors by name, each with a receptacle at a height (None: none there)."""

    def build(house: HouseBuilder) -> Ref:
        for name, height in places:
            room = house.room("outdoors", name, length_in=240, width_in=120)
            if height is not None:
                house.receptacle(
                    house.box(room, wall=1, at_in=24, height_in=None if height == "?" else height), **device
                )
        return Ref("job", house.site.id)

    return build


def deck(height: Any, *, box: bool = True) -> House:
    def build(house: HouseBuilder) -> Ref:
        room = house.room("deck", length_in=144, width_in=120)
        if box:
            house.luminaire(house.box(room, wall=1, at_in=12))
        if height is not None:
            house.receptacle(house.box(room, wall=1, at_in=24, height_in=None if height == "?" else height))
        return Ref("room", room)

    return build


def with_deck(house: HouseBuilder) -> Ref:
    ref = sides(("Front", 18))(house)
    deck(18)(house)
    return ref


CASES = [
    Case(SIDES, "clear - front and back", sides(("Front", 18), ("Back yard", 18)), "both", source=EX),
    Case(SIDES, "clear - exactly 6 ft 6 in above grade", sides(("Front", 78), ("Rear", 18)), "both", source=EX),
    Case(SIDES, "correction - just higher", sides(("Front", "78 1/64"), ("Rear", 18)), "short", source=EX),
    Case(SIDES, "correction - none at the back", sides(("Front", 18), ("Back", None)), "short", source=EX),
    Case(SIDES, "correction - nobody on the ground can reach it", sides(("Front", 18), ("Back", 18), readily_accessible=False), "short"),
    Case(SIDES, "unseen - which side of the house", sides(("Front", 18), ("Outdoors", 18)), "side-not-recorded"),
    Case(SIDES, "unseen - its height", sides(("Front", 18), ("Back", "?")), "fact-missing"),
    Case(SIDES, "unseen - no place outdoors", sides(), "no-outdoors"),
    Case(SIDES, "inspector - at the back only the one on the deck", with_deck, "deck-only"),
    Case(DECK, "clear - one", deck(18), "has", source=JADE),
    Case(DECK, "clear - exactly 6 ft 6 in above the deck", deck(78), "has", source=JADE),
    Case(DECK, "correction - just higher", deck("78 1/64"), "short", source=JADE),
    Case(DECK, "correction - none", deck(None), "short", source=JADE),
    Case(DECK, "unseen - its height", deck("?"), "fact-missing"),
    Case(DECK, "unseen - nothing recorded", a_room("deck"), "nothing-recorded"),
    Case(DECK, "outside - a bedroom", a_room("bedroom"), "other-room"),
]  # fmt: skip
