"""What good looks like: a small drawing of our own for every rule's page.

    draw_good_work("sheath-into-box", "sheath into box", code, "at least 1/4 in") -> SVG

A rule is drawn by its own scene where it has one, else by its subject's. A measured rule's figure is written where
it is measured; the drawings are not to scale.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from server.drawings.good_work import rooms, rough, supply
from server.drawings.good_work.sketch import Sketch
from server.editions import Edition

__all__ = ["draw_good_work", "scene_of"]

Scene = Callable[[Sketch], None]

_BY_SUBJECT: Final[Mapping[Scene, str]] = {
    rough.box_fastened: "box mounting, workmanship, covering",
    rough.box_flush: "box openings",
    rough.sheath_in_box: "sheath into box",
    rough.free_conductor: "box conductors",
    rough.white_marked: "white reidentified",
    rough.box_fill: "box fill",
    rough.ceiling_box: "ceiling boxes, luminaires hung, bath fans",
    rough.cable_fastened: "cable fastening, se cables",
    rough.bored_hole: "cable protection, cable places",
    rough.kept_apart: "cable surroundings, low voltage, low voltage cables, low voltage lighting",
    rough.raceway: "raceways, flexible raceways",
    rough.sealed_hole: "penetrations",
    rooms.wall_line: "wall receptacles, required receptacles, switched receptacles, several dwellings",
    rooms.counter: "counter receptacles, kitchen circuits",
    rooms.sink: "gfci locations",
    rooms.tub: "bath zones, hydromassage",
    rooms.closet: "closet lights",
    rooms.alarms: "alarms, alarm place, alarms tested",
    rooms.device_face: "receptacle grounding, receptacle mounting, tamper weather, final devices, old wiring, cords",
    rooms.outdoors: "outdoor receptacles",
    rooms.switch_at_door: "switch places, neutral at switches, lighting outlets",
    supply.panel: "panel directory, panel terminals, panel enclosure, final panel, handle ties, surge, subpanels",
    supply.working_space: "panel place",
    supply.trench: "underground, buried fittings, outbuildings",
    supply.service: "service entrance, service equipment, service clearances, service safety, service size, "
    "emergency disconnect, large services, manufactured homes",
    supply.electrode: "grounding electrodes, footing electrode, bonding",
    supply.circuit: "circuits drawn, hookup possible, dedicated circuits, general circuits, appliance circuits, multiwire, "
    "conductor overcurrent, afci locations",
    supply.equipment: "appliance receptacles, equipment voltage, ev outlets, hvac, electric heat, water heater, pumps, "
    "kitchen laundry appliances, built in equipment, plugged equipment",
    supply.sources: "generators, solar array, solar connection, energy storage",
    supply.pool: "pools spas, pool wiring, docks",
    supply.temporary: "temporary power",
    supply.paper: "paperwork, site access, owner builder, listing",
}  # fmt: skip
_BY_RULE: Final[Mapping[str, Scene]] = {
    "box-height-like-others": rough.box_fastened,
    "cable-held-at-box": rough.cable_fastened,
    "free-conductor": rough.free_conductor,
    "box-set-back": rough.box_flush,
}
_MEASURED_THERE: Final = frozenset({
    "sheath-into-box", "free-conductor", "cable-held-at-box", "cable-fastened-near-box", "bored-holes",
    "raceway-strapped-near-box", "flexible-strapped-near-box", "closet-light-surface", "closet-light-fluorescent", "closet-light-recessed",
    "buried-cable-depth", "buried-metal-raceway-depth", "buried-pvc-depth", "buried-gfci-circuit-depth",
    "buried-low-voltage-depth", "buried-under-drive", "rods-apart", "drop-over-walk", "drop-over-drive", "drop-over-street",
    "pool-switches",
})  # fmt: skip
"""The rules whose figure is measured where their scene has a dimension; the figure of any other stands under it."""
_SHOWS: Final[Mapping[str, str]] = {
    "box_fastened": "Boxes fastened to studs, plumb and at one height",
    "box_flush": "A box whose front is flush with the finished surface, without a gap around it",
    "sheath_in_box": "A cable whose sheath reaches through the wall of the box, its conductors whole",
    "free_conductor": "Conductors long enough beyond the sheath to work on in front of the box",
    "white_marked": "A white conductor used as a hot with black tape around it inside the box",
    "box_fill": "What counts in a box: each conductor from outside one, the device two, the grounds together one",
    "ceiling_box": "A ceiling box on a brace between two joists, with a fan under it",
    "cable_fastened": "A cable stapled along a stud and close to the box",
    "bored_hole": "A hole in the middle of a stud, with a steel plate where it is nearer to the edge",
    "kept_apart": "Two cables kept apart",
    "raceway": "A raceway strapped near its box, with few bends",
    "sealed_hole": "A hole through a plate with cables, sealed around them",
    "wall_line": "Receptacles along a wall, the first within reach of the door and the next within twice that",
    "counter": "Receptacles above a counter, on both sides of the sink",
    "sink": "The reach around a sink, in which receptacles have GFCI protection",
    "tub": "The zone above a tub, in which nothing hangs",
    "closet": "A closet with its luminaire clear of the shelf",
    "alarms": "Alarms in two bedrooms and the hall, joined",
    "device_face": "A receptacle seated, level and flush with its plate",
    "outdoors": "An outdoor receptacle under a cover that closes over the plug",
    "switch_at_door": "A switch on the latch side of a door",
    "panel": "A panel with every circuit named and no opening left",
    "working_space": "The space in front of a panel, kept free",
    "trench": "A raceway in a trench under its cover of earth, with a warning ribbon above",
    "service": "Service drop, mast, meter and outdoor disconnect on a house",
    "electrode": "Two ground rods with clamps and one unbroken conductor",
    "circuit": "A circuit from the panel from box to box",
    "equipment": "Equipment with its disconnect in sight",
    "sources": "Solar panels, battery, disconnect, meter and service, each marked",
    "pool": "A pool with receptacles kept away and its metal parts bonded",
    "temporary": "Temporary power on a braced post with GFCI receptacles",
    "paper": "A stamped paper on the site",
}


def _turned() -> dict[str, Scene]:
    return {subject: scene for scene, subjects in _BY_SUBJECT.items() for subject in subjects.split(", ")}


_SCENES: Final = _turned()


def scene_of(rule_id: str, subject: str) -> Scene | None:
    """The scene of a rule: its own, else that of its subject."""
    return _BY_RULE.get(rule_id) or _SCENES.get(subject)


def draw_good_work(rule_id: str, subject: str, code: Edition, limit: str = "") -> str:
    """The drawing as SVG; empty where the subject has none.

    Args:
        subject: the rule's subject in words, as in ``server.rules.registry.SUBJECTS``.
        code: the edition whose figures stand in it.
        limit: the figure that a measured rule is judged by, in words.
    """
    scene = scene_of(rule_id, subject)
    if scene is None:
        return ""
    there = limit if rule_id in _MEASURED_THERE else ""
    sketch = Sketch("What good looks like", f"{_SHOWS[scene.__name__]}. Not to scale.", code, there)
    scene(sketch)
    return sketch.svg.finish()
