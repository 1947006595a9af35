"""Cases for raceways: 358, 300.10, 300.17."""

from __future__ import annotations

from tests.cases.case import look_cases, measure_cases
from tests.cases.houses import wired_room

PIPE = wired_room(cable={"kind": "raceway"})
NM = {"a room wired with NM cable": wired_room()}
DEPT = "Departments' lists: strapped near each box (3 ft)"

CASES = [
    *measure_cases("raceway-strapped-near-box", PIPE, "3'", least=False, source=DEPT, outside=NM),
    *measure_cases("raceway-strapped-along", PIPE, "10'", least=False, source="from memory", outside=NM),
    *look_cases("raceway-joints", PIPE, outside=NM),
    *measure_cases("raceway-bends", PIPE, 360, least=False, step="1", source="from memory", outside=NM),
    *look_cases("raceway-bends-true", PIPE, outside=NM),
    *look_cases("raceway-colors", PIPE, outside=NM),
    *look_cases("raceway-reamed", PIPE, outside=NM),
    *look_cases("raceway-derating", PIPE, outside=NM),
    *look_cases("raceway-ground-size", PIPE, outside=NM),
    *look_cases("conduit-bodies", PIPE, outside=NM),
    *measure_cases("raceway-fill", PIPE, 40, least=False, step="1/10", source="from memory", outside=NM),
]
