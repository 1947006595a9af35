"""Luminaires and fans as they hang."""

from __future__ import annotations

from server.dwelling import DeviceKind, Room, RoomKind, Site, Stage
from server.rules.citing import carried, held, moved
from server.rules.looks import look
from server.rules.reach import all_of, has_devices, in_rooms

__all__ = [
    "canopies_closed",
    "fan_hung",
    "lamps_efficient",
    "lamps_in",
    "luminaire_connections",
    "luminaires_for_wet",
    "luminaires_grounded",
    "luminaires_supported",
]

_LIT = has_devices(DeviceKind.LUMINAIRE)

luminaires_supported = look(
    id="luminaires-supported",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("410.30, 410.36"),
    title="Luminaires are held by their box or framing",
    why="A chandelier that hangs on two drywall screws comes down at dinner.",
    look_for="Screws of the box, stud or bar: nothing hangs on its wires or on the drywall. Heavy ones on a box marked for the weight or on framing; "
    "recessed ones by their own clips and bars.",
    cure="Fasten it to the box or framing, or change the box.",
    applies=_LIT,
    mistakes="A ceiling luminaire on plastic anchors beside its box.",
    plain="Light fixtures must hang from their box, not from the drywall.",
)

luminaire_connections = look(
    id="luminaire-connections",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("110.3(B), 410.50"),
    title="The cable enters each luminaire through a connector into a box",
    why="Undercabinet and strip lights have sharp knockouts and no box of their own behind them.",
    look_for="A connector or bushing at every entry, splices inside the luminaire's wiring space or a box, its cover on, "
    "the white on the lamp's screw shell.",
    cure="Fit a connector, close the cover, and land the white on the shell.",
    applies=_LIT,
    mistakes="NM cable through an open knockout of a strip light.",
    plain="Use a cable clamp where the wire goes into a light.",
)

luminaires_grounded = look(
    id="luminaires-grounded",
    stage=Stage.FINAL,
    about=Room,
    cites=moved(e2017="410.42, 410.44"),
    title="Metal luminaires are connected to the ground",
    why="A pinched wire behind the canopy makes the pull chain live.",
    look_for="The bare or green wire of the luminaire spliced to the box's ground, on every metal one.",
    cure="Splice the luminaire's ground to that of the box.",
    applies=_LIT,
    plain="Connect the ground wire of every metal light.",
)

canopies_closed = look(
    id="canopies-closed",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("314.25, 410.22, 410.23"),
    title="Canopies and trims close their boxes",
    why="A finger and a spark fit through the gap.",
    look_for="Canopy tight to the finish and covering the box; where wood shows between canopy and box, a cover of material that does not burn.",
    cure="Tighten the canopy, or fit a ring or a larger canopy.",
    applies=_LIT,
    plain="No gaps around ceiling lights.",
)

lamps_in = look(
    id="lamps-in",
    stage=Stage.FINAL,
    about=Room,
    cites=held("110.3(B)"),
    title="Lamps are in, of the kind and wattage that the luminaire takes",
    why="A lamp of twice the watts browns the ceiling in a year.",
    look_for="A lamp in every holder, within the marked watts; enclosed ones with lamps for it; nothing left to look at in the dark.",
    cure="Put in the lamps that the label names.",
    applies=_LIT,
    plain="Put in bulbs that do not exceed the number on the fixture.",
)

lamps_efficient = look(
    id="lamps-efficient",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("IRC N1104.1"),
    title="The lamps are of the efficient kind that the energy code asks for",
    why="It is written up at many finals, and costs one trip to the store.",
    look_for="LED or other high-efficacy lamps in all or nearly all permanent luminaires, as the place's energy code says.",
    cure="Change the lamps for LED ones.",
    plain="Use LED bulbs everywhere.",
)

luminaires_for_wet = look(
    id="luminaires-for-wet",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("410.10(A)"),
    title="Luminaires outdoors are marked for damp or wet places",
    why="An indoor luminaire on a porch is full of rust and water by spring.",
    look_for="“Suitable for wet locations” where rain reaches, “damp” under a roof; sealed at the top against a wall.",
    cure="Change the luminaire for one that is marked for the place.",
    applies=all_of(
        in_rooms(RoomKind.OUTDOORS, RoomKind.DECK, RoomKind.BOATHOUSE, words="places outdoors"), _LIT
    ),
    plain="Outdoor lights must be marked for wet or damp places.",
)

fan_hung = look(
    id="fan-hung",
    stage=Stage.FINAL,
    about=Room,
    cites=carried("422.18, 314.27(C)"),
    title="The ceiling fan hangs from a box made for it, and runs still",
    why="It shakes for years, over a bed.",
    look_for="The box marked for a fan, its machine screws with lock washers, the safety cable where there is one; no wobble at full speed.",
    cure="Change the box for a fan box, and balance the blades.",
    applies=has_devices(DeviceKind.FAN),
    mistakes="A fan on the plastic box of the old luminaire.",
    plain="A ceiling fan needs a fan-rated box.",
)
