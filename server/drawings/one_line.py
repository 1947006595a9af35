"""A circuit as a one-line: panel, breaker, then every box in the order the cable visits it, branches below."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from server.drawings.svg import Medium, Svg
from server.drawings.symbols import letters_of, plan_symbol
from server.dwelling import Box, Cable, Circuit, Dwelling

__all__ = ["Stop", "draw_circuit", "stops_of_circuit"]

_STEP_X: Final = 128
_STEP_Y: Final = 92
_LEFT: Final = 96
_TOP: Final = 46


@dataclass(frozen=True, slots=True)
class Stop:
    """A box on the run: its column (boxes from the panel) and row (branch)."""

    box: Box
    cable: Cable
    parent: str | None
    column: int
    row: int


def stops_of_circuit(circuit: Circuit, house: Dwelling) -> tuple[list[Stop], list[Box]]:
    """The boxes of a circuit as a tree from its panel, depth first, and those that no cable reaches from it.

    Where cables close a loop the second way to a box is left out: a run is a tree, and the rules say so elsewhere.
    """
    cables = house.cables_of_circuit.get(circuit.id, [])
    stops: list[Stop] = []
    reached: set[str] = set()
    rows = 0

    def visit(box_id: str, cable: Cable, parent: str | None, column: int, row: int) -> None:
        nonlocal rows
        box = house.boxes.get(box_id)
        if box is None or box_id in reached:
            return
        reached.add(box_id)
        stops.append(Stop(box, cable, parent, column, row))
        first = True
        for onward in cables:
            for near, far in ((onward.a_box_id, onward.b_box_id), (onward.b_box_id, onward.a_box_id)):
                if near == box_id and far and far not in reached:
                    if not first:
                        rows += 1
                    visit(far, onward, box_id, column + 1, row if first else rows)
                    first = False

    for cable in cables:
        for panel_id, box_id in ((cable.a_panel_id, cable.b_box_id), (cable.b_panel_id, cable.a_box_id)):
            if panel_id == circuit.panel_id and box_id and box_id not in reached:
                if stops:
                    rows += 1
                visit(box_id, cable, None, 1, rows)
    ends = (end for cable in cables for end in (cable.a_box_id, cable.b_box_id))
    loose = [
        house.boxes[end] for end in dict.fromkeys(ends) if end and end in house.boxes and end not in reached
    ]
    return stops, loose


def draw_circuit(
    circuit: Circuit,
    house: Dwelling,
    *,
    medium: Medium = Medium.SCREEN,
    links: Mapping[str, str] | None = None,
) -> str:
    """The one-line of a circuit; ``links`` gives each box id its address."""
    stops, loose = stops_of_circuit(circuit, house)
    columns = max((stop.column for stop in stops), default=0)
    rows = max((stop.row for stop in stops), default=0) + (1 if loose else 0)
    svg = Svg(
        _LEFT + (columns + 0.7) * _STEP_X, _TOP + (rows + 1) * _STEP_Y, f"One-line of {circuit.name}",
        f"{circuit.name}: {len(stops)} boxes in the order the cable visits them.", medium=medium,
        name=f"c-{circuit.id}",
    )  # fmt: skip
    panel = house.panels.get(circuit.panel_id)
    svg.box("open", 8, _TOP - 26, 40, 52)
    svg.text(28, _TOP - 32, panel.name if panel else "no panel")
    svg.text(28, _TOP + 4, "/".join(str(space) for space in circuit.spaces) or "-")
    svg.curve("open", f"M48 {_TOP}h8a8 8 0 0 1 16 0h8")
    svg.text(64, _TOP + 22, f"{circuit.rating_a or '?'} A", layer="note")

    def at(column: float, row: float) -> tuple[float, float]:
        return _LEFT + column * _STEP_X - _STEP_X * 0.6, _TOP + row * _STEP_Y

    where = {stop.box.id: at(stop.column, stop.row) for stop in stops}
    for stop in stops:
        x, y = where[stop.box.id]
        px_, py_ = where[stop.parent] if stop.parent else (80.0, float(_TOP))
        # a branch leaves to the right of its box, clear of the words under it
        bend = px_ + 0.4 * _STEP_X
        way = [(px_, py_), (bend, py_), (bend, y)] if py_ != y else [(px_, y)]
        svg.stroke("open", *way, (x, y))
        size = (
            f"{stop.cable.awg}-{stop.cable.insulated}" if stop.cable.awg else f"{stop.cable.insulated} wires"
        )
        svg.text(x - 0.4 * _STEP_X if py_ == y else x - 0.3 * _STEP_X, y - 8, size, layer="note")
    svg.flush()
    for box in [*(stop.box for stop in stops), *loose]:
        place = loose.index(box) if box.id not in where else 0
        x, y = where.get(box.id) or at(1 + place, rows)
        _box(svg, box, house, x, y, (links or {}).get(box.id))
    if loose:
        svg.text(8, at(1, rows)[1] + 4, "not reached", anchor="start", layer="gap-text")
    return svg.finish()


def _box(svg: Svg, box: Box, house: Dwelling, x: float, y: float, href: str | None) -> None:
    devices = house.devices_of_box.get(box.id, [])
    room = house.rooms.get(box.room_id)
    words = ", ".join(device.label or device.kind.value for device in devices) or "splices only"
    svg.open_link(href, f"{room.name if room else 'No room'}: {words}", box=box.id)
    if href:
        svg.hit(x - 22, y - 22, 44, 60)
    svg.circle("box", x, y, 4)
    svg.flush()
    for place, device in enumerate(devices[:3]):
        plan_symbol(svg, device, x + place * 18 - 8 * (len(devices[:3]) - 1), y + 8, (0.0, 1.0))
    svg.text(x, y + 36, (room.name if room else "")[:18], layer="note")
    letters = " ".join(filter(None, (letters_of(device) for device in devices)))
    svg.text(x, y + 49, (box.label or letters)[:18], layer="note")
    svg.close_link(href)
