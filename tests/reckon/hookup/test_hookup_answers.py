"""What the answer says beside the plan: neutrals by edition and rule, colors, notes, steps, one box for a drawing."""

from __future__ import annotations

from dataclasses import replace

import pytest

from server.editions import Amendment, Change, load_edition
from server.reckon.hookup import (
    Cable,
    CableEnd,
    Device,
    Half,
    Kind,
    NeutralRule,
    Node,
    Terminal,
    Wiring,
    box_view,
    solve_hookup,
)
from server.reckon.hookup.orders import MOST_STEPS
from server.reckon.work import Work

CODE = load_edition(2023)


def loop(kind: Kind, *, insulated: int = 2, rule: NeutralRule = NeutralRule.CODE) -> Wiring:
    """Feed at the load, a loop to its switch."""
    return Wiring(
        (Node("P", True), Node("L"), Node("A")),
        (Cable("c0", "P", "L"), Cable("c1", "L", "A", insulated)),
        (Device("S1", "A", Kind.SWITCH, ("L1",)), Device("L1", "L", kind)),
        rule,
    )


def row(boxes: int, insulated: int) -> tuple[list[Node], list[Cable]]:
    """A source and boxes in a row."""
    names = ["P", *(f"B{number}" for number in range(boxes))]
    nodes = [Node(name, name == "P") for name in names]
    cables = [Cable(f"c{at}", names[at], names[at + 1], insulated) for at in range(boxes)]
    return nodes, cables


def pair_with_hot_and_light_at_both_ends(insulated: int) -> Wiring:
    return Wiring(
        (Node("P", True), Node("A"), Node("B")),
        (Cable("c0", "P", "A"), Cable("c1", "A", "B", insulated)),
        (
            Device("S1", "A", Kind.SWITCH, ("L1", "L2")),
            Device("S2", "B", Kind.SWITCH, ("L1", "L2")),
            Device("L1", "A", Kind.LUMINAIRE),
            Device("L2", "B", Kind.LUMINAIRE),
            Device("R1", "B", Kind.RECEPTACLE),
        ),
    )


@pytest.mark.parametrize("year", [2017, 2020, 2023, 2026])
@pytest.mark.parametrize(
    ("kind", "needed"),
    [
        (Kind.LUMINAIRE, True),
        (Kind.LOAD, True),
        (Kind.RECEPTACLE, False),
        (Kind.FAN, False),
        (Kind.GFCI, False),
    ],
)
def test_a_neutral_is_asked_for_where_the_switch_is_for_lighting(kind: Kind, needed: bool, year: int) -> None:
    code = load_edition(year)

    assert solve_hookup(loop(kind), code).possible is not needed
    assert solve_hookup(loop(kind, insulated=3), code).possible


@pytest.mark.parametrize("kind", [Kind.LUMINAIRE, Kind.RECEPTACLE])
def test_what_the_request_says_of_neutrals_stands_before_the_edition(kind: Kind) -> None:
    two_wire = loop(kind)

    assert not solve_hookup(replace(two_wire, neutral_rule=NeutralRule.REQUIRED), CODE).possible
    assert solve_hookup(replace(two_wire, neutral_rule=NeutralRule.EXEMPT), CODE).possible
    assert not solve_hookup(replace(two_wire, neutral_required=frozenset("A")), CODE).possible
    assert solve_hookup(replace(two_wire, neutral_exempt=frozenset("A")), CODE).possible


def test_a_local_amendment_drops_the_neutral_at_switches() -> None:
    drop = Amendment(
        "x", "No neutral", "Here", "ours", (Change("suspends", "hookup.neutral_at_switch", "Local 1"),)
    )

    assert solve_hookup(loop(Kind.LUMINAIRE), CODE.amended([drop])).possible


def test_a_local_amendment_forbids_linked_commons() -> None:
    drop = Amendment(
        "x", "No links", "Here", "ours", (Change("suspends", "hookup.switches_joined_at_commons", "Local 2"),)
    )
    wiring = pair_with_hot_and_light_at_both_ends(4)

    allowed, forbidden = solve_hookup(wiring, CODE), solve_hookup(wiring, CODE.amended([drop]))

    assert "Ask the inspector first" in allowed.notes[0]
    assert not forbidden.possible
    assert [(item.cable, item.needs) for item in forbidden.short] == [("c1", 5)]


