"""Cases for flexible raceways and plastic pipe: 348, 350, 352."""

from __future__ import annotations

from tests.cases.case import look_cases, measure_cases
from tests.cases.houses import wired_room

PIPE = wired_room(cable={"kind": "raceway"})
NM = {"a room wired with NM cable": wired_room()}
ECM = "1 ft and 4 1/2 ft (NEC requirements for support of LFMC, EC&M)"
NH = "1/2 in at most every 3 ft (installation deficiencies, State of New Hampshire)"

CASES = [
    *measure_cases("flexible-strapped-near-box", PIPE, "1'", least=False, source=ECM, outside=NM),
    *measure_cases("flexible-strapped-along", PIPE, "4' 6", least=False, source=ECM, outside=NM),
    *look_cases("flexible-ground", PIPE, outside=NM),
    *measure_cases("pvc-strapped-along", PIPE, "3'", least=False, source=NH, outside=NM),
    *look_cases("pvc-can-move", PIPE, outside=NM),
]
