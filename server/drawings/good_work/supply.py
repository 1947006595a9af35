"""Good work from the street to the circuit: service, panels, grounding, sources, equipment, papers."""

from __future__ import annotations

from server.drawings.good_work.sketch import Sketch

__all__ = [
    "circuit",
    "electrode",
    "equipment",
    "panel",
    "paper",
    "pool",
    "service",
    "sources",
    "temporary",
    "trench",
    "working_space",
]  # fmt: skip


def panel(s: Sketch) -> None:
    s.box(106, 14, 140, 180)
    s.svg.flush()
    s.box(122, 30, 108, 148, layer="cab")
    s.svg.flush()
    for row in range(5):
        y = 40 + 27 * row
        s.box(132, y, 40, 18)
        s.box(180, y, 40, 18)
    s.note(256, 60, "every circuit named,")
    s.note(256, 74, "no opening left,")
    s.note(256, 88, "screws torqued")
    s.note(14, 60, "one neutral")
    s.note(14, 74, "to a screw")


def working_space(s: Sketch) -> None:
    s.line((10, 30), (370, 30), layer="heavy")
    s.box(160, 30, 60, 16)
    s.box(130, 46, 120, 120, layer="new")
    s.across(130, 250, 186, f"{s.figure('working.width_in')}, or as wide as it is")
    s.upright(262, 46, 166, "free to work")
    s.word(190, 110, "nothing stored here")


def trench(s: Sketch) -> None:
    s.ground(40)
    s.line((130, 40), (130, 180), (230, 180), (230, 40))
    s.dot(180, 166, 9, layer="open")
    s.dot(180, 166, 3)
    s.line((140, 100), (220, 100), layer="mark")
    s.upright(250, 40, 157, s.limit or "cover")
    s.note(14, 104, "warning ribbon")
    s.note(14, 170, "bed without stones")


def service(s: Sketch) -> None:
    s.ground(186)
    s.line((60, 186), (60, 90), (150, 40), (240, 90), (240, 186), layer="open")
    s.line((222, 186), (222, 30), layer="heavy")
    s.svg.curve("cable", "M222 34Q300 60 370 24")
    s.box(212, 112, 20, 26)
    s.box(210, 146, 24, 26)
    s.upright(284, 47, 186, s.limit or "high enough")
    s.note(70, 130, "meter, disconnect")
    s.note(70, 144, "outdoors, marked")


def electrode(s: Sketch) -> None:
    s.ground(90)
    s.box(40, 20, 50, 60)
    s.line((90, 60), (200, 60), (200, 100), layer="mark")
    s.line((200, 96), (200, 200), layer="heavy")
    s.line((300, 96), (300, 200), layer="heavy")
    s.line((200, 104), (300, 104), layer="mark")
    s.box(195, 98, 10, 12, layer="fill")
    s.box(295, 98, 10, 12, layer="fill")
    s.across(200, 300, 150, s.limit or f"{s.figure('electrode.rods_apart_in')} apart")
    s.note(96, 50, "one piece, no splice")


def circuit(s: Sketch) -> None:
    s.box(20, 70, 50, 70)
    s.word(45, 110, "panel")
    s.cable((70, 104), (320, 104))
    for x in (130, 210, 290):
        s.box(x, 92, 26, 26)
    s.cable((223, 92), (223, 40), (290, 40))
    s.box(290, 28, 26, 26)
    s.note(80, 90, "breaker")
    s.note(20, 170, "wire that the breaker protects, outlets that belong on it,")
    s.note(20, 184, "drawn in the order the cable visits them")


def equipment(s: Sketch) -> None:
    s.ground(180)
    s.box(210, 90, 110, 90, layer="cab")
    s.dot(265, 135, 28, layer="open")
    s.box(100, 70, 30, 46)
    s.line((115, 78), (115, 104), layer="heavy")
    s.svg.curve("open", "M130 96Q170 96 170 130T210 140")
    s.cable((115, 70), (115, 14))
    s.line((136, 80), (206, 92), layer="new")
    s.note(14, 140, "disconnect in sight")
    s.note(140, 50, "circuit as the nameplate says")


def sources(s: Sketch) -> None:
    s.ground(186)
    s.line((40, 186), (40, 100), (130, 40), (220, 100), (220, 186))
    s.line((130, 34), (214, 90), layer="mark")
    for x, y in ((150, 48), (170, 62), (190, 76)):
        s.line((x, y), (x + 6, y - 8), layer="mark")
    s.cable((200, 90), (240, 110))
    for y, words in ((96, "disconnect"), (128, "meter"), (160, "service")):
        s.box(240, y, 24, 22)
        s.note(272, y + 15, words)
    s.box(60, 140, 40, 40, layer="cab")
    s.note(106, 164, "battery, generator")
    s.note(236, 60, "each source marked")
    s.note(236, 74, "where it is turned off")


def pool(s: Sketch) -> None:
    s.ground(60)
    s.line((120, 60), (130, 150), (330, 150), (340, 60), layer="open")
    s.line((124, 84), (336, 84), layer="thin")
    s.box(30, 24, 14, 22)
    s.across(44, 120, 30, s.limit or "kept away")
    s.svg.curve("mark", "M124 66Q230 196 336 66")
    s.note(146, 146, "metal parts and water bonded")


def temporary(s: Sketch) -> None:
    s.ground(186)
    s.line((100, 186), (100, 30), layer="heavy")
    s.line((100, 90), (60, 186))
    s.line((100, 90), (140, 186))
    s.box(108, 60, 40, 60)
    s.box(116, 72, 24, 18, layer="cab")
    s.note(160, 80, "GFCI on every receptacle,")
    s.note(160, 94, "covers that close,")
    s.note(160, 108, "braced, grounded")


def paper(s: Sketch) -> None:
    s.line((130, 14), (230, 14), (252, 36), (252, 196), (130, 196), (130, 14))
    s.line((230, 14), (230, 36), (252, 36), layer="thin")
    for y in range(60, 160, 16):
        s.line((146, y), (236, y), layer="stud")
    s.dot(216, 172, 14, layer="mark")
    s.note(264, 60, "on the site,")
    s.note(264, 74, "the stamped one,")
    s.note(264, 88, "for the visit")
