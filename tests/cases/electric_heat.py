"""Cases for electric heaters, heated floors and heating cable: 424, 426, 427."""

from __future__ import annotations

from tests.cases.whole_jobs import a_fixture, looks

HEATER, FLOOR = a_fixture("electric heat", "bedroom"), a_fixture("floor heating", "bathroom")
DEICING = a_fixture("deicing", "outdoors")
FURNACE = {"a furnace": a_fixture("furnace")}

CASES = [
    *looks(HEATER, "heater-thermostat", "heater-clearances", "heater-connection", outside=FURNACE | {"a heated floor": FLOOR}),
    *looks(
        FLOOR, "floor-heating-laid", "floor-heating-tested", "floor-heating-splices", "floor-heating-gfci",
        "floor-heating-named", outside={"a baseboard heater": HEATER},
    ),
    *looks(
        DEICING, "deicing-ground-fault", "deicing-fastened", "deicing-disconnect", "deicing-marked",
        outside={"a heated floor": FLOOR},
    ),
]  # fmt: skip
