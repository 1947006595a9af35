"""Exhaust fans at the final visit: they run, they blow outdoors, they may be where they are."""

from __future__ import annotations

from server.dwelling import Device, DeviceKind, Dwelling, Stage
from server.editions import Edition
from server.rules.citing import carried
from server.rules.looks import look

__all__ = ["bath_fan_in_shower", "bath_fan_runs"]


def _fan(device: Device, house: Dwelling, code: Edition) -> str | None:
    return None if device.kind is DeviceKind.EXHAUST_FAN else "Only exhaust fans are meant."


bath_fan_runs = look(
    id="bath-fan-runs",
    stage=Stage.FINAL,
    about=Device,
    cites=carried("IRC M1505"),
    title="The fan runs, moves air and blows outdoors",
    why="A fan that blows into the attic feeds mold in the roof.",
    look_for="Switch on: a sheet of paper sticks to the grille. Duct joined, cap outdoors opens, trim flat on the ceiling.",
    cure="Join the duct, free the damper, and fit the trim.",
    applies=_fan,
    mistakes="The duct laid near a soffit vent; the shipping tape still on the damper.",
    plain="Turn the bath fan on and check that air blows outside.",
)

bath_fan_in_shower = look(
    id="bath-fan-in-shower",
    stage=Stage.FINAL,
    about=Device,
    cites=carried("110.3(B), 410.10(D)"),
    title="A fan over a tub or shower is listed for it and GFCI protected where it asks for that",
    why="Steam condenses on its motor, above somebody who stands in water.",
    look_for="Over tub or shower: the words “acceptable over tub or shower” on its label, usually with GFCI protection. Elsewhere “not here”.",
    cure="Change the fan for one that is listed for the place, and protect its circuit by a GFCI.",
    applies=_fan,
    plain="A fan over a shower must be made for it and be on a GFCI.",
)
