"""Enough general circuits for the size of the house."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling import CircuitPurpose, Dwelling, Site, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import moved
from server.rules.outcome import Missing, Outcome, clear, correction, unseen
from server.rules.rule import rule

__all__ = ["general_circuits"]


@rule(
    id="general-circuits",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=moved(e2017="210.11(A)", e2026="210.11(A)"),
    title="There are enough general circuits for the house",
    why="Lights and general receptacles are counted by floor area, since nobody knows what will be plugged in.",
    look_for="Three volt-amperes for each square foot of floor area (porches, garage and unused spaces left out), divided by what the "
    "general circuits carry: a 15 A circuit for each 600 square feet.",
    cure="Add general circuits until together they carry what the floor area asks for.",
    says={
        "enough": "{area_ft2:n} sq ft ask for {needed_va:n} VA; {circuits:n} general circuits carry {carried_va:n} VA.",
        "too-few": "{area_ft2:n} sq ft ask for {needed_va:n} VA, and {circuits:n} general circuits carry {carried_va:n} VA.",
        "area-not-recorded": "The floor area of the house is not recorded.",
        "rating-not-recorded": "The rating of {circuits:n} general circuits is not recorded.",
        "no-circuit": "No general circuit is recorded yet.",
    },
    plain="A house needs about one general circuit for every 600 square feet.",
)
def general_circuits(site: Site, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """What the floor area asks for against what the general circuits carry."""
    general = [circuit for circuit in house.facts.circuits if circuit.purpose is CircuitPurpose.GENERAL]
    if not general:
        return unseen("no-circuit", Missing("the circuits of the house", "circuit"))
    if site.floor_area_ft2 is None:
        return unseen("area-not-recorded", Missing("the floor area of the house", "job.floor_area_ft2"))
    volts = code.number("load.lighting_circuit_volts", work)
    each = code.number("load.branch_va_per_ft2", work)
    needed_va = Fraction(site.floor_area_ft2) * each
    rated = [circuit.rating_a for circuit in general if circuit.rating_a is not None and circuit.poles == 1]
    carried_va = sum((Fraction(rating) * volts for rating in rated), Fraction(0))
    if work:
        cites = code.cites("load.branch_va_per_ft2")
        work.step(f"{site.floor_area_ft2} sq ft × {float(each):g} VA", needed_va, "VA", cites)
        work.step(f"{sum(rated)} A × {float(volts):g} V", carried_va, "VA", cites)
    counted = len(rated)
    if carried_va >= needed_va:
        return clear(
            "enough",
            area_ft2=site.floor_area_ft2,
            needed_va=needed_va,
            circuits=counted,
            carried_va=carried_va,
        )
    unrated = sum(circuit.rating_a is None for circuit in general)
    if unrated:
        return unseen(
            "rating-not-recorded", Missing("the rating of the circuit", "circuit.rating_a"), circuits=unrated
        )
    return correction(
        "too-few", area_ft2=site.floor_area_ft2, needed_va=needed_va, circuits=counted, carried_va=carried_va
    )
