"""Drawing a run by taps: what each comes to, whatever was drawn before; held by hypothesis over random taps."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from seed_demo.building import HouseBuilder
from server.dwelling import DeviceKind, Dwelling
from server.editions import load_edition
from server.readiness.run_edits import (
    CableSpec,
    Edits,
    add_leg,
    adopt_cable,
    apply_cable_plan,
    change_leg,
    fit_switches,
    insert_box,
    move_end,
    put_on_load_side,
    remove_leg,
    take_out_box,
)
from server.rules.hookups import State, hookups
from server.rules.runs import run_of

TWO, THREE = CableSpec("14", 2), CableSpec("14", 3)


class Drawing:
    """A house that taps are carried out in, as the page would."""

    def __init__(self, boxes: int = 5) -> None:
        self.house = HouseBuilder()
        room = self.house.room("hallway", length_in=240, width_in=48)
        self.panel = self.house.panel()
        self.circuit_id = self.house.circuit(self.panel, "Lights")
        self.boxes = [
            self.house.box(room, label=f"B{n + 1}", wall=1, at_in=24 * (n + 1)) for n in range(boxes)
        ]
        self.made = 0

    @property
    def dwelling(self) -> Dwelling:
        return self.house.dwelling()

    @property
    def circuit(self):  # type: ignore[no-untyped-def]
        return self.dwelling.circuits[self.circuit_id]

    def new_id(self) -> str:
        self.made += 1
        return f"new-{self.made}"

    def do(self, edits: Edits) -> str:
        assert not edits.refused, edits.refused
        for cable in edits.add:
            self.house.take(cable)
        for _kind, fact_id, values in edits.change:
            self.house.change(fact_id, **values)
        for cable_id in edits.delete:
            self.house.remove(cable_id)
        return edits.at

    def tap(self, *boxes: str, at: str = "", spec: CableSpec = TWO) -> str:
        for box in boxes:
            at = self.do(add_leg(self.dwelling, self.circuit, at, box, spec, new_id=self.new_id()))
        return at

    def ways(self) -> list[tuple[str, str]]:
        """The run as pairs of labels."""
        run = run_of((self.circuit,), self.dwelling)
        label = {box.id: box.label for box in self.house.facts().boxes}
        return [(label.get(leg.start or "", "P"), label[leg.end]) for leg in run.legs]


def test_each_tap_adds_one_leg_from_where_one_stands() -> None:
    drawing = Drawing()
    at = drawing.tap(*drawing.boxes[:3])

    assert at == drawing.boxes[2]
    assert drawing.ways() == [("P", "B1"), ("B1", "B2"), ("B2", "B3")]
    assert [cable.awg for cable in drawing.house.facts().cables] == ["14"] * 3


def test_a_box_of_the_run_is_walked_to_and_branched_from() -> None:
    drawing = Drawing()
    drawing.tap(*drawing.boxes[:3])
    at = drawing.tap(drawing.boxes[0], at=drawing.boxes[2])
    drawing.tap(drawing.boxes[3], at=at, spec=THREE)

    assert drawing.ways() == [("P", "B1"), ("B1", "B2"), ("B2", "B3"), ("B1", "B4")]
    assert drawing.house.facts().cables[-1].insulated == 3


def test_the_same_tap_sent_twice_is_one_leg() -> None:
    drawing = Drawing()
    drawing.tap(drawing.boxes[0])
    again = add_leg(drawing.dwelling, drawing.circuit, "", drawing.boxes[0], TWO, new_id="x")

    assert again.nothing
    assert again.at == drawing.boxes[0]


def test_a_cable_that_was_pulled_already_is_taken_before_a_new_one() -> None:
    drawing = Drawing()
    drawing.tap(drawing.boxes[0])
    pulled = drawing.house.cable(drawing.boxes[1], drawing.boxes[0], insulated=3, awg="12")
    drawing.tap(drawing.boxes[1], at=drawing.boxes[0])

    assert drawing.ways() == [("P", "B1"), ("B1", "B2")]
    assert drawing.dwelling.cables[pulled].circuit_ids == (drawing.circuit_id,)
    assert len(drawing.house.facts().cables) == 2


def test_a_cable_that_ended_nowhere_ends_at_the_next_box_that_is_tapped() -> None:
    drawing = Drawing()
    drawing.tap(*drawing.boxes[:2])
    drawing.house.change(drawing.house.facts().cables[1].id, b_box_id=None)
    drawing.tap(drawing.boxes[2], at=drawing.boxes[0])

    assert drawing.ways() == [("P", "B1"), ("B1", "B3")]


def test_a_box_is_put_into_a_leg_and_the_load_side_goes_with_the_far_end() -> None:
    drawing = Drawing()
    drawing.tap(*drawing.boxes[:2])
    second = drawing.house.facts().cables[1].id
    gfci = drawing.house.receptacle(drawing.boxes[0], gfci=True, load_cable_ids=(second,))
    backwards = drawing.house.receptacle(drawing.boxes[1], gfci=True, load_cable_ids=(second,))
    drawing.do(insert_box(drawing.dwelling, drawing.circuit, second, drawing.boxes[3], new_id="onward"))

    assert drawing.ways() == [("P", "B1"), ("B1", "B4"), ("B4", "B2")]
    assert drawing.dwelling.devices[gfci].load_cable_ids == (second,)
    assert drawing.dwelling.devices[backwards].load_cable_ids == ("onward",)


def test_a_box_that_is_on_the_run_is_not_put_into_a_leg() -> None:
    drawing = Drawing()
    drawing.tap(*drawing.boxes[:3])
    first = drawing.house.facts().cables[0].id

    assert (
        "on the run already"
        in insert_box(drawing.dwelling, drawing.circuit, first, drawing.boxes[2], new_id="x").refused
    )
    assert (
        "on the run already" in move_end(drawing.dwelling, drawing.circuit, first, drawing.boxes[2]).refused
    )


def test_the_end_of_a_leg_is_taken_elsewhere() -> None:
    drawing = Drawing()
    drawing.tap(*drawing.boxes[:3])
    third = drawing.house.facts().cables[2].id
    drawing.do(move_end(drawing.dwelling, drawing.circuit, third, drawing.boxes[4]))

    assert drawing.ways() == [("P", "B1"), ("B1", "B2"), ("B2", "B5")]


def test_a_cable_that_hangs_apart_is_taken_to_the_run() -> None:
    drawing = Drawing()
    drawing.tap(drawing.boxes[0])
    apart = drawing.house.cable(drawing.boxes[2], drawing.boxes[3], drawing.circuit_id)
    drawing.do(move_end(drawing.dwelling, drawing.circuit, apart, drawing.boxes[0]))

    assert drawing.ways() == [("P", "B1"), ("B1", "B3")]


def test_what_lay_beyond_a_removed_leg_is_counted() -> None:
    drawing = Drawing()
    drawing.tap(*drawing.boxes)
    edits = remove_leg(drawing.dwelling, drawing.circuit, drawing.house.facts().cables[1].id)
    drawing.do(edits)

    assert "4 boxes are joined to nothing now" in edits.said
    assert drawing.ways() == [("P", "B1")]
    assert len(run_of((drawing.circuit,), drawing.dwelling).apart) == 3


def test_a_box_is_taken_out_of_the_middle_and_off_the_end() -> None:
    drawing = Drawing()
    drawing.tap(*drawing.boxes[:4])
    drawing.do(take_out_box(drawing.dwelling, drawing.circuit, drawing.boxes[1]))
    drawing.do(take_out_box(drawing.dwelling, drawing.circuit, drawing.boxes[3]))

    assert drawing.ways() == [("P", "B1"), ("B1", "B3")]


def test_a_box_that_branches_stays() -> None:
    drawing = Drawing()
    drawing.tap(*drawing.boxes[:2])
    drawing.tap(drawing.boxes[2], at=drawing.boxes[0])

    assert "branches" in take_out_box(drawing.dwelling, drawing.circuit, drawing.boxes[0]).refused


def test_devices_keep_their_circuit_when_another_one_comes_into_the_box() -> None:
    drawing = Drawing()
    drawing.tap(drawing.boxes[0])
    switch = drawing.house.switch(drawing.boxes[0])
    other = drawing.house.circuit(drawing.panel, "Other")
    dwelling = drawing.dwelling
    drawing.do(add_leg(dwelling, dwelling.circuits[other], "", drawing.boxes[0], TWO, new_id="x"))

    assert drawing.dwelling.devices[switch].circuit_id == drawing.circuit_id
    assert len(drawing.dwelling.circuits_of_box(drawing.boxes[0])) == 2


def test_the_cable_of_a_multiwire_circuit_carries_both_where_it_has_three_conductors() -> None:
    drawing = Drawing()
    other = drawing.house.circuit(drawing.panel, "Other", multiwire_with=drawing.circuit_id)
    drawing.house.change(drawing.circuit_id, multiwire_with=other)
    drawing.tap(drawing.boxes[0], spec=THREE)
    drawing.tap(drawing.boxes[1], at=drawing.boxes[0], spec=TWO)
    drawing.do(
        add_leg(
            drawing.dwelling,
            drawing.circuit,
            drawing.boxes[0],
            drawing.boxes[2],
            THREE,
            new_id="x",
            both=False,
        )
    )

    carried = [cable.circuit_ids for cable in drawing.house.facts().cables]
    assert carried == [(drawing.circuit_id, other), (drawing.circuit_id,), (drawing.circuit_id,)]


def test_a_cable_is_put_on_the_load_side_of_one_device_only() -> None:
    drawing = Drawing()
    drawing.tap(*drawing.boxes[:2])
    onward = drawing.house.facts().cables[1].id
    one, other = (drawing.house.receptacle(drawing.boxes[0], gfci=True) for _ in range(2))
    drawing.do(put_on_load_side(drawing.dwelling, one, onward, load=True, at=""))
    drawing.do(put_on_load_side(drawing.dwelling, other, onward, load=True, at=""))

    assert drawing.dwelling.devices[one].load_cable_ids == ()
    assert drawing.dwelling.devices[other].load_cable_ids == (onward,)
    drawing.do(put_on_load_side(drawing.dwelling, other, onward, load=False, at=""))
    assert drawing.dwelling.devices[other].load_cable_ids == ()


def test_the_cheapest_cables_are_put_in_and_then_it_can_be_wired() -> None:
    drawing = Drawing()
    drawing.tap(*drawing.boxes[:4])
    lamp = drawing.house.device(drawing.boxes[3], DeviceKind.LUMINAIRE)
    for box, ways in zip(drawing.boxes[:3], ("three-way", "four-way", "three-way"), strict=True):
        drawing.house.device(box, DeviceKind.SWITCH, controls=(lamp,), ways=ways)
    short = drawing.dwelling.derive(hookups, load_edition(2023)).of(drawing.circuit_id)
    edits = apply_cable_plan(short)
    drawing.do(edits)

    assert short.state is State.SHORT
    assert [cable.insulated for cable in drawing.house.facts().cables] == [2, 3, 3, 2]
    assert drawing.dwelling.derive(hookups, load_edition(2023)).of(drawing.circuit_id).state is State.LAWFUL
    assert apply_cable_plan(
        drawing.dwelling.derive(hookups, load_edition(2023)).of(drawing.circuit_id)
    ).refused


def test_what_is_gone_is_refused_in_words() -> None:
    drawing = Drawing()
    house, circuit, box = drawing.dwelling, drawing.circuit, drawing.boxes[0]

    for edits in (
        add_leg(house, circuit, "", "gone", TWO, new_id="x"), insert_box(house, circuit, "gone", box, new_id="x"),
        move_end(house, circuit, "gone", box), remove_leg(house, circuit, "gone"), take_out_box(house, circuit, "gone"),
        change_leg(house, circuit, "gone", TWO, ""), adopt_cable(house, circuit, "gone", ""),
        put_on_load_side(house, "gone", "gone", load=True, at=""),
    ):  # fmt: skip
        assert edits.refused.endswith(".")
        assert edits.nothing


TAPS = st.lists(st.tuples(st.sampled_from(["tap", "insert", "move", "remove", "leave", "adopt", "loose"]), st.integers(0, 5), st.integers(0, 9)), max_size=25)  # fmt: skip


@settings(max_examples=150, deadline=None)
@given(TAPS)
def test_however_one_taps_no_box_is_reached_by_two_ways(taps: list[tuple[str, int, int]]) -> None:
    drawing = Drawing(6)
    at = ""
    for deed, box, cable in taps:
        house, circuit, target = drawing.dwelling, drawing.circuit, drawing.boxes[box]
        cables = house.facts.cables
        chosen = cables[cable % len(cables)].id if cables else "none"
        match deed:
            case "tap":
                edits = add_leg(house, circuit, at, target, TWO, new_id=drawing.new_id())
            case "insert":
                edits = insert_box(house, circuit, chosen, target, new_id=drawing.new_id())
            case "move":
                edits = move_end(house, circuit, chosen, target)
            case "remove":
                edits = remove_leg(house, circuit, chosen)
            case "leave":
                edits = take_out_box(house, circuit, target)
            case "adopt":
                edits = adopt_cable(house, circuit, chosen, at)
            case _:
                continue
        if not edits.refused:
            at = drawing.do(edits)
    run = run_of((drawing.circuit,), drawing.dwelling)

    assert not run.rings
    assert not run.loose
    assert not run.astray
    answer = drawing.dwelling.derive(hookups, load_edition(2023)).of(drawing.circuit_id)
    assert answer.state in State


@settings(max_examples=80, deadline=None)
@given(
    st.permutations([0, 1, 2, 3]),
    st.lists(st.sampled_from(["single-pole", "three-way", "four-way", None]), min_size=3, max_size=4),
)
def test_switches_are_fitted_so_that_it_can_be_wired(order: list[int], ways: list[str | None]) -> None:
    """Whatever kinds were recorded, and wherever along the run the light is."""
    drawing = Drawing(5)
    drawing.tap(*drawing.boxes, spec=CableSpec("14", 4))
    lamp = drawing.house.device(drawing.boxes[4], DeviceKind.LUMINAIRE)
    switches = [
        drawing.house.device(drawing.boxes[box], DeviceKind.SWITCH, controls=(lamp,), ways=way)
        for box, way in zip(order, ways, strict=False)
    ]
    code = load_edition(2023)
    before = drawing.dwelling.derive(hookups, code).of(drawing.circuit_id)
    edits = fit_switches(before, drawing.dwelling, code)
    if not edits.refused:
        drawing.do(edits)

    after = drawing.dwelling.derive(hookups, code).of(drawing.circuit_id)
    assert after.state is State.LAWFUL, after.why
    kinds = [drawing.dwelling.devices[switch].ways for switch in switches]
    if not edits.refused:
        assert sorted(str(kind) for kind in kinds) == ["four-way"] * (len(switches) - 2) + ["three-way"] * 2
