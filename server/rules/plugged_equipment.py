"""Seldom equipment with its own articles: air conditioners in a window or wall, lighting track, outlets for a camper."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Stage
from server.rules.citing import carried
from server.rules.looks import look
from server.rules.reach import fixture_is

__all__ = [
    "room_conditioner_circuit",
    "room_conditioner_cord",
    "rv_outlet_place",
    "rv_outlet_wired",
    "track_load",
    "track_place",
]

_ROOM_UNIT = fixture_is(FixtureKind.ROOM_AIR_CONDITIONER)
_TRACK = fixture_is(FixtureKind.TRACK_LIGHTING)
_RV = fixture_is(FixtureKind.RV_OUTLET)

room_conditioner_circuit = look(
    id="room-conditioner-circuit",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("440.62"),
    title="The window or wall air conditioner takes no more of its circuit than it may",
    why="It runs all night and starts hard; what else hangs there trips with it.",
    look_for="Alone on its circuit: at most 80 percent of the rating; with lights or receptacles: at most half. Its receptacle of its own voltage and amperes.",
    cure="Run a circuit for it, or use a smaller unit.",
    applies=_ROOM_UNIT,
    mistakes="A 12 A unit on the bedroom's 15 A circuit.",
    plain="A window air conditioner may use half of a shared circuit at most.",
)

room_conditioner_cord = look(
    id="room-conditioner-cord",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("440.63, 440.64, 440.65"),
    title="The air conditioner's own cord reaches, with its protector, and its controls are in reach",
    why="A cord that was pinched in the sash smolders below the curtain.",
    look_for="At most ten feet of cord at 120 V and six at 240 V, no extension, the maker's leakage protector in or near the plug, tripped by its button; "
    "controls not more than six feet above the floor, or a disconnect there.",
    cure="Set a receptacle within the cord's reach, and have a cut-off plug replaced by the maker's.",
    applies=_ROOM_UNIT,
    mistakes="The protector cut off to pass the cord through a wall.",
    plain="Plug the unit straight into a wall outlet, and keep the test plug it came with.",
    danger="A warm plug or cord on an air conditioner: unplug it and have the outlet looked at.",
)

track_place = look(
    id="track-place",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("410.151(C)"),
    title="Lighting track is where track may be",
    why="Its conductors are bare along its whole length.",
    look_for="Not below five feet above the floor (but low-voltage or guarded ones), not in wet or damp places, not hidden, not through a wall, not in the zone "
    "of tub or shower; cut ends capped.",
    cure="Move or shorten the track, and cap its end.",
    applies=_TRACK,
    plain="Track lights go on dry ceilings and high walls, never through a wall.",
)

track_load = look(
    id="track-load",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("410.151(B), 410.154"),
    title="Lighting track is fastened, grounded and carries no more than it is rated for",
    why="Heads are added until something gives way.",
    look_for="Two fastenings on each length up to four feet and one for each four more, heads made for this very track, no receptacle in it, circuit not above "
    "the track's rating, ground and polarity carried through.",
    cure="Add fastenings, and change heads that are not made for it.",
    applies=_TRACK,
    plain="Screw track lights to something solid, and use heads of the same make.",
)

rv_outlet_wired = look(
    id="rv-outlet-wired",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("551.71, 110.3(B)"),
    title="The camper's outlet has the voltage of its pattern",
    why="240 V on a 30 A camper outlet burns everything in the camper at once.",
    look_for="30 A of the travel-trailer pattern: one pole, 120 V, measured. 50 A: four wires, 120/240 V, neutral and ground apart. Wire and breaker of that "
    "rating, alone on its circuit, GFCI where the edition asks for it.",
    cure="Land it on a breaker of one pole, with the white on the neutral.",
    applies=_RV,
    mistakes="A 30 A camper outlet wired like a dryer's.",
    plain="A 30 amp RV outlet is 120 volts, not 240. Have it measured before you plug in.",
    danger="Measure before anything is plugged in.",
)

rv_outlet_place = look(
    id="rv-outlet-place",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("406.9(B), 110.13(A)"),
    title="The camper's outlet stands firm, covered from rain while the cord is in",
    why="A cord as thick as a thumb pulls at it for weeks.",
    look_for="Listed outlet or pedestal fastened to post or wall, off the ground, out of the camper's way, its cover shut over the plug, raceway strapped.",
    cure="Fasten it, and fit a cover that closes over the cord.",
    applies=_RV,
    plain="The RV outlet needs a solid post and a rain cover.",
)