def test_linked_commons_are_not_used_where_the_usual_way_fits() -> None:
    found = solve_hookup(pair_with_hot_and_light_at_both_ends(5), CODE)

    assert found.possible
    assert not any("inspector" in note for note in found.notes)


def test_a_reidentified_white_gets_a_color_that_the_cable_has_not() -> None:
    plan = solve_hookup(loop(Kind.FAN), CODE).plan
    assert plan is not None

    white = next(
        c for cable in plan.cables if cable.id == "c1" for c in cable.conductors if c.color == "white"
    )

    assert (white.signal, white.reidentified_as) == ("hot", "red")


def test_cables_of_any_count_have_colors_and_the_second_grounded_one_comes_with_six() -> None:
    for count in range(1, 15):
        nodes, cables = row(1, count)
        wiring = Wiring(tuple(nodes), tuple(cables), (Device("R", "B0", Kind.RECEPTACLE),))
        found = solve_hookup(wiring, CODE)
        assert found.possible is (count > 1)
        if found.plan:
            colors = [conductor.color for conductor in found.plan.cables[0].conductors]
            assert len(set(colors)) == count
            grounded = [c for c in colors if c.startswith(("white", "gray"))]
            assert len(grounded) >= 2 if count >= 6 else len(grounded) == 1


def test_one_box_shows_its_joins_its_spares_and_where_cables_lead() -> None:
    wiring = Wiring(
        (Node("P", True), Node("A"), Node("L")),
        (Cable("c0", "P", "A", 3), Cable("c1", "A", "L", kind="mc")),
        (Device("S1", "A", Kind.SWITCH, ("L1",)), Device("L1", "L", Kind.LUMINAIRE)),
    )

    view = box_view(solve_hookup(wiring, CODE), "A")

    neutral = next(join for join in view.joins if join.signal == "neutral")
    assert neutral.is_splice
    assert [(c.cable, c.toward, c.color, c.letter) for c in neutral.conductors] == [
        ("c0", "P", "white", "W"),
        ("c1", "L", "white", "W"),
    ]
    hot = next(join for join in view.joins if join.signal == "hot")
    assert (hot.is_splice, hot.pigtails, hot.terminals) == (False, 0, (Terminal("S1", "line"),))
    ground = view.joins[-1]
    assert ground.is_ground
    assert [(c.cable, c.letter) for c in ground.conductors] == [("c0", "bare"), ("c1", "G")]
    assert [(c.cable, c.color) for c in view.spare] == [("c0", "red")]


def test_a_box_shows_bands_caps_and_pigtails() -> None:
    wiring = Wiring(
        (Node("P", True), Node("R"), Node("A")),
        (Cable("c0", "P", "R"), Cable("c1", "R", "A", 3)),
        (
            Device("S1", "A", Kind.SWITCH, ("R1",)),
            Device("R1", "R", Kind.RECEPTACLE, split=Half.TOP),
        ),
        neutral_required=frozenset("A"),
    )
    found = solve_hookup(wiring, CODE)

    at_switch, at_receptacle = box_view(found, "A"), box_view(found, "R")

    capped = [join for join in at_switch.joins if join.is_capped]
    assert [(join.signal, join.conductors[0].color) for join in capped] == [("neutral", "white")]
    assert {
        join.signal: join.pigtails for join in at_receptacle.joins if join.is_splice and not join.is_ground
    } == {
        "neutral": 1,
        "hot": 1,
    }
    banded = box_view(solve_hookup(loop(Kind.FAN), CODE), "A")
    assert [(c.color, c.band) for join in banded.joins for c in join.conductors if c.band] == [
        ("white", "red")
    ]


@pytest.mark.parametrize("node", ["A", "nowhere"])
def test_there_is_no_box_to_show_without_a_plan(node: str) -> None:
    with pytest.raises(ValueError, match="expected a node of a hookup that is possible"):
        box_view(solve_hookup(loop(Kind.LUMINAIRE), CODE), node)


