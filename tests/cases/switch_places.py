"""Cases for where switches may be: 404.8(A), 404.4(C)."""

from __future__ import annotations

from tests.cases.bath_zones import bath
from tests.cases.case import Case, House
from tests.cases.houses import wired_box

REACH, TUB = "switch-within-reach", "switch-outside-tub"
ECM = "NEC requirements for switches, 2023 (EC&M)"


def at(height: object) -> House:
    return wired_box(device="switch", height_in=height)


CASES = [
    Case(REACH, "clear - exactly 6 ft 7 in", at("6' 7"), "reachable", source=ECM),
    Case(REACH, "clear - just lower", at("6' 6 63/64"), "reachable"),
    Case(REACH, "correction - just higher", at("6' 7 1/64"), "too-high", source=ECM),
    Case(REACH, "correction - in the ceiling", wired_box(device="switch", surface="ceiling"), "in-ceiling"),
    Case(REACH, "unseen - height not recorded", at(None), "not-recorded"),
    Case(REACH, "outside - a receptacle", wired_box(), "no-switch"),
    # the tub begins at 84 in along the wall
    Case(TUB, "clear - beside the tub", bath(at_in=83, device="switch"), "outside-it"),
    Case(TUB, "correction - over the tub", bath(at_in=100, device="switch"), "inside"),
    Case(TUB, "unseen - the tub has no place", bath(tub={}, device="switch"), "not-placed"),
    Case(TUB, "unseen - near a tub of unknown size", bath(at_in=90, tub={"wall": 1, "at_in": 114}, device="switch"), "not-placed"),
    Case(TUB, "outside - no tub", wired_box("bathroom", device="switch"), "no-tub"),
    Case(TUB, "outside - a receptacle", bath(), "no-switch"),
]  # fmt: skip
