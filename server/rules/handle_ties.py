"""Breakers of loads that use both legs: both open together."""

from __future__ import annotations

from server.dwelling import Circuit, Dwelling, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import rule

__all__ = ["both_legs_open"]

_ONE_LEG_V = 150
"""Above this a circuit of a 120/240 V system uses both legs: no voltage between 120 V and 208 V is supplied to houses."""


@rule(
    id="both-legs-open",
    stage=Stage.FINAL,
    about=Circuit,
    cites=carried("240.15(B)(2)"),
    title="Both legs of a 240 V circuit open together",
    why="Half of a tripped heater still has 120 V on it, and looks off.",
    look_for="A two-pole breaker, or two single poles with an identified handle tie, for everything on 240 V.",
    cure="Fit a two-pole breaker, or an identified handle tie.",
    says={
        "together": "It is on {poles:n} poles that open together.",
        "tied": "Its single-pole breakers are tied.",
        "apart": "It is a {volts:n} V circuit on single-pole breakers that nothing ties.",
        "not-recorded": "It is a {volts:n} V circuit recorded on one pole; whether its breakers are tied is not recorded.",
        "one-leg": "It is a {volts:n} V circuit and uses one leg.",
    },
    mistakes="Two single poles beside each other with a bent nail through their handles.",
    plain="A 240 volt appliance needs a double breaker.",
    danger="Test both legs before you touch a 240 V appliance.",
)
def both_legs_open(circuit: Circuit, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Poles and handle tie of a circuit that uses both legs."""
    if circuit.volts <= _ONE_LEG_V:
        return outside("one-leg", volts=circuit.volts)
    if work:
        work.step(f"{circuit.volts} V on poles", circuit.poles, "count", "240.15(B)")
    if circuit.poles > 1:
        return clear("together", poles=circuit.poles)
    if circuit.handle_tied is None:
        return unseen(
            "not-recorded",
            Missing("whether the breakers are tied", "circuit.handle_tied"),
            volts=circuit.volts,
        )
    return clear("tied") if circuit.handle_tied else correction("apart", volts=circuit.volts)
