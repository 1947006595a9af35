"""Plan, one-line and panel face, read back from their SVG."""

from __future__ import annotations

from xml.etree import ElementTree

import pytest

from seed_demo.building import HouseBuilder
from server.drawings.hookup import draw_box_hookup
from server.drawings.one_line import draw_circuit
from server.drawings.outline import closing_error_in, outline_of, walls_or_rectangle
from server.drawings.panel_face import draw_panel
from server.drawings.plan import draw_level, draw_room_plan
from server.editions import load_edition
from server.readiness.hookups import hookup_view
from server.rules.hookups import hookups
from server.rules.runs import run_of

SVG = "{http://www.w3.org/2000/svg}"


def read(text: str) -> ElementTree.Element:
    return ElementTree.fromstring(text)  # noqa: S314 - our own drawing


def test_a_rectangle_closes_on_its_first_corner() -> None:
    house = HouseBuilder()
    room = house.room("den", length_in=144, width_in=120)
    dwelling = house.dwelling()

    assert closing_error_in(outline_of(walls_or_rectangle(dwelling.rooms[room], dwelling))) == pytest.approx(
        0, abs=1e-9
    )


def test_an_l_shaped_room_closes_and_a_wrong_length_shows() -> None:
    house = HouseBuilder()
    room = house.room("den", walls=False)
    for length, turn in ((144, 90), (120, 90), (60, 90), (48, -90), (84, 90), (72, 90)):
        house.wall(room, length, turn_deg=turn)
    dwelling = house.dwelling()
    assert closing_error_in(outline_of(dwelling.walls_of_room[room])) == pytest.approx(0, abs=1e-9)

    house.change(house.wall_of(room, 6), length_in=70)

    assert closing_error_in(outline_of(house.dwelling().walls_of_room[room])) == pytest.approx(2)


def test_a_room_without_a_size_has_no_plan() -> None:
    house = HouseBuilder()
    room = house.room("den", walls=False)
    dwelling = house.dwelling()

    assert draw_room_plan(dwelling.rooms[room], dwelling) == ""
    assert draw_level(dwelling.facts.levels[0], dwelling) == ""


def test_every_room_of_a_level_is_on_its_plan_by_name() -> None:
    house = HouseBuilder()
    for place in range(7):
        house.room("bedroom", f"Bedroom {place}", length_in=144, width_in=120)
    dwelling = house.dwelling()

    svg = read(
        draw_level(
            dwelling.facts.levels[0], dwelling, links={r.id: f"/rooms/{r.id}" for r in dwelling.facts.rooms}
        )
    )

    names = {text.text for text in svg.iter(f"{SVG}text")}
    assert {f"Bedroom {place}" for place in range(7)} <= names
    assert len(list(svg.iter(f"{SVG}a"))) == 7


def branched() -> tuple[HouseBuilder, str, list[str]]:
    house = HouseBuilder()
    room = house.room("bedroom", length_in=144, width_in=120)
    circuit = house.circuit(house.panel(), "Bedroom")
    boxes = [house.box(room, wall=1, at_in=12 * n, height_in=16) for n in range(1, 6)]
    house.home_run(circuit, *boxes[:3])
    house.cable(boxes[1], boxes[3], circuit)
    return house, circuit, boxes


def test_a_one_line_visits_every_box_once_in_the_cables_order() -> None:
    house, circuit, boxes = branched()
    dwelling = house.dwelling()

    run = run_of([dwelling.circuits[circuit]], dwelling)

    assert [(leg.number, leg.end, leg.column, leg.row) for leg in run.legs] == [
        (1, boxes[0], 1, 0), (2, boxes[1], 2, 0), (3, boxes[2], 3, 0), (4, boxes[3], 3, 1),
    ]  # fmt: skip
    assert run.is_whole


def test_a_loop_and_an_unreached_box_do_not_hang_the_one_line() -> None:
    house, circuit, boxes = branched()
    house.cable(boxes[2], boxes[0], circuit)
    other = house.box(house.facts().rooms[0].id, wall=1, at_in=100, height_in=16)
    house.cable(boxes[4], other, circuit)
    dwelling = house.dwelling()

    run = run_of([dwelling.circuits[circuit]], dwelling)
    svg = read(draw_circuit(dwelling.circuits[circuit], dwelling))

    assert len(run.legs) == 4
    assert len(run.rings) == 1
    assert [{cable.a_box_id, cable.b_box_id} for cable in run.apart] == [{boxes[4], other}]
    assert "not joined" in "".join(svg.itertext())


def test_a_run_longer_than_a_call_stack_is_drawn() -> None:
    house = HouseBuilder()
    room = house.room("garage")
    circuit = house.circuit(house.panel(), "Long")
    house.home_run(circuit, *(house.box(room) for _ in range(3000)))
    dwelling = house.dwelling()

    assert len(run_of([dwelling.circuits[circuit]], dwelling).legs) == 3000


def test_a_cable_with_an_open_end_is_drawn_to_a_cross() -> None:
    house, circuit, boxes = branched()
    loose = house.cable(boxes[2], boxes[4], circuit)
    house.change(loose, b_box_id=None)
    dwelling = house.dwelling()

    words = "".join(read(draw_circuit(dwelling.circuits[circuit], dwelling)).itertext())

    assert "5 ends here" in words


def test_a_circuit_without_cables_is_still_drawn() -> None:
    house = HouseBuilder()
    circuit = house.circuit(house.panel(), "Spare")
    dwelling = house.dwelling()

    assert "Panel A" in "".join(read(draw_circuit(dwelling.circuits[circuit], dwelling)).itertext())


def test_a_panels_face_shows_each_circuit_at_its_spaces() -> None:
    house = HouseBuilder()
    panel = house.panel(spaces=12)
    house.circuit(panel, "Range", poles=2, spaces=(1, 3), rating_a=50)
    house.circuit(panel, "Lights", spaces=(2,), rating_a=15)
    dwelling = house.dwelling()

    words = " ".join(read(draw_panel(dwelling.panels[panel], dwelling)).itertext())

    assert "1/3  Range" in words
    assert "2  Lights" in words
    assert "50 A" in words


def test_the_heading_of_a_cable_ends_before_the_devices_name_and_keeps_the_box_it_names() -> None:
    house = HouseBuilder()
    near, far = (
        house.room("closet", name, length_in=72, width_in=60) for name in ("Dressing closet", "Bath")
    )
    circuit = house.circuit(house.panel("Panel A", room_id=near), "Lights")
    first, second = (
        house.box(near, wall=1, at_in=20, label="S1"),
        house.box(far, wall=1, at_in=20, label="S1"),
    )
    lamps = [house.box(far, surface="ceiling", x_in=20 * n, y_in=30, label=f"L{n}") for n in (1, 2)]
    house.receptacle(first)
    for lamp in lamps:
        house.switch(second, house.luminaire(lamp))
    house.home_run(circuit, first, second)
    for lamp in lamps:
        house.cable(second, lamp, circuit)
    dwelling = house.dwelling()
    view = hookup_view(dwelling.derive(hookups, load_edition(2023)).of(circuit), dwelling)
    card = next(card for card in view.cards if card.box_id == second)

    texts = list(read(draw_box_hookup(card)).iter(f"{SVG}text"))
    heading = next(each for each in texts if "from" in (each.text or ""))
    name = next(each for each in texts if each.get("y") == heading.get("y") and each is not heading)

    assert (heading.text or "").endswith("S1")
    ends = float(heading.get("x", "0")) + 6.6 * len(heading.text or "")
    starts = float(name.get("x", "0")) - 6.6 * len(name.text or "")
    assert ends < starts
