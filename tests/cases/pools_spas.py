"""Cases for the short list of pools and hot tubs: 680."""

from __future__ import annotations

from tests.cases.case import measure_cases
from tests.cases.whole_jobs import a_fixture, band_cases, looks

POOL, TUB = a_fixture("pool", "outdoors"), a_fixture("hot tub", "deck")
BATH = {"a bathtub": a_fixture("bathtub", "bathroom")}
FM_68022 = "NEC code question (quotes 680.22(A)(3), inspectionnews.net)"
STUDY = "680.12 maintenance disconnect (presentation, 2016)"

CASES = [
    *looks(POOL, "pool-permit", outside=BATH),
    *looks(
        POOL,
        "pool-bonded-before-pour",
        "pool-underground",
        "pool-pump-gfci",
        "pool-water-bonded",
        outside={"a hot tub": TUB},
    ),
    *looks(TUB, "hot-tub-gfci", "hot-tub-receptacle", outside={"a pool": POOL}),
    *band_cases("pool-receptacle", POOL, "6'", "20'", source=FM_68022, outside=BATH),
    *measure_cases(
        "pool-overhead",
        POOL,
        "22' 6",
        least=True,
        source="Lines above pools (Mike Holt Forums)",
        outside=BATH,
    ),
    *looks(TUB, "pool-luminaires-above", outside=BATH),
    *looks(
        a_fixture("fountain", "outdoors"), "fountain-gfci", "fountain-bonded", outside=BATH | {"a pool": POOL}
    ),
    *measure_cases("pool-switches", POOL, "5'", least=True, source="680.22(C), from memory", outside=BATH),
    *measure_cases("pool-disconnect", TUB, "5'", least=True, source=STUDY, outside=BATH),
]
