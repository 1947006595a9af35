"""Cases for panels that are fed from another: 250.142, 408.40, 215.6."""

from __future__ import annotations

from server.dwelling import WorkKind
from tests.cases.case import Case
from tests.cases.whole_jobs import a_panel, a_subpanel

APART, BAR, FEEDER = "subpanel-neutral-apart", "subpanel-ground-bar", "feeder-four-wire"
MAIN = a_panel(neutral_bonded=True)
OLD = {"work": WorkKind.EXTENSION, "in_separate_building": True}

CASES = [
    Case(APART, "clear - not bonded", a_subpanel(neutral_bonded=False), "apart"),
    Case(APART, "correction - bonded", a_subpanel(neutral_bonded=True), "bonded"),
    Case(APART, "unseen - nobody said", a_subpanel(), "not-recorded"),
    Case(APART, "outside - the service panel", MAIN, "service"),
    Case(BAR, "clear - it has a bar", a_subpanel(ground_bar=True), "has-one"),
    Case(BAR, "correction - it has none", a_subpanel(ground_bar=False), "none"),
    Case(BAR, "unseen - nobody said", a_subpanel(), "not-recorded"),
    Case(BAR, "outside - the service panel", MAIN, "service"),
    Case(FEEDER, "clear - exactly three insulated and a ground", a_subpanel(feeder={}, cable={}), "four"),
    Case(FEEDER, "clear - just more: four insulated and a ground", a_subpanel(feeder={}, cable={"insulated": 4}), "four"),
    Case(FEEDER, "correction - just fewer: two insulated", a_subpanel(feeder={}, cable={"insulated": 2}), "no-neutral"),
    Case(FEEDER, "correction - no ground", a_subpanel(feeder={}, cable={"has_ground": False}), "no-ground"),
    Case(FEEDER, "correction - no ground to a new separate building", a_subpanel(feeder={}, cable={"has_ground": False}, in_separate_building=True), "no-ground"),
    Case(FEEDER, "inspector - no ground to an old separate building", a_subpanel(feeder={}, cable={"has_ground": False}, **OLD), "old-feeder"),
    Case(FEEDER, "inspector - a raceway without a ground wire", a_subpanel(feeder={}, cable={"kind": "raceway", "has_ground": False}), "metal-grounds"),
    Case(FEEDER, "unseen - the feeder's cable is not recorded", a_subpanel(feeder={}), "not-recorded"),
    Case(FEEDER, "unseen - no feeder is recorded", a_subpanel(), "not-recorded"),
    Case(FEEDER, "outside - the service panel", MAIN, "service"),
]  # fmt: skip
