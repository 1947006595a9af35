"""Cases for heating and cooling: 440, 424, 422.31."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from tests.cases.case import Case, House
from tests.cases.whole_jobs import a_fixture, looks, wired_fixture

CONDUCTORS, OVERCURRENT, HEAT = "hvac-conductors", "hvac-overcurrent", "electric-heat-circuit"
TABLE = "Table 310.16: 10 AWG copper 30 A at 60 °C, 35 A at 75 °C (reference tables)"
AC, FURNACE = a_fixture("air conditioner", "outdoors"), a_fixture("furnace")
MINI_SPLIT = a_fixture("mini-split", "outdoors")
HEATER = a_fixture("electric heat", "bedroom")


def _a(amperes: Any) -> Fraction | None:
    return None if amperes is None else Fraction(str(amperes))


def unit(
    mca: Any = "20",
    mop: Any = "30",
    *,
    kind: str = "air conditioner",
    rating_a: int = 30,
    awg: str = "10",
    **more: Any,
) -> House:
    circuit = {"volts": 240, "poles": 2, "rating_a": rating_a, "conductor_awg": awg}
    return wired_fixture(
        kind,
        minimum_circuit_a=_a(mca),
        maximum_overcurrent_a=_a(mop),
        circuit=circuit,
        room="outdoors",
        **more,
    )


def heaters(va: Any, rating_a: int = 20, *more: Any) -> House:
    circuit = {"volts": 240, "poles": 2, "rating_a": rating_a, "conductor_awg": "12"}
    return wired_fixture(
        "electric heat",
        va=va,
        circuit=circuit,
        more=tuple(each if isinstance(each, dict) else {"va": each} for each in more),
    )


CASES = [
    Case(CONDUCTORS, "clear - exactly what NM of 10 AWG carries", unit(30), "carries", source=TABLE),
    Case(CONDUCTORS, "clear - just under", unit("29.99"), "carries"),
    Case(CONDUCTORS, "correction - just over", unit("30.01"), "too-small", source=TABLE),
    Case(CONDUCTORS, "clear - MC of 10 AWG, exactly at 75 °C", unit(35, cable={"kind": "mc"}), "carries", source=TABLE),
    Case(CONDUCTORS, "correction - MC of 10 AWG, just over", unit("35.01", cable={"kind": "mc"}), "too-small", source=TABLE),
    Case(CONDUCTORS, "correction - one of two cables is thinner than its circuit", unit(25, cable={"awg": "12"}), "too-small"),
    Case(CONDUCTORS, "clear - a furnace whose nameplate gives it", unit(12, kind="furnace"), "carries"),
    Case(CONDUCTORS, "unseen - the nameplate is not recorded", unit(None), "not-recorded"),
    Case(CONDUCTORS, "unseen - the wire size is not recorded", unit(20, cable={"awg": None}), "not-recorded"),
    Case(CONDUCTORS, "unseen - no outlet", a_fixture("heat pump", "outdoors", minimum_circuit_a=_a(20)), "not-recorded"),
    Case(CONDUCTORS, "outside - a furnace without it", FURNACE, "other-kind"),
    Case(CONDUCTORS, "outside - a range", a_fixture("range", "kitchen"), "other-kind"),
    Case(OVERCURRENT, "clear - exactly the largest", unit(20, 30), "suits"),
    Case(OVERCURRENT, "clear - just under", unit(20, 35), "suits"),
    Case(OVERCURRENT, "correction - just over", unit(20, 25), "too-large"),
    Case(OVERCURRENT, "unseen - the nameplate is not recorded", unit(20, None), "not-recorded"),
    Case(OVERCURRENT, "unseen - no outlet", a_fixture("air conditioner", "outdoors", maximum_overcurrent_a=_a(30)), "not-recorded"),
    Case(OVERCURRENT, "outside - a boiler without it", a_fixture("boiler"), "other-kind"),
    Case(HEAT, "clear - exactly: 3840 W is 16 A, 20 A needed", heaters(3840), "enough"),
    Case(HEAT, "clear - just under", heaters(3839), "enough"),
    Case(HEAT, "correction - just over", heaters(3841), "too-small"),
    Case(HEAT, "correction - two heaters together", heaters(2000, 20, 2000), "too-small"),
    Case(HEAT, "clear - two heaters together, exactly", heaters(2000, 20, 1840), "enough"),
    Case(HEAT, "unseen - one nameplate is not recorded", heaters(2000, 20, None), "not-recorded"),
    Case(HEAT, "unseen - no outlet", HEATER, "not-recorded"),
    Case(HEAT, "outside - a furnace", FURNACE, "other-kind"),
    *looks(AC, "hvac-disconnect-in-sight", "hvac-disconnect-reached", outside={"a furnace": FURNACE}),
    *looks(AC, "hvac-whip", outside={"a furnace": FURNACE}),
    *looks(AC, "hvac-disconnect-closed", outside={"a furnace": FURNACE}, years=(2023, 2026)),
    Case("hvac-disconnect-closed", "outside - no such rule before 2023", AC, "absent", (2017, 2020)),
    *looks(MINI_SPLIT, "mini-split-cable", "mini-split-indoor-switch", outside={"another outdoor unit": AC}),
    *looks(MINI_SPLIT, "hvac-disconnect-in-sight"),
    Case(HEAT, "correction - a heated floor counts with a heater", heaters(2000, 20, {"kind": "floor heating", "va": 2000}), "too-small"),
    *looks(FURNACE, "furnace-disconnect", "condensate-pump-plug", outside={"an outdoor unit": AC}),
    *looks(HEATER, "heater-clear-of-cords", outside={"a furnace": FURNACE}),
]  # fmt: skip
