"""Cases for what only large services have, and for a feeder's load: 310.10, 230.46, 215.2."""

from __future__ import annotations

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from tests.cases.case import House
from tests.cases.whole_jobs import a_job, a_panel, a_subpanel, looks


def services(*mains: int | None) -> House:
    def build(house: HouseBuilder) -> Ref:
        for number, main_a in enumerate(mains):
            house.panel(f"Service {number + 1}", main_a=main_a, is_service=True)
        return Ref("job", house.site.id)

    return build


USUAL = {
    "exactly 200 A": services(200),
    "just under": services(199),
    "a main that is not recorded": services(None),
    "no panel": a_job(),
}
BOTH = ("service-parallel", "service-joints")

CASES = [
    *looks(services(400), *BOTH, outside=USUAL),
    *looks(services(201), *BOTH),
    *looks(services(100, 100), *BOTH),
    *looks(a_subpanel(), "feeder-load", outside={"the service panel": a_panel()}),
]
