"""How a wall that is too long is told: as the tape finds it, with what no cord reaches."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.editions import load_edition
from server.rules.wall_receptacles import wall_receptacle_spacing
from tests.cases.wall_receptacles import along

CODE = load_edition(2023)


def told(*wall: str) -> str:
    """The sentence over a room that is one wall with its receptacles."""
    builder = HouseBuilder()
    along(*wall)(builder)
    house = builder.dwelling()
    room = house.facts.rooms[0]
    return str(wall_receptacle_spacing(room, house, CODE).operands["short"])


def test_between_two_receptacles_the_whole_stretch_and_its_limit_are_told() -> None:
    assert told("26'", "6'", "20'") == (
        "14 ft of wall between receptacles (from 6 ft to 20 ft on wall 1), at most 12 ft: 2 ft of it is out of reach."
    )


def test_before_the_end_of_a_wall_six_feet_are_the_limit() -> None:
    assert told("15'", "6'") == (
        "9 ft of wall from the last receptacle to the end (from 6 ft to 15 ft on wall 1), at most 6 ft: 3 ft of it is out of reach."
    )


def test_a_wall_without_any_is_told_whole() -> None:
    assert told("9'") == "9 ft of wall (from 0 in to 9 ft on wall 1) has no receptacle in reach."
