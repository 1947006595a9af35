"""Good work at places of their own: recessed lights, stairs, warm floors, the face of a receptacle."""

from __future__ import annotations

from server.drawings.good_work.sketch import Sketch

__all__ = ["polarity", "recessed", "stairs", "warm_floor"]


def recessed(s: Sketch) -> None:
    s.line((10, 160), (370, 160), layer="heavy")
    for x in (40, 320):
        s.box(x, 60, 16, 100, layer="stud")
    s.line((160, 160), (160, 90), (220, 90), (220, 160))
    s.box(140, 96, 16, 26, layer="cab")
    s.across(56, 160, 140, "clear of wood")
    s.note(70, 80, "marked for insulation, or kept clear of it")
    s.note(150, 182, "lamp as its label says")


def stairs(s: Sketch) -> None:
    points = [(40.0, 190.0)]
    for step in range(6):
        x, y = 80 + 36 * step, 190 - 22 * step
        points += [(x, y), (x, y - 22)]
    points.append((350, points[-1][1]))
    s.line(*points, layer="heavy")
    s.box(48, 130, 14, 22)
    s.box(326, 6, 14, 22)
    s.svg.curve("mark", "M62 140Q200 20 326 18")
    s.dot(190, 44, 9, layer="open")
    s.note(20, 120, "a switch below")
    s.note(250, 46, "and one above")


def warm_floor(s: Sketch) -> None:
    s.box(40, 20, 230, 150)
    s.svg.flush()
    row = "".join(f"V{150 if turn % 2 else 40}h18" for turn in range(10))
    s.svg.curve("mark", f"M70 150{row}")
    s.box(310, 70, 30, 46)
    s.line((270, 150), (325, 150), (325, 116), layer="cable")
    s.note(282, 60, "thermostat")
    s.note(60, 192, "never crossed or cut, tested before the tile")


def polarity(s: Sketch) -> None:
    s.box(150, 20, 80, 170)
    for y in (50, 130):
        s.line((174, y), (174, y + 18), layer="heavy")
        s.line((206, y + 3), (206, y + 15), layer="heavy")
        s.dot(190, y + 32, 5, layer="open")
    s.line((20, 60), (150, 60))
    s.line((230, 60), (360, 60), layer="heavy")
    s.line((190, 190), (190, 204), layer="mark")
    s.note(20, 52, "neutral: silver screw,")
    s.note(20, 76, "long slot")
    s.note(246, 52, "hot: brass screw,")
    s.note(246, 76, "short slot")
    s.note(200, 204, "ground: green screw")
