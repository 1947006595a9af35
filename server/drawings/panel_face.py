"""A panel's face: its spaces in two columns, odd left and even right, each with its breaker and circuit.

Breakers that protect against ground or arc faults have their test button; two that share a neutral are tied. Two
circuits in one space are a tandem: each has half of it.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Final

from server.drawings.svg import Medium, Svg
from server.dwelling import Breaker, Circuit, Dwelling, Panel

__all__ = ["draw_panel"]

_ROW: Final = 26
_WIDE: Final = 188
_NAME: Final = 204
_TOP: Final = 56
_NAME_MOST: Final = 33
_KIND: Final = {Breaker.GFCI: "GF", Breaker.AFCI: "AF", Breaker.DUAL: "AF/GF", Breaker.FUSE: "fuse"}


def draw_panel(
    panel: Panel,
    house: Dwelling,
    *,
    medium: Medium = Medium.SCREEN,
    links: Mapping[str, str] | None = None,
    new_link: str = "",
) -> str:
    """The face of a panel.

    Args:
        links: circuit id to its address.
        new_link: the address of a new circuit, to which a free space's number is added.
    """
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
    held: dict[int, list[Circuit]] = {}
    for circuit in circuits:
        for space in circuit.spaces:
            held.setdefault(space, []).append(circuit)
    for space in range(1, spaces + 1):
        if space not in held:
            _free(svg, space, middle, f"{new_link}{space}" if new_link else None)
    for circuit in circuits:
        _breaker(svg, circuit, held, middle, (links or {}).get(circuit.id))
    for circuit in circuits:
        _tie(svg, circuit, house, middle)
    return svg.finish()


def _cell(space: int, middle: float) -> tuple[float, float]:
    """Upper left corner of a space."""
    row, right = divmod(space - 1, 2)
    return (middle if right else middle - _WIDE / 2), _TOP + row * _ROW


def _free(svg: Svg, space: int, middle: float, href: str | None) -> None:
    x, y = _cell(space, middle)
    if href is None:
        svg.text(x + _WIDE / 4, y + _ROW / 2 + 4, str(space), layer="note")
        return
    svg.open_link(href, f"Space {space} is free: add a circuit")
    svg.hit(x if space % 2 == 0 else x - _NAME, y - 9, _WIDE / 2 + _NAME, 44)
    svg.text(x + _WIDE / 4, y + _ROW / 2 + 4, str(space), layer="note")
    svg.close_link(href)


def _breaker(
    svg: Svg, circuit: Circuit, held: Mapping[int, list[Circuit]], middle: float, href: str | None
) -> None:
    if not circuit.spaces:
        return
    first = min(circuit.spaces)
    right = first % 2 == 0
    x, y = _cell(first, middle)
    rows = max(1, len([space for space in circuit.spaces if space % 2 == first % 2]))
    share = held[first] if rows == 1 else [circuit]
    high = _ROW * rows / len(share)
    y += high * share.index(circuit)
    kind = _KIND.get(circuit.breaker, "") if circuit.breaker else ""
    rating = f"{circuit.rating_a or '?'} A {kind}".strip()
    spaces = "/".join(map(str, circuit.spaces))
    svg.open_link(href, f"Space {spaces}: {circuit.name}, {rating}")
    svg.hit(x if right else x - _NAME, y - max(0.0, (44 - high) / 2), _WIDE / 2 + _NAME, max(high, 44))
    svg.box("box", x + 3, y + 2, _WIDE / 2 - 6, high - 4)
    if circuit.breaker in (Breaker.GFCI, Breaker.AFCI, Breaker.DUAL):
        svg.circle("thin", x + (12 if right else _WIDE / 2 - 12), y + high / 2, 3)
    svg.text(x + _WIDE / 4 + (5 if right else -5), y + high / 2 + 4, rating)
    edge = middle + _WIDE / 2 + 12 if right else middle - _WIDE / 2 - 12
    name = f"{spaces}  {circuit.name}"
    if len(name) > _NAME_MOST:
        name = f"{name[: _NAME_MOST - 1].rstrip()}…"
    svg.text(edge, y + high / 2 + 4, name, anchor="start" if right else "end")
    svg.close_link(href)


def _tie(svg: Svg, circuit: Circuit, house: Dwelling, middle: float) -> None:
    """The tie between two breakers that share a neutral and stand under each other."""
    other = house.circuits.get(circuit.multiwire_with or "")
    if other is None or circuit.handle_tied is False or len(circuit.spaces) != 1 or len(other.spaces) != 1:
        return
    (one,), (two,) = circuit.spaces, other.spaces
    if circuit.panel_id != other.panel_id or two - one != 2:
        return
    x, y = _cell(one, middle)
    at = x + (_WIDE / 2 - 5 if one % 2 == 0 else 5)
    svg.stroke("heavy", (at, y + _ROW * 0.5), (at, y + _ROW * 1.5))
    svg.flush()
