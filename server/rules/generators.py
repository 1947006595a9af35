"""Generators and what connects them: nothing that can feed the street."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Site, Stage
from server.rules.citing import DEPARTMENT, carried, limited_energy, moved
from server.rules.job_facts import house_has
from server.rules.looks import look
from server.rules.reach import fixture_is

__all__ = [
    "backfed_breaker_held",
    "generator_conductors",
    "generator_disconnect",
    "generator_inlet",
    "generator_neutral",
    "generator_placed",
    "generator_shutdown",
    "generator_sign",
    "generator_size",
    "transfer_equipment",
    "transfer_switch_rated",
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
    cites=carried("250.30(A), 702.11"),
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

transfer_switch_rated = look(
    id="transfer-switch-rated",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("702.5, 230.66"),
    title="A transfer switch that takes the whole service is made for services",
    why="Ahead of the main it is the service disconnect, with its bond and its fault current.",
    look_for="“Suitable for use as service equipment”, neutral bonded there and nowhere behind it, four wires on to the old panel, its label beside the main. Behind "
    "the main, or by hand: “not here”.",
    cure="Change the switch for a service-rated one, and take the bond out of the panel behind it.",
    applies=_GENERATOR,
    mistakes="The old panel's bonding screw left in behind the new switch.",
    plain="If the transfer switch comes before the panel, it is the new main: neutral and ground are joined only there.",
    danger="Ahead of the main nothing can be turned off but by the utility. Work for a licensed electrician.",
)

generator_disconnect = look(
    id="generator-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("445.18, 225.31, 702.12"),
    title="The set's conductors can be cut off at the set or at the wall",
    why="Whoever works on the transfer switch must not wait for the engine to start by itself.",
    look_for="The set's own breaker, lockable, in sight of the house, or a disconnect where its conductors come in. Portable sets: the plug.",
    cure="Set a disconnect at the wall, or a lock on the set's breaker.",
    applies=_GENERATOR,
    plain="There must be a breaker or switch that cuts off the generator.",
)

generator_conductors = look(
    id="generator-conductors",
    stage=Stage.FINAL,
    about=Fixture,
    cites=limited_energy("445.13, 725.136"),
    title="The set's conductors suit its rating, and its control wires run apart",
    why="They carry all that it gives; control wires of another kind in the same pipe pick it up.",
    look_for="Wire for at least 115 percent of the rating (100 where a breaker in the set protects it), a ground wire, control cable in its own raceway unless its "
    "insulation is for the higher voltage.",
    cure="Pull larger conductors, or part the control wires from them.",
    applies=_GENERATOR,
    plain="Generator power wires must fit its size; its control wires go in their own pipe.",
)
