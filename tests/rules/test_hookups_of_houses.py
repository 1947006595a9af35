"""The catalogue of circuits (tests/data/hookup, counted by hand) entered as houses: the same answers come out.

Plans are tried by the graph of networkx that the catalogue's own tests use (tests/reckon/hookup/circuit_graph.py);
two-pole circuits and the wire between alarms by graphs of their own.
"""

from __future__ import annotations

from typing import Any

import networkx as nx
import pytest
from hypothesis import HealthCheck, given, settings

from seed_demo.building import HouseBuilder
from seed_demo.house import demo_house
from server.dwelling import DeviceKind, Dwelling, Half
from server.editions import YEARS, load_edition
from server.reckon.hookup import CableEnd, Terminal
from server.rules.hookups import CircuitHookup, State, hookups
from tests.cases.hookup_possible import shared, straight
from tests.random_wiring import grown_houses
from tests.reckon.hookup.catalogue import CIRCUITS, request_of
from tests.reckon.hookup.circuit_graph import complaints

KINDS = {
    "switch": DeviceKind.SWITCH, "dimmer": DeviceKind.SWITCH, "receptacle": DeviceKind.RECEPTACLE, "luminaire": DeviceKind.LUMINAIRE,
    "fan": DeviceKind.FAN, "load": DeviceKind.OTHER, "gfci": DeviceKind.RECEPTACLE,
}  # fmt: skip
WAYS = {1: "single-pole", 3: "three-way", 4: "four-way"}


def enterable(request: dict[str, Any]) -> bool:
    """Whether a circuit of the catalogue can be entered as a house: one source with one hot, the edition's own rule about
    neutrals, a tree of cables with usual colors; the load side of a GFCI told by cables. A lone three-way is half entered
    in a house."""
    devices = {device["id"]: device for device in request["devices"]}
    turned: dict[str, set[str]] = {}
    for device in request["devices"]:
        for load in device.get("controls", []):
            turned.setdefault(load, set()).add(device["id"])
    nodes = [node["id"] for node in request["nodes"]]
    graph = nx.MultiGraph([(cable["a"], cable["b"]) for cable in request["cables"]])
    graph.add_nodes_from(nodes)
    return (
        sum(node["kind"] == "source" for node in request["nodes"]) == 1
        and all(node.get("legs", 1) == 1 for node in request["nodes"])
        and "neutral_at_switch" not in request
        and nx.is_tree(graph)
        and all("colors" not in cable and cable["kind"] != "raceway" for cable in request["cables"])
        and not any(device.get(name) for device in request["devices"] for name in ("needs_neutral", "halves", "second_leg", "leg", "source"))
        and all(device.get("controls") for device in request["devices"] if device["kind"] in ("switch", "dimmer"))
        and all(_by_cables(device, request, graph) for device in request["devices"] if device.get("protects"))
        and not any(
            WAYS.get(device.get("ways"), device.get("ways")) in ("three-way", "four-way")
            and all(len(turned[load]) == 1 for load in device["controls"])
            for device in request["devices"] if device.get("controls")
        )
        and all(devices[load]["kind"] not in ("switch", "dimmer") for load in turned if load in devices)
        and set(turned) <= set(devices)
        # a receptacle is split in a house by what switches a half of it, or by a second circuit
        and all(device["id"] in turned for device in request["devices"] if device.get("split"))
    )  # fmt: skip


def _by_cables(gfci: dict[str, Any], request: dict[str, Any], graph: nx.MultiGraph) -> bool:
    """Whether what a GFCI protects is just what lies beyond some of the cables of its box."""
    return set(gfci["protects"]) == _beyond(_load_cables(gfci, request, graph), gfci, request, graph)


def _source(request: dict[str, Any]) -> str:
    return next(node["id"] for node in request["nodes"] if node["kind"] == "source")


def _onward(gfci: dict[str, Any], request: dict[str, Any], graph: nx.MultiGraph) -> dict[str, set[str]]:
    """The boxes beyond each cable that leads on from a GFCI's box."""
    home = gfci["node"]
    way = nx.shortest_path(graph, _source(request), home)
    found = {}
    for cable in request["cables"]:
        if home not in (cable["a"], cable["b"]):
            continue
        far = cable["b"] if cable["a"] == home else cable["a"]
        if len(way) > 1 and far == way[-2]:
            continue
        cut = graph.copy()
        cut.remove_edge(home, far)
        found[cable["id"]] = nx.node_connected_component(cut, far)
    return found


