"""Batteries that feed the house: where they may stand, how they are turned off, and the house without the utility."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Stage
from server.rules.citing import DEPARTMENT, carried, moved
from server.rules.looks import look, measured
from server.rules.reach import fixture_is
from server.rules.rule import Kind, Measure

__all__ = [
    "backup_loads", "backup_neutral", "backup_shared_neutral", "island_switch", "power_control",
    "storage_alarm", "storage_apart", "storage_disconnect", "storage_energy_together", "storage_fastened",
    "storage_from_openings", "storage_listed", "storage_live_parts", "storage_marked", "storage_papers", "storage_place", "storage_shutdown",
    "storage_unit_energy", "storage_vehicles", "storage_ventilated", "storage_walls", "storage_working_space",
]  # fmt: skip

_STORAGE = fixture_is(FixtureKind.ENERGY_STORAGE)
_FIRE = (
    "A battery that hisses, smokes or smells: everybody out, and call the fire department. Do not open it."
)
_LIVE = "A battery cannot be turned off inside. Its terminals are for qualified people."

storage_papers = look(
    id="storage-papers",
    stage=Stage.PAPERWORK,
    about=Fixture,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="The battery stands on the permit, with its listing, fire test and place on a plan",
    why="Fire and building departments both look at it, and the utility agrees to it.",
    look_for="Plan with place and distances, one-line, listing as an energy storage system, the fire test where units stand close, the fire department's and the "
    "utility's consent.",
    cure="File what is missing before it is hung.",
    applies=_STORAGE,
    plain="Ask the building department and the fire department about the battery first.",
)

storage_listed = look(
    id="storage-listed",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="706.5, IRC R328.2", e2020="706.5, IRC R328.2"),
    title="Battery and inverter are listed together as a storage system",
    why="Cells, electronics and inverter were tested for fire as one thing.",
    look_for="The mark on the system that names battery and inverter as installed; nothing homemade, used or mixed.",
    cure="Replace it by a listed system.",
    applies=_STORAGE,
    mistakes="Car batteries or loose cells in a home-built cabinet.",
    plain="Use only a complete battery system with a testing lab's mark.",
    danger=_FIRE,
)

storage_place = look(
    id="storage-place",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("IRC R328.4, 706.10"),
    title="The battery is where one may be, and never where people sleep",
    why="It burns fast, with poisonous gas.",
    look_for="Garage, detached building, outdoors, utility closet or storage space with finished walls; not in bedrooms or living space, nor closets that open into them.",
    cure="Move it to the garage or outdoors.",
    applies=_STORAGE,
    plain="Put the battery in the garage or outside, never in a bedroom or living room.",
    danger=_FIRE,
)

storage_walls = look(
    id="storage-walls",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("IRC R328.4"),
    title="Walls and ceiling behind and above the battery are finished and do not burn",
    why="Bare studs take fire with the first flame.",
    look_for="Gypsum board (5/8 inch where the place asks for it) or masonry in the closet, garage or basement; outdoors a wall that does not burn. On the plans before the board is up.",
    cure="Board the wall before the battery is hung.",
    applies=_STORAGE,
    plain="The wall behind the battery must be covered with drywall or be masonry.",
)

storage_apart = measured(
    id="storage-apart",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("IRC R328.3.1"),
    title="Batteries stand apart from each other",
    why="One that burns must not set off the next.",
    look_for="The free space between units. A single unit, or a fire test in the instructions that lets them closer: “not here”.",
    cure="Move the units apart, or show the fire test that allows it.",
    measure=Measure(
        unit="in",
        limit="storage.apart_in",
        least=True,
        how="Measure between the nearest edges of two units.",
        worst="the two that are closest",
    ),
    applies=_STORAGE,
    plain="Leave three feet between batteries unless their papers allow less.",
)

storage_from_openings = measured(
    id="storage-from-openings",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("IRC R328.4"),
    title="Outdoors the battery keeps away from doors and windows",
    why="Its gas and flame must not go into the house, nor be on the way out.",
    look_for="The distance to doors and windows of the dwelling, on either side and above. Inside: “not here”.",
    cure="Move the battery along the wall.",
    measure=Measure(
        unit="in",
        limit="storage.from_openings_in",
        least=True,
        how="Measure from the edge of the battery to the edge of the opening.",
        worst="the nearest door or window",
    ),
    applies=_STORAGE,
    plain="Keep an outside battery three feet from doors and windows.",
)

storage_unit_energy = measured(
    id="storage-unit-energy",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("IRC R328.5"),
    title="No single battery holds more energy than a house's may",
    why="What one cabinet holds is what burns at once.",
    look_for="Kilowatt-hours on the nameplate of each unit.",
    cure="Use smaller units, apart from each other.",
    measure=Measure(
        unit="kWh",
        limit="storage.unit_kwh",
        least=False,
        how="Read the energy from the nameplate; nothing is to be measured.",
        worst="the largest unit",
    ),
    applies=_STORAGE,
    plain="Each battery may hold at most 20 kilowatt-hours.",
)

storage_energy_together = look(
    id="storage-energy-together",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("IRC R328.5"),
    title="All batteries of one place together stay within what that place may hold",
    why="Above it the fire code for large systems applies, with sprinklers and more.",
    look_for="The sum of a place: in closets and storage spaces 40 kWh, in the garage, on outside walls and outdoors 80 kWh each, unless the place says otherwise.",
    cure="Divide the units over several places, or take the fire department's way for more.",
    applies=_STORAGE,
    plain="Ask how many kilowatt-hours your garage may hold.",
)

storage_alarm = look(
    id="storage-alarm",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("IRC R328.7"),
    title="A smoke or heat alarm watches the battery, and the house hears it",
    why="It is where nobody is awake.",
    look_for="A smoke alarm in the room, a listed heat alarm in the garage, sounding with the others. Outdoors: “not here”.",
    cure="Add an alarm made for the place and join it to the others.",
    applies=_STORAGE,
    mistakes="A smoke alarm in the garage, where the car sets it off.",
    plain="There must be a heat alarm by a battery in the garage, connected to the other alarms.",
)

storage_vehicles = look(
    id="storage-vehicles",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("IRC R328.8"),
    title="A battery where cars drive is guarded",
    why="A bumper that dents a cell starts a fire days later.",
    look_for="A post set deep, a curb or a wheel stop before it, or hung beside or above the car's way. Not in a car's way: “not here”.",
    cure="Set a post or barrier of the kind that the department takes.",
    applies=_STORAGE,
    plain="Put a post in front of the battery so that a car cannot hit it.",
)

storage_ventilated = look(
    id="storage-ventilated",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="706.10(A), IRC R328.9", e2020="706.20(A), IRC R328.9"),
    title="What gives off gas while charging is ventilated",
    why="Hydrogen of lead cells collects below a ceiling.",
    look_for="Instructions that ask for ventilation are followed; most sealed lithium systems need none: “not here”.",
    cure="Ventilate to outdoors as the instructions say.",
    applies=_STORAGE,
    plain="Lead batteries need ventilation. Read the instructions.",
)

storage_fastened = look(
    id="storage-fastened",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.13(A), 110.3(B)"),
    title="The battery is bolted to what carries it, in the position of its leaflet",
    why="It weighs as much as two men, and an earthquake tips it onto its cables.",
    look_for="Bracket into studs or masonry with the leaflet's bolts, upright, within its height, above flood and out of the full sun where the leaflet says so.",
    cure="Fasten it by its leaflet.",
    applies=_STORAGE,
    plain="Bolt the battery firmly to the wall studs or floor.",
)

storage_working_space = look(
    id="storage-working-space",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.26(A), 110.3(B)"),
    title="There is room to work before the battery",
    why="It is serviced live on one side.",
    look_for="Three feet free before it, the clearances of its leaflet beside and above, nothing stored there.",
    cure="Clear the space, or move the battery.",
    applies=_STORAGE,
    plain="Keep three feet free in front of the battery.",
)

storage_disconnect = look(
    id="storage-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="706.7", e2020="706.15"),
    title="The battery has a disconnect in sight, readily reached and lockable",
    why="Its own breaker must be off before anybody opens what it feeds.",
    look_for="A switch or breaker at the battery or within sight and ten feet, that can be locked open.",
    cure="Set a disconnect beside the battery.",
    applies=_STORAGE,
    plain="There must be a shut-off switch at the battery.",
    danger=_LIVE,
)

storage_shutdown = look(
    id="storage-shutdown",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2020="706.15(A)", e2023="706.15(B)"),
    title="From outdoors the battery can be shut down in an emergency",
    why="Firemen do not go into a garage to look for a switch.",
    look_for="A marked switch or button outdoors, readily reached, that stops the battery from feeding; one for the solar shutdown may do both.",
    cure="Set a marked emergency stop outdoors and join it to the battery.",
    applies=_STORAGE,
    plain="There must be an outside switch that shuts the battery down.",
)

storage_marked = look(
    id="storage-marked",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="706.7(D)", e2020="706.15(C)"),
    title="The battery's disconnect and nameplate can be read",
    why="Whoever comes for a fault or a fire reads voltage and chemistry there.",
    look_for="“Energy storage system disconnect”, voltage, the fault current and arc-flash label where the edition asks for them, the nameplate in sight.",
    cure="Put up a lasting label with the figures of the nameplate.",
    applies=_STORAGE,
    plain="Label the battery switch.",
)

storage_live_parts = look(
    id="storage-live-parts",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="706.30(A)", e2020="706.20(B)"),
    title="Batteries above 100 V have no live part that can be reached in upkeep",
    why="A hundred volts of battery do not let go, and nothing trips.",
    look_for="Sealed cabinets that stay closed for upkeep, terminals and plugs covered, the warning on the cover. At most 100 V: “not here”.",
    cure="Close the cabinet with the maker's covers.",
    applies=_STORAGE,
    plain="You must not be able to touch anything live at the battery.",
    danger="A battery cannot be turned off inside. Its terminals are for qualified people.",
)

island_switch = look(
    id="island-switch",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("705.40"),
    title="Without the utility, a listed switch cuts the house off before the battery feeds it",
    why="A house that feeds the street kills linemen.",
    look_for="A listed device that opens all conductors to the utility by itself, marked and set by its instructions; a meter collar only with the utility's consent; "
    "tried by opening the main. No backup: “not here”.",
    cure="Fit the maker's listed backup switch.",
    applies=_STORAGE,
    plain="The battery may run your house in an outage only through a listed backup switch.",
    danger="Never connect a battery or inverter to a house by a cord with two plugs.",
)

backup_loads = look(
    id="backup-loads",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("702.4, 710.15(A)"),
    title="The battery carries what it is left alone with",
    why="It is off at the first start of the air conditioner, at night, in the storm.",
    look_for="The backed-up circuits against the inverter's rating, or load management that sheds; the directory says which are backed up. No backup: “not here”.",
    cure="Move circuits off the backup panel, or add load management.",
    applies=_STORAGE,
    plain="Only put on backup what the battery can run.",
)

backup_neutral = look(
    id="backup-neutral",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("250.24(A)(5), 250.30"),
    title="On backup the neutral is still bonded, and in one place only",
    why="Without its bond no breaker trips on a fault; with two the ground wires carry current.",
    look_for="The bond at the service kept when the switch opens, or made by the inverter as its instructions say; neutral and ground apart in the backup panel.",
    cure="Change the bond by the inverter's instructions.",
    applies=_STORAGE,
    mistakes="Backup panel taken from the main panel with its neutral still bonded.",
    plain="In the backup panel neutral and ground must be separate.",
)

backup_shared_neutral = look(
    id="backup-shared-neutral",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("710.15(C)"),
    title="A backup of 120 V alone feeds no circuits that share a neutral",
    why="Both legs then add up on the neutral, which no breaker protects.",
    look_for="Inverter or transfer equipment that gives 120 V on both legs: no shared neutrals on it, and the warning sign. 120/240 V: “not here”.",
    cure="Take circuits that share a neutral off it, or fit a 120/240 V source.",
    applies=fixture_is(FixtureKind.ENERGY_STORAGE, FixtureKind.GENERATOR),
    mistakes="A small portable set with one 120 V leg on a panel with shared neutrals.",
    plain="A 120 volt backup may not feed circuits that share a neutral.",
    danger="The overloaded neutral heats up inside the wall and trips nothing.",
)

power_control = look(
    id="power-control",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2020="705.13"),
    title="A power control system is listed, set and locked to the panel's figure",
    why="The small wire or panel behind it is protected by a setting alone.",
    look_for="Where control stands for larger equipment: its listing, the setting on a label at the panel, access for qualified people only, all sources and meters in it. None: “not here”.",
    cure="Commission it to the panel's figure, label it, lock the setting.",
    applies=fixture_is(FixtureKind.ENERGY_STORAGE, FixtureKind.SOLAR_ARRAY),
    plain="If software limits the current, its setting must be labeled and locked.",
)
