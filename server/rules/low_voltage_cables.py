"""Low-voltage and communication cables in the walls, and what comes in from outside."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import carried, limited_energy, moved
from server.rules.looks import look, measured
from server.rules.rule import Measure

__all__ = [
    "antenna_mast",
    "communications_ground_length",
    "low_voltage_cable_kind",
    "low_voltage_held",
    "powered_data_cables",
]

low_voltage_cable_kind = look(
    id="low-voltage-cable-kind",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=limited_energy("725.154, 800.113, 820.113"),
    title="Low-voltage cables in walls are marked for walls",
    why="Without its mark a jacket carries fire from floor to floor.",
    look_for="CL2, CL3, CM, CATV and the like printed along data, television, bell, thermostat and speaker cables; outdoor cable ends near where it comes in. None: “not here”.",
    cure="Pull cable that is marked for it.",
    plain="Use wall-rated low-voltage cable (it says CL2, CM or the like).",
)

low_voltage_held = look(
    id="low-voltage-held",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites={**limited_energy("725.24, 725.143, 800.24, 800.133"), 2017: "725.24, 725.143, 800.24"},
    title="Low-voltage cables hang from the building, guarded from nails",
    why="They are the last in and the first torn.",
    look_for="Fastened to framing, plates where they are close to its face, holes filled like those of power; not tied to power cables, raceways or ducts.",
    cure="Fasten them to the framing, and plate them.",
    plain="Fasten data and TV cables to the wood, not to other cables or pipes.",
)

powered_data_cables = look(
    id="powered-data-cables",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=moved(e2017="725.144", e2023="722.135, 726"),
    title="Data cables that carry power are of a kind and in bundles for it",
    why="A thick bundle behind a media panel warms itself.",
    look_for="Cameras, access points and lights fed by data cable: cable of the category and size that the supply names, small bundles, listed supplies. None: “not here”.",
    cure="Part the bundle, or pull cable of a larger size.",
    plain="Data cables that power cameras or lights must be good copper in small bundles.",
)

communications_ground_length = measured(
    id="communications-ground-length",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("800.100(A)(4), 820.100(A)(4)"),
    title="The ground of telephone and cable television is short",
    why="Each foot adds hundreds of volts in a lightning surge.",
    look_for="The conductor from protector or ground block to the house's ground. No telephone or cable television: “not here”.",
    cure="Move the protector to the service, or bring the ground on a shorter way.",
    measure=Measure(
        unit="in",
        limit="communications.ground_most_in",
        least=False,
        how="Measure along the conductor from the protector to its clamp.",
        worst="the longest of them",
    ),
    plain="The ground wire of phone and TV lines may be at most 20 feet long.",
)

antenna_mast = look(
    id="antenna-mast",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("810.13, 810.15, 810.20, 810.21"),
    title="Antenna and dish keep away from power lines, their mast and lead-in grounded",
    why="A mast that falls on the drop kills whoever holds it.",
    look_for="Too far from power conductors to touch them in falling, not on the service mast, mast and discharge unit grounded. No antenna or dish: “not here”.",
    cure="Move it, and ground mast and lead-in.",
    plain="Keep antennas far from power lines, and ground them.",
    danger="Never raise a mast near overhead lines.",
)
