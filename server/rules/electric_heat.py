"""Electric heaters on walls, in floors and on roofs, as they are laid and as they are finished."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Stage
from server.rules.citing import carried, moved
from server.rules.looks import look
from server.rules.reach import fixture_is
from server.rules.rule import Kind

__all__ = [
    "deicing_disconnect", "deicing_fastened", "deicing_ground_fault", "deicing_marked", "floor_heating_gfci",
    "floor_heating_laid", "floor_heating_named", "floor_heating_splices", "floor_heating_tested", "heater_clearances",
    "heater_connection", "heater_thermostat",
]  # fmt: skip

_HEATER = fixture_is(FixtureKind.ELECTRIC_HEAT)
_FLOOR = fixture_is(FixtureKind.FLOOR_HEATING)
_DEICING = fixture_is(FixtureKind.DEICING)

heater_thermostat = look(
    id="heater-thermostat",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("424.20"),
    title="A heater's thermostat opens what its “off” promises",
    why="With one leg left on, a heater that looks cold is live at 240 V.",
    look_for="A thermostat for the heater's volts and watts; one with an “off” mark opens every hot conductor; not above a lamp or another heater.",
    cure="Fit a two-pole line-voltage thermostat of the heater's rating.",
    applies=_HEATER,
    mistakes="A single-pole thermostat marked “off” on a 240 V heater; a 24 V thermostat.",
    plain="A 240 volt heater with an off position needs a two-pole thermostat.",
    danger="Turn off the breaker, not the thermostat, before you open a heater.",
)

heater_clearances = look(
    id="heater-clearances",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("424.13, 110.3(B)"),
    title="Nothing that burns is close to the heater",
    why="A curtain on the fins, a bed against the grille: the commonest fires from heaters.",
    look_for="The leaflet's distances to floor, corners, doors, curtains and towel bars; nothing in front of a fan heater; carpet not into the fins.",
    cure="Move the heater, or what is in its way.",
    applies=_HEATER,
    plain="Keep curtains, doors and furniture away from heaters as the leaflet says.",
    danger="Cloth or paper on a heater starts fires.",
)

heater_connection = look(
    id="heater-connection",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.3(B), 250.110"),
    title="The heater is fastened, its cable clamped and grounded in its own box",
    why="Its wiring space is warm and its sheet metal sharp.",
    look_for="Connector at the knockout, ground on its screw, splices in the wiring space with wire for the temperature marked there, cover on.",
    cure="Fit a connector, ground the frame, close the cover.",
    applies=_HEATER,
    plain="Clamp the cable at the heater and connect its ground.",
)

floor_heating_laid = look(
    id="floor-heating-laid",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("424.44, 424.45"),
    title="The floor's heating cable lies as its plan shows, and nowhere twice",
    why="Crossed, cut or under a cabinet it overheats where nobody can reach it.",
    look_for="Spacing of the leaflet, never crossed, never shortened, not below walls, cabinets, tubs or the toilet's ring, fastened, in mortar or its mat, its cold lead in raceway up the wall.",
    cure="Lay it anew before it is covered.",
    applies=_FLOOR,
    mistakes="The mat cut to fit: the mesh may be cut, the cable never.",
    plain="Never cut or cross floor-heating cable, and keep it out from under cabinets.",
)

floor_heating_tested = look(
    id="floor-heating-tested",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    kind=Kind.PAPER,
    cites=carried("424.45, 110.3(B)"),
    title="The cable's resistance was measured before, during and after the floor was laid",
    why="A trowel nicks it, and the tile is set the next day.",
    look_for="The card with three figures beside the nameplate's, and the insulation test where the leaflet asks for it.",
    cure="Measure now; where a figure is off, find the nick before the floor is closed.",
    applies=_FLOOR,
    plain="Measure the heating mat's ohms at each step and write them down.",
)

floor_heating_splices = look(
    id="floor-heating-splices",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("424.40, 300.15"),
    title="The factory's joint stays in the floor, every other one in a box",
    why="The joint of heating cable and cold lead is warm; in a wall it bakes dry.",
    look_for="The factory joint embedded in the floor, the cold lead whole to the thermostat's box, the sensor in its tube, the box large enough for all of it.",
    cure="Pull the joint back into the floor, or set a box.",
    applies=_FLOOR,
    plain="Keep the factory splice in the mortar, not in the wall.",
)

floor_heating_gfci = look(
    id="floor-heating-gfci",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="424.44(G), 424.45(E)", e2020="424.44(E), 424.45(E)"),
    title="The heated floor's GFCI trips and resets",
    why="One stands on it with bare wet feet.",
    look_for="A thermostat with its own GFCI (5 mA, for people) or a GFCI breaker, tripped by its button with the floor on.",
    cure="Fit a thermostat with GFCI, or a GFCI breaker.",
    applies=_FLOOR,
    plain="Test the GFCI of the heated floor.",
    danger="A heated floor without GFCI can shock whoever stands on it.",
)

floor_heating_named = look(
    id="floor-heating-named",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("424.47, 408.4(A)"),
    title="A label says that there is heating cable below the floor",
    why="The next plumber drills for a toilet.",
    look_for="The leaflet's sticker in the panel or at the thermostat, with the room and the watts, the laying plan kept with the house.",
    cure="Put up the sticker and keep the plan.",
    applies=_FLOOR,
    plain="Label the panel: heated floor, do not drill.",
)

deicing_ground_fault = look(
    id="deicing-ground-fault",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("426.28, 427.22"),
    title="Heating cable on roofs, drives and pipes has ground-fault protection",
    why="Chafed by ice it burns along its length below the breaker's notice.",
    look_for="Ground-fault protection of equipment (or GFCI where the leaflet asks for it) for roof cable, snow melting and pipe tapes, tripped by its button.",
    cure="Fit a breaker with ground-fault protection of the kind that the leaflet names.",
    applies=_DEICING,
    plain="Roof and pipe heating cable needs ground-fault protection.",
)

deicing_fastened = look(
    id="deicing-fastened",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("426.20, 426.21, 427.14"),
    title="Heating cable is held by its own clips, on what it was made for",
    why="Doubled, below insulation of the wrong kind or on plastic pipe it melts what it lies on.",
    look_for="The leaflet's clips and pattern, never overlapped unless it may be, off what burns, on the kind of pipe and roof that it is listed for.",
    cure="Lay it by its leaflet, or change it for a kind that suits.",
    applies=_DEICING,
    plain="Fasten heat cable with its own clips and never cross it over itself.",
    danger="Heat tape that overlaps itself starts fires.",
)

deicing_disconnect = look(
    id="deicing-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("426.50, 427.55"),
    title="Heating cable can be turned off, and one sees that it is on",
    why="It is forgotten until summer.",
    look_for="A switch or breaker that is readily reached and marked; a plug only where the edition and the leaflet allow it; a lamp where the leaflet asks for it.",
    cure="Set a marked switch for it.",
    applies=_DEICING,
    plain="Put a labeled switch on roof heating cable.",
)

deicing_marked = look(
    id="deicing-marked",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("426.13, 427.13"),
    title="Signs say where heating cable is hidden",
    why="The roofer's nail and the plumber's saw find it otherwise.",
    look_for="Caution signs along heated pipes and at hidden snow melting, where they are seen.",
    cure="Put up the signs that came with the cable.",
    applies=_DEICING,
    plain="Label pipes and surfaces that hide heating cable.",
)
