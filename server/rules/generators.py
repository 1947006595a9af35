"""Generators and what connects them: nothing that can feed the street."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Site, Stage
from server.rules.citing import DEPARTMENT, carried, moved
from server.rules.job_facts import house_has
from server.rules.looks import look
from server.rules.reach import fixture_is

__all__ = [
    "backfed_breaker_held",
    "generator_inlet",
    "generator_neutral",
    "generator_placed",
    "generator_shutdown",
    "generator_sign",
    "generator_size",
    "transfer_equipment",
]

_GENERATOR = fixture_is(FixtureKind.GENERATOR)
_DANGER = "A generator that feeds the street kills linemen. Never use a cord with a plug on both ends."

transfer_equipment = look(
    id="transfer-equipment",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("702.5"),
    title="Generator and utility can never be on at the same time",
    why="Backfed, a transformer makes thousands of volts on a line that everybody believes dead.",
    look_for="A listed transfer switch, or an interlock made for this very panel that was tried: with one on, the other cannot be turned on.",
    cure="Fit a transfer switch, or the panel maker's interlock.",
    applies=_GENERATOR,
    mistakes="An interlock for another panel, filed to fit; a sign instead of an interlock.",
    plain="You must not be able to turn on the generator and the main at the same time.",
    danger=_DANGER,
)

backfed_breaker_held = look(
    id="backfed-breaker-held",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("408.36(D)"),
    title="A breaker that is fed backwards is held down",
    why="Pulled out of its stab it would have live prongs.",
    look_for="The hold-down screw or clip of the maker on the generator breaker. With a transfer switch: “not here”.",
    cure="Fit the maker's hold-down kit.",
    applies=_GENERATOR,
    plain="The generator's breaker in the panel needs its retaining clip.",
    danger=_DANGER,
)

generator_size = look(
    id="generator-size",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("702.4"),
    title="The generator carries what it can be asked to carry",
    why="An automatic one that takes the whole house must not stall at the first start of the air conditioner.",
    look_for="Automatic: the whole load connected to it, or load management that sheds. By hand: whoever runs it chooses the loads.",
    cure="Add load management, connect fewer circuits, or fit a larger set.",
    applies=_GENERATOR,
    plain="An automatic generator must be big enough for everything it feeds.",
)

generator_neutral = look(
    id="generator-neutral",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("250.20(D), 702.11"),
    title="The generator's neutral is bonded in one place only",
    why="Bonded in the set and in the panel, its GFCIs trip and its neutral's current strays.",
    look_for="Neutral not switched: the set's bond out. Neutral switched: bonded at the set, with its electrode. As the instructions of both say.",
    cure="Change the bond at the set, or the transfer switch, so that they suit each other.",
    applies=_GENERATOR,
    mistakes="A portable set with bonded neutral on an inlet whose transfer switch does not switch the neutral.",
    plain="Check whether your generator's neutral must be bonded. Its manual and the transfer switch must agree.",
)

generator_inlet = look(
    id="generator-inlet",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("702.7(C)"),
    title="The inlet is weatherproof and marked for the kind of set it takes",
    why="A set of the wrong kind of neutral plugged in there trips or bonds twice.",
    look_for="A flanged inlet (prongs recessed) in a cover for the weather, with a sign for separately derived or not. Fixed sets: “not here”.",
    cure="Fit a marked, weatherproof inlet.",
    applies=_GENERATOR,
    plain="Use a proper power inlet box with a label, never a cord into a receptacle.",
    danger=_DANGER,
)

generator_shutdown = look(
    id="generator-shutdown",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2020="445.18(D)", e2023="445.19(C)"),
    title="A fixed generator can be shut down from outside",
    why="Firemen turn everything off before they go in.",
    look_for="A marked emergency stop outdoors, readily reached and not behind the set's own door. Portable sets: “not here”.",
    cure="Set a marked stop on the wall outside.",
    applies=_GENERATOR,
    plain="There must be an outside stop button for the generator.",
)

generator_placed = look(
    id="generator-placed",
    stage=Stage.FINAL,
    about=Fixture,
    cites=DEPARTMENT,
    title="The set stands where its exhaust cannot come in",
    why="Its exhaust has no smell and puts a whole house to sleep.",
    look_for="Away from windows, doors, vents and air intakes, as its instructions and the department say (five feet and more is usual); on a pad, out "
    "of flood and snow, with room around it.",
    cure="Move the set, or the openings.",
    applies=_GENERATOR,
    mistakes="A portable set in the open garage.",
    plain="Keep the generator far from windows and doors, and always outdoors.",
    danger="Never run a generator in a house, garage or porch.",
)

generator_sign = look(
    id="generator-sign",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("702.7(A)"),
    title="A sign at the service says that there is a generator, and where",
    why="Whoever pulls the meter must know that the house may still be live.",
    look_for="A lasting sign at the service: kind and place of every other source.",
    cure="Put a lasting sign at the service equipment.",
    applies=house_has(FixtureKind.GENERATOR),
    plain="Put a sign by the meter that says you have a generator.",
)
