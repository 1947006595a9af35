"""Bonding at the service: the one bond of the neutral, enclosures, water, gas, steel, communications."""

from __future__ import annotations

from server.dwelling import Dwelling, Panel, Site, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import DEPARTMENT, carried, moved
from server.rules.looks import look, measured
from server.rules.outcome import Lazily, Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import Measure, rule
from server.rules.service_sizes import service_conductors, service_panels, sized_look, sizes_for

__all__ = [
    "csst_bonded",
    "gas_pipe_bonded",
    "hot_cold_bonded",
    "intersystem_bond",
    "intersystem_bond_terminals",
    "main_bonding_jumper",
    "service_enclosures_bonded",
    "structural_steel_bonded",
    "water_bond_near_entrance",
    "water_meter_jumper",
    "water_pipe_bonded",
]


@rule(
    id="main-bonding-jumper",
    stage=Stage.SERVICE,
    about=Panel,
    cites=moved(e2017="250.24(B), 250.28", e2023="250.24(C), 250.28"),
    title="The neutral is bonded to the enclosure at the service",
    why="Through this screw the fault current comes home and trips the breaker. Without it a fault makes every grounded case live.",
    look_for="The green screw or strap of the maker in place and tight, here and in no other panel.",
    cure="Fit the bonding screw or strap that came with the equipment.",
    says={
        "bonded": "The neutral is bonded to the enclosure of the service panel.",
        "apart": "The neutral of the service panel is not bonded to its enclosure.",
        "not-recorded": "Whether the neutral is bonded to the enclosure is not recorded.",
        "subpanel": "Only the service panel holds this bond.",
    },
    cures={
        "apart": "Fit the bonding screw or strap; or, where the service disconnect is outdoors, record this panel as fed from it."
    },
    mistakes="The screw left in its bag; both the outdoor disconnect and the indoor panel bonded.",
    plain="The main panel needs its green bonding screw. No other panel may have one.",
    danger="Without this bond a breaker may not trip on a fault. Do not energize the house.",
)
def main_bonding_jumper(panel: Panel, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The bond of the service panel."""
    if not panel.is_service:
        return outside("subpanel")
    if panel.neutral_bonded is None:
        missing = Missing("whether the neutral is bonded to the enclosure", "panel.neutral_bonded")
        return unseen("not-recorded", missing)
    if work:
        work.step("neutral bonded to the enclosure", panel.neutral_bonded, "", "250.28")
    return clear("bonded") if panel.neutral_bonded else correction("apart")


service_enclosures_bonded = look(
    id="service-enclosures-bonded",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.92"),
    title="Meter, disconnect and their metal raceways are bonded",
    why="No breaker stands ahead of them: a fault to the mast must blow the utility's fuse, not wait for somebody to touch it.",
    look_for="Hubs, bonding bushings or bonding locknuts at every metal raceway of the service; plain locknuts do not count, least of all on "
    "ringed knockouts.",
    cure="Fit a bonding bushing with a jumper, or a bonding locknut where the hole is clean.",
    mistakes="Standard locknuts on concentric knockouts of the meter.",
    plain="Metal pipe of the service needs special bonding bushings.",
    danger="Service raceways are bonded with the utility disconnected, never live.",
)


def _water(rating_a: int, house: Dwelling, code: Edition, work: Work) -> Lazily:
    cable = service_conductors(service_panels(house)[0], house)
    installed = cable.awg if cable is not None else None
    if cable is not None:
        found = sizes_for(rating_a, house, code, work, material=cable.material, installed=installed)
    else:
        found = sizes_for(rating_a, house, code, work)
    jumper = found.grounding
    return Lazily(
        lambda: (
            f"{jumper.bonding_jumper_copper} AWG copper or {jumper.bonding_jumper_aluminum} AWG aluminum "
            f"for {found.conductor} {found.material} service conductors"
        )
    )


water_pipe_bonded = sized_look(
    id="water-pipe-bonded",
    stage=Stage.SERVICE,
    cites=carried("250.104(A)"),
    title="Metal water piping is bonded",
    why="A wire that rubs through on a copper pipe makes every tap live until this bond trips the breaker.",
    look_for="A bonding conductor of the size for the service, on bare metal with a clamp for pipe, where it stays reachable. “Not here” for plastic "
    "piping throughout.",
    cure="Run a bonding conductor from the service to the metal piping, and clamp it where it can be reached.",
    sizes=_water,
    mistakes="Relying on the water heater's equipment ground; a clamp on paint, or behind the drywall.",
    plain="Metal water pipes must be connected to the main panel with a thick wire.",
    danger="Do not take a water-pipe bond off in a live house: it may be carrying the neutral's current.",
)

water_bond_near_entrance = measured(
    id="water-bond-near-entrance",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.68(C)(1)"),
    title="The electrode's conductor joins the water pipe near where it comes in",
    why="Farther along a plumber's plastic repair cuts the electrode off.",
    look_for="Where metal pipe from the street is an electrode: the clamp within the first feet inside the wall. Otherwise “not here”.",
    cure="Move the clamp to the pipe near the entrance.",
    measure=Measure(
        unit="in",
        limit="bonding.water_entrance_in",
        least=False,
        how="Measure along the pipe from where it enters the house to the clamp.",
        worst="the clamp of the grounding electrode conductor",
    ),
    plain="Clamp the ground wire to the water pipe within five feet of where it enters.",
)

water_meter_jumper = look(
    id="water-meter-jumper",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.53(D)(1)"),
    title="Water meter, filter and softener are bridged",
    why="The plumber takes the meter out, and the house's ground with it.",
    look_for="Jumpers around everything in the pipe that is taken out or insulates, long enough to take it out.",
    cure="Bridge it with a conductor of the electrode conductor's size and two clamps.",
    plain="Put a jumper wire around the water meter and softener.",
)

hot_cold_bonded = look(
    id="hot-cold-bonded",
    stage=Stage.SERVICE,
    about=Site,
    cites=DEPARTMENT,
    title="Hot and cold piping are joined where the place asks for it",
    why="Plastic fittings at the heater leave the hot side floating.",
    look_for="A jumper between hot, cold and gas pipe at the water heater, where the department wants one.",
    cure="Join them with clamps and a conductor of the bond's size.",
    plain="Many towns want the hot, cold and gas pipes joined by a wire at the water heater.",
)

gas_pipe_bonded = look(
    id="gas-pipe-bonded",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.104(B)"),
    title="Metal gas piping is bonded",
    why="A wire that faults to the gas pipe must trip its breaker before it heats the pipe.",
    look_for="The equipment ground of the appliance that could make it live, or a bonding conductor where the department asks for one; the pipe "
    "never used as an electrode.",
    cure="Bond the pipe as the department asks, on the house side of the gas meter.",
    mistakes="A clamp on the utility's side of the meter.",
    plain="Metal gas pipe must be bonded to ground. Never use it as the ground itself.",
    danger="Gas piping is not to be loosened or tapped by an electrician. Smell gas: out, and call from outside.",
)

csst_bonded = look(
    id="csst-bonded",
    stage=Stage.SERVICE,
    about=Site,
    cites=DEPARTMENT,
    title="Corrugated steel gas tubing is bonded as its maker asks",
    why="Lightning burns holes in its thin wall.",
    look_for="Yellow corrugated tubing in the house: a bonding clamp on rigid pipe or on the manifold, conductor usually 6 AWG copper or larger, to the "
    "service's grounding, short. Otherwise “not here”.",
    cure="Bond the tubing's system at the manifold as its instructions show.",
    mistakes="A clamp on the corrugated tube itself.",
    plain="Flexible yellow gas tubing needs its own bonding wire.",
)

structural_steel_bonded = look(
    id="structural-steel-bonded",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.104(C)"),
    title="Exposed structural steel is bonded",
    why="A cable pinched on a beam makes the whole frame live.",
    look_for="Steel frame that is joined into a whole and could become live: bonded at a reachable place. A single column or beam on concrete is "
    "usually left out; ask.",
    cure="Bond the steel to the service with a conductor of the bond's size.",
    plain="A steel frame in the house must be bonded.",
)

intersystem_bond = look(
    id="intersystem-bond",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.94"),
    title="A terminal for telephone, cable and antenna grounds is outside the service",
    why="Systems that are grounded apart meet in the television, at thousands of volts, when lightning is near.",
    look_for="A listed bar outside the enclosures near the meter or disconnect, reachable, no cover to take off, joined to the service's grounding.",
    cure="Fit an intersystem bonding termination and join it to the electrode conductor or the enclosure.",
    mistakes="Bar under the siding; each installer's own rod, bonded to nothing.",
    plain="Put a small ground bar by the meter for the phone and TV companies.",
)

intersystem_bond_terminals = measured(
    id="intersystem-bond-terminals",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.94(A)"),
    title="The intersystem bar has room for enough conductors",
    why="The fourth installer otherwise drills his own hole.",
    look_for="Free terminals on the bar before anybody else has used it.",
    cure="Fit a bar with more terminals.",
    measure=Measure(
        unit="count",
        limit="bonding.intersystem_terminals",
        least=True,
        how="Count the terminals of the bar for communications conductors.",
        worst="the bar at the service, or at an outbuilding's disconnect",
    ),
    plain="The bar needs at least three screws.",
)
