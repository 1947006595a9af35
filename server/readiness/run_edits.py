"""Drawing a run: what a tap on a box comes to, as changes of facts. Nothing is written here.

    edits = add_leg(house, circuit, at, box_id, CableSpec("14", 2))
    edits.refused                       # why nothing is changed
    edits.add, edits.change, edits.delete, edits.at, edits.said

``at`` is where one stands: a box's id, or ``""`` for the panel.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from server.dwelling import Cable, CableKind, Circuit, Dwelling
from server.editions import Edition
from server.rules.hookup_names import cable_size, short_box_name
from server.rules.hookup_wiring import circuit_sets
from server.rules.hookups import CircuitHookup, State, switches_that_would_do
from server.rules.runs import Run, run_of

__all__ = [
    "CableSpec", "Change", "Edits", "add_leg", "adopt_cable", "apply_cable_plan", "change_leg", "fit_switches", "insert_box", "move_end",
    "put_on_load_side", "remove_leg", "take_out_box",
]  # fmt: skip

Change = tuple[str, str, Mapping[str, Any]]
"""Kind, id and new values of a fact."""


@dataclass(frozen=True, slots=True)
class CableSpec:
    """The cable that is pulled next."""

    awg: str | None
    insulated: int
    kind: CableKind = CableKind.NM_B

    def __str__(self) -> str:
        return f"{self.awg}-{self.insulated}" if self.awg else f"{self.insulated}-wire"


@dataclass(frozen=True, slots=True)
class Edits:
    """What is to be changed, what to say about it, and where one stands afterwards."""

    said: str
    at: str
    add: tuple[Cable, ...] = ()
    change: tuple[Change, ...] = ()
    delete: tuple[str, ...] = ()
    refused: str = ""

    @property
    def nothing(self) -> bool:
        """One only stands elsewhere now."""
        return not (self.add or self.change or self.delete)


def _refuse(why: str, at: str) -> Edits:
    return Edits("", at, refused=why)


def _called(box_id: str, circuit: Circuit, house: Dwelling) -> str:
    if not box_id:
        panel = house.panels.get(circuit.panel_id)
        return panel.name if panel else "the panel"
    box = house.boxes.get(box_id)
    return short_box_name(box, house) if box else "a box that is gone"


def _number(cable_id: str, circuit: Circuit, house: Dwelling) -> str:
    """A cable's number, as it stands on the drawings: counted over the circuits that are wired together."""
    return str(run_of(house.derive(circuit_sets)[circuit.id], house).numbers.get(cable_id, ""))


def _ends(cable: Cable) -> tuple[str | None, str | None]:
    return cable.a_box_id, cable.b_box_id


def _is_end(at: str, circuit: Circuit, cable: Cable) -> bool:
    return at in _ends(cable) if at else circuit.panel_id in (cable.a_panel_id, cable.b_panel_id)


def _circuits_on(circuit: Circuit, house: Dwelling, *, both: bool) -> tuple[str, ...]:
    partner = house.circuits.get(circuit.multiwire_with or "")
    return (circuit.id, partner.id) if both and partner is not None else (circuit.id,)


def _settled(box_id: str, circuit_ids: Iterable[str], house: Dwelling) -> tuple[Change, ...]:
    """Devices that went by the only circuit in their box keep it when another one comes in."""
    here = house.circuits_of_box(box_id)
    coming = [each for each in circuit_ids if each not in {circuit.id for circuit in here}]
    if len(here) != 1 or not coming:
        return ()
    return tuple(
        ("device", device.id, {"circuit_id": here[0].id})
        for device in house.devices_of_box.get(box_id, ())
        if device.circuit_id is None
    )


def add_leg(
    house: Dwelling, circuit: Circuit, at: str, to: str, spec: CableSpec, *, new_id: str, both: bool = True
) -> Edits:
    """A cable from where one stands to a box; to a box of the run one only walks.

    A cable on no circuit between the two, or one of this circuit that ends nowhere yet, is taken before a new one.
    """
    if to not in house.boxes:
        return _refuse("That box is gone.", at)
    run = run_of((circuit,), house)
    if to == at or to in run.reached:
        return Edits(f"Standing at {_called(to, circuit, house)}.", to)
    circuit_ids = _circuits_on(circuit, house, both=both and spec.insulated > 2)
    settled = _settled(to, circuit_ids, house)
    between = f"from {_called(at, circuit, house)} to {_called(to, circuit, house)}"
    for cable in house.facts.cables:
        open_end = _open_end(cable, circuit, at)
        if open_end is not None and (not cable.circuit_ids or circuit.id in cable.circuit_ids):
            values: dict[str, Any] = {open_end: to}
            if not cable.circuit_ids:
                values["circuit_ids"] = circuit_ids
            return Edits(
                f"{cable_size(cable)} {between}.", to, change=(("cable", cable.id, values), *settled)
            )
        if not cable.circuit_ids and _is_end(at, circuit, cable) and to in _ends(cable):
            taken: Change = ("cable", cable.id, {"circuit_ids": circuit_ids})
            return Edits(
                f"The {cable_size(cable)} that was pulled {between} is on the run.",
                to,
                change=(taken, *settled),
            )
    made = Cable(
        new_id, spec.kind, spec.awg, spec.insulated, order=len(house.facts.cables), circuit_ids=circuit_ids,
        a_box_id=at or None, a_panel_id=None if at else circuit.panel_id, b_box_id=to, material=circuit.material,
    )  # fmt: skip
    return Edits(f"{spec} {between}.", to, add=(made,), change=settled)


