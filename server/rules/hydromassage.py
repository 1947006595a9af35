"""Hydromassage tubs."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Stage
from server.rules.citing import carried
from server.rules.looks import look
from server.rules.reach import fixture_is

__all__ = ["hydromassage_bonded", "hydromassage_protected", "hydromassage_reached"]

_TUB = fixture_is(FixtureKind.HYDROMASSAGE_TUB)

hydromassage_protected = look(
    id="hydromassage-protected",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.71"),
    title="The tub is on a circuit of its own behind a GFCI that one can reach",
    why="Somebody lies in the water that the pump moves.",
    look_for="An individual circuit, a GFCI that trips by its button with the pump running, readily reached: not behind the apron.",
    cure="Run a circuit for the tub alone and protect it by a GFCI breaker.",
    applies=_TUB,
    mistakes="The GFCI receptacle under the tub, behind screws.",
    plain="A jetted tub needs its own breaker and a GFCI that you can reach.",
    danger="If the GFCI trips, stay out of the tub until the cause is found.",
)

hydromassage_bonded = look(
    id="hydromassage-bonded",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.74"),
    title="Metal parts at the tub's motor are bonded",
    why="Two metal parts within reach of a bather must not differ in voltage.",
    look_for="Metal piping, metal parts of the tub that touch the water, and the motor (unless double insulated) joined by 8 AWG solid copper, to each "
    "other. Small parts that cannot become live are let off.",
    cure="Join them with 8 AWG solid copper and listed clamps.",
    applies=_TUB,
    plain="Metal pipes at the tub motor must be connected with a thick copper wire.",
)

hydromassage_reached = look(
    id="hydromassage-reached",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.73"),
    title="The tub's motor and plug can be reached as finished",
    why="The tile setter closes what the framer left open.",
    look_for="The panel comes off without breaking anything, motor and receptacle are behind it, the receptacle faces the opening.",
    cure="Make an access panel at the motor.",
    applies=_TUB,
    plain="Check that the access panel of the jetted tub really opens.",
)
