"""From the utility's wires to the meter: mast, head, cable, meter and the way into the house."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.bands import banded
from server.rules.citing import DEPARTMENT, PRACTICE, carried, moved
from server.rules.looks import look, measured
from server.rules.rule import Measure

__all__ = [
    "drip_loop",
    "mast_braced",
    "mast_flashed",
    "mast_for_power_only",
    "mast_pipe",
    "meter_fastened",
    "meter_from_gas",
    "meter_height",
    "meter_hubs",
    "outdoor_air_gap",
    "outdoor_enclosures",
    "service_bushings",
    "service_cable_guarded",
    "service_cable_strapped",
    "service_cable_strapped_at_ends",
    "service_conductors_apart",
    "service_openings_sealed",
    "service_raceway_supported",
]

mast_pipe = look(
    id="mast-pipe",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.28"),
    title="The mast is of the pipe that the utility takes",
    why="It carries the pull of the drop, ice and a falling branch; thin pipe folds over the roof with live wires on it.",
    look_for="Rigid or intermediate steel where it supports the drop, of the size that the utility asks for (two inches and more is usual), "
    "without a coupling between the roof and the attachment.",
    cure="Set a mast of rigid steel of the utility's size, in one length above the last support.",
    mistakes="EMT, or PVC with the drop tied to it; a coupling above the roof.",
    plain="If the power company's wires hang on your mast, it has to be heavy steel pipe.",
    danger="Stay off the roof near the drop. It is not insulated for touching.",
)

mast_braced = look(
    id="mast-braced",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.28(A)"),
    title="The mast is fastened, and braced or guyed where it is tall",
    why="The drop pulls sideways day and night.",
    look_for="Two straps or more with lag screws or bolts into framing, a guy or brace against the pull where the mast stands high above the roof.",
    cure="Fasten the mast through to framing, and guy it against the pull of the drop.",
    mistakes="Drywall screws into the sheathing.",
    plain="Bolt the mast to the wall framing, and brace it if it is tall.",
)

mast_flashed = look(
    id="mast-flashed",
    stage=Stage.SERVICE,
    about=Site,
    cites=DEPARTMENT,
    title="The mast has its flashing where it passes the roof",
    why="Water runs down the pipe into the meter, and down the wall into the house.",
    look_for="A roof jack with its collar tight around the pipe, tucked under the shingles above.",
    cure="Fit a flashing of the pipe's size before the drop is connected.",
    plain="Seal the hole in the roof around the mast with proper flashing.",
)

mast_for_power_only = look(
    id="mast-for-power-only",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.28"),
    title="Nothing but the service drop hangs on the mast",
    why="Telephone and television lines add pull that nobody reckoned, and their installers then climb into the power space.",
    look_for="No antenna, cable or telephone line tied to the mast.",
    cure="Move the other lines to a hook of their own on the wall.",
    plain="Do not hang TV or phone cables on the electric mast.",
)

drip_loop = look(
    id="drip-loop",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.54"),
    title="The service head keeps water out, above the point of attachment",
    why="Water follows a conductor downhill, through the head and into the meter.",
    look_for="A raintight head above the attachment (or within two feet of it), conductors out through separate holes, a loop below the head, the "
    "free length that the utility asks for.",
    cure="Raise the head above the attachment, and form drip loops.",
    mistakes="An attachment above the head, so that the rain runs straight in.",
    plain="The wires must dip below the weatherhead so that rain drips off before it.",
)

service_cable_strapped_at_ends = measured(
    id="service-cable-strapped-at-ends",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.51(A)"),
    title="Service cable is strapped near the head and the meter",
    why="The cable's own weight pulls it out of the connector.",
    look_for="A strap at each head, gooseneck, meter and enclosure. Record “not here” where the service runs in a raceway.",
    cure="Add a strap near the end.",
    measure=Measure(
        unit="in",
        limit="service_cable.end_in",
        least=False,
        how="Measure along the cable from the head or connector to the nearest strap.",
        worst="the end whose strap is farthest away",
    ),
    plain="Strap the service cable within a foot of each end.",
)

service_cable_strapped = measured(
    id="service-cable-strapped",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.51(A)"),
    title="Service cable is strapped along its run",
    why="Wind slaps a loose cable against the siding until its jacket is through.",
    look_for="Straps into something that holds, behind the siding or on it, close enough along the whole run. Record “not here” where it is a raceway.",
    cure="Add straps along the run.",
    measure=Measure(
        unit="in",
        limit="service_cable.along_in",
        least=False,
        how="Measure along the cable from strap to strap.",
        worst="the widest space between two straps",
    ),
    plain="Strap the service cable at least every two and a half feet.",
)

service_cable_guarded = look(
    id="service-cable-guarded",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.50(B)"),
    title="Service cable that can be struck is guarded",
    why="Beside a drive or walk a bumper reaches a conductor that no breaker protects.",
    look_for="Rigid, intermediate, EMT or Schedule 80 around the cable where cars, carts or tools come near.",
    cure="Put the exposed stretch into a raceway that withstands it.",
    plain="Protect the service cable with pipe where something could hit it.",
)

service_conductors_apart = look(
    id="service-conductors-apart",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.7"),
    title="No other conductors share the raceway of the service",
    why="A fault in the unprotected service conductors takes a branch circuit beside them along.",
    look_for="Only service conductors (and grounding or bonding conductors) in the service raceway; branch circuits and feeders leave another way.",
    cure="Run the other conductors in a raceway of their own.",
    plain="Only the service wires may be in the service pipe.",
)

service_raceway_supported = look(
    id="service-raceway-supported",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.51, 344.30, 352.30"),
    title="The raceway of the service is strapped along the wall",
    why="It carries the pull of heavy conductors, and snow that slides down the wall.",
    look_for="Straps near the meter, the head and every fitting, and in between, into framing or masonry. Service cable: “not here”.",
    cure="Add straps with screws that reach something solid.",
    plain="Strap the service pipe firmly to the wall.",
)

meter_fastened = look(
    id="meter-fastened",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("110.13(A)"),
    title="The meter base is fast and plumb",
    why="The utility pulls the meter out and pushes it in by force.",
    look_for="Screws or bolts through to framing, the base plumb and level, siding cut to it or a block behind.",
    cure="Fasten it into framing or a block, and set it plumb.",
    plain="The meter box must be straight and firmly fastened.",
)

meter_height = banded(
    id="meter-height",
    stage=Stage.SERVICE,
    about=Site,
    cites=PRACTICE,
    title="The meter hangs at the height that the utility takes",
    why="The reader and the crew that pulls it stand on the ground; the utility does not connect a meter it cannot reach.",
    look_for="The middle of the meter between four and six feet above finished grade, or as the utility's own sheet says.",
    cure="Move the meter base, or ask the utility to accept the height in writing.",
    least="meter.least_in",
    most="meter.most_in",
    how="Measure from finished grade to the middle of the meter.",
    worst="the meter, above the lowest ground before it",
    mistakes="Measuring before the final grade is up.",
    plain="The middle of the meter should be four to six feet above the ground. Ask the power company.",
)

meter_from_gas = measured(
    id="meter-from-gas",
    stage=Stage.SERVICE,
    about=Site,
    cites=PRACTICE,
    title="The electric meter keeps away from the gas meter",
    why="A regulator vents gas, a meter makes a spark when it is pulled.",
    look_for="The distance that the utilities ask for between electric and gas meter. Record “not here” where there is no gas.",
    cure="Move one of the two with its utility's consent.",
    measure=Measure(
        unit="in",
        limit="meter.from_gas_in",
        least=True,
        how="Measure level from the gas meter or regulator to the nearest electric equipment.",
        worst="the nearest pair",
    ),
    plain="Keep the electric meter at least three feet from the gas meter.",
)

meter_hubs = look(
    id="meter-hubs",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("314.15, 312.2"),
    title="Raceways enter the meter and outdoor enclosures through hubs or sealing fittings",
    why="A locknut in the top of a meter is a hole in a roof.",
    look_for="A hub or raintight fitting at every entry above live parts, and at the sides where the listing asks for it.",
    cure="Change the fitting for a hub or one with a sealing ring.",
    plain="Use watertight fittings on top of outdoor boxes.",
)

service_openings_sealed = look(
    id="service-openings-sealed",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.8"),
    title="Where the service enters the house the way is sealed",
    why="Warm air and water meet in the raceway and drip on the main.",
    look_for="Compound for conductors in the raceway from outside, the hole in the wall closed around it.",
    cure="Seal the raceway with compound and the wall around it.",
    plain="Seal the hole and the pipe where the power comes into the house.",
)

service_bushings = look(
    id="service-bushings",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2017="300.4(G)", e2026="300.6(G)"),
    title="Large conductors pass insulating bushings",
    why="A stiff conductor lies on the edge of the connector and saws through its insulation.",
    look_for="A smooth insulating bushing wherever conductors of 4 AWG and larger enter an enclosure.",
    cure="Fit insulating bushings over the connectors.",
    plain="Put plastic bushings where thick wires enter a box.",
)

outdoor_enclosures = look(
    id="outdoor-enclosures",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("312.2, 110.28"),
    title="Enclosures outdoors are made for the weather",
    why="An indoor panel on an outside wall is full of rust in three years.",
    look_for="A rating for rain on every enclosure outdoors, doors that close, unused openings plugged, drain holes open.",
    cure="Change the enclosure for one that is rated for rain.",
    plain="Outdoor panels and switches must be the rainproof kind.",
)

outdoor_air_gap = measured(
    id="outdoor-air-gap",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("312.2"),
    title="A metal enclosure in a wet place stands off the wall",
    why="Behind a box that lies tight against a wall water stands, and the back rusts through first.",
    look_for="Air behind metal enclosures outdoors and on damp masonry; nonmetallic ones on concrete or tile may lie tight.",
    cure="Set spacers behind the enclosure.",
    measure=Measure(
        unit="in",
        limit="enclosure.air_gap_in",
        least=True,
        how="Slide a gauge behind the enclosure at its feet.",
        worst="the tightest place behind the enclosure",
    ),
    plain="Leave a quarter inch of air behind outdoor metal boxes.",
)
