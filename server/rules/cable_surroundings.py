"""What is around cables and their joints: boxes at every joint, rain, heat, sun."""

from __future__ import annotations

from server.dwelling import Dwelling, FixtureKind, Room, RoomKind, Site, Stage
from server.editions import Edition
from server.rules.citing import DEPARTMENT, carried, moved
from server.rules.looks import look
from server.rules.reach import all_of, has_boxes, has_cables, in_rooms
from server.rules.rule import Kind

__all__ = ["cables_from_heat", "cables_in_sun", "later_equipment", "splices_in_boxes", "wiring_kept_dry"]

_HOT = (
    FixtureKind.FURNACE, FixtureKind.BOILER, FixtureKind.WATER_HEATER, FixtureKind.GAS_FIREPLACE, FixtureKind.SAUNA,
)  # fmt: skip


def _near_heat(subject: Room, house: Dwelling, code: Edition) -> str | None:
    """Flues and hot pipes are where such equipment stands, and pass through the attic."""
    if subject.kind is RoomKind.ATTIC:
        return None
    if any(fixture.kind in _HOT for fixture in house.fixtures_of_room.get(subject.id, ())):
        return None
    return "No furnace, boiler, water heater or fireplace is recorded in this room."


splices_in_boxes = look(
    id="splices-in-boxes",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=carried("300.15, 334.40(B)"),
    title="Every joint is in a box",
    why="A joint that loosens in a stud bay has wood and paper around it.",
    look_for="No taped or bare joint in walls, ceilings, attic or below floors; a box with its cover at each; cable-to-cable devices only listed ones, where the article lets them.",
    cure="Set a box around the joint, or run the cable in one length.",
    applies=has_boxes,
    mistakes="A cable cut too short, lengthened in the wall.",
    plain="Never join wires outside of a box.",
    danger="A joint inside a wall starts fires years later.",
)

wiring_kept_dry = look(
    id="wiring-kept-dry",
    stage=Stage.ROUGH_IN,
    about=Site,
    cites=carried("110.11, 334.12(B)"),
    title="Cables and panels were not rained on, or what was is replaced",
    why="Paper inside NM cable draws water up for feet, and breakers rust shut.",
    look_for="House dried in before cable and panel went up; ends not in puddles, no stained paper in opened sheaths, no rust in the panel.",
    cure="Replace what was wet, and close the roof first.",
    mistakes="Wiring the first floor while the second has no roof.",
    plain="Do not let indoor cable get wet. Replace what did.",
)

cables_from_heat = look(
    id="cables-from-heat",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="310.10, 110.3(B)", e2020="310.14(A)(3), 110.3(B)"),
    title="Cables keep away from flues, chimneys and hot pipes",
    why="NM cable that lies on a hot pipe hardens until it cracks.",
    look_for="Clear of flue pipes by the distance on their label, not on heating pipes or ducts from the furnace, nothing tied to them.",
    cure="Move the cable, or carry it around on framing.",
    applies=all_of(has_cables(), _near_heat),
    plain="Keep cables off chimneys, flues and hot water pipes.",
)

cables_in_sun = look(
    id="cables-in-sun",
    stage=Stage.ROUGH_IN,
    about=Room,
    cites=moved(e2017="310.10(D), 340.12(9)", e2020="310.10(D), 340.12(9)"),
    title="Cables in the sun are marked for it, or covered",
    why="The jacket is chalk after five summers.",
    look_for="“Sunlight resistant” printed on cable and conductors in the open, or raceway around them; plastic pipe marked for sun.",
    cure="Put the exposed stretch in raceway.",
    applies=all_of(in_rooms(RoomKind.OUTDOORS, RoomKind.DECK), has_cables()),
    plain="Outdoor cable must say “sunlight resistant”, or run in pipe.",
)

later_equipment = look(
    id="later-equipment",
    stage=Stage.ROUGH_IN,
    about=Site,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="What the place wants provided for later is provided: car charger, solar array, electric appliances",
    why="Several states ask it of every new house, and it costs ten times as much after the drywall.",
    look_for="The department's answer: raceway or circuit to the parking place, raceway from roof to panel, spaces kept and named in the panel, circuits beside gas appliances. Nothing asked: “not here”.",
    cure="Run the raceways and keep the spaces that the place asks for.",
    plain="Ask whether your town wants the house ready for a car charger, solar or electric appliances.",
)
