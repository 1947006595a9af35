"""Enough general circuits for the size of the house, and what the smallest of them may feed."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling import Circuit, CircuitPurpose, Dwelling, Site, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.circuit_outlets import Outlet, outlet_words, outlets_of
from server.rules.citing import moved
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import rule

__all__ = ["general_circuits", "smallest_circuits"]


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


@rule(
    id="smallest-circuits",
    stage=Stage.ROUGH_IN,
    about=Circuit,
    cites=moved(e2017="210.3", e2020="210.18", e2023="210.18, 210.23(A)", e2026="210.18, 210.23(A)"),
    title="A circuit below 15 A feeds only what it may",
    why="Somebody plugs a heater into it, and then somebody puts a larger breaker on its thin wire.",
    look_for="From 2023 on circuits of 10 A for lights and for the exhaust fans of bathroom and laundry; no receptacle, no appliance, no door opener. Before, none with several outlets.",
    cure="Move the outlet to a circuit of 15 A or more, or run the circuit in 14 AWG with its breaker.",
    says={
        "suits": "It is rated {rating_a:n} A and feeds only what such a circuit may.",
        "not-allowed": "It is rated {rating_a:n} A and feeds {outlet}.",
        "too-small": "It is rated {rating_a:n} A; {least_a:n} A is the least for a circuit with several outlets.",
        "one-outlet": "It is rated {rating_a:n} A and feeds one outlet alone, whose load decides.",
        "no-outlet": "It is rated {rating_a:n} A, and no outlet of it is recorded yet.",
        "ordinary": "It is rated {rating_a:n} A; only smaller ones are kept from receptacles.",
        "feeder": "A feeder has no outlets of its own.",
        "not-recorded": "Its rating is not recorded.",
    },
    mistakes="A receptacle in the attic hung on the 10 A lighting circuit.",
    plain="A 10 amp circuit is for lights only.",
)
def smallest_circuits(circuit: Circuit, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """What a circuit below the ordinary rating feeds."""
    if circuit.purpose is CircuitPurpose.FEEDER:
        return outside("feeder")
    if circuit.rating_a is None:
        return unseen("not-recorded", Missing("the rating of the circuit", "circuit.rating_a"))
    if circuit.rating_a >= code.number("circuits.ordinary_least_a", work):
        return clear("ordinary", rating_a=circuit.rating_a, cites=code.cites("circuits.ordinary_least_a"))
    outlets = outlets_of(circuit, house)
    if not outlets:
        return unseen("no-outlet", Missing("its outlets", "device"), rating_a=circuit.rating_a)
    least_a = code.number("circuits.smallest_a", work)
    if len(outlets) == 1 and not (outlets[0].is_receptacle and code.has("circuits.smallest_loads")):
        return outside("one-outlet", rating_a=circuit.rating_a)
    if circuit.rating_a < least_a:
        return correction(
            "too-small", rating_a=circuit.rating_a, least_a=least_a, cites=code.cites("circuits.smallest_a")
        )
    allowed = code.names("circuits.smallest_loads", work)
    for outlet in outlets:
        if not _may(outlet, allowed):
            words = outlet_words(outlet, house)
            return correction(
                "not-allowed",
                rating_a=circuit.rating_a,
                outlet=words,
                cites=code.cites("circuits.smallest_loads"),
            )
    return clear("suits", rating_a=circuit.rating_a, cites=code.cites("circuits.smallest_loads"))


def _may(outlet: Outlet, allowed: tuple[str, ...]) -> bool:
    return not outlet.is_receptacle and str(outlet.device.kind) in allowed
