"""One circuit: what is proposed, what is refused, what its page says; cables, on a circuit or on none."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest
from fastapi.testclient import TestClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import Engine

from seed_demo.building import HouseBuilder
from tests.cast import CREW
from tests.pages.circuit_houses import house_in, said, stair_house, undo_of
from tests.pages.houses import put_house

As = Callable[[str], TestClient]
NEW = {
    "panel_id": "panel-1", "name": "Upper hall", "spaces": "3", "poles": "1", "rating_a": "20", "breaker": "AFCI", "purpose": "general",
    "material": "copper",
}  # fmt: skip


@pytest.fixture
def job(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, stair_house())


def circuit_named(engine: Engine, job: str, name: str) -> Any:
    return next(each for each in house_in(engine, job).facts.circuits if each.name == name)


def test_the_next_free_space_and_the_usual_are_proposed(as_: As, job: str) -> None:
    form = as_("elena").get(f"/jobs/{job}/circuits/new").text

    assert 'name="spaces" value="3"' in form
    assert "14 for 15 A, 12 for 20 A, 10 for 30 A" in form
    assert 'value="AFCI" checked' in form


def test_a_circuit_is_added_with_the_conductor_of_its_rating_and_leads_to_its_run(
    as_: As, engine: Engine, job: str
) -> None:
    client = as_("elena")
    answer = client.post(f"/jobs/{job}/circuits", data=NEW)

    made = circuit_named(engine, job, "Upper hall")
    assert answer.headers["location"] == f"/jobs/{job}/circuits/{made.id}/run"
    assert (made.conductor_awg, made.rating_a, made.spaces, made.volts) == ("12", 20, (3,), 120)
    page = client.get(answer.headers["location"]).text
    assert "Tap the boxes in the order the cable visits them." in page
    client.post(undo_of(page, job))
    assert len(house_in(engine, job).circuits) == 2


def test_a_two_pole_circuit_fills_two_spaces_under_each_other(as_: As, engine: Engine, job: str) -> None:
    as_("elena").post(
        f"/jobs/{job}/circuits", data={**NEW, "name": "Range", "poles": "2", "spaces": "4", "rating_a": "50"}
    )

    made = circuit_named(engine, job, "Range")
    assert (made.spaces, made.volts, made.conductor_awg) == ((4, 6), 240, "6")


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"spaces": "1"}, "Space 1 holds Stair light already"),
        ({"spaces": "13"}, "Panel A has 12 spaces; came 13"),
        ({"spaces": "three"}, "Expected numbers such as 7 or 2/4"),
        ({"spaces": "3/5"}, "Expected 1 of them for 1 pole; came 2"),
        ({"poles": "2", "spaces": "3/5/7"}, "Expected 2 of them for 2 poles; came 3"),
        ({"panel_id": "gone"}, "Choose one of the panels"),
        ({"multiwire_with": "gone"}, "this one is gone"),
        ({"poles": "2", "spaces": "3/5", "multiwire_with": "circuit-1"}, "shares no neutral"),
        ({"va": "100", "continuous_va": "200"}, "at most the whole load"),
        ({"rating_a": "fifteen"}, "came &#39;fifteen&#39;"),
    ],
)
def test_what_is_wrong_is_named_beside_its_field_and_nothing_typed_is_lost(
    as_: As, engine: Engine, job: str, change: dict[str, str], words: str
) -> None:
    answer = as_("elena").post(f"/jobs/{job}/circuits", data={**NEW, **change})

    assert answer.status_code == 422
    assert words in answer.text
    assert 'value="Upper hall"' in answer.text
    assert len(house_in(engine, job).circuits) == 2


def test_a_tandem_breaker_shares_a_space_once_it_is_said(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    refused = client.post(f"/jobs/{job}/circuits", data={**NEW, "spaces": "1"})
    assert 'name="tandem"' in refused.text

    assert (
        client.post(f"/jobs/{job}/circuits", data={**NEW, "spaces": "1", "tandem": "yes"}).status_code == 303
    )
    assert circuit_named(engine, job, "Upper hall").spaces == (1,)


def test_the_form_of_a_partner_is_filled_in_and_both_name_each_other(
    as_: As, engine: Engine, job: str
) -> None:
    client = as_("elena")
    form = client.get(f"/jobs/{job}/circuits/new?shares=circuit-2").text
    assert 'value="20" checked' in form
    client.post(
        f"/jobs/{job}/circuits",
        data={**NEW, "spaces": "4", "multiwire_with": "circuit-2", "handle_tied": "yes"},
    )

    made = circuit_named(engine, job, "Upper hall")
    other = house_in(engine, job).circuits["circuit-2"]
    assert (made.multiwire_with, other.multiwire_with, other.handle_tied) == ("circuit-2", made.id, True)
    typed = {**NEW, "spaces": "4", "multiwire_with": "", "handle_tied": ""}
    client.post(f"/jobs/{job}/circuits/{made.id}/edit", data=typed)
    assert house_in(engine, job).circuits["circuit-2"].multiwire_with is None


def test_the_page_says_that_it_can_be_wired_where_it_goes_and_who_is_protected(as_: As, job: str) -> None:
    page = as_("gus").get(f"/jobs/{job}/circuits/circuit-1").text

    assert "It can be wired: 10 conductors in use" in page
    assert ">Stair<" in page.replace("\n", "")
    assert "Draw the run" not in page
    assert "Change the run" not in page, "a guest changes nothing"


def test_the_page_says_what_is_short_and_the_cheapest_cure(as_: As, engine: Engine, cast: object) -> None:
    put_house(engine, CREW, stair_house(2, 2, 3, 2, prefix="s-"), job_id="short")

    page = as_("gus").get("/jobs/short/circuits/s-circuit-1").text

    assert (
        "Cable 2 (14-2) from Stair S1 to Stair S2 has 2 insulated conductors and needs 3: neutral, traveler 1 and traveler 2."
        in page
    )
    assert "Pull a 14-3 in place of cable 2 (14-2) from Stair S1 to Stair S2." in page


def test_the_page_says_which_outlet_lacks_protection_and_the_cheapest_way(
    as_: As, engine: Engine, job: str
) -> None:
    page = as_("gus").get(f"/jobs/{job}/circuits/circuit-2").text

    assert "lack" in page.split('id="protection"')[1]
    assert "Cheapest" in page
    assert "AFCI" in page.split("Cheapest")[1][:200]


def test_a_changed_circuit_keeps_what_the_form_does_not_show(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    before = house_in(engine, job).circuits["circuit-1"]
    data = {**NEW, "name": "Stair", "spaces": "1", "rating_a": "15", "conductor_awg": "14", "breaker": ""}
    answer = client.post(f"/jobs/{job}/circuits/circuit-1/edit", data=data)

    after = house_in(engine, job).circuits["circuit-1"]
    assert answer.headers["location"] == f"/jobs/{job}/circuits/circuit-1"
    assert (after.name, after.breaker, after.order, after.volts) == ("Stair", None, before.order, 120)


def test_a_deleted_circuit_leaves_its_cables_and_comes_back(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    page = client.get(client.post(f"/jobs/{job}/circuits/circuit-1/delete").headers["location"]).text
    assert "Stair light deleted. Its 4 cables stay, on no circuit." in page
    assert len(house_in(engine, job).cables) == 7
    assert house_in(engine, job).cables["cable-1"].circuit_ids == ()

    client.post(undo_of(page, job))

    assert house_in(engine, job).cables["cable-1"].circuit_ids == ("circuit-1",)


@pytest.mark.parametrize("name", ["pat", "gus", "sol"])
def test_who_may_not_change_circuits_and_cables(as_: As, engine: Engine, job: str, name: str) -> None:
    before = house_in(engine, job).facts
    client = as_(name)
    for path, data in (
        ("circuits", NEW), ("circuits/circuit-1/edit", NEW), ("circuits/circuit-1/delete", {}), ("cables/cable-1/delete", {}),
        ("cables", {"kind": "nm-b", "insulated": "2", "a": "box:box-1"}), ("cables/cable-1/edit", {"kind": "mc", "insulated": "2"}),
        ("circuits/circuit-1/hookup/apply", {}), ("circuits/circuit-1/run", {"deed": "remove", "leg": "cable-1"}),
    ):  # fmt: skip
        assert client.post(f"/jobs/{job}/{path}", data=data).status_code == (404 if name == "sol" else 403), (
            path
        )

    assert house_in(engine, job).facts == before


# cables ---------------------------------------------------------------------------------------------------------


def test_a_cable_on_no_circuit_is_added_shown_and_put_on_one(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    data = {
        "a": "box:box-1",
        "b": "box:box-5",
        "kind": "mc",
        "awg": "12",
        "insulated": "3",
        "has_ground": "yes",
        "length_ft": "22.5",
    }
    answer = client.post(f"/jobs/{job}/cables", data=data)
    cable = house_in(engine, job).facts.cables[-1]

    assert (cable.a_box_id, cable.b_box_id, cable.kind, cable.insulated, cable.circuit_ids) == (
        "box-1",
        "box-5",
        "mc",
        3,
        (),
    )
    assert "12-3 MC added." in said(answer, client)
    assert f"/jobs/{job}/cables/{cable.id}" in client.get(f"/jobs/{job}/panels").text
    client.post(
        f"/jobs/{job}/cables/{cable.id}/edit", data={**data, "circuit_ids": "circuit-2", "sheath_a_in": "3/8"}
    )
    after = house_in(engine, job).cables[cable.id]
    assert (after.circuit_ids, after.sheath_a_in, after.length_ft) == (
        ("circuit-2",),
        after.sheath_a_in,
        cable.length_ft,
    )
    assert float(after.sheath_a_in or 0) == 0.375
    assert f"/jobs/{job}/cables/{cable.id}" not in client.get(f"/jobs/{job}/panels").text


def test_a_cables_page_tells_what_its_conductors_carry(as_: As, job: str) -> None:
    page = as_("gus").get(f"/jobs/{job}/cables/cable-2").text

    assert "14-3 NM-B" in page
    assert "traveler 1" in page
    assert "Stair S1" in page
    assert "not measured" in page


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"a": "", "b": ""}, "at least one end"), ({"b": "box:box-1"}, "same place"), ({"a": "box:gone"}, "this one is gone"),
        ({"a": "roof:box-1"}, "this one is gone"), ({"insulated": "99"}, "Expected at most 12"), ({"circuit_ids": "gone"}, "one is gone"),
    ],
)  # fmt: skip
def test_what_is_wrong_with_a_cable_is_named(
    as_: As, engine: Engine, job: str, change: dict[str, str], words: str
) -> None:
    data = {
        "a": "box:box-1",
        "b": "box:box-5",
        "kind": "nm-b",
        "insulated": "2",
        "note": "behind the flue",
        **change,
    }
    answer = as_("elena").post(f"/jobs/{job}/cables", data=data)

    assert answer.status_code == 422
    assert words in answer.text
    assert "behind the flue" in answer.text


def test_an_edit_that_leaves_the_ends_alone_leaves_them(as_: As, engine: Engine, job: str) -> None:
    before = house_in(engine, job).cables["cable-1"]
    as_("elena").post(
        f"/jobs/{job}/cables/cable-1/edit",
        data={"a": "panel:panel-1", "b": f"box:{before.b_box_id}", "kind": "nm-b", "awg": "14", "insulated": "2", "has_ground": "yes", "circuit_ids": "circuit-1", "length_ft": "31"},
    )  # fmt: skip

    after = house_in(engine, job).cables["cable-1"]
    assert (after.a_panel_id, after.b_box_id, after.circuit_ids) == (
        before.a_panel_id,
        before.b_box_id,
        before.circuit_ids,
    )
    assert after.length_ft == 31


def test_a_deleted_cable_comes_back(as_: As, engine: Engine, job: str) -> None:
    client = as_("elena")
    page = client.get(client.post(f"/jobs/{job}/cables/cable-2/delete").headers["location"]).text
    assert "cable-2" not in house_in(engine, job).cables

    client.post(undo_of(page, job))

    assert "cable-2" in house_in(engine, job).cables


FIELDS = st.sampled_from(
    [*NEW, "tandem", "multiwire_with", "handle_tied", "va", "continuous_va", "conductor_awg", "note", "extra"]
)
VALUES = st.text(max_size=40) | st.sampled_from(
    ["1", "2/4", "panel-1", "circuit-1", "AFCI", "yes", "-3", "1e9", "9" * 40, "0", "copper"]
)


@given(data=st.dictionaries(FIELDS, VALUES))
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_of_a_circuit_breaks_the_page(as_: As, job: str, data: dict[str, str]) -> None:
    client = as_("elena")
    for path in ("circuits", "circuits/circuit-1/edit"):
        answer = client.post(
            f"/jobs/{job}/{path}",
            data={"panel_id": "panel-1", **data},
            headers={"Content-Type": "application/x-www-form-urlencoded"},
        )

        assert answer.status_code in (303, 422)
        if answer.status_code == 422:
            assert 'id="wrong"' in answer.text


CABLE = st.sampled_from(["a", "b", "kind", "awg", "insulated", "length_ft", "sheath_a_in", "white_use", "bundled_with", "in_insulation", "circuit_ids", "ambient_f", "extra"])  # fmt: skip


@given(
    data=st.dictionaries(
        CABLE,
        st.text(max_size=40)
        | st.sampled_from(["box:box-1", "panel:panel-1", "nm-b", "3", "-1", "1/0", "circuit-1", "yes"]),
    )
)
@settings(max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_no_form_of_a_cable_breaks_the_page(as_: As, job: str, data: dict[str, str]) -> None:
    client = as_("elena")
    for path in ("cables", "cables/cable-1/edit"):
        answer = client.post(
            f"/jobs/{job}/{path}",
            data={"kind": "nm-b", "insulated": "2", **data},
            headers={"Content-Type": "application/x-www-form-urlencoded"},
        )

        assert answer.status_code in (303, 422)
        if answer.status_code == 422:
            assert 'id="wrong"' in answer.text


# protection and voltage ----------------------------------------------------------------------------------------


def bath_house() -> HouseBuilder:
    """A bathroom with two receptacles, neither protected, on a circuit whose cables are measured."""
    house = HouseBuilder()
    room = house.room("bathroom", "Hall bath", length_in=108, width_in=60)
    panel = house.panel("Panel A", room_id=room)
    circuit = house.circuit(panel, "Bath", rating_a=20, conductor_awg="12")
    boxes = [house.box(room, label=f"R{n}", wall=1, at_in=20 * n, height_in=40) for n in (1, 2)]
    for a, b, length in ((panel, boxes[0], 50), (boxes[0], boxes[1], 30)):
        house.receptacle(b)
        house.cable(a, b, circuit, awg="12", length_ft=length)
    return house


@pytest.fixture
def bath(engine: Engine, cast: object) -> str:
    return put_house(engine, CREW, bath_house())


def test_the_cheapest_protection_is_entered_with_one_tap_and_taken_back_with_another(
    as_: As, engine: Engine, bath: str
) -> None:
    client = as_("elena")
    circuit = circuit_named(engine, bath, "Bath")
    where = f"/jobs/{bath}/circuits/{circuit.id}"
    assert "2 outlets lack protection" in client.get(where).text
    assert "Enter the cheapest" in client.get(where).text

    answer = client.post(f"{where}/protect")

    first, second = house_in(engine, bath).facts.devices
    assert (first.gfci, len(first.load_cable_ids), second.gfci) == (True, 1, False)
    page = client.get(answer.headers["location"]).text
    assert "All of the 2 outlets have the protection that they need." in page
    assert "Enter the cheapest" not in page
    client.post(undo_of(page, bath))
    assert not any(device.gfci for device in house_in(engine, bath).facts.devices)


def test_what_is_protected_already_is_not_changed_again(as_: As, engine: Engine, bath: str) -> None:
    client = as_("elena")
    where = f"/jobs/{bath}/circuits/{circuit_named(engine, bath, 'Bath').id}"
    client.post(f"{where}/protect")
    before = house_in(engine, bath).facts

    answer = client.post(f"{where}/protect")

    assert said(answer, client) == "There is nothing left to enter: nothing was changed."
    assert house_in(engine, bath).facts == before


@pytest.mark.parametrize("who", ["gus", "pat"])
def test_who_may_not_change_facts_is_not_offered_it(as_: As, engine: Engine, bath: str, who: str) -> None:
    where = f"/jobs/{bath}/circuits/{circuit_named(engine, bath, 'Bath').id}"

    page = as_(who).get(where).text

    assert "outlets lack protection" in page
    assert "Enter the cheapest" not in page


def test_the_page_tells_what_the_far_end_loses_and_how_it_is_reckoned(
    as_: As, engine: Engine, bath: str
) -> None:
    where = f"/jobs/{bath}/circuits/{circuit_named(engine, bath, 'Bath').id}"

    page = as_("gus").get(where).text

    # 2 x 12.9 x 16 A x 80 ft / 6530 cmil = 5.06 V of 120 V
    assert "loses ~4.2 % over 80 ft with 16 A at the far end" in page
    assert "10 AWG would do" in page
    assert "Advice: no rule asks for it." in page
