"""A circuit as a one-line: panel, breaker, then every box in the order the cable visits it, branches below.

Legs bear their numbers, as everywhere else. A cable on the load side of a protecting device starts with a bar. What
is not joined to the panel stands at the foot.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Final

from server.drawings.svg import Medium, Svg
from server.drawings.symbols import letters_of, plan_symbol
from server.dwelling import Box, Breaker, Cable, Circuit, Dwelling
from server.rules.hookup_names import cable_size
from server.rules.runs import Leg, Run, run_of

__all__ = ["draw_circuit"]

_STEP_X: Final = 124
_STEP_Y: Final = 96
_LEFT: Final = 104
_TOP: Final = 48
_FOOT: Final = 64
_MOST: Final = 18
_KINDS: Final[Mapping[Breaker, str]] = {
    Breaker.GFCI: "GFCI", Breaker.AFCI: "AFCI", Breaker.DUAL: "AFCI+GFCI", Breaker.FUSE: "fuse",
}  # fmt: skip


def draw_circuit(
    circuit: Circuit,
    house: Dwelling,
    *,
    medium: Medium = Medium.SCREEN,
    links: Mapping[str, str] | None = None,
    run: Run | None = None,
    short: Collection[str] = (),
    here: str = "",
) -> str:
    """The one-line of a circuit.

    Args:
        links: box id to its address.
        run: the run where it is known already; it may be that of two circuits that share cables.
        short: ids of cables with too few conductors, drawn in the color of corrections.
        here: the box that is ringed: where the next cable starts.
    """
    run = run or run_of((circuit,), house)
    return _Drawing(circuit, house, run, medium, links or {}, short, here).finish()


class _Drawing:
    def __init__(
        self,
        circuit: Circuit,
        house: Dwelling,
        run: Run,
        medium: Medium,
        links: Mapping[str, str],
        short: Collection[str],
        here: str,
    ) -> None:
        self.circuit, self.house, self.run = circuit, house, run
        self.links, self.short, self.here = links, short, here
        self.apart = self._apart()
        rows = max((leg.row for leg in run.legs), default=0)
        columns = max((leg.column for leg in run.legs), default=0)
        self.foot = rows + 1
        wide = max(columns, len(self.apart) if self.apart else 0)
        self.loads = {
            cable_id
            for box_id in run.reached
            for device in house.devices_of_box.get(box_id, ())
            for cable_id in device.load_cable_ids
        }
        self.svg = Svg(
            _LEFT + (wide + 0.6) * _STEP_X, _TOP + (self.foot - (not self.apart)) * _STEP_Y + _FOOT, f"One-line of {circuit.name}",
            f"{circuit.name}: {len(run.legs)} boxes in the order the cable visits them.", medium=medium, name=f"c-{circuit.id}",
        )  # fmt: skip

    def _apart(self) -> list[Box]:
        """Boxes that some cable of the circuit ends in and that the panel does not reach."""
        reached = set(self.run.reached)
        ends = (
            end for cable in (*self.run.apart, *self.run.loose, *self.run.astray) for end in (cable.a_box_id, cable.b_box_id)
        )  # fmt: skip
        return [
            self.house.boxes[end]
            for end in dict.fromkeys(ends)
            if end is not None and end in self.house.boxes and end not in reached
        ]

    def finish(self) -> str:
        svg = self.svg
        self._source()
        where = {leg.end: self._at(leg.column, leg.row) for leg in self.run.legs}
        for leg in self.run.legs:
            self._leg(leg, where)
        svg.flush()
        for leg in self.run.legs:
            x, y = where[leg.end]
            if leg.end in self.house.boxes:
                self._box(self.house.boxes[leg.end], x, y)
            elif leg.end in self.house.panels:
                svg.box("open", x - 14, y - 20, 28, 40)
                svg.text(x, y + 36, _cut(self.house.panels[leg.end].name))
        self._loose_ends(where)
        if self.apart:
            y = self._at(1, self.foot)[1]
            svg.text(8, y + 4, "not joined", anchor="start", layer="gap-text")
            for place, box in enumerate(self.apart):
                x, _ = self._at(1 + place, self.foot)
                self._box(box, x, y)
        return svg.finish()

    def _at(self, column: float, row: float) -> tuple[float, float]:
        return _LEFT + (column - 0.5) * _STEP_X, _TOP + row * _STEP_Y

    def _source(self) -> None:
        svg, circuit = self.svg, self.circuit
        panel = self.house.panels.get(circuit.panel_id)
        svg.box("heavy", 8, _TOP - 26, 40, 52)
        svg.flush()
        svg.text(8, _TOP - 32, panel.name if panel else "no panel", anchor="start")
        svg.text(28, _TOP + 4, "/".join(map(str, circuit.spaces)) or "-")
        svg.curve("open", f"M48 {_TOP}h10a9 9 0 0 1 18 0h10")
        svg.text(67, _TOP + 20, f"{circuit.rating_a or '?'} A", layer="note")
        kind = _KINDS.get(circuit.breaker) if circuit.breaker is not None else None
        if kind is not None:
            svg.text(67, _TOP + 33, kind, layer="note")

    def _leg(self, leg: Leg, where: Mapping[str, tuple[float, float]]) -> None:
        svg = self.svg
        x, y = where[leg.end]
        from_x, from_y = where[leg.start] if leg.start is not None else (86.0, float(_TOP))
        # a branch leaves to the right of its box, clear of the words under it
        bend = from_x + (0.36 * _STEP_X if leg.start is not None else 6)
        way = [(from_x, from_y), (bend, from_y), (bend, y)] if from_y != y else [(from_x, y)]
        layer = "gap" if leg.cable.id in self.short else "open"
        svg.stroke(layer, *way, (x, y))
        middle = ((bend if from_y != y else from_x) + x) / 2
        note = "gap-text" if leg.cable.id in self.short else "note"
        svg.text(middle, y - 8, f"{leg.number} ({cable_size(leg.cable)})", layer=note)
        if leg.cable.id in self.loads:
            svg.stroke("heavy", (from_x + 16, from_y - 6), (from_x + 16, from_y + 6))
            svg.flush()

    def _loose_ends(self, where: Mapping[str, tuple[float, float]]) -> None:
        """Cables of which one end leads nowhere: a stub that stops at a cross."""
        count: dict[str, int] = {}
        for cable in self.run.loose:
            end = next((each for each in (cable.a_box_id, cable.b_box_id) if each in where), None)
            if end is None:
                continue
            x, y = where[end]
            count[end] = count.get(end, 0) + 1
            down = 56 + 14 * count[end]
            self.svg.stroke("gap", (x + 8, y + 6), (x + 8, y + down - 4))
            self.svg.flush()
            self._cross(x + 8, y + down, cable)

    def _cross(self, x: float, y: float, cable: Cable) -> None:
        self.svg.stroke("gap", (x - 4, y - 4), (x + 4, y + 4))
        self.svg.stroke("gap", (x - 4, y + 4), (x + 4, y - 4))
        self.svg.flush()
        self.svg.text(
            x + 8, y + 4, f"{self.run.numbers[cable.id]} ends here", anchor="start", layer="gap-text"
        )

    def _box(self, box: Box, x: float, y: float) -> None:
        svg, href = self.svg, self.links.get(box.id)
        devices = self.house.devices_of_box.get(box.id, [])
        room = self.house.rooms.get(box.room_id)
        words = ", ".join(device.label or device.kind.value for device in devices) or "splices only"
        svg.open_link(href, f"{room.name if room else 'No room'} {box.label}: {words}", box=box.id)
        if href:
            svg.hit(x - 24, y - 20, 48, 66)
        if box.id == self.here:
            svg.circle("new", x, y, 10)
        svg.circle("box", x, y, 4)
        svg.flush()
        for place, device in enumerate(devices[:3]):
            plan_symbol(svg, device, x + place * 18 - 8 * (len(devices[:3]) - 1), y + 8, (0.0, 1.0))
        svg.text(x, y + 38, _cut(room.name if room else ""), layer="note")
        letters = " ".join(dict.fromkeys(filter(None, map(letters_of, devices))))
        svg.text(x, y + 51, _cut(f"{box.label} {letters}".strip()), layer="note")
        svg.close_link(href)


def _cut(text: str) -> str:
    return text if len(text) <= _MOST else f"{text[: _MOST - 1].rstrip()}…"