def _load_cables(gfci: dict[str, Any], request: dict[str, Any], graph: nx.MultiGraph) -> list[str]:
    home = {device["id"]: device["node"] for device in request["devices"]}
    return [
        cable for cable, boxes in _onward(gfci, request, graph).items() if any(home.get(each) in boxes for each in gfci["protects"])
    ]  # fmt: skip


def _beyond(
    cables: list[str], gfci: dict[str, Any], request: dict[str, Any], graph: nx.MultiGraph
) -> set[str]:
    onward = _onward(gfci, request, graph)
    boxes = set().union(*(onward[cable] for cable in cables)) if cables else set()
    return {device["id"] for device in request["devices"] if device["node"] in boxes}


def house_of(request: dict[str, Any], *, one_room: bool = False) -> tuple[Dwelling, str, dict[str, str]]:
    """A house with the circuit, its id, and the cables' ids by their names in the catalogue; a room for each box unless
    all are to stand in one."""
    house = HouseBuilder()
    shared_room = house.room("bedroom", length_in=144, width_in=120)
    panel = house.panel("P")
    circuit = house.circuit(panel, "Circuit")
    place = {_source(request): panel}
    for node in request["nodes"]:
        if node["kind"] == "box":
            room = shared_room if one_room else house.room("bedroom", f"Room {node['id']}")
            place[node["id"]] = house.box(room, label=node["id"])
    cables = {
        cable["id"]: house.cable(place[cable["a"]], place[cable["b"]], circuit, insulated=cable["insulated"], kind=cable["kind"])
        for cable in request["cables"]
    }  # fmt: skip
    made = {}
    graph = nx.MultiGraph([(cable["a"], cable["b"]) for cable in request["cables"]])
    for device in request["devices"]:
        more: dict[str, Any] = {"label": device["id"]}
        if device["kind"] in ("switch", "dimmer"):
            ways = WAYS.get(device.get("ways"), device.get("ways"))
            more |= {"ways": ways, "dimmer": device["kind"] == "dimmer"}
        if device["kind"] == "gfci":
            more |= {
                "gfci": True,
                "load_cable_ids": tuple(cables[each] for each in _load_cables(device, request, graph))
                if device.get("protects")
                else (),
            }
        if device.get("split"):
            more["switched_half"] = Half(device["split"])
        made[device["id"]] = house.device(place[device["node"]], KINDS[device["kind"]], **more)
    for device in request["devices"]:
        if device.get("controls"):
            house.change(made[device["id"]], controls=tuple(made[load] for load in device["controls"]))
    return house.dwelling(), circuit, cables


ENTERABLE = [circuit for circuit in CIRCUITS if enterable(request_of(circuit))]


def test_most_of_the_catalogue_can_be_entered_as_a_house() -> None:
    assert len(ENTERABLE) >= 60


@pytest.mark.parametrize("circuit", ENTERABLE, ids=lambda circuit: circuit["id"])
def test_a_circuit_of_the_catalogue_gets_its_answer_as_a_house(circuit: dict[str, Any]) -> None:
    dwelling, circuit_id, cables = house_of(request_of(circuit))

    found = dwelling.derive(hookups, load_edition(2023)).of(circuit_id)

    possible = circuit.get("possible", True)
    assert (found.state is State.LAWFUL) == possible, (found.state, found.why)
    if not possible:
        short = {found.names.cable_id[item.cable]: item.needs for item in found.hookup.short}
        assert short == {cables[name]: needs for name, needs in circuit.get("wires", {}).items()}
        return
    for name, wires in circuit.get("wires", {}).items():
        planned = found.cable(cables[name])
        assert planned is not None
        assert sum(conductor.signal is not None for conductor in planned.conductors) == wires, name
    for count in ("splices", "reidentified"):
        if count in circuit:
            assert getattr(found.hookup, count) == circuit[count]


NEUTRAL_AT_ONE = {
    "two locations, light between, feed at a switch, neutral asked for", "two locations, feed at the light, dead ends, one neutral short",
    "three locations in a row, feed and light at the first, three-wire, neutral asked for", "three locations around a junction box, only the four-way's cable too small",
}  # fmt: skip
"""Circuits of the catalogue that are short of nothing but a neutral at some of their locations."""


def test_in_one_room_a_neutral_at_one_location_is_left_to_the_inspector() -> None:
    asked = set()
    for circuit in ENTERABLE:
        dwelling, circuit_id, _ = house_of(request_of(circuit), one_room=True)
        found = dwelling.derive(hookups, load_edition(2023)).of(circuit_id)
        if found.asks:
            asked.add(circuit["id"])
            assert found.state is State.LAWFUL
            assert "ask the inspector first" in found.asks
            assert checked(found) == []

    assert asked == NEUTRAL_AT_ONE


