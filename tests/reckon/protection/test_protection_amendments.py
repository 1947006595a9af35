"""The local presets: each changes the answers its source says it changes, and no others.

Sources stand in ``server/editions/amendments/*_protection.toml``.
"""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from server.editions import load_presets
from server.reckon.protection.facts import OutletFacts
from tests.protection_facts import ASK, edition, hardwired, receptacle

DRYER = receptacle("laundry", serves="dryer", volts=250, amps=30, circuit_volts=240, circuit_amps=30)
RANGE_BY_SINK = {"volts": 250, "circuit_volts": 240, "serves": "range", "from_sink_in": 48}
PUMP = hardwired("outdoors", serves="well pump")

CASES: list[tuple[str, int, str, OutletFacts, Any, Any]] = [
    # preset, edition, question, outlet, without the preset, with it
    ("oh-2023-protection", 2023, "gfci", receptacle("garage", volts=250, amps=50), True, False),
    ("oh-2023-protection", 2023, "gfci", receptacle("garage"), True, True),
    ("oh-2023-protection", 2023, "gfci", receptacle("garage", serves="garage door opener", single=True), True, False),
    ("oh-2023-protection", 2023, "gfci", receptacle("garage", serves="garage door opener", single=False), True, True),
    ("oh-2023-protection", 2023, "gfci", receptacle("basement", serves="sump pump", single=True), True, False),
    ("oh-2023-protection", 2023, "gfci", receptacle("basement", serves="sump pump"), True, None),
    ("or-2023-protection", 2023, "afci", receptacle("hallway"), True, False),
    ("or-2023-protection", 2023, "afci", receptacle("hallway", kind="lighting"), True, True),
    ("or-2023-protection", 2023, "afci", receptacle("kitchen"), True, False),
    ("or-2023-protection", 2023, "afci", receptacle("office"), True, False),
    ("or-2023-protection", 2023, "afci", receptacle("alcove", kind="lighting"), True, True),
    ("or-2023-protection", 2023, "afci", receptacle("dining room", gfci_protected=True), True, False),
    ("or-2023-protection", 2023, "afci", receptacle("dining room", gfci_protected=False), True, True),
    ("or-2023-protection", 2023, "afci", receptacle("closet", kind="hardwired", serves="sump pump", dedicated=True),
     True, False),
    ("or-2023-protection", 2023, "afci", receptacle("bedroom", serves="treadmill", dedicated=True), True, "inspector"),
    ("or-2023-protection", 2023, "afci", receptacle("bedroom"), True, True),
    ("wa-2020-protection", 2020, "gfci", hardwired("outdoors", serves="well pump", permit_date=date(2022, 12, 31)),
     True, False),
    ("wa-2020-protection", 2020, "gfci", hardwired("outdoors", serves="well pump", permit_date=date(2023, 1, 1)),
     True, True),
    ("wa-2020-protection", 2020, "gfci", PUMP, True, None),
    ("wa-2020-protection", 2020, "gfci",
     receptacle("kitchen", amps=50, permit_date=date(2022, 12, 31), **RANGE_BY_SINK), True, False),
    ("wa-2020-protection", 2020, "gfci",
     receptacle("kitchen", amps=30, permit_date=date(2022, 12, 31), **RANGE_BY_SINK), True, False),
    ("wa-2020-protection", 2020, "gfci",
     receptacle("kitchen", amps=20, permit_date=date(2022, 12, 31), **RANGE_BY_SINK), True, True),
    ("wa-2020-protection", 2020, "gfci",
     receptacle("kitchen", amps=60, permit_date=date(2022, 12, 31), **RANGE_BY_SINK), True, True),
    ("wa-2020-protection", 2020, "gfci",
     receptacle("kitchen", amps=50, permit_date=date(2023, 1, 1), **RANGE_BY_SINK), True, True),
    ("tx-2020-protection", 2020, "gfci", hardwired("outdoors", serves="well pump", permit_date=date(2022, 6, 1)),
     True, False),
    ("mn-2020-protection", 2020, "gfci",
     receptacle("laundry", volts=250, amps=30, permit_date=date(2021, 4, 4)), True, False),
    ("mn-2020-protection", 2020, "gfci",
     receptacle("laundry", volts=250, amps=30, permit_date=date(2021, 4, 5)), True, True),
    ("mn-2020-protection", 2020, "gfci", DRYER, True, None),
    ("mn-2020-protection", 2020, "gfci", receptacle("laundry"), True, True),
    ("sc-2020-protection", 2020, "gfci", DRYER, True, False),
    ("sc-2020-protection", 2020, "gfci", receptacle("basement", walk_out=True), True, False),
    ("sc-2020-protection", 2020, "gfci", receptacle("basement", walk_out=False), True, True),
    ("sc-2020-protection", 2020, "gfci", receptacle("basement"), True, None),
    ("ne-2023-protection", 2023, "gfci", receptacle("basement", finished=True), True, False),
    ("ne-2023-protection", 2023, "gfci", receptacle("basement", finished=False), True, True),
    ("ne-2023-protection", 2023, "gfci", receptacle("kitchen", serves="general"), True, False),
    ("ne-2023-protection", 2023, "gfci", receptacle("kitchen", serves="countertop"), True, True),
    ("ne-2023-protection", 2023, "gfci", receptacle("garage", volts=250), True, False),
    ("ne-2023-protection", 2023, "gfci", receptacle("garage", amps=30), True, False),
    ("ne-2023-protection", 2023, "gfci", receptacle("mudroom", damp=True), True, False),
    ("nc-2017-protection", 2017, "afci", receptacle("kitchen"), True, False),
    ("nc-2017-protection", 2017, "afci", receptacle("laundry"), True, False),
    ("nc-2017-protection", 2017, "afci", OutletFacts("hallway", kind="switch", circuit_volts=120, circuit_amps=15,
                                                     circuit_rooms=("kitchen",)), True, True),
    ("nj-2017-protection", 2017, "afci", receptacle("kitchen"), True, False),
    ("nj-2017-protection", 2017, "afci", receptacle("bedroom"), True, True),
    ("nj-2017-protection", 2017, "afci", receptacle("bedroom", work_on="replacement"), True, False),
    ("nj-2017-protection", 2017, "afci", receptacle("bedroom", work_on="extension", added_outlets=1), True, False),
    ("nj-2017-protection", 2017, "gfci", receptacle("garage", readily_accessible=False), True, False),
    ("nj-2017-protection", 2017, "gfci",
     receptacle("garage", serves="freezer", readily_accessible=True, dedicated=True), True, False),
    ("nj-2017-protection", 2017, "gfci",
     receptacle("garage", serves="general", readily_accessible=True, dedicated=True), True, True),
    ("nj-2017-protection", 2017, "gfci", receptacle("bathroom", readily_accessible=False), True, True),
]  # fmt: skip


@pytest.mark.parametrize(("preset", "year", "what", "facts", "plain", "amended"), CASES)
def test_a_preset_changes_what_it_says(
    preset: str, year: int, what: str, facts: OutletFacts, plain: object, amended: object
) -> None:
    assert ASK[what](facts, edition(year)).required == plain

    found = ASK[what](facts, edition(year, preset))

    assert found.required == amended, found.why
    assert (found.required is None) == bool(found.missing)


@pytest.mark.parametrize("preset", sorted({case[0] for case in CASES}))
def test_a_changed_answer_is_cited_by_the_local_article(preset: str) -> None:
    changed = [case for case in CASES if case[0] == preset and case[4] != case[5]]
    assert changed

    layer = next(layer for layer in load_presets() if layer.id == preset)
    local = {change.cites for change in layer.changes}
    for _, year, what, facts, _, _ in changed:
        cites = set(ASK[what](facts, edition(year, preset)).cites)
        assert cites & local, (facts, cites)


def test_every_preset_of_protection_is_tried() -> None:
    shipped = {layer.id for layer in load_presets() if layer.id.endswith("-protection")}

    assert shipped == {case[0] for case in CASES}
