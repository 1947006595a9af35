"""What hangs in a box at rough-in: enough conductor, grounds and splices made up, nothing lost behind."""

from __future__ import annotations

from server.dwelling import Box, DeviceKind, Dwelling, Stage
from server.editions import Edition
from server.rules.citing import PRACTICE, carried
from server.rules.looks import look, measured
from server.rules.outcome import Missing
from server.rules.reach import all_of, holds_cables, metal_box
from server.rules.rule import Measure

__all__ = [
    "conductor_reaches_out",
    "conductors_folded",
    "free_conductor",
    "grounds_joined",
    "metal_box_grounded",
    "shared_neutral_spliced",
    "splices_made",
]


def _several_ends(box: Box, house: Dwelling, code: Edition) -> str | Missing | None:
    cables = house.cables_of_box.get(box.id, ())
    if not cables:
        return Missing("the cables that enter it", "cable")
    return None if len(cables) > 1 else "Only one cable enters, so nothing is spliced here."


def _shares_a_neutral(box: Box, house: Dwelling, code: Edition) -> str | None:
    if any(circuit.multiwire_with for circuit in house.circuits_of_box(box.id)):
        devices = house.devices_of_box.get(box.id, ())
        if any(device.kind is DeviceKind.RECEPTACLE for device in devices):
            return None
        return "No receptacle is here whose removal could open the shared neutral."
    return "No multiwire circuit passes here."


free_conductor = measured(
    id="free-conductor",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("300.14"),
    title="Enough free conductor is left in the box",
    why="Too short a wire cannot be spliced or landed without straining it, and there is no second try once it has been cut back.",
    look_for="Every conductor that will be spliced or landed measured from the end of the sheath: half a foot and more.",
    cure="Pull slack into the box where there is any; otherwise splice on conductor of the same size in a box that has "
    "the room for it, or run the cable again.",
    measure=Measure(
        unit="in",
        limit="box.free_conductor_in",
        least=True,
        how="Straighten the shortest conductor and measure from where it leaves the sheath (or the raceway) to its end.",
        worst="the shortest conductor in the room",
    ),
    applies=holds_cables,
    mistakes="Measuring from the front of the box; cutting every wire to the same length with the sheath still long.",
    plain="Leave at least six inches of each wire, measured from where it comes out of the cable jacket.",
)

conductor_reaches_out = measured(
    id="conductor-reaches-out",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("300.14"),
    title="Conductors reach far enough out of the box",
    why="A device has to be wired in front of the box, where hands and eyes can get at it.",
    look_for="Each conductor pulled straight out stands clear of the opening of a device box by a hand's width.",
    cure="Strip less sheath next time; here, pull slack into the box or splice on conductor of the same size.",
    measure=Measure(
        unit="in",
        limit="box.conductor_outside_in",
        least=True,
        how="Pull the shortest conductor straight out and measure from the edge of the opening to its end.",
        worst="the deepest box, where the conductors end soonest",
    ),
    applies=holds_cables,
    mistakes="Deep boxes with six inches of wire and nothing left outside.",
    plain="You should be able to pull each wire at least three inches out of the box.",
)

grounds_joined = look(
    id="grounds-joined",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("250.148"),
    title="Grounding conductors are joined, with a tail for the device",
    why="Taking out a device must never open the ground of what lies beyond it; and most departments want the grounds "
    "made up when they look, because it cannot be seen afterwards.",
    look_for="All bare and green conductors of the box under one connector or crimp sleeve made for it, with a pigtail "
    "for each device and for a metal box.",
    cure="Join the grounds with a listed connector and bring out one pigtail per device.",
    applies=_several_ends,
    mistakes="Twisting grounds together and leaving them without a connector; looping the ground through the device screw.",
    plain="All the bare ground wires in the box must be joined with a connector, with one tail left for each device.",
    danger="A ground that opens leaves every metal part beyond it live when something fails.",
)

metal_box_grounded = look(
    id="metal-box-grounded",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("250.148(C)"),
    title="The metal box is bonded to the grounding conductor",
    why="A loose hot that touches an unbonded metal box makes the box, its screws and the plate live without tripping anything.",
    look_for="A green screw in its tapped hole, or a listed clip, with a tail from the grounds; not a cover screw, not a "
    "screw that also holds the box.",
    cure="Run a pigtail from the joined grounds to a green machine screw in the tapped hole of the box.",
    applies=all_of(metal_box, holds_cables),
    mistakes="Using a drywall screw or the ring screw; leaving it for the trim crew.",
    plain="A metal box needs its own ground wire under a green screw.",
    danger="Prove the circuit dead before reaching into a metal box that has been energized.",
)

splices_made = look(
    id="splices-made",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("110.14(B)"),
    title="Joints are made up with listed connectors",
    why="A loose splice behind a device is what most wiring fires start from; it is checked best while it can still be seen.",
    look_for="Connectors of the right size for the number and gauge of conductors, no copper below the skirt, each "
    "conductor holding when it is pulled; copper joined to aluminum only with connectors listed for both.",
    cure="Remake the joint with a connector listed for these conductors, and tug each one.",
    applies=_several_ends,
    mistakes="Too many conductors under one connector; push-in connectors on wire sizes they are not made for.",
    plain="Every joint needs the right wire connector, and no wire may pull out when you tug it.",
    danger="Work on splices only with the circuit off at the panel and every conductor proved dead.",
)

shared_neutral_spliced = look(
    id="shared-neutral-spliced",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=carried("300.13(B)"),
    title="A shared neutral does not pass through a device",
    why="If a receptacle of a multiwire circuit is taken out and the neutral ran through it, the loads beyond see up to "
    "240 V.",
    look_for="In boxes of a multiwire circuit the neutrals joined under one connector, with a pigtail to the receptacle.",
    cure="Join the neutrals and bring out a pigtail for the device.",
    applies=_shares_a_neutral,
    mistakes="Using both silver screws of a receptacle to carry a shared neutral onward.",
    plain="When two circuits share a neutral wire, that wire must be joined in the box and not run through an outlet.",
    danger="An open shared neutral destroys appliances and can start a fire.",
)

conductors_folded = look(
    id="conductors-folded",
    stage=Stage.ROUGH_IN,
    about=Box,
    cites=PRACTICE,
    title="Conductors are folded in neatly, grounds at the back",
    why="Wire that sticks out is nicked by the drywall router and painted shut; folded in order, a box is trimmed in minutes.",
    look_for="Grounds pressed to the back, neutrals folded next, hots last, ends tucked inside the front edge; surplus "
    "sheath cut away.",
    cure="Straighten the conductors and fold them in again in order, behind the front edge of the box.",
    applies=holds_cables,
    mistakes="Rolling the wires into a ball; leaving inches of sheath in a small box.",
    plain="Fold the wires into the box so that nothing sticks out when the wallboard goes on.",
)