def as_sheet(found: CircuitHookup) -> tuple[dict[str, Any], dict[str, Any]]:
    """A house's wiring and plan in the words of the sheet; the graph takes what stands before a space for the name."""
    wiring, hookup = found.entered.wiring, found.hookup
    assert wiring is not None
    assert hookup.plan is not None
    request: dict[str, Any] = {
        "nodes": [
            {"id": _one(node.id), "kind": "source" if node.is_source else "box", "legs": node.legs} for node in wiring.nodes
        ],
        "cables": [
            {"id": _one(c.id), "a": _one(c.a), "b": _one(c.b), "insulated": c.insulated, "kind": c.kind} for c in wiring.cables
        ],
        "devices": [
            {
                "id": _one(d.id), "node": _one(d.node), "kind": str(d.kind), "controls": list(map(_one, d.controls)),
                "protects": list(map(_one, d.protects)), "split": d.split.value if d.split else None,
                "ways": d.ways.value if d.ways else None,
            }
            for d in wiring.devices
        ],
    }  # fmt: skip
    if wiring.neutral_exempt:
        # the graph's own list says where none is needed; elsewhere it follows the edition, as the house does
        request["neutral_at_switch"] = [*map(_one, wiring.neutral_exempt), *_without_lighting(request)]

    def end(each: Any) -> dict[str, str]:
        if isinstance(each, CableEnd):
            return {"cable": _one(each.cable), "color": each.color}
        return {"device": _one(each.device), "terminal": each.terminal}

    def conductor(each: Any) -> dict[str, Any]:
        return {"color": each.color, "reidentified_as": each.reidentified_as, "signal": each.signal}

    rows = hookup.truth[0].rows if len(hookup.truth) == 1 else ()
    result = {
        "plan": {
            "cables": [{"id": _one(c.id), "conductors": list(map(conductor, c.conductors))} for c in hookup.plan.cables],
            "boxes": [
                {"node": _one(b.node), "joins": [list(map(end, join.ends)) for join in b.joins]} for b in hookup.plan.boxes
            ],
        },
        "truth": [
            {
                "positions": dict(zip(map(_one, hookup.truth[0].switches), row.positions, strict=True)),
                "on": list(map(_one, row.on)),
            }
            for row in rows
        ],
        "splices": hookup.splices, "reidentified": hookup.reidentified, "conductors": hookup.conductors,
    }  # fmt: skip
    return request, result


def _one(name: str) -> str:
    return name.replace(" ", "_")


def _without_lighting(request: dict[str, Any]) -> list[str]:
    kinds = {device["id"]: device["kind"] for device in request["devices"]}
    lit = {
        device["node"] for device in request["devices"] for load in device["controls"] if kinds[load] in ("luminaire", "load")
    }  # fmt: skip
    return [
        device["node"]
        for device in request["devices"]
        if device["kind"] == "switch" and device["node"] not in lit
    ]


def checked(found: CircuitHookup) -> list[str]:
    """What the graph complains of, without what it cannot know: tables of several groups are left out above."""
    return [text for text in complaints(*as_sheet(found)) if not text.startswith("no row of truth")]


def _has_alarms(found: CircuitHookup, dwelling: Dwelling) -> bool:
    return any(dwelling.devices[each].kind is DeviceKind.SMOKE_ALARM for each in found.names.device)


@settings(
    max_examples=200, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large]
)
@given(grown_houses())
def test_a_plan_for_any_house_passes_the_graphs_trial(house: HouseBuilder) -> None:
    dwelling = house.dwelling()
    found = dwelling.derive(hookups, load_edition(2023))

    for circuit in dwelling.facts.circuits:
        answer = found.of(circuit.id)
        if (
            answer.state is State.LAWFUL
            and len(answer.circuits) == 1
            and not answer.run.rings
            and not _has_alarms(answer, dwelling)
        ):
            assert checked(answer) == []


@pytest.mark.parametrize("year", YEARS)
def test_every_circuit_of_the_demo_house_can_be_wired_and_passes_the_graphs_trial(year: int) -> None:
    dwelling = demo_house(prefix="x-").builder.dwelling()
    found = dwelling.derive(hookups, load_edition(year))
    states = {circuit.name: found.of(circuit.id).state for circuit in dwelling.facts.circuits}

    assert {name for name, state in states.items() if state is not State.LAWFUL} == {"Panel B feeder"}
    plain = [found.of(c.id) for c in dwelling.facts.circuits if c.poles == 1 and c.name != "Alarms"]
    assert len(plain) > 25
    assert [text for answer in plain for text in checked(answer)] == []


