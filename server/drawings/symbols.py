"""Marks for boxes: the front view in elevations, the trade's plan symbols in plans.

Plan symbols are drafting's own: a receptacle is a circle with two strokes through it, a switch an S with its
ways, a luminaire a circle with a cross, an alarm a circle with letters.
"""

from __future__ import annotations

from server.drawings.svg import Svg
from server.dwelling import Device, DeviceKind, SwitchWays

__all__ = ["front_view", "letters_of", "plan_symbol"]

_WAYS = {
    SwitchWays.SINGLE_POLE: "S",
    SwitchWays.THREE_WAY: "S3",
    SwitchWays.FOUR_WAY: "S4",
    SwitchWays.DOUBLE_POLE: "S2",
}
_LETTERS = {
    DeviceKind.SMOKE_ALARM: "SM",
    DeviceKind.CO_ALARM: "CO",
    DeviceKind.SMOKE_CO_ALARM: "S/C",
    DeviceKind.FAN: "F",
    DeviceKind.EXHAUST_FAN: "EF",
    DeviceKind.HARDWIRED: "J",
    DeviceKind.PROTECTOR: "P",
    DeviceKind.OTHER: "J",
}


def letters_of(device: Device) -> str:
    """The letters that stand beside a device: ``GFI``, ``S3``, ``SM``; empty for a plain receptacle or luminaire."""
    if device.kind is DeviceKind.SWITCH:
        ways = _WAYS.get(device.ways, "S") if device.ways else "S"
        return ways + ("D" if device.dimmer else "")
    if device.kind is DeviceKind.RECEPTACLE:
        marks = [
            word
            for on, word in ((device.gfci, "GF"), (device.afci, "AF"), (device.weather_resistant, "WR"))
            if on
        ]
        volts = (device.configuration or "").split("-")[0]
        if volts in ("6", "10", "14"):
            marks.append(device.configuration or "")
        return " ".join(marks)
    return _LETTERS.get(device.kind, "")


def front_view(svg: Svg, device: Device, x: float, y: float, width: float, height: float) -> None:
    """A device's face inside its gang (``x``, ``y`` the gang's middle)."""
    half = min(width, height) / 2
    match device.kind:
        case DeviceKind.RECEPTACLE:
            for dy in (-height / 5, height / 5):
                for dx in (-width / 7, width / 7):
                    svg.stroke("thin", (x + dx, y + dy - height / 14), (x + dx, y + dy + height / 14))
            if device.switched_half is not None or device.gfci:
                svg.stroke("thin", (x - width / 4, y), (x + width / 4, y))
        case DeviceKind.SWITCH:
            svg.box("thin", x - width / 8, y - height / 6, width / 4, height / 3)
        case DeviceKind.LUMINAIRE:
            svg.stroke("thin", (x - half * 0.6, y - half * 0.6), (x + half * 0.6, y + half * 0.6))
            svg.stroke("thin", (x - half * 0.6, y + half * 0.6), (x + half * 0.6, y - half * 0.6))
        case _:
            svg.circle("thin", x, y, half * 0.5)


def plan_symbol(svg: Svg, device: Device, x: float, y: float, inward: tuple[float, float]) -> None:
    """A device in plan at a point of a wall (or ceiling); ``inward`` points into the room."""
    ix, iy = inward
    cx, cy = x + ix * 7, y + iy * 7
    match device.kind:
        case DeviceKind.RECEPTACLE:
            svg.circle("box", cx, cy, 5)
            for across in (-2, 2):
                px_, py_ = -iy * across, ix * across
                svg.stroke(
                    "open", (cx + px_ - ix * 8, cy + py_ - iy * 8), (cx + px_ + ix * 8, cy + py_ + iy * 8)
                )
        case DeviceKind.SWITCH:
            svg.text(cx, cy + 4, letters_of(device))
        case DeviceKind.LUMINAIRE:
            svg.circle("box", cx, cy, 6)
            svg.stroke("open", (cx - 6, cy), (cx + 6, cy))
            svg.stroke("open", (cx, cy - 6), (cx, cy + 6))
        case _:
            svg.circle("box", cx, cy, 8)
            svg.text(cx, cy + 4, letters_of(device) or "J")
