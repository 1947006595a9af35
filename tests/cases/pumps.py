"""Cases for sump, sewage and well pumps and sprinkler controllers: 430, 250.112, 725."""

from __future__ import annotations

from tests.cases.whole_jobs import a_fixture, looks

SUMP, SEWAGE = a_fixture("sump pump", "basement"), a_fixture("sewage pump", "basement")
WELL, SPRINKLER = a_fixture("well pump", "outdoors"), a_fixture("sprinkler controller", "garage")

CASES = [
    *looks(SUMP, "sump-pump-alone", "sump-pump-cord", outside={"a well pump": WELL}),
    *looks(
        SEWAGE, "sewage-pump-alarm", "sewage-pump-sealed", "sewage-pump-basin", outside={"a sump pump": SUMP},
    ),
    *looks(SEWAGE, "pump-disconnect", "pump-overload", outside={"a sump pump on its cord": SUMP}),
    *looks(
        WELL, "pressure-switch-closed", "well-casing-bonded", "well-pump-ground", "well-cable",
        outside={"a sump pump": SUMP},
    ),
    *looks(SPRINKLER, "sprinkler-controller", "sprinkler-splices", outside={"a well pump": WELL}),
]  # fmt: skip
