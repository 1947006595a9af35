"""Cases for manufactured homes and their hookup: 550."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_fixture, looks

HOME = a_fixture("manufactured home", "outdoors")
OTHER = {"an air conditioner": a_fixture("air conditioner", "outdoors")}
CO_MH = "Mobile homes, wiring guide (a state's electrical board, Colorado); How To Look At A House, 2018"

CASES = [
    *looks(
        HOME, "manufactured-home-papers", "manufactured-home-service-on-it", "manufactured-home-feeder",
        "manufactured-home-neutral", "manufactured-home-frame-bonded", "manufactured-home-crossover",
        "manufactured-home-heat-cable", "manufactured-home-tested", outside=OTHER,
    ),
    *measure_cases("manufactured-home-disconnect", HOME, "30'", least=False, source=CO_MH, outside=OTHER),
    *measure_cases("manufactured-home-service-rating", HOME, 100, least=True, step="1", source=CO_MH, outside=OTHER),
]  # fmt: skip
