"""What else is looked at in an open trench: the kind of pipe, its ground wire, handholes, the utility's own trench."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import DEPARTMENT, carried
from server.rules.looks import look

__all__ = ["buried_ground_wire", "buried_raceway_kind", "handhole_covers", "utility_trench"]

buried_raceway_kind = look(
    id="buried-raceway-kind",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.5, 300.6, 352.10, 358.10"),
    title="The raceway in the ground is of a kind for the ground",
    why="Thin steel rusts through in five years, and plumbing pipe has no rating at all.",
    look_for="Electrical PVC (gray, listed), rigid steel guarded from rust where soil or concrete asks for it, no thin-wall tubing without protection, no water or sewer pipe. Cable laid bare: “not here”.",
    cure="Change the pipe for one that is listed for burial.",
    mistakes="White plumbing PVC; EMT below the lawn.",
    plain="Use gray electrical conduit underground, never plumbing pipe.",
)

buried_ground_wire = look(
    id="buried-ground-wire",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("250.134, 300.3(B), 300.5(I), 250.32"),
    title="A ground of its size runs with every buried circuit and feeder",
    why="The earth carries too little to trip a breaker.",
    look_for="A green or bare wire in the same pipe or cable, larger where the conductors were made larger for the distance, insulated where its place asks for it.",
    cure="Pull the ground before the trench is closed.",
    mistakes="A rod at the shed in place of a ground wire.",
    plain="Run a ground wire with every underground circuit.",
    danger="A rod alone never trips a breaker: metal at the far end stays live.",
)

handhole_covers = look(
    id="handhole-covers",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("314.30, 314.29"),
    title="Boxes in the ground are made for it, bedded and marked",
    why="Someone drives a mower over them, and a dog stands on the lid.",
    look_for="A handhole rated for what drives there, “electric” on a lid that takes a tool or weighs enough, metal lids bonded, pipes turned up inside, splices for water. None: “not here”.",
    cure="Set a listed handhole, and bond its metal lid.",
    mistakes="A sprinkler valve box with power splices.",
    plain="Underground splice boxes must be the electrical kind with a marked lid.",
)

utility_trench = look(
    id="utility-trench",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=DEPARTMENT,
    title="The utility's trench is dug and piped as its drawing shows",
    why="The utility pulls its cable only into what it has seen.",
    look_for="Depth, bedding, pipe size and color, large sweeps, pull line, distance to gas and water, its own inspector's word. Overhead service: “not here”.",
    cure="Change it to the drawing, and call the utility before it is closed.",
    plain="Dig the power company's trench exactly as its drawing says.",
)
