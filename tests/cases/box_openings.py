"""Cases for the shell of a box: 110.12, 110.3(B), 314.29."""

from __future__ import annotations

from tests.cases.case import look_cases
from tests.cases.houses import a_box, a_room, wired_box, wired_room

CASES = [
    *look_cases("openings-closed", a_box()),
    *look_cases("box-whole", a_box()),
    *look_cases("connectors-fit", wired_box(), unknown={"no cable is recorded": a_box()}),
    *look_cases("weatherproof-box", a_box("outdoors"), outside={"a dry place": a_box()}),
    *look_cases("weatherproof-box", a_box("basement", wetness="damp")),
    *look_cases("box-reachable", wired_room(), outside={"no box here": a_room()}),
]
