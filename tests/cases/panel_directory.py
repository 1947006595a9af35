"""Cases for the circuit directory: 408.4(A), 408.54, 110.22."""

from __future__ import annotations

from typing import Any

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import Case, House
from tests.cases.whole_jobs import a_job, a_panel, a_subpanel, looks

NAMED, SPACES = "circuit-named", "breaker-spaces"
FM_4084 = "408.4(A) circuit directory (Mike Holt Forums)"


def circuit(name: str, *others: str, **more: Any) -> House:
    def build(house: HouseBuilder) -> Ref:
        panel = house.panel()
        made = house.circuit(panel, name, **more)
        for other in others:
            house.circuit(panel, other)
        return Ref("circuit", made)

    return build


def in_another_panel(house: HouseBuilder) -> Ref:
    made = house.circuit(house.panel(), "Bedroom 2")
    house.circuit(house.panel("Panel B"), "Bedroom 2")
    return Ref("circuit", made)


def filled(*spaces: tuple[int, ...], of: int | None = 4) -> House:
    return a_panel(circuits=tuple({"spaces": each, "poles": len(each)} for each in spaces), spaces=of)


CASES = [
    *looks(a_panel(), "panel-directory"),
    *looks(a_subpanel(), "panel-source-noted", outside={"the service panel": a_panel()}),
    *looks(a_job(), "disconnects-marked"),
    Case(NAMED, "clear - room and purpose", circuit("Bedroom 2 receptacles", "Bedroom 3 receptacles"), "named", source=FM_4084),
    Case(NAMED, "clear - the same name in another panel", in_another_panel, "named"),
    Case(NAMED, "correction - no name", circuit("  "), "nameless"),
    Case(NAMED, "correction - a word that says nothing", circuit("Misc"), "says-nothing", source=FM_4084),
    Case(NAMED, "correction - lights, and which", circuit("LIGHTS"), "says-nothing"),
    Case(NAMED, "clear - one more word says which", circuit("Lights, upper floor"), "named"),
    Case(NAMED, "correction - two of one name in the panel", circuit("Kitchen", "kitchen "), "same-as-another", source=FM_4084),
    Case(NAMED, "unseen - its space is not recorded", circuit("Dishwasher", spaces=()), "space-not-recorded"),
    Case(SPACES, "clear - exactly full", filled((1,), (2,), (3,), (4,)), "fits"),
    Case(SPACES, "clear - just one left", filled((1,), (2, 4)), "fits"),
    Case(SPACES, "clear - an empty panel", filled(), "fits"),
    Case(SPACES, "correction - both poles beside each other, on one leg", filled((1, 2)), "one-leg"),
    Case(SPACES, "correction - both poles two rows apart, on one leg", filled((1, 5), of=8), "one-leg"),
    Case(SPACES, "clear - the poles under each other", filled((1, 3)), "fits"),
    Case(SPACES, "correction - just beyond the last", filled((5,)), "beyond"),
    Case(SPACES, "correction - two in one space", filled((1,), (1,)), "twice"),
    Case(SPACES, "correction - a two-pole breaker overlaps", filled((1, 3), (3,)), "twice"),
    Case(SPACES, "correction - twice, though the number of spaces is unknown", filled((1,), (1,), of=None), "twice"),
    Case(SPACES, "unseen - the number of spaces is not recorded", filled((1,), of=None), "not-recorded"),
]  # fmt: skip
