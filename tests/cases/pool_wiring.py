"""Cases for a pool's wiring beyond its short list: 680.8 to 680.34."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_fixture, looks

POOL, TUB = a_fixture("pool", "outdoors"), a_fixture("hot tub", "deck")
BATH = {"a bathtub": a_fixture("bathtub", "bathroom")}
STUDY = "680.24(A)(2) (presentation, 2016, studyres.com)"
FORUM = "680.23(A)(5) (Mike Holt Forums, thread 51922)"
CITY = "Flexible cords at pools (city of Republic, Missouri)"

CASES = [
    *looks(
        POOL, "pool-lights-in-water", "pool-light-boxes", "pool-ground-wire", "pool-chemicals", "pool-heater",
        "pool-cover-motor", "pool-equipment-pit", outside=BATH,
    ),
    *looks(POOL, "pool-storable", outside={"a hot tub": TUB}),
    *measure_cases("pool-light-depth", TUB, 18, least=True, source=FORUM, outside=BATH),
    *measure_cases("pool-light-box-away", POOL, "4'", least=True, source=STUDY, outside=BATH),
    *measure_cases("pool-pump-cord", POOL, "3'", least=False, source=CITY, outside={"a hot tub": TUB}),
]  # fmt: skip
