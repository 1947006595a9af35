"""Which conductor goes where, on its pages: cards, words, truth table, what is short, what is not entered yet."""

from __future__ import annotations

import re
from collections.abc import Callable
from xml.etree import ElementTree

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from tests.cases.hookup_possible import loop, shared, straight
from tests.cast import CREW
from tests.pages.circuit_houses import house_in, stair_house, undo_of
from tests.pages.houses import put_house
from tests.random_wiring import wired_houses

As = Callable[[str], TestClient]


@pytest.fixture
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, stair_house())


def text_of(page: str) -> str:
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", page))


def drawings_of(page: str) -> list[ElementTree.Element]:
    return [
        ElementTree.fromstring(found)  # noqa: S314 - our own drawings
        for found in re.findall(r"<svg[^>]*class=\"drawing\".*?</svg>", page, re.DOTALL)
    ]


def test_a_stair_is_told_box_by_box_from_the_panel_outward(as_: As, job: str) -> None:
    page = as_("gus").get(f"/jobs/{job}/circuits/circuit-1/hookup").text
    words = text_of(page)

    order = [words.index(f"{name} {cables}") for name, cables in (
        ("Panel A", "1 cable"), ("Stair S1", "2 cables, 1 splice"), ("Stair S2", "2 cables, 1 splice"), ("Stair S3", "2 cables, 1 splice"), ("Stair L1", "1 cable"),
    )]  # fmt: skip
    assert order == sorted(order)
    assert "The black of cable 1 from Panel A goes to the dark common screw of the three-way: hot." in words
    assert "Join the white of cable 2 from S1 and of cable 3 to S3: neutral." in words
    assert "Land the bare or green conductor on the grounding bar." in words
    assert words.count("De-energise and prove dead") >= 1


def test_the_truth_table_has_every_position_once_and_half_of_them_lit(as_: As, job: str) -> None:
    page = as_("gus").get(f"/jobs/{job}/circuits/circuit-1/hookup").text
    table = page.split('class="table-scroll truth"')[1].split("</table>")[0]
    rows = [re.findall(r"<td[^>]*>(?:<strong>)?(\w+)", row) for row in table.split("<tr>")[2:]]

    assert len({tuple(row[:3]) for row in rows}) == 8
    assert [row[3] for row in rows].count("on") == 4


def test_every_card_has_its_drawing_with_the_conductors_in_their_colors(as_: As, job: str) -> None:
    page = as_("gus").get(f"/jobs/{job}/circuits/circuit-1/hookup").text
    cards = page.split('class="hookup-card"')[1:]

    assert len(cards) == 5
    for card in cards:
        (drawing,) = drawings_of(card)
        classes = {element.get("class") for element in drawing.iter()}
        assert {"d-w-black", "d-w-white", "d-w-bare", "d-edge"} <= classes
        letters = {element.text for element in drawing.iter() if element.get("class") == "d-strong"}
        assert {"B", "W", "G"} <= letters
    assert "d-w-red" in cards[1]


def test_a_white_that_is_a_hot_is_drawn_white_with_a_band_and_told_to_be_marked(
    as_: As, engine: Engine, cast: object
) -> None:
    house = HouseBuilder()
    loop(2, room="closet")(house)
    put_house(engine, CREW, house, job_id="loop")

    page = as_("gus").get("/jobs/loop/circuits/circuit-1/hookup").text

    assert "d-band" in page
    assert "W→R" in page or "W→Bl" in page
    assert re.search(r"Mark the white of cable 2 .* with tape or paint: it carries hot\.", text_of(page))
    assert "1 white re-identified" in page


def test_what_is_short_is_named_with_what_it_is_for_and_one_tap_mends_it(
    as_: As, engine: Engine, cast: object
) -> None:
    put_house(engine, CREW, stair_house(2, 2, 2, 2), job_id="short")
    client = as_("elena")
    page = client.get("/jobs/short/circuits/circuit-1/hookup").text
    assert "needs 3: neutral, traveler 1 and traveler 2" in page
    assert "Also short" in page
    assert "has 2 insulated conductors, needs 3: black, red, white" in page
    assert 'class="hookup-card"' not in page

    after = client.get(client.post("/jobs/short/circuits/circuit-1/hookup/apply").headers["location"]).text

    assert "Cable 2 (14-2) now has 3 conductors, cable 3 (14-2) now has 3 conductors." in after
    assert [cable.insulated for cable in house_in(engine, "short").cables_of_circuit["circuit-1"]] == [
        2,
        3,
        3,
        2,
    ]
    assert after.count('class="hookup-card"') == 5
    client.post(undo_of(after, "short"))
    assert [cable.insulated for cable in house_in(engine, "short").cables_of_circuit["circuit-1"]] == [
        2,
        2,
        2,
        2,
    ]


