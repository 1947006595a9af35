"""Good work by room: receptacles, lights, water, alarms."""

from __future__ import annotations

from server.drawings.good_work.sketch import Sketch

__all__ = [
    "alarms",
    "closet",
    "counter",
    "device_face",
    "outdoors",
    "sink",
    "switch_at_door",
    "tub",
    "wall_line",
]


def _receptacle(s: Sketch, x: float, y: float) -> None:
    s.box(x - 6, y - 9, 12, 18)
    s.line((x - 2, y - 4), (x - 2, y + 1))
    s.line((x + 2, y - 4), (x + 2, y + 1))


def wall_line(s: Sketch) -> None:
    s.line((10, 180), (370, 180), layer="heavy")
    s.line((14, 180), (14, 40), (60, 40), (60, 180))
    for x in (160, 360):
        _receptacle(s, x, 150)
    s.across(60, 160, 120, f"{s.figure('spacing.wall.reach_in')} at most")
    s.across(160, 360, 120, f"{s.figure('spacing.wall.reach_in', 2)} at most")
    s.note(76, 60, "from door to door, around corners;")
    s.note(76, 74, f"a wall of {s.figure('spacing.wall.least_width_in')} has one")


def counter(s: Sketch) -> None:
    s.box(20, 120, 340, 70, layer="cab")
    s.line((14, 120), (366, 120), layer="heavy")
    s.line((160, 120), (166, 140), (214, 140), (220, 120))
    for x in (50, 130, 250, 330):
        _receptacle(s, x, 92)
    s.across(20, 50, 66, s.figure("counter.reach_in"))
    s.across(250, 330, 66, s.figure("counter.reach_in", 2))
    s.note(20, 30, "no point of a counter out of its reach,")
    s.note(20, 44, "each space between breaks by itself")


def sink(s: Sketch) -> None:
    s.box(150, 20, 90, 50, layer="cab")
    s.svg.curve("open", "M165 28h60v22q0 12-30 12t-30-12z")
    s.svg.curve("mark", "M80 20A115 115 0 0 0 310 20")
    _receptacle(s, 270, 60)
    s.upright(195, 62, 134, s.figure("gfci.sink.within_ft"))
    s.note(20, 170, "within the line, and wherever the room asks for it:")
    s.note(20, 184, "GFCI, by the breaker or by a device ahead of it")


def tub(s: Sketch) -> None:
    s.line((10, 190), (370, 190), layer="heavy")
    s.svg.curve("open", "M90 150h180v20q0 18-18 18h-144q-18 0-18-18z")
    s.box(54, 14, 252, 136, layer="new")
    s.word(180, 70, "nothing that hangs here")
    s.note(60, 90, "no switch in reach, no receptacle in the zone")
    s.upright(320, 14, 150, s.figure("tub.hanging_up_in"))


def closet(s: Sketch) -> None:
    s.line((30, 190), (30, 20), (350, 20), (350, 190), layer="heavy")
    s.line((30, 80), (120, 80), layer="heavy")
    s.box(30, 22, 90, 168, layer="cab")
    s.dot(240, 30, 10, layer="open")
    s.across(120, 230, 60, s.limit or "clear of the shelf")
    s.note(40, 120, "storage")
    s.note(180, 110, "enclosed, or a listed LED")


def alarms(s: Sketch) -> None:
    s.box(20, 20, 130, 80, layer="open")
    s.box(150, 20, 130, 80, layer="open")
    s.box(20, 100, 260, 50, layer="open")
    for x, y in ((85, 60), (215, 60), (150, 125)):
        s.dot(x, y, 8, layer="mark")
        s.dot(x, y, 2)
    s.line((85, 60), (150, 125), (215, 60), layer="cable")
    s.word(50, 40, "bedroom")
    s.word(180, 40, "bedroom")
    s.word(60, 130, "hall")
    s.note(20, 176, "in every bedroom, outside them, on every storey;")
    s.note(20, 190, "one sounds, all sound")


def device_face(s: Sketch) -> None:
    s.box(140, 20, 90, 150)
    s.box(160, 36, 50, 118, layer="cab")
    for y in (50, 104):
        s.line((176, y), (176, y + 14), layer="heavy")
        s.line((194, y), (194, y + 12), layer="heavy")
        s.dot(185, y + 26, 4, layer="open")
    s.note(244, 60, "plate flush, no gap")
    s.note(244, 104, "level, screws upright")
    s.note(14, 60, "seated and tight")
    s.note(14, 104, "of the right kind")


def outdoors(s: Sketch) -> None:
    s.ground(180)
    s.line((120, 180), (120, 20), layer="heavy")
    s.box(120, 90, 26, 44)
    s.svg.curve("open", "M146 86h24q12 0 12 12v34h-36z")
    s.upright(240, 112, 180, "in reach")
    s.note(150, 60, "cover that closes over the plug,")
    s.note(150, 74, "weather-resistant, GFCI")


def switch_at_door(s: Sketch) -> None:
    s.line((10, 190), (370, 190), layer="heavy")
    s.line((60, 190), (60, 40), (140, 40), (140, 190))
    s.dot(132, 120, 3)
    s.box(166, 100, 14, 24)
    s.line((173, 106), (173, 114), layer="heavy")
    s.dot(280, 40, 10, layer="open")
    s.cable((173, 100), (173, 20), (280, 20), (280, 30))
    s.upright(220, 112, 190, "in reach")
    s.note(184, 70, "on the latch side, with a neutral")
