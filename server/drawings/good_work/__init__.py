"""What good looks like: a small drawing of our own for every rule's page.

    draw_good_work("sheath-into-box", "sheath into box", code, "at least 1/4 in") -> SVG

A rule is drawn by its own scene where it has one, else by its subject's. A measured rule's figure is written where
it is measured; the drawings are not to scale.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Final

from server.drawings.good_work import along_framing, joints, places, rooms, rough, supply, terminals
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
_BY_RULES: Final[Mapping[Scene, str]] = {
    rough.cable_fastened: "cable-held-at-box",
    rough.box_flush: "box-set-back, box-in-wood-finish, box-gap, panel-flush, panel-gap",
    joints.grounds_joined: "grounds-joined, metal-box-grounded, ground-brought, receptacle-has-ground, receptacles-grounded, "
    "added-outlet-ground, luminaires-grounded, metal-plates-grounded",
    joints.splice: "splices-made, splices-in-boxes, aluminum-branch-splices, aluminum-branch-devices, knob-and-tube-joints, "
    "luminaire-connections, heater-connection, floor-heating-splices",
    joints.shared_neutral: "shared-neutral-spliced",
    joints.folded: "conductors-folded",
    joints.line_and_load: "gfci-within-reach, protection-wired, gfci-tested, gfci-covers-all, afci-device-tested, protection-neutrals",
    along_framing.fastened_along: "nm-fastened-along, ac-fastened-along, mc-fastened-along, raceway-strapped-along, "
    "flexible-strapped-along, pvc-strapped-along",
    along_framing.under_a_staple: "staples-fit, cables-per-staple",
    along_framing.bend: "nm-bends, ac-bends, mc-bends, raceway-bends, raceway-bends-true",
    along_framing.notch_plated: "notches-plated, cable-along-framing, metal-stud-plates",
    along_framing.metal_stud: "metal-stud-bushings",
    along_framing.guard_strips: "attic-cables-guarded",
    along_framing.sleeve: "exposed-cable, nm-through-floor, service-cable-guarded, riser-guard-height",
    along_framing.armor_end: "ac-bushings",
    terminals.one_per_screw: "one-neutral-per-terminal, grounds-per-terminal, one-conductor-per-breaker",
    terminals.subpanel: "subpanel-neutral-apart, subpanel-ground-bar, feeder-four-wire, old-feeder-three-wire",
    terminals.handle_tie: "both-legs-open, multiwire-disconnect, yoke-disconnect, multiwire-grouped",
    terminals.main_jumper: "main-bonding-jumper, service-enclosures-bonded",
    terminals.pipe_clamp: "water-pipe-bonded, water-bond-near-entrance, hot-cold-bonded, gas-pipe-bonded, csst-bonded, rod-clamp",
    terminals.meter_jumper: "water-meter-jumper",
    terminals.outside_terminals: "intersystem-bond, intersystem-bond-terminals, communications-grounded, communications-ground-length",
    places.recessed: "recessed-in-insulation, recessed-near-wood, recessed-listed",
    places.stairs: "stair-switches, stair-light-reaches, stair-dimming",
    places.warm_floor: "floor-heating-laid, floor-heating-tested, floor-heating-gfci, floor-heating-named",
    places.polarity: "receptacle-polarity",
}
_MEASURED_THERE: Final = frozenset({
    "nm-fastened-along", "ac-fastened-along", "mc-fastened-along", "raceway-strapped-along", "flexible-strapped-along",
    "pvc-strapped-along",
    "sheath-into-box", "free-conductor", "cable-held-at-box", "cable-fastened-near-box", "bored-holes",
    "raceway-strapped-near-box", "flexible-strapped-near-box", "closet-light-surface", "closet-light-fluorescent", "closet-light-recessed",
    "buried-cable-depth", "buried-metal-raceway-depth", "buried-pvc-depth", "buried-gfci-circuit-depth",
    "buried-low-voltage-depth", "buried-under-drive", "rods-apart", "drop-over-walk", "drop-over-drive", "drop-over-street",
    "pool-switches",
})  # fmt: skip
"""The rules whose figure is measured where their scene has a dimension; the figure of any other stands under it."""
_SHOWS: Final[Mapping[str, str]] = {
    "box_fastened": "Boxes fastened to studs, plumb and at one height",
    "grounds_joined": "Bare grounds under one connector, with a pigtail to the device and one to a metal box",
    "splice": "Conductors joined by a listed connector inside a box",
    "shared_neutral": "The neutrals joined before the device, which hangs on a pigtail",
    "folded": "Conductors folded into the box, the grounds at the back",
    "line_and_load": "A GFCI with the feed on its line terminals and what it protects on its load terminals",
    "fastened_along": "A cable along a stud, fastened and fastened again",
    "under_a_staple": "A flat cable under a staple, and two under a staple that is made for two",
    "bend": "A cable in an even bend",
    "notch_plated": "A cable near the edge of a stud behind a steel plate",
    "metal_stud": "A cable through a metal stud in a bushing",
    "guard_strips": "A cable across joists between two guard strips",
    "sleeve": "A cable that is guarded by a pipe where it comes out of the floor",
    "armor_end": "An armored cable in its connector, with a bushing at the cut end",
    "one_per_screw": "A bar with one neutral to each screw, and one with grounds",
    "subpanel": "A subpanel with its neutrals apart from the enclosure and its grounds fast to it",
    "handle_tie": "Two breakers of one shared circuit with their handles tied",
    "main_jumper": "The neutral bar joined to the enclosure at the first disconnect",
    "pipe_clamp": "A clamp on a clean pipe with its conductor to the panel",
    "meter_jumper": "A jumper around a water meter",
    "outside_terminals": "Terminals for other systems beside the meter",
    "recessed": "A recessed luminaire clear of wood and insulation, or made to touch them",
    "stairs": "Stairs with a switch at the bottom and at the top",
    "warm_floor": "A heating cable laid in even turns, with its thermostat",
    "polarity": "A receptacle with neutral, hot and ground on their screws",
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


def _turned(scenes: Mapping[Scene, str]) -> dict[str, Scene]:
    return {name: scene for scene, names in scenes.items() for name in names.split(", ")}


_OF_SUBJECTS: Final = _turned(_BY_SUBJECT)
_OF_RULES: Final = _turned(_BY_RULES)


def scene_of(rule_id: str, subject: str) -> Scene | None:
    """The scene of a rule: its own, else that of its subject."""
    return _OF_RULES.get(rule_id) or _OF_SUBJECTS.get(subject)


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
