"""Good work inside a box: grounds, splices, a shared neutral, conductors folded away."""

from __future__ import annotations

from server.drawings.good_work.sketch import Sketch

__all__ = ["folded", "grounds_joined", "line_and_load", "shared_neutral", "splice"]


def _box(s: Sketch) -> None:
    s.line((250, 20), (60, 20), (60, 180), (250, 180), layer="heavy")
    s.line((250, 12), (250, 188), layer="dim")


def grounds_joined(s: Sketch) -> None:
    _box(s)
    for y in (60, 90):
        s.line((10, y), (60, y), layer="cable")
        s.line((60, y), (140, 120), layer="mark")
    s.line((160, 120), (300, 96), layer="mark")
    s.line((160, 124), (90, 160), layer="mark")
    s.dot(90, 160, 4)
    s.dot(300, 96, 4)
    s.box(138, 112, 26, 18, layer="fill")
    s.note(164, 146, "one connector")
    s.note(278, 84, "to the device")
    s.note(66, 176, "to a metal box")


def splice(s: Sketch) -> None:
    _box(s)
    for y in (60, 110):
        s.line((10, y), (60, y), layer="cable")
        s.line((60, y), (150, 84))
    s.line((176, 84), (320, 70))
    s.box(150, 72, 28, 22, layer="fill")
    s.note(66, 44, "listed connector, no bare copper")
    s.note(262, 92, "pigtail")
    s.note(70, 160, "in a box and nowhere else")


def shared_neutral(s: Sketch) -> None:
    _box(s)
    for y in (70, 120):
        s.line((10, y), (60, y), layer="cable")
        s.line((60, y), (140, 94))
    s.box(140, 84, 26, 20, layer="fill")
    s.line((166, 94), (290, 94))
    s.box(290, 60, 44, 74, layer="cab")
    s.dot(298, 94, 4)
    s.note(110, 76, "both neutrals joined")
    s.note(190, 112, "one pigtail")
    s.note(258, 152, "the device out,")
    s.note(258, 166, "the neutral whole")


def folded(s: Sketch) -> None:
    _box(s)
    s.line((10, 100), (76, 100), layer="cable")
    s.line((76, 104), (90, 160), (104, 110), (118, 160), layer="mark")
    s.line((76, 97), (140, 50), (150, 150), (160, 50), (200, 90))
    s.line((76, 100), (172, 60), (182, 150), (192, 60), (212, 110))
    s.box(214, 66, 22, 70, layer="cab")
    s.note(66, 176, "grounds at the back")
    s.note(124, 40, "folded, not stuffed")
    s.note(258, 60, "nothing")
    s.note(258, 74, "under strain")


def line_and_load(s: Sketch) -> None:
    s.box(150, 20, 80, 170)
    s.box(176, 84, 28, 14, layer="cab")
    s.box(176, 104, 28, 14, layer="cab")
    for y in (52, 154):
        s.dot(158, y, 4)
        s.dot(222, y, 4)
    s.word(190, 60, "LINE")
    s.word(190, 160, "LOAD")
    s.cable((10, 52), (154, 52))
    s.cable((226, 154), (370, 154))
    s.note(20, 44, "from the panel")
    s.note(250, 146, "on to what it protects")
    s.note(240, 104, "tested, within reach")
