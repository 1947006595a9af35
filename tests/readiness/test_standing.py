"""Standings: one answer per room, and nothing is silently ready."""

from __future__ import annotations

import pytest

from seed_demo.building import HouseBuilder
from server.dwelling import Ref
from server.editions import load_edition
from server.readiness import JOB, Finding, Standing, evaluate, standing_of, standings
from server.rules.outcome import Missing, Outcome, Verdict
from server.rules.registry import RULES


def findings(*verdicts: Verdict) -> list[Finding]:
    rule = next(iter(RULES.values()))
    return [
        Finding(rule, Ref("box", str(n)), ("r",), Outcome(verdict, "x", {}, (Missing("x"),)))
        for n, verdict in enumerate(verdicts)
    ]


C, F, U, O, I = Verdict.CLEAR, Verdict.CORRECTION, Verdict.UNSEEN, Verdict.OUTSIDE, Verdict.INSPECTOR  # noqa: E741


@pytest.mark.parametrize(
    ("verdicts", "standing"),
    [
        ((C,), Standing.READY),
        ((C, C, O), Standing.READY),
        ((C, I), Standing.READY),
        ((C, F), Standing.HOLD),
        ((U, F), Standing.HOLD),
        ((C, U), Standing.NOT_WALKED),
        ((O,), Standing.NOT_WALKED),
        ((I,), Standing.NOT_WALKED),
        ((), Standing.NOT_WALKED),
    ],
)
def test_a_rooms_standing_follows_from_its_findings(
    verdicts: tuple[Verdict, ...], standing: Standing
) -> None:
    assert standing_of("r", findings(*verdicts)).standing is standing


def test_a_room_without_subjects_is_not_ready_and_neither_is_its_house() -> None:
    house = HouseBuilder()
    room = house.room("bedroom", length_in=144, width_in=120)
    dwelling = house.dwelling()

    found = standings(dwelling, evaluate(dwelling, load_edition(2023)))

    assert found[room].standing is not Standing.READY
    assert found[JOB].standing is not Standing.READY


def test_every_room_has_a_standing_even_without_findings() -> None:
    house = HouseBuilder()
    rooms = [house.room("den") for _ in range(3)]

    assert set(standings(house.dwelling(), [])) == {*rooms, JOB}
