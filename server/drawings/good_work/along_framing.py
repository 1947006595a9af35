"""Good work where cables and raceways run along and through the framing."""

from __future__ import annotations

from server.drawings.good_work.sketch import Sketch

__all__ = [
    "armor_end", "bend", "fastened_along", "guard_strips", "metal_stud", "notch_plated", "sleeve", "under_a_staple",
]  # fmt: skip


def fastened_along(s: Sketch) -> None:
    s.box(60, 10, 30, 180, layer="stud")
    s.cable((75, 10), (75, 190))
    for y in (40, 150):
        s.line((64, y), (86, y), layer="heavy")
    s.upright(120, 40, 150, s.limit or "at most so far")
    s.note(160, 44, "staple, strap or hole")
    s.note(160, 154, "and the next one")


def under_a_staple(s: Sketch) -> None:
    s.box(30, 110, 320, 40, layer="stud")
    s.box(70, 94, 60, 16, layer="cab")
    s.line((62, 124), (62, 86), (138, 86), (138, 124), layer="heavy")
    for x in (84, 100, 116):
        s.dot(x, 102, 4)
    for y in (94, 78):
        s.box(232, y, 60, 16, layer="cab")
    s.line((224, 124), (224, 70), (300, 70), (300, 124), layer="heavy")
    s.note(40, 60, "flat, not driven home")
    s.note(206, 44, "two only under a staple")
    s.note(206, 58, "that is made for two")


def bend(s: Sketch) -> None:
    s.svg.curve("cable", "M60 190V110Q60 40 130 40H360")
    s.line((130, 110), (82, 62), layer="dim")
    s.dot(130, 110, 2)
    s.note(140, 116, "an even curve, no flat and no kink")
    s.note(140, 132, "its radius so many times the cable")


def notch_plated(s: Sketch) -> None:
    s.box(130, 10, 90, 180, layer="stud")
    s.line((130, 88), (150, 88), (150, 112), (130, 112), layer="heavy")
    s.dot(141, 100, 7, layer="open")
    s.box(124, 66, 6, 68, layer="fill")
    s.note(20, 56, "steel plate")
    s.across(130, 180, 160, s.figure("framing.hole_edge_in"))
    s.note(232, 94, "nearer to the edge:")
    s.note(232, 108, "a plate before it")


def metal_stud(s: Sketch) -> None:
    for y in (20, 150):
        s.line((150, y), (230, y), layer="heavy")
    s.line((150, 20), (150, 70), layer="heavy")
    s.line((150, 110), (150, 150), layer="heavy")
    s.box(142, 66, 16, 8, layer="fill")
    s.box(142, 106, 16, 8, layer="fill")
    s.cable((30, 90), (340, 90))
    s.note(166, 66, "bushing all round,")
    s.note(166, 130, "in before the cable")
    s.note(30, 176, "metal stud, cut across")


def guard_strips(s: Sketch) -> None:
    for x in (40, 140, 240, 330):
        s.box(x, 110, 14, 80, layer="stud")
    s.box(30, 96, 330, 14, layer="thin")
    s.box(150, 78, 14, 18, layer="stud")
    s.box(196, 78, 14, 18, layer="stud")
    s.dot(180, 88, 7, layer="cable")
    s.note(218, 74, "strips as high as it,")
    s.note(218, 88, "on both sides")
    s.note(20, 60, "or through holes in the joists")


def sleeve(s: Sketch) -> None:
    s.line((10, 150), (370, 150), layer="heavy")
    s.line((180, 10), (180, 200), layer="cable")
    s.box(168, 60, 24, 90, layer="box")
    for y in (74, 130):
        s.line((158, y), (202, y), layer="heavy")
    s.upright(216, 60, 150, "guarded")
    s.note(20, 60, "bushing where")
    s.note(20, 74, "the cable enters")
    s.note(20, 168, "floor, wall or grade")


def armor_end(s: Sketch) -> None:
    s.line((250, 20), (250, 80), layer="heavy")
    s.line((250, 120), (250, 190), layer="heavy")
    for x in range(40, 230, 14):
        s.box(x, 84, 12, 32, layer="cab")
    s.svg.flush()
    s.box(222, 80, 40, 40)
    s.svg.flush()
    s.box(262, 88, 10, 24, layer="fill")
    for y in (94, 100, 106):
        s.line((272, y), (352, y))
    s.note(206, 68, "connector for this cable")
    s.note(268, 136, "bushing at the")
    s.note(268, 150, "cut end, in sight")