def joined(found: CircuitHookup) -> nx.Graph:
    """Ends and terminals of a plan, joined: conductors by the edge between their two ends."""
    graph: nx.Graph = nx.Graph()
    wiring = found.entered.wiring
    assert wiring is not None
    assert found.hookup.plan is not None
    ends = {cable.id: (cable.a, cable.b) for cable in wiring.cables}
    for cable in found.hookup.plan.cables:
        for conductor in cable.conductors:
            one, other = ((node, CableEnd(cable.id, conductor.color)) for node in ends[cable.id])
            graph.add_edge(one, other)
    for box in found.hookup.plan.boxes:
        for number, join in enumerate(box.joins):
            for end in join.ends:
                graph.add_edge((box.node, number), (box.node, end) if isinstance(end, CableEnd) else end)
    return graph


@pytest.mark.parametrize(
    ("configuration", "insulated"), [("14-50", 3), ("14-30", 3), ("6-20", 2), ("6-20", 3)]
)
def test_a_two_pole_load_lies_between_the_poles(configuration: str, insulated: int) -> None:
    house = HouseBuilder()
    ref = straight(insulated, configuration)(house)
    dwelling = house.dwelling()

    found = dwelling.derive(hookups, load_edition(2023)).of(ref.id)

    graph = joined(found)
    source, load = found.names.panel, next(iter(found.names.device.values()))
    assert nx.has_path(graph, Terminal(source, "hot"), Terminal(load, "hot_1"))
    assert nx.has_path(graph, Terminal(source, "hot_2"), Terminal(load, "hot_2"))
    assert (Terminal(load, "neutral") in graph) == (insulated == 3)
    sides = [nx.node_connected_component(graph, Terminal(source, name)) for name in ("hot", "hot_2")]
    assert not sides[0] & sides[1]
    if insulated == 3:
        assert nx.has_path(graph, Terminal(source, "neutral"), Terminal(load, "neutral"))
        assert not nx.has_path(graph, Terminal(source, "neutral"), Terminal(source, "hot"))
    whites = [c for cable in found.hookup.plan.cables for c in cable.conductors if c.color == "white"]  # type: ignore[union-attr]
    assert [white.reidentified_as is not None for white in whites] == [insulated == 2]


def test_two_circuits_on_one_neutral_keep_their_hots_apart() -> None:
    house = HouseBuilder()
    ref = shared(3)(house)
    dwelling = house.dwelling()

    found = dwelling.derive(hookups, load_edition(2023)).of(ref.id)

    graph = joined(found)
    near, far = found.names.device.values()
    hot, hot_2, neutral = (Terminal(found.names.panel, name) for name in ("hot", "hot_2", "neutral"))
    assert nx.has_path(graph, hot, Terminal(near, "hot"))
    assert nx.has_path(graph, hot_2, Terminal(far, "hot"))
    assert not nx.has_path(graph, hot, hot_2)
    assert nx.has_path(graph, neutral, Terminal(near, "neutral"))
    assert nx.has_path(graph, neutral, Terminal(far, "neutral"))
    # 300.13(B): with the first receptacle taken out, the neutral of the second goes on
    graph.remove_node(Terminal(near, "neutral"))
    assert nx.has_path(graph, neutral, Terminal(far, "neutral"))


def test_alarms_are_joined_by_the_conductor_to_spare() -> None:
    dwelling = demo_house(prefix="x-").builder.dwelling()
    alarms = next(circuit for circuit in dwelling.facts.circuits if circuit.name == "Alarms")

    found = dwelling.derive(hookups, load_edition(2023)).of(alarms.id)

    graph = joined(found)
    leads = [point for point in graph if isinstance(point, Terminal) and point.terminal == "interconnect"]
    assert len(leads) == len(dwelling.cables_of_circuit[alarms.id]) == 6
    assert all(nx.has_path(graph, leads[0], lead) for lead in leads)
    whole = nx.node_connected_component(graph, leads[0])
    assert not any(isinstance(point, Terminal) and point.terminal != "interconnect" for point in whole)


def test_alarms_on_two_wires_are_told_to_be_joined_by_radio() -> None:
    house = HouseBuilder()
    room = house.room("hallway", length_in=144, width_in=48)
    circuit = house.circuit(house.panel(), "Alarms", purpose="alarms")
    boxes = [house.box(room, label=f"A{n}", surface="ceiling") for n in (1, 2)]
    for box in boxes:
        house.device(box, DeviceKind.SMOKE_ALARM)
    house.home_run(circuit, *boxes)
    dwelling = house.dwelling()

    found = dwelling.derive(hookups, load_edition(2023)).of(circuit)

    assert found.state is State.LAWFUL
    assert any("radio" in note and "Cable 2 (14-2)" in note for note in found.hookup.notes)
