"""The shopping list: counted from the facts, lengths added with their allowance, nothing guessed between rooms."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.readiness.shopping import shopping_list


def test_an_empty_house_has_nothing_to_buy() -> None:
    assert shopping_list(HouseBuilder().dwelling()).empty


def test_boxes_devices_and_breakers_are_counted_by_kind() -> None:
    house = HouseBuilder()
    room = house.room("bedroom", length_in=144, width_in=120)
    circuit = house.circuit(house.panel(), "Bedroom", breaker="AFCI")
    boxes = [house.box(room, wall=1, at_in=12 * n, height_in=16) for n in range(1, 4)]
    for box in boxes:
        house.receptacle(box)
    house.home_run(circuit, *boxes)

    found = shopping_list(house.dwelling())

    assert [(item.what, item.count) for item in found.boxes] == [("one-gang plastic box, 20.3 in³", 3)]
    assert [(item.what, item.count) for item in found.devices] == [
        ("duplex receptacle 5-15, tamper-resistant", 3)
    ]
    assert [(item.what, item.count) for item in found.breakers] == [("1-pole 15 A AFCI breaker", 1)]


def test_entered_lengths_are_added_with_a_seventh_more() -> None:
    house = HouseBuilder()
    room = house.room("bedroom", length_in=144, width_in=120)
    circuit = house.circuit(house.panel(), "Bedroom")
    house.home_run(circuit, house.box(room, wall=1, at_in=12, height_in=16), length_ft=100)

    (cable,) = shopping_list(house.dwelling()).cable

    assert (cable.feet, cable.runs, cable.estimated, cable.unknown) == (115, 1, 0, 0)


def test_the_way_between_two_boxes_of_a_room_goes_around_the_shorter_side() -> None:
    """From 12 in on wall 1 to 12 in before the end of wall 4: 24 in around the corner, not 504 the other way."""
    house = HouseBuilder()
    room = house.room("bedroom", length_in=144, width_in=120)
    circuit = house.circuit(house.panel(), "Bedroom")
    a, b = house.box(room, wall=1, at_in=12, height_in=16), house.box(room, wall=4, at_in=108, height_in=40)
    house.cable(a, b, circuit)

    (cable,) = shopping_list(house.dwelling()).cable

    assert cable.estimated == 1
    assert cable.feet == 7  # (24 along + 24 up + 24 at the boxes) / 12 x 1.15 = 6.9


def test_a_run_between_rooms_without_a_length_is_named_and_not_guessed() -> None:
    house = HouseBuilder()
    rooms = [house.room("bedroom", length_in=144, width_in=120) for _ in range(2)]
    circuit = house.circuit(house.panel(), "Bedroom")
    a, b = (house.box(room, wall=1, at_in=12, height_in=16) for room in rooms)
    house.cable(a, b, circuit)

    (cable,) = shopping_list(house.dwelling()).cable

    assert (cable.feet, cable.unknown) == (0, 1)
