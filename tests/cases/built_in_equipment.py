"""Cases for central vacuums, gas fireplaces, attic fans, saunas and lifts."""

from __future__ import annotations

from tests.cases.whole_jobs import a_fixture, looks

OTHER = {"a water heater": a_fixture("water heater")}

CASES = [
    *looks(a_fixture("central vacuum", "garage"), "central-vacuum-circuit", "central-vacuum-metal", outside=OTHER),
    *looks(
        a_fixture("gas fireplace", "living room"), "fireplace-wiring", "fireplace-control-wires", "fireplace-shut-off",
        outside=OTHER,
    ),
    *looks(a_fixture("attic fan", "attic"), "attic-fan-switch", "attic-fan-connected", outside=OTHER),
    *looks(a_fixture("sauna", "basement"), "sauna-heater", "sauna-wiring", "sauna-controls", outside=OTHER),
    *looks(a_fixture("lift", "stair"), "lift-permit", "lift-disconnect", outside=OTHER),
]  # fmt: skip
