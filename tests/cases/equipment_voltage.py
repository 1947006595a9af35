"""Cases for equipment against the voltage of its circuit: 110.4; nominal and utilization voltages of ANSI C84.1."""

from __future__ import annotations

from tests.cases.case import Case, House
from tests.cases.whole_jobs import a_fixture, wired_fixture

RULE = "equipment-voltage"
C84 = "ANSI C84.1: 120/240 V nominal, 115/230 V utilization, appliances also marked 125/250 V"


def heater(volts: int | None, circuit_volts: int = 240) -> House:
    poles = 2 if circuit_volts > 200 else 1
    return wired_fixture(
        "electric heat", volts=volts, circuit={"volts": circuit_volts, "poles": poles, "rating_a": 20}
    )


CASES = [
    Case(RULE, "clear - 240 V on 240 V", heater(240), "suits", source=C84),
    Case(RULE, "clear - 230 V on 240 V", heater(230), "suits", source=C84),
    Case(RULE, "clear - 250 V on 240 V", heater(250), "suits", source=C84),
    Case(RULE, "clear - 125 V on 120 V", heater(125, 120), "suits", source=C84),
    Case(RULE, "clear - exactly a tenth away", heater(216), "suits"),
    Case(RULE, "correction - just over a tenth away", heater(215), "differs"),
    Case(RULE, "correction - 208 V on 240 V", heater(208), "differs", source=C84),
    Case(RULE, "correction - 120 V on 240 V", heater(120), "differs", source=C84),
    Case(RULE, "correction - 240 V on 120 V", heater(240, 120), "differs", source=C84),
    Case(RULE, "unseen - no outlet", a_fixture("range", "kitchen", volts=240), "not-recorded"),
    Case(RULE, "outside - no voltage is recorded", heater(None), "not-said"),
]  # fmt: skip
