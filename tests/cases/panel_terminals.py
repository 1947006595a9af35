"""Cases for what is under the screws of a panel: 408.41, 110.14, 408.7."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import House
from tests.cases.whole_jobs import a_panel, a_subpanel, looks


def shared_neutral() -> House:
    def build(house: HouseBuilder) -> Ref:
        ref = a_panel()(house)
        one = house.circuit(ref.id, "Left")
        house.circuit(ref.id, "Right", multiwire_with=one)
        return ref

    return build


CASES = [
    *looks(
        a_panel(), "one-neutral-per-terminal", "grounds-per-terminal", "one-conductor-per-breaker", "terminals-torqued",
        "panel-openings-closed", "breakers-fit-panel", "cables-clamped-at-panel", "panel-gutter-fill", "green-not-hot",
    ),
    *looks(
        a_panel(), "aluminum-terminations",
        outside={"copper throughout": a_subpanel(feeder={}, cable={})},
    ),
    *looks(a_subpanel(feeder={}, cable={"material": "aluminum"}), "aluminum-terminations"),
    *looks(
        a_panel(circuits=({"breaker": "AFCI"},)), "protection-neutrals",
        outside={"standard breakers only": a_panel(circuits=({},))},
    ),
    *looks(shared_neutral(), "multiwire-grouped", outside={"each its own neutral": a_panel(circuits=({},))}),
]  # fmt: skip
