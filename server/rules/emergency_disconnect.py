"""The outdoor switch for firefighters: new in 2020, marked in more detail since 2023, with the service disconnect in 2026.

The 2026 edition deletes 230.85 and puts it into 230.70; where in 230.70 was read for the place only.
"""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import moved
from server.rules.looks import look, measured
from server.rules.rule import Carried, Measure

__all__ = [
    "emergency_disconnect",
    "emergency_disconnect_letters",
    "emergency_disconnect_marked",
    "emergency_disconnect_others",
    "emergency_disconnect_rated",
]

emergency_disconnect = look(
    id="emergency-disconnect",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2020="230.85", e2023="230.85(A)", e2026="230.70(A)(1)"),
    title="A disconnect for emergencies is outdoors, within easy reach",
    why="Firefighters turn the house off before they open a wall, and do not go in to look for the panel.",
    look_for="A service disconnect, a meter disconnect or another listed switch outdoors on the house or in sight of it, without key, ladder or "
    "plants before it; several ones together. From 2026 on it is the service disconnect itself that stands outdoors.",
    cure="Set an outdoor disconnect at the meter; what follows it is then a feeder with neutral and ground apart.",
    mistakes="Leaving the bonding screw in the indoor panel after the outdoor disconnect has become the service.",
    plain="New houses need a main shut-off switch outside.",
    danger="Service work needs the utility's disconnection. Leave it to a licensed electrician.",
)

emergency_disconnect_marked = look(
    id="emergency-disconnect-marked",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2020="230.85, 110.21(B)", e2023="230.85(E)", e2026=Carried("230.70")),
    title="The emergency disconnect is marked as the code words it",
    why="Three kinds of switch look alike from the street; the words say whether anything behind it stays live.",
    look_for="EMERGENCY DISCONNECT with SERVICE DISCONNECT, or with METER DISCONNECT and NOT SERVICE EQUIPMENT, or with NOT SERVICE EQUIPMENT, "
    "as the switch is; from 2023 on white on red, on the outside front. It must outlast the sun.",
    cure="Put the label on that names what this switch is.",
    mistakes="A label printed at the office that bleaches in a summer; SERVICE DISCONNECT on a switch that is none.",
    plain="The outside switch needs the right red label.",
)

emergency_disconnect_letters = measured(
    id="emergency-disconnect-letters",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2023="230.85(E)(2)", e2026=Carried("230.70")),
    title="The letters on the emergency disconnect are large enough",
    why="They are read through a mask, at night, in a hurry.",
    look_for="The height of the letters on the red label.",
    cure="Put on a label with larger letters.",
    measure=Measure(
        unit="in",
        limit="emergency.letters_in",
        least=True,
        how="Measure the height of the smallest capital letter on the label.",
        worst="the smallest letters",
    ),
    plain="The letters on the red label must be half an inch high.",
)

emergency_disconnect_rated = look(
    id="emergency-disconnect-rated",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2020="230.85", e2023="230.85(A)", e2026=Carried("230.70")),
    title="The emergency disconnect withstands the fault current at the meter",
    why="It is the switch nearest to the transformer.",
    look_for="Its short-circuit rating against the utility's figure for this address.",
    cure="Fit a disconnect with a higher short-circuit rating.",
    plain="The outdoor switch must be strong enough for the power company's fault current. Ask them for the number.",
)

emergency_disconnect_others = look(
    id="emergency-disconnect-others",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2023="230.85(D), (E)", e2026=Carried("230.70")),
    title="Switches of other power sources are beside it, or a sign says where",
    why="With solar, a battery or a generator the house is not dead when the utility is off.",
    look_for="The disconnects of generator, battery and solar beside the emergency disconnect, or a plaque there with a plan of where they are. "
    "Record “not here” where the utility is the only source.",
    cure="Put a lasting plaque at the emergency disconnect.",
    plain="If you have solar, batteries or a generator, a sign by the outdoor switch must say where their switches are.",
)