def _open_end(cable: Cable, circuit: Circuit, at: str) -> str | None:
    """The field of the end that leads nowhere, of a cable whose other end is where one stands."""
    a_open = cable.a_box_id is None and cable.a_panel_id is None
    b_open = cable.b_box_id is None and cable.b_panel_id is None
    if a_open == b_open or not _is_end(at, circuit, cable):
        return None
    return "a_box_id" if a_open else "b_box_id"


def insert_box(house: Dwelling, circuit: Circuit, cable_id: str, box_id: str, *, new_id: str) -> Edits:
    """A box put into a leg: the cable ends there, and another of its kind goes on."""
    cable, run = house.cables.get(cable_id), run_of((circuit,), house)
    if cable is None or box_id not in house.boxes:
        return _refuse("That cable or that box is gone.", "")
    if box_id in run.reached or box_id in _ends(cable):
        return _refuse(f"{_called(box_id, circuit, house)} is on the run already.", box_id)
    onward = replace(
        cable, id=new_id, order=len(house.facts.cables), a_box_id=box_id, a_panel_id=None, length_ft=None, sheath_a_in=None,
        fastened_a_in=None,
    )  # fmt: skip
    kept = {
        "b_box_id": box_id,
        "b_panel_id": None,
        "length_ft": None,
        "sheath_b_in": None,
        "fastened_b_in": None,
    }
    # a device at the far end has the new cable on its load terminals, where it had the old one
    moved: list[Change] = [
        ("device", device.id, {"load_cable_ids": tuple(new_id if each == cable_id else each for each in device.load_cable_ids)})
        for device in house.devices_of_box.get(cable.b_box_id or "", ())
        if cable_id in device.load_cable_ids
    ]  # fmt: skip
    settled = _settled(box_id, cable.circuit_ids, house)
    said = f"{_called(box_id, circuit, house)} put into cable {_number(cable_id, circuit, house)} ({cable_size(cable)})."
    return Edits(said, box_id, add=(onward,), change=(("cable", cable_id, kept), *moved, *settled))


def move_end(house: Dwelling, circuit: Circuit, cable_id: str, box_id: str) -> Edits:
    """The far end of a leg taken to another box."""
    cable, run = house.cables.get(cable_id), run_of((circuit,), house)
    if cable is None or box_id not in house.boxes:
        return _refuse("That cable or that box is gone.", "")
    leg = next((each for each in run.legs if each.cable.id == cable_id), None)
    end = leg.end if leg is not None else None
    side = "a" if end is not None and cable.a_box_id == end else "b"
    if leg is None and (cable.b_box_id in run.reached or cable.b_panel_id == circuit.panel_id):
        side = "a"
    stays_box, stays_panel = (
        (cable.a_box_id, cable.a_panel_id) if side == "b" else (cable.b_box_id, cable.b_panel_id)
    )
    joined = stays_box in run.reached or stays_panel == circuit.panel_id
    if box_id == stays_box or (joined and box_id in run.reached and box_id != end):
        return _refuse(f"{_called(box_id, circuit, house)} is on the run already.", box_id)
    values = {
        f"{side}_box_id": box_id, f"{side}_panel_id": None, f"sheath_{side}_in": None, f"fastened_{side}_in": None,
        "length_ft": None,
    }  # fmt: skip
    letting_go: tuple[Change, ...] = tuple(
        (
            "device",
            device.id,
            {"load_cable_ids": tuple(each for each in device.load_cable_ids if each != cable_id)},
        )
        for device in house.devices_of_box.get(end or "", ())
        if cable_id in device.load_cable_ids
    )
    said = f"Cable {_number(cable_id, circuit, house)} ({cable_size(cable)}) now goes to {_called(box_id, circuit, house)}."
    settled = _settled(box_id, cable.circuit_ids, house)
    return Edits(said, box_id, change=(("cable", cable_id, values), *letting_go, *settled))


def remove_leg(house: Dwelling, circuit: Circuit, cable_id: str) -> Edits:
    """A cable taken out of the house; what lay beyond it is joined to nothing until another reaches it."""
    cable, run = house.cables.get(cable_id), run_of((circuit,), house)
    if cable is None:
        return _refuse("That cable is gone.", "")
    leg = next((each for each in run.legs if each.cable.id == cable_id), None)
    beyond = _beyond(run, leg.end) if leg is not None else []
    left = (
        f" {len(beyond)} {'box is' if len(beyond) == 1 else 'boxes are'} joined to nothing now."
        if len(beyond) > 1
        else ""
    )
    number = _number(cable_id, circuit, house)
    return Edits(
        f"Cable {number} ({cable_size(cable)}) removed.{left}",
        (leg.start or "") if leg else "",
        delete=(cable_id,),
    )


