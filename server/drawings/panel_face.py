"""A panel's face: its spaces in two columns, odd left and even right, each with its breaker and circuit."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from server.drawings.svg import Medium, Svg
from server.dwelling import Breaker, Circuit, Dwelling, Panel

__all__ = ["draw_panel"]

_ROW: Final = 26
_WIDE: Final = 150
_NAME: Final = 170
_TOP: Final = 56
_KIND: Final = {Breaker.GFCI: "GF", Breaker.AFCI: "AF", Breaker.DUAL: "AF/GF"}


def draw_panel(
    panel: Panel, house: Dwelling, *, medium: Medium = Medium.SCREEN, links: Mapping[str, str] | None = None
) -> str:
    """The face of a panel; ``links`` gives each circuit id its address."""
    circuits = [circuit for circuit in house.facts.circuits if circuit.panel_id == panel.id]
    highest = max((space for circuit in circuits for space in circuit.spaces), default=0)
    spaces = max(panel.spaces or 0, highest, 2)
    rows = (spaces + 1) // 2
    width = 2 * (_NAME + _WIDE / 2) + 24
    svg = Svg(
        width, _TOP + rows * _ROW + 16, f"Face of {panel.name}",
        f"{panel.name}: {len(circuits)} circuits in {spaces} spaces.", medium=medium, name=f"f-{panel.id}",
    )  # fmt: skip
    middle = width / 2
    svg.box("heavy", middle - _WIDE / 2 - 6, 6, _WIDE + 12, _TOP + rows * _ROW)
    svg.text(middle, 26, panel.name)
    rating = (
        f"{panel.main_a} A main"
        if panel.main_a
        else f"{panel.bus_a} A bus"
        if panel.bus_a
        else "rating not recorded"
    )
    svg.text(middle, 44, rating, layer="note")
    for space in range(1, spaces + 1):
        x, y = _cell(space, middle)
        svg.box("thin", x, y, _WIDE / 2, _ROW)
    svg.flush()
    for circuit in circuits:
        _breaker(svg, circuit, middle, (links or {}).get(circuit.id))
    return svg.finish()


def _cell(space: int, middle: float) -> tuple[float, float]:
    """Upper left corner of a space."""
    row, right = divmod(space - 1, 2)
    return (middle if right else middle - _WIDE / 2), _TOP + row * _ROW


def _breaker(svg: Svg, circuit: Circuit, middle: float, href: str | None) -> None:
    if not circuit.spaces:
        return
    first = min(circuit.spaces)
    right = first % 2 == 0
    x, y = _cell(first, middle)
    high = _ROW * max(1, len([space for space in circuit.spaces if space % 2 == first % 2]))
    rating = (
        f"{circuit.rating_a or '?'} A {_KIND.get(circuit.breaker, '') if circuit.breaker else ''}".strip()
    )
    svg.open_link(href, f"Space {'/'.join(map(str, circuit.spaces))}: {circuit.name}, {rating}")
    svg.hit(x if right else x - _NAME, y, _WIDE / 2 + _NAME, max(high, 44))
    svg.box("box", x + 3, y + 3, _WIDE / 2 - 6, high - 6)
    svg.text(x + _WIDE / 4, y + high / 2 + 4, rating)
    edge = middle + _WIDE / 2 + 12 if right else middle - _WIDE / 2 - 12
    name = f"{'/'.join(map(str, circuit.spaces))}  {circuit.name}"
    svg.text(edge, y + high / 2 + 4, name[:26], anchor="start" if right else "end")
    svg.close_link(href)
