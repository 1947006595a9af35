"""Cases for fastening and bending cables: 334.30, 320.30, 330.30, 334.24, 320.24, 330.24."""

from __future__ import annotations

from typing import Any

from server.dwelling import Clamps
from tests.cases.case import Case, House, look_cases, measure_cases, seen
from tests.cases.houses import a_box, a_room, wired_box, wired_room

NEAR = "cable-fastened-near-box"
FM_33430 = "334.30 requirements (Mike Holt Forum)"
MH_320 = "Article 320 armored cable (Mike Holt Enterprises)"
MH_330 = "Article 330, illustrated changes (Mike Holt Enterprises)"
ECM_MC = "Code Q&A: bending radius of MC cable, 2023 (EC&M)"
STUDY = "NM cable flashcards (StudyStack)"
CLAMPED: dict[str, Any] = {"clamps": Clamps.INTERNAL}
NO_CABLE = {"no cable in the room": a_room()}
SINCE_2020 = (2020, 2023, 2026)


def at(distance: Any) -> House:
    """A clamped box whose cable has its first fastening recorded."""
    return wired_box(cable={"fastened_b_in": distance}, **CLAMPED)


def of(kind: str) -> House:
    return wired_room(cable={"kind": kind})


NM, AC, MC = of("nm-b"), of("ac"), of("mc")
CASES = [
    *measure_cases(
        NEAR, wired_box(**CLAMPED), 12, least=False, source=FM_33430,
        outside={"a plastic box without clamps": wired_box(), "a raceway": wired_box(cable={"kind": "raceway"}, **CLAMPED)},
        unknown={"no cable is recorded": a_box()},
    ),
    Case(NEAR, "clear - recorded exactly at the limit", at(12), "measured-enough", source=FM_33430),
    Case(NEAR, "correction - recorded just beyond it", at("12 1/64"), "measured-short", source=FM_33430),
    Case(NEAR, "correction - the cable is near, and the worst one was measured farther", seen(at(6), NEAR, 14), "measured-short"),
    Case(NEAR, "correction - one of two cables is recorded too far", wired_box(more=1, cable={"fastened_b_in": 15}, **CLAMPED), "measured-short"),
    Case(NEAR, "unseen - one of two cables is recorded near", wired_box(more=1, cable={"fastened_b_in": 6}, **CLAMPED), "not-measured"),
    *measure_cases("nm-fastened-along", NM, "4' 6", least=False, source=FM_33430, outside={"metal-clad cable": MC} | NO_CABLE),
    *measure_cases("ac-fastened-along", AC, "4' 6", least=False, source=MH_320, outside={"NM cable": NM}),
    *measure_cases("mc-fastened-along", MC, "6'", least=False, source=MH_330, outside={"NM cable": NM}),
    *measure_cases("nm-slack-at-box", NM, 18, least=False, years=SINCE_2020, outside={"metal-clad cable": MC}),
    Case("nm-slack-at-box", "outside - 2017 has no such limit", NM, "absent", (2017,)),
    *look_cases("staples-fit", NM, outside={"metal-clad cable": MC}),
    *look_cases("cables-per-staple", NM, outside={"metal-clad cable": MC}),
    *look_cases("cable-ties-listed", NM, outside={"raceway": of("raceway")}),
    *look_cases("supports-of-their-own", NM, outside=NO_CABLE),
    *look_cases("ac-bushings", AC, outside={"NM cable": NM}),
    *measure_cases("nm-bends", NM, 5, least=True, step="1/4", source=STUDY, outside={"metal-clad cable": MC}),
    *measure_cases("ac-bends", AC, 5, least=True, step="1/4", outside={"NM cable": NM}),
    *measure_cases("mc-bends", MC, 7, least=True, step="1/4", source=ECM_MC, outside={"NM cable": NM}),
]  # fmt: skip
