"""Cases for the electric water heater: 422.10, 422.13, 422.31."""

from __future__ import annotations

from typing import Any

from tests.cases.case import Case, House
from tests.cases.whole_jobs import a_fixture, looks, wired_fixture

RULE = "water-heater-circuit"
FM = "Water heater, 5500 W at 240 V: 22.9 A, times 125 % 28.75 A (Mike Holt Forums)"
GAS, OTHER = a_fixture("water heater", fuel_burning=True), {"a furnace": a_fixture("furnace")}


def heater(va: Any, rating_a: int | None = 30, **more: Any) -> House:
    return wired_fixture(
        "water heater",
        va=va,
        circuit={"volts": 240, "poles": 2, "rating_a": rating_a, "conductor_awg": "10"},
        **more,
    )


CASES = [
    Case(RULE, "clear - 5500 W on 30 A", heater(5500), "enough", source=FM),
    Case(RULE, "correction - 5500 W on 25 A", heater(5500, 25), "too-small", source=FM),
    Case(RULE, "clear - exactly: 4800 W is 20 A, 25 A needed", heater(4800, 25), "enough"),
    Case(RULE, "clear - just under", heater(4799, 25), "enough"),
    Case(RULE, "correction - just over", heater(4801, 25), "too-small"),
    Case(RULE, "unseen - the nameplate is not recorded", heater(None), "not-recorded"),
    Case(RULE, "unseen - the rating is not recorded", heater(4500, None), "not-recorded"),
    Case(RULE, "unseen - no circuit", wired_fixture("water heater", va=4500), "not-recorded"),
    Case(RULE, "unseen - no outlet", a_fixture("water heater", va=4500), "not-recorded"),
    Case(RULE, "outside - it burns gas", GAS, "burns-fuel"),
    Case(RULE, "outside - a furnace", a_fixture("furnace"), "other-kind"),
    *looks(
        a_fixture("water heater"), "water-heater-disconnect", "water-heater-connection",
        outside=OTHER | {"it burns gas": GAS},
    ),
]  # fmt: skip
