"""Good work in the open wall: boxes, cables, holes, raceways."""

from __future__ import annotations

from server.drawings.good_work.sketch import Sketch

__all__ = [
    "bored_hole", "box_fastened", "box_fill", "box_flush", "cable_fastened", "ceiling_box", "free_conductor", "kept_apart",
    "raceway", "sealed_hole", "sheath_in_box", "white_marked",
]  # fmt: skip


def _box_on_stud(s: Sketch) -> None:
    s.studs(60, 220)
    s.line((10, 190), (370, 190), layer="heavy")
    s.box(72, 110, 34, 46)
    s.dot(68, 120, 2)
    s.dot(68, 146, 2)


def box_fastened(s: Sketch) -> None:
    _box_on_stud(s)
    s.box(232, 110, 34, 46)
    s.line((106, 133), (232, 133), layer="dim")
    s.upright(284, 133, 190, "same height")
    s.note(114, 104, "two nails or screws each,")
    s.note(114, 118, "plumb, in line")


def cable_fastened(s: Sketch) -> None:
    _box_on_stud(s)
    s.cable((66, 10), (66, 84), (88, 96), (88, 116))
    for y in (24, 76):
        s.staple(66, y)
    s.upright(130, 76, 110, s.limit or "close to the box")
    s.note(82, 30, "flat, loose enough to slide a nail under")


def sheath_in_box(s: Sketch) -> None:
    s.line((120, 20), (120, 80), layer="heavy")
    s.line((120, 104), (120, 180), layer="heavy")
    s.line((120, 20), (290, 20), layer="heavy")
    s.line((120, 180), (290, 180), layer="heavy")
    s.box(20, 84, 136, 16)
    s.line((156, 88), (300, 70))
    s.line((156, 92), (300, 92))
    s.line((156, 96), (300, 114))
    s.across(120, 156, 70)
    s.note(20, 76, "sheath")
    s.note(226, 140, "conductors, not nicked")
    s.note(126, 196, "wall of the box")


def free_conductor(s: Sketch) -> None:
    s.line((60, 30), (190, 30), layer="heavy")
    s.line((60, 30), (60, 170), layer="heavy")
    s.line((60, 170), (190, 170), layer="heavy")
    s.box(10, 92, 76, 16)
    s.line((86, 97), (330, 80))
    s.line((86, 103), (330, 112))
    s.line((190, 18), (190, 182), layer="dim")
    s.across(86, 330, 140)
    s.note(196, 196, "front of the box")
    s.note(68, 60, "from the sheath on")


def white_marked(s: Sketch) -> None:
    sheath_in_box(s)
    s.box(200, 88, 34, 9, layer="fill")
    s.note(206, 64, "black tape all the way round")


def box_flush(s: Sketch) -> None:
    s.box(60, 10, 60, 180, layer="stud")
    s.box(120, 10, 26, 62, layer="cab")
    s.box(120, 138, 26, 52, layer="cab")
    s.line((146, 76), (70, 76), (70, 134), (146, 134), layer="heavy")
    s.line((146, 10), (146, 200), layer="dim")
    s.across(146, 196, 105, "flush")
    s.note(162, 34, "finished surface")
    s.note(156, 158, "no gap around it")


def bored_hole(s: Sketch) -> None:
    s.box(90, 40, 200, 110, layer="stud")
    s.dot(190, 95, 14, layer="open")
    s.dot(190, 95, 6, layer="cable")
    s.across(90, 176, 95)
    s.box(86, 60, 4, 70, layer="fill")
    s.note(14, 178, "steel plate where the hole is nearer to the edge")
    s.note(112, 136, "in the middle of the stud")


def box_fill(s: Sketch) -> None:
    s.box(110, 30, 120, 140)
    for place in range(3):
        y = 60 + 34 * place
        s.line((40, y), (150, y))
        s.dot(150, y, 3)
        s.word(134, y - 6, str(place + 1))
    s.line((40, 176), (130, 150))
    s.box(180, 70, 32, 60, layer="cab")
    s.word(196, 104, "2")
    s.note(240, 104, "the device: two")
    s.note(240, 60, "each from outside: one")
    s.note(20, 196, "all grounds together")


def ceiling_box(s: Sketch) -> None:
    s.box(40, 20, 16, 60, layer="stud")
    s.box(320, 20, 16, 60, layer="stud")
    s.line((56, 44), (320, 44), layer="heavy")
    s.box(164, 44, 48, 34)
    s.line((10, 82), (370, 82), layer="thin")
    s.line((188, 82), (188, 120), layer="heavy")
    s.line((120, 132), (188, 120), (256, 132), layer="heavy")
    s.note(64, 34, "brace from joist to joist, screwed")
    s.note(200, 106, "marked for what hangs on it")


def raceway(s: Sketch) -> None:
    s.box(20, 20, 44, 40)
    s.box(300, 140, 44, 40)
    s.svg.curve("open", "M64 34H270Q316 34 316 80V140M64 46H268Q304 46 304 82V140")
    for x in (100, 220):
        s.line((x, 30), (x, 50), layer="heavy")
    s.across(64, 100, 80, s.limit or "strapped")
    s.note(110, 120, "few bends, reamed ends,")
    s.note(110, 134, "bushings where it ends")


def kept_apart(s: Sketch) -> None:
    s.studs(40, 320)
    s.cable((46, 40), (326, 40))
    s.line((46, 130), (326, 130), layer="mark")
    s.upright(190, 40, 130, "apart")
    s.note(70, 32, "power")
    s.note(70, 148, "low voltage, or what must not touch it")


def sealed_hole(s: Sketch) -> None:
    s.box(20, 90, 340, 24, layer="stud")
    s.line((186, 10), (186, 200), layer="cable")
    s.line((194, 10), (194, 200), layer="cable")
    s.box(172, 88, 12, 28, layer="fill")
    s.box(196, 88, 12, 28, layer="fill")
    s.note(216, 82, "sealed as the wall asks")
    s.note(30, 84, "plate, floor or fire wall")