def test_the_steps_name_the_articles_and_how_well_they_are_known() -> None:
    work = Work()

    found = solve_hookup(loop(Kind.LUMINAIRE, insulated=3), CODE, work)

    assert found.possible
    assert {"404.2(A)", "300.3(B)", "404.2(C)", "250.148"} <= set(work.cites)
    counts = {step.text.split(" ")[0]: step.value for step in work.steps if step.unit == "conductors"}
    assert counts == {"c0": 2, "c1": 3}
    assert work.confidence == "derived"


def test_what_was_carried_to_the_newest_edition_is_shown_as_carried() -> None:
    work = Work()

    solve_hookup(loop(Kind.LUMINAIRE, insulated=3), load_edition(2026), work)

    assert work.confidence == "carry"


def test_the_same_answer_comes_with_and_without_steps() -> None:
    for wiring in (
        loop(Kind.LUMINAIRE),
        loop(Kind.LUMINAIRE, insulated=3),
        pair_with_hot_and_light_at_both_ends(4),
    ):
        assert solve_hookup(wiring, CODE, Work()) == solve_hookup(wiring, CODE)


def test_equipment_grounds_are_in_every_box_and_in_no_splice() -> None:
    found = solve_hookup(loop(Kind.FAN), CODE)
    assert found.plan is not None

    grounds = {box.node: box.grounds for box in found.plan.boxes}

    assert grounds == {
        "P": (CableEnd("c0", "bare"),),
        "L": (CableEnd("c0", "bare"), CableEnd("c1", "bare")),
        "A": (CableEnd("c1", "bare"),),
    }
    assert found.splices == sum(join.is_splice for box in found.plan.boxes for join in box.joins) == 1


@pytest.mark.parametrize("steps", [1, 3, 4, 6])
def test_where_the_search_is_cut_short_nothing_is_called_impossible_outright(
    monkeypatch: pytest.MonkeyPatch, steps: int
) -> None:
    """Two groups of three locations around a junction that fit, if their orders are chosen with care."""
    names = ["A", "B", "C", "D"]
    cables = [Cable("p", "P", "J"), *(Cable(f"c{name}", "J", name, 8) for name in names)]
    devices = [
        Device(f"S{group}-{name}", name, Kind.SWITCH, (f"L{group}",))
        for group in range(2)
        for name in names[:3]
    ]
    lights = [Device(f"L{group}", "D", Kind.LUMINAIRE) for group in range(2)]
    nodes = [Node("P", True), Node("J"), *map(Node, names)]
    wiring = Wiring(tuple(nodes), tuple(cables), (*devices, *lights))
    whole = solve_hookup(wiring, CODE)
    assert whole.possible

    monkeypatch.setattr("server.reckon.hookup.orders.MOST_STEPS", steps)
    cut_short = solve_hookup(wiring, CODE)

    if cut_short.possible:
        assert cut_short.notes[0].startswith("There were too many ways to try all of them")
        assert cut_short.splices >= whole.splices
    else:
        assert cut_short.why.startswith(
            "There are too many ways to try all of them; none of those tried fits"
        )


def test_six_locations_and_thirty_boxes_take_a_fraction_of_the_steps_that_are_allowed(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("server.reckon.hookup.orders.MOST_STEPS", MOST_STEPS // 20)
    for insulated in (2, 3, 4, 8):
        nodes, cables = row(30, insulated)
        devices = [Device(f"R{n}", f"B{n}", Kind.RECEPTACLE) for n in range(0, 30, 2)]
        devices += [Device(f"S{n}", f"B{5 * n}", Kind.SWITCH, ("L",)) for n in range(6)]
        wiring = Wiring(tuple(nodes), tuple(cables), (*devices, Device("L", "B17", Kind.LUMINAIRE)))
        found = solve_hookup(wiring, CODE)
        assert found.possible is (insulated == 8)
        assert "too many ways" not in f"{found.why}{found.notes}"