def _beyond(run: Run, box_id: str) -> list[str]:
    found = [box_id]
    for leg in run.legs:
        if leg.start in found:
            found.append(leg.end)
    return found


def take_out_box(house: Dwelling, circuit: Circuit, box_id: str) -> Edits:
    """A box taken out of the run: the cable that came in goes on to the next box."""
    run = run_of((circuit,), house)
    name = _called(box_id, circuit, house)
    feed = next((leg for leg in run.legs if leg.end == box_id), None)
    onward = [leg for leg in run.legs if leg.start == box_id]
    if feed is None:
        return _refuse(f"{name} is not on the run.", "")
    if len(onward) > 1:
        return _refuse(f"The run branches at {name}: reroute or remove its branches first.", box_id)
    before = feed.start or ""
    if not onward:
        return Edits(f"{name} taken off the run.", before, delete=(feed.cable.id,))
    side = "b" if feed.cable.b_box_id == box_id else "a"
    values = {
        f"{side}_box_id": onward[0].end,
        "length_ft": None,
        f"sheath_{side}_in": None,
        f"fastened_{side}_in": None,
    }
    return Edits(
        f"{name} taken out: cable {_number(feed.cable.id, circuit, house)} ({cable_size(feed.cable)}) goes on to {_called(onward[0].end, circuit, house)}.",
        before, change=(("cable", feed.cable.id, values),), delete=(onward[0].cable.id,),
    )  # fmt: skip


def change_leg(house: Dwelling, circuit: Circuit, cable_id: str, spec: CableSpec, at: str) -> Edits:
    """Another cable in place of a leg."""
    cable = house.cables.get(cable_id)
    if cable is None:
        return _refuse("That cable is gone.", at)
    number = _number(cable_id, circuit, house)
    values = {"awg": spec.awg, "insulated": spec.insulated, "kind": spec.kind}
    return Edits(
        f"Cable {number} is now {spec} {spec.kind.upper()}.", at, change=(("cable", cable_id, values),)
    )


def adopt_cable(house: Dwelling, circuit: Circuit, cable_id: str, at: str) -> Edits:
    """A cable that is on no circuit put on this one."""
    cable = house.cables.get(cable_id)
    if cable is None:
        return _refuse("That cable is gone.", at)
    ids = (*cable.circuit_ids, circuit.id) if circuit.id not in cable.circuit_ids else cable.circuit_ids
    settled = [change for end in _ends(cable) if end for change in _settled(end, ids, house)]
    far = next((end for end in (cable.b_box_id, cable.a_box_id) if end and end != at), at)
    return Edits(
        f"The {cable_size(cable)} is on {circuit.name}.",
        far,
        change=(("cable", cable_id, {"circuit_ids": ids}), *settled),
    )


def put_on_load_side(house: Dwelling, device_id: str, cable_id: str, *, load: bool, at: str) -> Edits:
    """A cable on the load terminals of a protecting device, or back on its line side."""
    device, cable = house.devices.get(device_id), house.cables.get(cable_id)
    if device is None or cable is None or device.box_id not in _ends(cable):
        return _refuse("That cable or that device is gone.", at)
    kept = tuple(each for each in device.load_cable_ids if each != cable_id)
    changes: list[Change] = [("device", device_id, {"load_cable_ids": (*kept, cable_id) if load else kept})]
    for other in house.devices_of_box.get(device.box_id, ()) if load else ():
        if other.id != device_id and cable_id in other.load_cable_ids:
            rest = tuple(each for each in other.load_cable_ids if each != cable_id)
            changes.append(("device", other.id, {"load_cable_ids": rest}))
    side = "load" if load else "line"
    return Edits(
        f"The {cable_size(cable)} is on the {side} side of the {device.label or device.kind}.",
        at,
        change=tuple(changes),
    )


def apply_cable_plan(found: CircuitHookup) -> Edits:
    """The cheapest cables that make the hookup possible, in place of those that are short."""
    if found.state is not State.SHORT:
        return _refuse("The cables are not short any more.", "")
    changes: list[Change] = []
    words = []
    for need in found.hookup.cheapest:
        cable_id = found.names.cable_id.get(need.cable, "")
        if need.insulated > need.has and cable_id:
            changes.append(("cable", cable_id, {"insulated": need.insulated}))
            words.append(f"{need.cable} now has {need.insulated} conductors")
    return Edits(f"Cable {', cable '.join(words)}.", "", change=tuple(changes))


def fit_switches(found: CircuitHookup, house: Dwelling, code: Edition) -> Edits:
    """Three-ways and four-ways where the hookup has them."""
    wanted = switches_that_would_do(found, code)
    if not wanted:
        return _refuse("The switches are of the right kind, as far as that helps.", "")
    words = [f"{found.names.device[each]} is a {ways}" for each, ways in wanted.items()]
    changes: tuple[Change, ...] = tuple(("device", each, {"ways": ways}) for each, ways in wanted.items())
    return Edits(f"{'; '.join(words)}.", "", change=changes)
