"""Pools and hot tubs: a short list that sends one to the inspector. Each of them has its own article (680); nearly everything
about them is looked at by a specialist, and many places do not let an owner wire them at all."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Stage
from server.rules.bands import banded
from server.rules.citing import DEPARTMENT, carried
from server.rules.looks import look, measured
from server.rules.reach import fixture_is
from server.rules.rule import Kind, Measure

__all__ = [
    "fountain_bonded",
    "fountain_gfci",
    "hot_tub_gfci",
    "hot_tub_receptacle",
    "pool_bonded_before_pour",
    "pool_disconnect",
    "pool_luminaires_above",
    "pool_overhead",
    "pool_permit",
    "pool_pump_gfci",
    "pool_receptacle",
    "pool_switches",
    "pool_underground",
    "pool_water_bonded",
]

_POOL = fixture_is(FixtureKind.POOL)
_WATER = fixture_is(FixtureKind.POOL, FixtureKind.HOT_TUB)
_TUB = fixture_is(FixtureKind.HOT_TUB)
_FOUNTAIN = fixture_is(FixtureKind.FOUNTAIN)
_DANGER = "Current in water paralyzes swimmers before they can call. Have pools and hot tubs wired by a licensed electrician."

pool_permit = look(
    id="pool-permit",
    stage=Stage.PAPERWORK,
    about=Fixture,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The pool or hot tub stands on the permit, and the inspector has been asked what is wanted",
    why="It has visits of its own (bonding before the pour, deck, final), and many places keep it from owners.",
    look_for="Pool or tub named on the permit, its bonding plan, the list of visits from the department.",
    cure="Amend the permit, and ask for the department's sheet on pools.",
    applies=_WATER,
    plain="Ask your building department about the pool before you dig.",
    danger=_DANGER,
)

pool_bonded_before_pour = look(
    id="pool-bonded-before-pour",
    stage=Stage.UNDERGROUND,
    about=Fixture,
    cites=carried("680.26(B)"),
    title="Pool steel, deck and metal are bonded before the pour",
    why="All that a swimmer can touch has to be at one voltage; in concrete it cannot be mended.",
    look_for="8 AWG solid copper or the steel itself joining shell, deck within three feet, ladders, lights, pump, water; every clamp listed for it. The "
    "inspector sees it before the concrete.",
    cure="Join what is missing, and call the inspector before the pour.",
    applies=_POOL,
    plain="All metal in and around the pool must be connected before concrete is poured.",
    danger=_DANGER,
)

pool_underground = look(
    id="pool-underground",
    stage=Stage.UNDERGROUND,
    about=Fixture,
    cites=carried("680.11"),
    title="Only the pool's own wiring lies near the pool",
    why="A feeder below the deck is found by the drill for the diving board.",
    look_for="No other wiring below or within five feet of the pool, unless it serves it; raceway and depth as the article asks.",
    cure="Reroute what does not serve the pool.",
    applies=_POOL,
    plain="Keep all other wiring away from the pool.",
    danger=_DANGER,
)

pool_overhead = measured(
    id="pool-overhead",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.9(A)"),
    title="Overhead power lines are high above pool or hot tub",
    why="A skimmer pole of aluminum is sixteen feet long.",
    look_for="The drop and any other power line above the water and ten feet around it. None there: “not here”.",
    cure="Have the line moved, or move the pool.",
    measure=Measure(
        unit="in",
        limit="pool.overhead_in",
        least=True,
        how="Ask the utility to measure, or sight it from the ground with a laser. Never with anything held up.",
        worst="the lowest line near the water",
    ),
    applies=_WATER,
    plain="No power lines over a pool unless they are very high. Ask the power company.",
    danger=_DANGER,
)

pool_receptacle = banded(
    id="pool-receptacle",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.22(A)"),
    title="A GFCI receptacle is in its band around the pool",
    why="Without one there, cords are run from the house; nearer, a radio falls in.",
    look_for="One general 125 V receptacle on GFCI, in the band, not higher than six and a half feet; none nearer than the least.",
    cure="Set a receptacle in the band, and take out what is nearer.",
    least="pool.receptacle_least_in",
    most="pool.receptacle_most_in",
    how="Measure the shortest way that a cord would take from the inside wall of the pool, not through walls or doors.",
    worst="the receptacle that is nearest to the water",
    applies=_POOL,
    plain="There must be a GFCI outlet between 6 and 20 feet from the pool, and none closer.",
    danger=_DANGER,
)

pool_disconnect = measured(
    id="pool-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.13"),
    title="The maintenance disconnect is in sight of its equipment and away from the water",
    why="Nobody should stand in the water and reach the switch.",
    look_for="A disconnect for pump, heater and the rest in sight of them, but farther from the water than an arm reaches.",
    cure="Move the disconnect away from the water, in sight of the equipment.",
    measure=Measure(
        unit="in",
        limit="pool.disconnect_in",
        least=True,
        how="Measure along the shortest way from the water's edge.",
        worst="the disconnect that is nearest to the water",
    ),
    applies=_WATER,
    plain="The pool equipment switch must be at least five feet from the water and in sight of the pump.",
    danger=_DANGER,
)

pool_pump_gfci = look(
    id="pool-pump-gfci",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.21(C), 680.22(B)"),
    title="Pool pump and pool lights are GFCI protected and tested",
    why="A fault in either is a fault in the water.",
    look_for="GFCI breakers or devices for pump, lights and what is within reach, tripped by their buttons with the equipment running.",
    cure="Fit GFCI protection, and test it.",
    applies=_POOL,
    plain="Test the GFCI of the pool pump and lights.",
    danger=_DANGER,
)

hot_tub_gfci = look(
    id="hot-tub-gfci",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.44, 680.42"),
    title="The hot tub is GFCI protected, and its metal bonded as its listing asks",
    why="The heater and the bather share the water.",
    look_for="A GFCI disconnect that trips by its button, four wires, bonding of metal within five feet unless a listed packaged tub on grade is let off.",
    cure="Fit GFCI protection and bonding by the tub's instructions.",
    applies=_TUB,
    plain="A hot tub needs a GFCI that you have tested.",
    danger=_DANGER,
)

hot_tub_receptacle = look(
    id="hot-tub-receptacle",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.22(A), 680.43(A)"),
    title="A GFCI receptacle is in its band around the hot tub, and none nearer",
    why="Without one there, a cord with a radio is brought from the house.",
    look_for="Outdoors one between six and twenty feet from the water, indoors one between six and ten; none within six feet; all in reach on GFCI.",
    cure="Set a GFCI receptacle in the band, and take out what is nearer.",
    applies=_TUB,
    plain="There must be a GFCI outlet near the hot tub, but not within six feet.",
    danger=_DANGER,
)

pool_switches = measured(
    id="pool-switches",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.22(C), 680.43(C)"),
    title="Switches are out of a bather's reach",
    why="Wet hands on a switch, feet in the water.",
    look_for="The nearest switch, timer or control to the inside wall, unless a wall or fence is in between or it is listed for nearer.",
    cure="Move the switch out of reach of the water.",
    measure=Measure(
        unit="in",
        limit="pool.switch_in",
        least=True,
        how="Measure level from the inside wall of pool or tub to the switch.",
        worst="the nearest switch",
    ),
    applies=_WATER,
    plain="Keep light switches five feet from a pool or hot tub.",
    danger=_DANGER,
)

pool_luminaires_above = look(
    id="pool-luminaires-above",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.22(B), 680.43(B)"),
    title="Lights and fans over and around the water are high enough, and on GFCI where they are low",
    why="One stands on the tub's edge to change the lamp.",
    look_for="Outdoors nothing below twelve feet over the water and five feet around it; indoors seven and a half with GFCI; old ones nearby on GFCI and fast.",
    cure="Move them, or protect them by GFCI where the edition allows it.",
    applies=_WATER,
    plain="No low lights or fans over a pool or hot tub.",
    danger=_DANGER,
)

pool_water_bonded = look(
    id="pool-water-bonded",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.26(B), (C)"),
    title="Pump, heater, rails, fence and the water itself are on the bonding wire",
    why="A volt between water and rail is felt, a few are too many.",
    look_for="Solid 8 AWG copper at the pump's lug, heater, ladders, lights, metal within five feet; a bonded piece of metal in the water where nothing else is.",
    cure="Join what is missing to the bonding wire with listed clamps.",
    applies=_POOL,
    plain="All metal around the pool, and the water, must be connected together.",
    danger=_DANGER,
)

fountain_gfci = look(
    id="fountain-gfci",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.51, 680.56, 680.58"),
    title="Fountain pump and lights are on GFCI, with cords that go no farther than they may",
    why="Children stand in it on hot days.",
    look_for="GFCI tripped by its button; cords protected, at most ten feet within the fountain, ends sealed; every receptacle within twenty feet on GFCI; lights below water with guards.",
    cure="Fit GFCI protection, and change a damaged pump or cord.",
    applies=_FOUNTAIN,
    plain="Test the GFCI of the fountain's pump and lights.",
    danger=_DANGER,
)

fountain_bonded = look(
    id="fountain-bonded",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.54"),
    title="Metal of the fountain is bonded and its equipment grounded",
    why="Its pump is in the same water as a child's hand.",
    look_for="Metal pipes and parts joined to the circuit's ground, grounds of pump and lights connected. Small plug-in tabletop ones: “not here”.",
    cure="Join the metal parts to the circuit's ground.",
    applies=_FOUNTAIN,
    plain="Ground the fountain's metal parts.",
    danger=_DANGER,
)
