"""Good work at terminals: bars, ties, jumpers, clamps."""

from __future__ import annotations

from server.drawings.good_work.sketch import Sketch

__all__ = [
    "handle_tie",
    "main_jumper",
    "meter_jumper",
    "one_per_screw",
    "outside_terminals",
    "pipe_clamp",
    "subpanel",
]


def _bar(s: Sketch, x: float, y: float, screws: int, layer: str = "cab") -> None:
    s.box(x, y, 24, 20 * screws + 8, layer=layer)
    for place in range(screws):
        s.dot(x + 12, y + 14 + 20 * place, 5, layer="open")


def one_per_screw(s: Sketch) -> None:
    _bar(s, 90, 40, 6)
    _bar(s, 260, 40, 6)
    for place in range(6):
        y = 54 + 20 * place
        s.line((20, y), (102, y))
        s.line((272, y), (350, y), layer="mark")
    s.line((272, 58), (350, 62), layer="mark")
    s.word(102, 30, "neutrals")
    s.word(272, 30, "grounds")
    s.note(20, 190, "one neutral to a screw")
    s.note(196, 190, "grounds as the label says")


def subpanel(s: Sketch) -> None:
    s.box(60, 14, 260, 160)
    s.svg.flush()
    _bar(s, 120, 50, 4)
    _bar(s, 240, 50, 4)
    s.dot(252, 152, 4)
    s.line((252, 138), (252, 152), layer="heavy")
    s.line((10, 70), (132, 70))
    s.line((10, 150), (210, 150), (252, 64), layer="mark")
    s.word(132, 42, "neutral, apart")
    s.word(252, 42, "ground")
    s.note(232, 192, "fast to the enclosure")
    s.note(10, 192, "four wires come in")


def handle_tie(s: Sketch) -> None:
    for y in (50, 96):
        s.box(120, y, 130, 40)
        s.box(160, y + 12, 34, 16, layer="cab")
        s.line((250, y + 20), (350, y + 20))
    s.box(170, 58, 14, 70, layer="fill")
    s.note(20, 100, "one tie:")
    s.note(20, 114, "both open")
    s.note(256, 60, "both hots of")
    s.note(256, 92, "one shared circuit")


def main_jumper(s: Sketch) -> None:
    s.box(60, 14, 260, 160)
    s.svg.flush()
    _bar(s, 176, 40, 5)
    s.line((10, 54), (188, 54))
    s.line((200, 134), (270, 134), layer="heavy")
    s.dot(270, 134, 5)
    s.note(70, 46, "neutral of the service")
    s.note(222, 122, "jumper or screw")
    s.note(222, 158, "to the enclosure")
    s.note(60, 192, "here, at the first disconnect, and nowhere else")


def pipe_clamp(s: Sketch) -> None:
    s.line((10, 120), (370, 120), layer="heavy")
    s.line((10, 140), (370, 140), layer="heavy")
    s.box(176, 112, 30, 36, layer="fill")
    s.line((191, 112), (191, 60), (320, 60), layer="mark")
    s.box(320, 30, 40, 60)
    s.word(340, 64, "panel")
    s.note(20, 104, "clean pipe, bare metal")
    s.note(150, 172, "clamp made for it, in reach")
    s.note(196, 52, "sized by the service")


def meter_jumper(s: Sketch) -> None:
    for y in (120, 140):
        s.line((10, y), (140, y), layer="heavy")
        s.line((240, y), (370, y), layer="heavy")
    s.dot(190, 130, 34, layer="open")
    s.word(190, 134, "meter")
    for x in (90, 280):
        s.box(x, 112, 18, 36, layer="fill")
    s.svg.curve("mark", "M99 112Q190 10 289 112")
    s.note(112, 40, "long enough to take the meter out")
    s.note(20, 172, "clamps on both sides")


def outside_terminals(s: Sketch) -> None:
    s.ground(190)
    s.box(60, 30, 80, 110)
    s.word(100, 90, "meter")
    s.box(190, 110, 90, 24, layer="cab")
    for x in (206, 235, 264):
        s.dot(x, 122, 5, layer="open")
    s.line((140, 122), (190, 122), layer="heavy")
    s.line((235, 127), (235, 176), (350, 176), layer="mark")
    s.note(190, 82, "room for three or more,")
    s.note(190, 96, "outside, in reach")
    s.note(246, 168, "from phone and cable")
