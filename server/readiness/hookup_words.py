"""A hookup in the words of the person at the box: screws, leads, connectors, tape."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Final

from server.dwelling import Device, DeviceKind

__all__ = [
    "POSITIONS",
    "color_letter",
    "color_word",
    "conductor_words",
    "ground_words",
    "joined_words",
    "short_signal",
    "terminal_label",
    "terminal_words",
]

_LETTERS: Final[Mapping[str, str]] = {
    "black": "B", "red": "R", "white": "W", "blue": "Bl", "bare": "G", "green": "G", "gray": "Gy", "orange": "O",
    "yellow": "Y", "brown": "Br",
}  # fmt: skip
POSITIONS: Final[Mapping[str, str]] = {
    "off": "off", "on": "on", "1": "up", "2": "down", "straight": "up", "crossed": "down",
}  # fmt: skip
"""A switch's position in a truth table, as a hand sees it. Three-ways and four-ways are not marked on and off."""

_SCREWS: Final[Mapping[str, tuple[str, str]]] = {
    "line": ("line", "one brass screw of {it}"),
    "load": ("load", "the other brass screw of {it}"),
    "common": ("common", "the dark common screw of {it}"),
    "traveler_1": ("traveler", "one brass traveler screw of {it}"),
    "traveler_2": ("traveler", "the other brass traveler screw of {it}"),
    "in_1": ("pair 1", "one screw of the first pair of {it}"),
    "in_2": ("pair 1", "the other screw of the first pair of {it}"),
    "out_1": ("pair 2", "one screw of the second pair of {it}"),
    "out_2": ("pair 2", "the other screw of the second pair of {it}"),
    "hot": ("brass", "a brass screw of {it}"),
    "hot_top": ("brass, top", "the upper brass screw of {it}, its tab broken out"),
    "hot_bottom": ("brass, bottom", "the lower brass screw of {it}, its tab broken out"),
    "hot_1": ("X", "one hot terminal of {it}"),
    "hot_2": ("Y", "the other hot terminal of {it}"),
    "neutral": ("silver", "a silver screw of {it}"),
    "line_hot": ("LINE brass", "the brass screw marked LINE of {it}"),
    "line_neutral": ("LINE silver", "the silver screw marked LINE of {it}"),
    "load_hot": ("LOAD brass", "the brass screw marked LOAD of {it}"),
    "load_neutral": ("LOAD silver", "the silver screw marked LOAD of {it}"),
    "interconnect": ("interconnect", "the interconnect lead of {it}"),
}
_LEADS: Final[Mapping[str, tuple[str, str]]] = {
    "hot": ("black lead", "the black lead of {it}"),
    "neutral": ("white lead", "the white lead of {it}"),
}
_PANEL: Final[Mapping[str, tuple[str, str]]] = {
    "hot": ("breaker", "the breaker"),
    "hot_2": ("breaker, 2nd", "the second breaker (or the second pole)"),
    "neutral": ("neutral bar", "the neutral bar"),
}
_WITH_SCREWS: Final = (DeviceKind.RECEPTACLE, DeviceKind.SWITCH, DeviceKind.PROTECTOR)


def color_letter(color: str) -> str:
    """``B``, ``W``, ``Bl``; ``W/R`` for white with a red stripe; ``G`` for bare and green."""
    return "/".join(_LETTERS.get(part, part[:1].upper()) for part in color.split(" ")[0].split("/"))


def color_word(color: str) -> str:
    """``black``, ``bare``, ``white with a red stripe``."""
    plain, _, stripe = color.partition("/")
    return f"{plain} with a {stripe} stripe" if stripe else color


def conductor_words(color: str, band: str, cable: str, toward: str) -> str:
    """``the white (marked black) of cable 2 to S2``; ``cable`` is its number."""
    marked = f" (marked {band})" if band else ""
    return f"the {color_word(color)}{marked} of cable {cable} {toward}"


def joined_words(ends: Sequence[tuple[str, str, str, str]]) -> str:
    """Several conductors, those of one color together: ``the white of cable 1 from Panel A and of cable 2 to S2``.

    ``ends`` are as :func:`conductor_words` takes them.
    """
    found = []
    before = ("", "")
    for color, band, cable, toward in sorted(ends, key=lambda end: (end[0], end[1])):
        words = conductor_words(color, band, cable, toward)
        found.append(f"of cable {cable} {toward}" if (color, band) == before else words)
        before = (color, band)
    return f"{', '.join(found[:-1])} and {found[-1]}" if len(found) > 1 else "".join(found)


def short_signal(signal: str, room: str = "") -> str:
    """``traveler 1``, ``load-side hot``, ``switched hot to L1``: what fits beside a conductor in a box of a room."""
    text = signal.split(" (", 1)[0]
    if text.startswith("load-side"):
        text = text.split(" of ", 1)[0]
    return text.replace(f"{room} ", "") if room else text


def _entry(terminal: str, device: Device | None) -> tuple[str, str]:
    if device is None:
        return _PANEL.get(terminal, (terminal, terminal))
    if device.kind not in _WITH_SCREWS and terminal in _LEADS:
        return _LEADS[terminal]
    return _SCREWS.get(terminal, (terminal.replace("_", " "), f"{terminal.replace('_', ' ')} of {{it}}"))


def terminal_label(terminal: str, device: Device | None) -> str:
    """What stands beside a terminal in a drawing; ``device`` None: the panel."""
    return _entry(terminal, device)[0]


def terminal_words(terminal: str, device: Device | None, called: str) -> str:
    """``the dark common screw of the three-way``; ``called`` is what the device is called here."""
    return _entry(terminal, device)[1].format(it=called)


def ground_words(count: int, devices: int, *, metal: bool, panel: bool) -> str:
    """What becomes of the equipment grounding conductors."""
    if count == 0:
        return ""
    if panel:
        return "Land the bare or green conductor on the grounding bar."
    to = ([f"to {'each' if devices > 1 else 'the'} device"] if devices else []) + (
        ["to the metal box"] if metal else []
    )
    tails = f", with a pigtail {' and '.join(to)}" if to else ""
    if count == 1:
        return (
            f"Take the bare or green conductor {' and '.join(to)}."
            if to
            else "Fold the bare or green conductor back."
        )
    return f"Join {'both' if count == 2 else f'all {count}'} bare or green conductors{tails}."
