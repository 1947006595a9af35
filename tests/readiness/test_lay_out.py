"""Laying out a room: what is proposed meets the edition, stands inside the room, and says what was assumed."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from server.dwelling import DeviceKind, Dwelling, Facts, Level, Room, RoomKind, Site, SwitchWays
from server.editions import YEARS, load_edition
from server.readiness.lay_out import Proposal, lay_out_room
from server.reckon import wall_layout
from server.reckon.wall_spacing import reckon_wall_spacing, room_rule


def numbered() -> Callable[[str], str]:
    count = 0

    def new_id(kind: str) -> str:
        nonlocal count
        count += 1
        return f"{kind}-{count}"

    return new_id


def laid_out(kind: RoomKind, year: int = 2023, **room: Fraction) -> Proposal:
    return lay_out_room(Room("r", "l", kind.value, kind, **room), load_edition(year), numbered())


def house_of(proposal: Proposal) -> Dwelling:
    return Dwelling(
        Facts(
            Site("job"), (Level("l", "First"),), (proposal.room,), tuple(proposal.walls), tuple(proposal.openings),
            tuple(proposal.counters), tuple(proposal.breaks), tuple(proposal.fixtures), tuple(proposal.boxes),
            tuple(proposal.devices),
        )
    )  # fmt: skip


@pytest.mark.parametrize("year", YEARS)
@pytest.mark.parametrize("kind", RoomKind)
def test_every_kind_of_room_is_laid_out_in_every_edition(kind: RoomKind, year: int) -> None:
    proposal = laid_out(kind, year)

    house = house_of(proposal)
    assert proposal.boxes
    assert all(device.box_id in house.boxes for device in proposal.devices)
    assert all(target in house.devices for device in proposal.devices for target in device.controls)
    assert "the size of the room" in proposal.assumed
    assert len({fact.id for fact in proposal.facts()}) == len(proposal.facts())


@given(
    length=st.integers(60, 360).map(Fraction),
    width=st.integers(60, 360).map(Fraction),
    kind=st.sampled_from(
        [
            kind
            for kind in RoomKind
            if room_rule(kind.value, load_edition(2023)) == "spacing" and kind is not RoomKind.KITCHEN
        ]
    ),
)
@settings(max_examples=80, deadline=None)
def test_the_proposed_receptacles_meet_the_spacing(length: Fraction, width: Fraction, kind: RoomKind) -> None:
    proposal = laid_out(kind, length_in=length, width_in=width)
    receptacles = {device.box_id for device in proposal.devices if device.kind is DeviceKind.RECEPTACLE}
    layout = wall_layout.WallLayout(
        room=kind.value,
        walls=tuple(
            wall_layout.Wall(
                id=wall.id,
                length_in=wall.length_in,
                openings=tuple(
                    wall_layout.Opening(from_in=item.from_in, to_in=item.to_in, kind=item.kind.value)
                    for item in proposal.openings
                    if item.wall_id == wall.id
                ),
            )
            for wall in proposal.walls
        ),
        receptacles=tuple(
            wall_layout.WallReceptacle(
                id=box.id, wall=box.wall_id or "", at_in=box.at_in or Fraction(0), height_in=box.height_in
            )
            for box in proposal.boxes
            if box.id in receptacles
        ),
        lighting_outlet=True,
    )

    assert reckon_wall_spacing(layout, load_edition(2023)).complies


@given(
    length=st.integers(30, 400).map(Fraction),
    width=st.integers(30, 400).map(Fraction),
    kind=st.sampled_from(RoomKind),
)
@settings(max_examples=120, deadline=None)
def test_everything_stands_inside_the_room(length: Fraction, width: Fraction, kind: RoomKind) -> None:
    proposal = laid_out(kind, length_in=length, width_in=width)

    walls = {wall.id: wall for wall in proposal.walls}
    for box in proposal.boxes:
        if box.wall_id is not None:
            assert box.at_in is not None
            assert 0 <= box.at_in <= walls[box.wall_id].length_in
        else:
            assert box.x_in is not None
            assert box.y_in is not None
            assert 0 <= box.x_in <= length
            assert 0 <= box.y_in <= width
    for opening in proposal.openings:
        assert 0 <= opening.from_in < opening.to_in <= walls[opening.wall_id].length_in


def test_a_measured_room_keeps_its_measures() -> None:
    proposal = laid_out(RoomKind.BEDROOM, length_in=Fraction(297, 2), width_in=Fraction(121))

    assert (proposal.room.length_in, proposal.room.width_in) == (Fraction(297, 2), Fraction(121))
    assert "the size of the room" not in proposal.assumed


def test_a_hallway_has_a_three_way_switch_at_each_end() -> None:
    proposal = laid_out(RoomKind.HALLWAY)

    ways = [device.ways for device in proposal.devices if device.kind is DeviceKind.SWITCH]
    assert ways == [SwitchWays.THREE_WAY, SwitchWays.THREE_WAY]


def test_a_bathroom_has_its_receptacle_near_the_basin() -> None:
    proposal = laid_out(RoomKind.BATHROOM)

    (receptacle,) = [device for device in proposal.devices if device.kind is DeviceKind.RECEPTACLE]
    box = next(box for box in proposal.boxes if box.id == receptacle.box_id)
    basin = next(fixture for fixture in proposal.fixtures if fixture.kind == "basin")
    assert receptacle.gfci
    assert box.wall_id == basin.wall_id
    assert abs((box.at_in or 0) - (basin.at_in or 0)) <= 36
