"""Any wiring, however odd, is answered with a sentence that names a box or a cable, never with an exception."""

from __future__ import annotations

import re

import networkx as nx
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from seed_demo.building import HouseBuilder
from server.drawings.hookup import draw_box_hookup
from server.drawings.one_line import draw_circuit
from server.dwelling import Dwelling
from server.editions import YEARS, load_edition
from server.readiness import evaluate, explain, line_of
from server.readiness.hookups import hookup_view
from server.rules.hookups import State, hookups
from server.rules.outcome import Verdict
from server.rules.runs import run_of, whole_ends
from tests.random_wiring import wired_houses

ODD = settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
MINE = (
    "hookup-possible",
    "cable-carries",
    "switch-ways",
    "circuit-reached",
    "box-on-a-circuit",
    "white-as-hot",
)


@ODD
@given(wired_houses(), st.sampled_from(YEARS))
def test_every_rule_answers_any_wiring_in_words(house: HouseBuilder, year: int) -> None:
    dwelling, code = house.dwelling(), load_edition(year)

    for finding in evaluate(dwelling, code):
        line = line_of(finding, code)

        assert line.sentence.strip()
        assert "{" not in line.sentence + line.cure
        if finding.rule.id in MINE:
            assert explain(finding.rule, finding.subject, dwelling, code) is not None


@ODD
@given(wired_houses())
def test_what_keeps_a_circuit_from_being_wired_names_a_box_a_cable_or_the_panel(house: HouseBuilder) -> None:
    dwelling = house.dwelling()
    found = dwelling.derive(hookups, load_edition(2023))

    for circuit in dwelling.facts.circuits:
        answer = found.of(circuit.id)

        if answer.state in (State.UNFINISHED, State.SHORT, State.IMPOSSIBLE):
            names = (*answer.names.box.values(), answer.names.panel, *(f"able {name}" for name in answer.names.cable.values()),
                     *answer.names.device.values(), *(each.name for each in answer.circuits))  # fmt: skip
            assert any(name in answer.why for name in names), answer.why
            assert not re.search(r"\b(nodes|cables|devices)\.\d", answer.why), answer.why
            assert answer.why[0].isupper() or answer.why[0].isdigit() or not answer.why[0].isalpha(), (
                answer.why
            )
        if answer.state is State.UNFINISHED:
            assert all(gap.words and gap.field for gap in answer.gaps)


@ODD
@given(wired_houses())
def test_any_wiring_is_drawn_and_told_box_by_box(house: HouseBuilder) -> None:
    dwelling = house.dwelling()
    found = dwelling.derive(hookups, load_edition(2023))

    for circuit in dwelling.facts.circuits:
        answer = found.of(circuit.id)
        view = hookup_view(answer, dwelling)

        assert draw_circuit(circuit, dwelling, run=answer.run).startswith("<svg")
        assert bool(view.cards) == (answer.state is State.LAWFUL)
        for card in view.cards:
            assert draw_box_hookup(card).startswith("<svg")
            assert all(text.endswith(".") for text in card.words)


@ODD
@given(wired_houses())
def test_the_boxes_that_a_run_reaches_are_those_that_networkx_reaches(house: HouseBuilder) -> None:
    dwelling = house.dwelling()

    for circuit in dwelling.facts.circuits:
        run = run_of((circuit,), dwelling)

        # a feeder may land in the panel that it feeds; nothing is fed by one here
        graph = _graph(dwelling, circuit.id, circuit.panel_id)
        panel = ("panel", circuit.panel_id)
        reached = nx.node_connected_component(graph, panel) - {panel}
        assert set(run.reached) == {each for _, each in reached}
        assert len(run.rings) == sum(
            graph.subgraph(part).number_of_edges() - len(part) + 1
            for part in nx.connected_components(graph) if panel in part
        )  # fmt: skip
        assert len(run.numbers) == len(dwelling.cables_of_circuit.get(circuit.id, ()))
        assert sorted(run.numbers.values()) == list(range(1, len(run.numbers) + 1))


def _graph(dwelling: Dwelling, circuit_id: str, panel_id: str) -> nx.MultiGraph:
    graph = nx.MultiGraph()
    graph.add_node(("panel", panel_id))
    for cable in dwelling.cables_of_circuit.get(circuit_id, ()):
        one, other = whole_ends(cable, dwelling)
        if (
            one
            and other
            and one != other
            and not any(end[0] == "panel" and end[1] != panel_id for end in (one, other))
        ):
            graph.add_edge(one, other)
    return graph


@ODD
@given(wired_houses())
def test_a_circuit_that_can_be_wired_has_no_cable_that_is_short(house: HouseBuilder) -> None:
    dwelling, code = house.dwelling(), load_edition(2023)
    verdicts = {
        (f.rule.id, f.subject.id): f.outcome.verdict for f in evaluate(dwelling, code) if f.rule.id in MINE
    }

    for circuit in dwelling.facts.circuits:
        cables = {verdicts["cable-carries", cable.id] for cable in dwelling.cables_of_circuit.get(circuit.id, ())
                  if cable.circuit_ids[0] == circuit.id}  # fmt: skip
        if verdicts["hookup-possible", circuit.id] is Verdict.CLEAR:
            assert cables <= {Verdict.CLEAR}
