"""Questions put to the sheets: loads, services, fill, ampacity, drop, protection. What is expected stands beside each."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from server.editions import YEARS
from tests.examined.situation import MEMORY

__all__ = ["QUESTIONS", "Question"]

VERIFIED = (2017, 2020, 2023)


@dataclass(frozen=True, slots=True)
class Question:
    """One request and the fields of its answer that are expected; a dotted name goes into a part of the answer."""

    name: str
    sheet: str
    request: dict[str, Any]
    answer: dict[str, Any]
    source: str = MEMORY
    years: tuple[int, ...] = YEARS


def asked(
    name: str,
    sheet: str,
    answer: dict[str, Any],
    source: str = MEMORY,
    years: tuple[int, ...] = YEARS,
    **request: Any,
) -> Question:
    return Question(name, sheet, request, answer, source, years)


def wires(count: int, awg: str, role: str = "insulated") -> dict[str, Any]:
    return {"awg": awg, "count": count, "role": role}


T310 = "Table 310.12 and Table 250.66 (from memory)"
QUIZ26 = "quizzes on the Code 26 (ecmweb.com)"
HOUSE: dict[str, Any] = {
    "floor_area_ft2": 2000, "appliances": [{"name": "water heater", "va": 4500, "volts": 240}, {"name": "dishwasher", "va": 1200, "volts": 120}],
    "dryers_va": [5000], "cooking": [{"kind": "range", "va": 12000}], "cool_va": 5000,
}  # fmt: skip
QUESTIONS = [
    asked("A house's service of 100 A in copper", "service-sizing", {"conductor": "4", "gec": "8"}, T310, amperes=100),
    asked("A house's service of 100 A in aluminum", "service-sizing", {"conductor": "2", "gec": "8"}, T310, amperes=100, material="aluminum"),
    asked("A house's service of 150 A in copper", "service-sizing", {"conductor": "1", "gec": "6"}, T310, amperes=150),
    asked("A house's service of 200 A in copper", "service-sizing", {"conductor": "2/0", "gec": "4", "gec_to_rod": "6", "gec_to_concrete": "4"}, T310, amperes=200),
    asked("A house's service of 200 A in aluminum", "service-sizing", {"conductor": "4/0", "gec": "4", "gec_aluminum": "2"}, T310, amperes=200, material="aluminum"),
    asked("A house's service of 400 A in copper", "service-sizing", {"conductor": "400", "gec": "1/0"}, T310, amperes=400),
    asked("A house of 2000 sq ft by the standard method", "dwelling-load", {"total_va": 29325, "amperes": 122}, "220 part III: 5625 + 5700 + 5000 + 8000 + 5000 VA, worked out here", VERIFIED, **HOUSE),
    asked("The same by the optional method", "dwelling-load", {"total_va": 24280, "amperes": 101}, "220.82: 10,000 + 40 % of 23,200 + 5000 VA, worked out here", VERIFIED, **(HOUSE | {"method": "optional"})),
    asked("A dryer of 4.5 kW alone counts 5 kW", "dwelling-load", {"total_va": 5000}, "220.54", dryers_va=[4500]),
    asked("A range of 12 kW counts 8 kW", "dwelling-load", {"total_va": 8000}, "Table 220.55", cooking=[{"kind": "range", "va": 12000}]),
    asked("A range of 16 kW counts 9.6 kW", "dwelling-load", {"total_va": 9600}, "Table 220.55 note 1: 5 % for each kW over 12", cooking=[{"kind": "range", "va": 16000}]),
    asked("A range of 8 3/4 kW counts 7 kW", "dwelling-load", {"total_va": 7000}, "Table 220.55 column B: 80 %", cooking=[{"kind": "range", "va": 8750}]),
    asked("12 AWG, 16 A, 100 ft one way at 120 V", "voltage-drop", {"drop_v": 6.32, "smallest_awg_for_3_percent": "8"}, "2 x 12.9 x 16 x 100 / 6530 (common practice)", volts=120, load_a=16, one_way_ft=100, awg="12"),
    asked("Ten cables of 12-2 together", "ampacity", {"derated_a": 15}, "50 % of 30 A", awg="12", kind="nm-b", cables=10, conductors_each_cable=2),
    asked("Four cables of 12-2 together", "ampacity", {"derated_a": 21, "allowed_a": 20}, "70 % of 30 A, and the 60 C column", awg="12", kind="nm-b", cables=4, conductors_each_cable=2),
    asked("6 AWG NM for 48 A that never rest on 60 A", "overcurrent", {"allowed": False, "min_conductor_awg": "4"}, "forums.mikeholt.com ev-charger.2572317", awg="6", kind="nm-b", load_a=48, continuous_a=48, device_a=60),
    asked("14 AWG on 20 A", "overcurrent", {"allowed": False, "max_device_a": 15}, "240.4(D)(3)", awg="14", kind="nm-b", device_a=20),
    asked("One 15 A receptacle alone on 20 A", "overcurrent", {"allowed": False}, "210.21(B)(1)", awg="12", kind="nm-b", device_a=20, outlets=[15]),
    asked("Two 15 A receptacles on 20 A", "overcurrent", {"allowed": True}, "Table 210.21(B)(3)", awg="12", kind="nm-b", device_a=20, outlets=[15, 15]),
    asked("Three 12 AWG, two grounds, a clamp and a device", "box-fill", {"required_in3": 15.75}, "practice question 1 (electricianprep.co)", conductors=[wires(3, "12"), wires(2, "12", "ground")], devices=[{"kind": "receptacle"}], clamps="internal"),
    asked("Two 14-2, stud, hickey, two fixture wires", "box-fill", {"required_in3": 18, "smallest_box": "4 x 2-1/8 octagonal"}, QUIZ26, box={"shape": "octagonal"}, conductors=[wires(4, "14"), wires(2, "14", "ground"), wires(2, "14")], fittings={"stud": 1, "hickey": 1}),
    asked("Two 12-2, stud, clamps, two 18 AWG fixture wires", "box-fill", {"required_in3": 18.75, "smallest_box": "4 x 2-1/8 octagonal"}, QUIZ26, box={"shape": "octagonal"}, conductors=[wires(4, "12"), wires(2, "12", "ground"), wires(2, "18")], fittings={"stud": 1}, clamps="internal"),
    asked("Four 14-2 and four 12-2 spliced in a square box", "box-fill", {"smallest_box": "4-11/16 x 2-1/8 square"}, QUIZ26, box={"shape": "square"}, conductors=[wires(8, "14"), wires(8, "12"), wires(4, "14", "ground"), wires(4, "12", "ground")]),
    asked("Two 14-2, a receptacle and clamps in a device box", "box-fill", {"required_in3": 16, "smallest_box": "3 x 2 x 3-1/2 device"}, QUIZ26, box={"shape": "device"}, conductors=[wires(4, "14"), wires(2, "14", "ground")], devices=[{"kind": "receptacle"}], clamps="internal"),
    asked("A device with 10 AWG on it", "box-fill", {"required_in3": 15}, "2 x 2 1/2 for the device, 3 and a ground for the cable", conductors=[wires(3, "10"), wires(1, "10", "ground")], devices=[{"kind": "receptacle", "largest_awg": "10"}]),
    asked("Seven grounds of 14 AWG until 2017", "box-fill", {"required_in3": 2}, "all of them one", (2017,), conductors=[wires(7, "14", "ground")]),
    asked("Seven grounds of 14 AWG since 2020", "box-fill", {"required_in3": 3.5}, "four of them one, a quarter for each further one", (2020, 2023, 2026), conductors=[wires(7, "14", "ground")]),
    asked("A panel with 36 by 30 by 78 in before it", "working-space", {"complies": True}, "110.26(A)", width_in=30, depth_in=36, height_in=78),
    asked("A panel with 29 in of width", "working-space", {"complies": False}, "110.26(A)(2)", width_in=29, depth_in=36, height_in=78),
    asked("A panel in a clothes closet", "working-space", {"room_allowed": False}, "240.24(D)", width_in=30, depth_in=36, height_in=78, room="clothes closet"),
    asked("A water heater stands before the panel", "working-space", {"complies": False}, "110.26(A)", width_in=30, depth_in=36, height_in=78, obstructions=["water heater"]),
    asked("A bedroom receptacle 4 ft from a sink on the wall's other side", "protection", {"gfci.required": False}, "the cord may not pierce a wall", room="bedroom", outlet={"from_sink_in": 48, "path_crosses": ["wall"]}),
    asked("A bedroom receptacle 4 ft from a sink through a doorway, 2017", "protection", {"gfci.required": False}, "2017 stops at doors", (2017,), room="bedroom", outlet={"from_sink_in": 48, "path_crosses": ["doorway"]}),
    asked("A bedroom receptacle 4 ft from a sink through a doorway, later", "protection", {"gfci.required": True}, "since 2020 it does not", (2020, 2023, 2026), room="bedroom", outlet={"from_sink_in": 48, "path_crosses": ["doorway"]}),
    asked("A bedroom receptacle is replaced", "protection", {"afci.required": True}, "406.4(D)(4)", room="bedroom", work="replacement"),
    asked("Four feet of cable are added and no outlet", "protection", {"afci.required": False}, "210.12(D) and its exception: 6 ft", room="bedroom", work={"extension_ft": 4}),
    asked("A balcony's receptacle", "protection", {"gfci.required": True, "weather_resistant.required": True, "tamper_resistant.required": True}, "210.8(A)(3), 406.9, 406.12", room="balcony"),
]  # fmt: skip
