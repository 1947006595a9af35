"""Cases for circuits on both legs: 240.15(B)."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import Case, House

RULE = "both-legs-open"
MW = "Code Q&A: multiwire disconnects (EC&M)"


def circuit(**more: Any) -> House:
    def build(house: HouseBuilder) -> Ref:
        return Ref("circuit", house.circuit(house.panel(), "Heater", **more))

    return build


CASES = [
    Case(RULE, "clear - a two-pole breaker", circuit(volts=240, poles=2), "together", source=MW),
    Case(RULE, "clear - tied single poles", circuit(volts=240, handle_tied=True), "tied", source=MW),
    Case(RULE, "clear - 208 V on two poles", circuit(volts=208, poles=2), "together"),
    Case(RULE, "correction - untied single poles", circuit(volts=240, handle_tied=False), "apart", source=MW),
    Case(RULE, "unseen - one pole, and nobody said of a tie", circuit(volts=240), "not-recorded"),
    Case(RULE, "outside - 120 V", circuit(volts=120), "one-leg"),
    Case(RULE, "outside - just at one leg's most", circuit(volts=150), "one-leg"),
    Case(RULE, "unseen - just above one leg's most", circuit(volts=151), "not-recorded"),
]