def test_a_plan_that_is_not_needed_any_more_changes_nothing(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    before = house_in(engine, job).facts
    page = client.get(client.post(f"/jobs/{job}/circuits/circuit-1/hookup/apply").headers["location"]).text

    assert "The cables are not short any more." in page
    assert house_in(engine, job).facts == before


def test_switches_of_the_wrong_kind_are_fitted_with_one_tap(as_: As, engine: Engine, cast: object) -> None:
    house = stair_house(prefix="w-")
    for device in house.facts().devices:
        if device.ways is not None:
            house.change(device.id, ways="three-way")
    put_house(engine, CREW, house, job_id="wrong")
    client = as_("elena")
    page = text_of(client.get("/jobs/wrong/circuits/w-circuit-1/hookup").text)
    assert "are all three-way; of 3 locations two are three-way and the others have to be four-way" in page
    assert "Stair S2 : a four-way" in page

    answer = client.post("/jobs/wrong/circuits/w-circuit-1/hookup/switches")

    assert "It can be wired" in client.get(answer.headers["location"]).text
    ways = [device.ways for device in house_in(engine, "wrong").facts.devices if device.ways]
    assert ways == ["three-way", "four-way", "three-way"]
    again = client.get(
        client.post("/jobs/wrong/circuits/w-circuit-1/hookup/switches").headers["location"]
    ).text
    assert "The switches are of the right kind" in again


def test_what_is_not_entered_yet_is_listed_with_the_way_there(as_: As, engine: Engine, cast: object) -> None:
    house = stair_house(prefix="h-")
    switch = next(device.id for device in house.facts().devices if device.ways == "four-way")
    house.change(switch, controls=())
    house.change("h-cable-4", b_box_id=None)
    put_house(engine, CREW, house, job_id="half")

    page = as_("elena").get("/jobs/half/circuits/h-circuit-1/hookup").text

    assert "Cable 4 (14-2) from Stair S3 ends nowhere yet." in page
    assert "What Stair S2 switches is not recorded." in page
    assert "/jobs/half/circuits/h-circuit-1/run?at=h-box-4" in page
    assert f"/jobs/half/devices/{switch}" in page
    assert "Open the box" not in as_("gus").get("/jobs/half/circuits/h-circuit-1/hookup").text


def test_what_a_switch_turns_is_chosen_among_what_is_on_its_circuit(
    as_: As, engine: Engine, cast: object
) -> None:
    house = stair_house(prefix="t-")
    switch = next(device.id for device in house.facts().devices if device.ways == "four-way")
    lamp = next(device.id for device in house.facts().devices if device.kind == "luminaire")
    house.change(switch, controls=())
    put_house(engine, CREW, house, job_id="turns")
    client = as_("elena")
    page = client.get("/jobs/turns/circuits/t-circuit-1/hookup").text
    assert f'name="load" value="{lamp}">Stair L1 (luminaire)' in page
    path, data = "/jobs/turns/circuits/t-circuit-1/hookup/controls", {"switch": switch, "load": lamp}

    answer = client.post(path, data=data)

    assert "Stair S2 turns Stair L1." in client.get(answer.headers["location"]).text
    assert house_in(engine, "turns").devices[switch].controls == (lamp,)
    for wrong in (
        {"switch": lamp, "load": lamp},
        {"switch": switch, "load": switch},
        {"switch": "gone", "load": lamp},
    ):
        assert client.post(path, data=wrong).status_code == 404
    assert as_("gus").post(path, data=data).status_code == 403


def test_a_two_pole_circuit_and_a_shared_neutral_are_told_too(as_: As, engine: Engine, cast: object) -> None:
    house = HouseBuilder(prefix="r-")
    straight(3)(house)
    put_house(engine, CREW, house, job_id="range")
    house = HouseBuilder(prefix="m-")
    shared(3)(house)
    put_house(engine, CREW, house, job_id="multi")

    assert "the second breaker (or the second pole): hot, leg 2" in text_of(
        as_("gus").get("/jobs/range/circuits/r-circuit-1/hookup").text
    )
    page = text_of(as_("gus").get("/jobs/multi/circuits/m-circuit-1/hookup").text)
    assert "together with Bench right" in page
    assert re.search(
        r"Join the white of cable 1 from Panel A and of cable 2 to R2, with a pigtail to a silver screw", page
    )


def test_one_box_is_told_circuit_by_circuit(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    client.post(
        f"/jobs/{job}/circuits/circuit-1/run",
        data={"to": "box-5", "at": "panel", "awg": "14", "insulated": "2", "kind": "nm-b"},
    )
    page = as_("gus").get(f"/jobs/{job}/boxes/box-5/hookup").text

    assert "2 circuits are in this box." in page
    assert page.count('class="hookup-card"') == 2
    assert "Keep their conductors apart" in page


def test_a_box_on_no_circuit_says_so(as_: As, engine: Engine, cast: object) -> None:
    put_house(engine, CREW, stair_house(drawn=False, prefix="n-"), job_id="none")

    page = as_("gus").get("/jobs/none/boxes/n-box-1/hookup").text

    assert "On no circuit yet" in page


@pytest.mark.parametrize(("name", "status"), [("gus", 200), ("pat", 200), ("elena", 200), ("sol", 404)])
def test_who_may_look(as_: As, job: str, name: str, status: int) -> None:
    for path in ("circuits/circuit-1/hookup", "boxes/box-2/hookup"):
        assert as_(name).get(f"/jobs/{job}/{path}").status_code == status
    assert as_(name).get(f"/jobs/{job}/circuits/none/hookup").status_code == 404
    assert as_(name).get(f"/jobs/{job}/boxes/none/hookup").status_code == 404


_NUMBER = iter(range(10_000))


@given(house_of=wired_houses())
@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[
        HealthCheck.function_scoped_fixture,
        HealthCheck.too_slow,
        HealthCheck.data_too_large,
    ],
)
def test_no_wiring_however_odd_breaks_a_page(
    as_: As, engine: Engine, cast: object, house_of: HouseBuilder
) -> None:
    job, prefix = f"odd-{(number := next(_NUMBER))}", f"o{number}-"
    put_house(engine, CREW, _sound(house_of, prefix), job_id=job)
    client = as_("elena")
    house = house_in(engine, job)

    paths = ["panels", "readiness"]
    for circuit in house.facts.circuits:
        paths += [f"circuits/{circuit.id}{part}" for part in ("", "/run", "/hookup", "/edit")]
    paths += [f"boxes/{box.id}/hookup" for box in house.facts.boxes[:3]]
    paths += [f"cables/{cable.id}" for cable in house.facts.cables[:3]]
    for path in paths:
        assert client.get(f"/jobs/{job}/{path}").status_code == 200, path


def _sound(house: HouseBuilder, prefix: str) -> HouseBuilder:
    """The same house with ids of its own, and without what the store does not take: ends that are gone, cables without
    an end, and characters that no form lets through."""
    from dataclasses import fields, replace

    facts = house.facts()
    known = {fact.id for item in fields(facts) if item.name != "site" for fact in getattr(facts, item.name)}
    made = HouseBuilder(prefix=prefix)

    def renamed(value: object) -> object:
        if isinstance(value, str) and value in known:
            return prefix + value
        if isinstance(value, tuple):
            return tuple(renamed(each) for each in value if not isinstance(each, str) or each in known)
        return value.replace("\0", "") if isinstance(value, str) and type(value) is str else value

    for item in fields(facts):
        if item.name in ("site", "observations"):
            continue
        for fact in getattr(facts, item.name):
            values = {each.name: getattr(fact, each.name) for each in fields(fact)}
            ends = [
                name
                for name in values
                if name.endswith(("_box_id", "_panel_id")) and name[:2] in ("a_", "b_")
            ]
            values |= {name: values[name] if values[name] in known else None for name in ends}
            if ends and not any(values[name] for name in ends):
                continue
            made.take(
                replace(
                    fact,
                    **{name: renamed(value) if name != "spaces" else value for name, value in values.items()},
                )
            )
    return made
