"""What is under each screw of a panel, and how tight."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from server.dwelling import Breaker, ConductorMaterial, Dwelling, Panel, Stage
from server.editions import Edition
from server.rules.citing import carried, held, moved
from server.rules.looks import look
from server.rules.rule import Kind

__all__ = [
    "aluminum_terminations",
    "breakers_fit_panel",
    "cables_clamped_at_panel",
    "green_not_hot",
    "grounds_per_terminal",
    "multiwire_grouped",
    "one_conductor_per_breaker",
    "one_neutral_per_terminal",
    "panel_gutter_fill",
    "panel_openings_closed",
    "protection_neutrals",
    "terminals_torqued",
]

_LIVE = "With the main off the supply side of a panel is still live. Covers come off only in qualified hands."

one_neutral_per_terminal = look(
    id="one-neutral-per-terminal",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("408.41"),
    title="Each neutral has a terminal of its own",
    why="Of two neutrals under one screw the second loosens when the first is taken out, and a loose neutral puts 240 V on lamps.",
    look_for="One white conductor per screw of the neutral bar, no ground under the same screw.",
    cure="Give each neutral a terminal; add a bar where they run out.",
    mistakes="Neutral and ground of a cable twisted under one screw.",
    plain="Put only one white wire under each screw.",
    danger=_LIVE,
)

grounds_per_terminal = look(
    id="grounds-per-terminal",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("408.40, 110.14(A)"),
    title="No more grounds share a terminal than its label allows",
    why="A screw holds what it was tested for.",
    look_for="The label of the panel or bar: often two or three of 14 or 12 AWG, of one size and metal. A bar that is bonded to the enclosure.",
    cure="Spread the grounds over more terminals, or add a bar that is listed for the panel.",
    plain="Check the panel label for how many bare wires may go under one screw.",
    danger=_LIVE,
)

one_conductor_per_breaker = look(
    id="one-conductor-per-breaker",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("110.14(A), 110.3(B)"),
    title="Each breaker terminal holds as many conductors as it is made for",
    why="Under a screw for one, two wires hold each other apart and run hot.",
    look_for="One conductor under each breaker screw, but for breakers that say they take two.",
    cure="Join the two in a splice with a tail to the breaker, or give the second a breaker.",
    mistakes="A doorbell transformer tucked under the nearest breaker.",
    plain="One wire per breaker, unless the breaker says two.",
    danger=_LIVE,
)

terminals_torqued = look(
    id="terminals-torqued",
    stage=Stage.FINAL,
    about=Panel,
    kind=Kind.PAPER,
    cites=carried("110.14(D)"),
    title="Terminals are tightened to their marked torque, and written down",
    why="By feel even old hands miss by half, and a loose lug is how panels burn.",
    look_for="A record for lugs, main and breakers: what the label asks for, what was set, by whom, with a torque tool (2017: calibrated; since 2020 "
    "any approved means). A paint mark on each.",
    cure="Tighten every terminal to its label's figure with a torque tool, power off, and write the figures down.",
    mistakes="Tightening beyond the mark “to be safe”; torquing before the conductors were dressed.",
    plain="Use a torque screwdriver and write down the settings for each screw.",
    danger="Never put a tool on a lug that is live. The supply lugs are live until the utility disconnects.",
)


def _aluminum(panel: Panel, house: Dwelling, code: Edition) -> str | None:
    cables = house.cables_of_panel.get(panel.id, ())
    if panel.is_service or any(cable.material is not ConductorMaterial.COPPER for cable in cables):
        return None
    return "No aluminum conductor is recorded at this panel."


aluminum_terminations = look(
    id="aluminum-terminations",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("110.14, 110.3(B)"),
    title="Aluminum conductors end in terminals made for them",
    why="Aluminum creeps and grows a skin that does not conduct; in a terminal for copper it burns.",
    look_for="AL or AL-CU on the lug, the conductor brushed, compound where lug or cable asks for it, the torque of the label.",
    cure="Change the lug for one marked AL-CU, brush the conductor, and tighten it to its label.",
    applies=_aluminum,
    plain="Thick aluminum wires need terminals marked AL, with the gray paste where required.",
    danger=_LIVE,
)

panel_openings_closed = look(
    id="panel-openings-closed",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("408.7, 110.12(A)"),
    title="Every unused opening of the panel is closed",
    why="A child's finger or a screwdriver fits where a breaker is missing.",
    look_for="Filler plates in open breaker spaces, plugs in open knockouts, no gap beside a cable connector.",
    cure="Close them with filler plates and knockout plugs made for it.",
    mistakes="Tape, cardboard, a screw.",
    plain="Cover every empty breaker slot and hole.",
    danger="Behind an open breaker space the bus is live.",
)

breakers_fit_panel = look(
    id="breakers-fit-panel",
    stage=Stage.FINAL,
    about=Panel,
    cites=held("110.3(B)"),
    title="Every breaker is one that the panel's label names",
    why="A breaker of another make may sit loosely on the bus until it arcs.",
    look_for="Make and type of each breaker in the list on the panel's label, or marked as classified for this panel; seated flat.",
    cure="Change the breaker for one that the label names.",
    mistakes="A tandem from the other brand because it clicked in.",
    plain="Only use breakers listed on the panel's own label.",
    danger=_LIVE,
)

cables_clamped_at_panel = look(
    id="cables-clamped-at-panel",
    stage=Stage.FINAL,
    about=Panel,
    cites=moved(e2017="312.5(C)", e2026="312.8(C)"),
    title="Each cable enters the panel through its connector",
    why="Sheet metal cuts a jacket that moves.",
    look_for="A connector for each cable (or as many as it is listed for), the sheath showing inside, no cable through a bare knockout.",
    cure="Fit a connector at each entry.",
    mistakes="Ten cables through one two-inch bushing at the top.",
    plain="Every cable needs a clamp where it goes into the panel.",
    danger=_LIVE,
)

panel_gutter_fill = look(
    id="panel-gutter-fill",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("312.8"),
    title="The panel is not stuffed with splices and passing conductors",
    why="Wires that are pressed behind the cover cool badly and are cut by its screws.",
    look_for="Splices few and laid flat, conductors that merely pass taking well under half of the space, bends as wide as the lug asks.",
    cure="Move splices to a box beside the panel.",
    plain="Do not cram the panel full of wire nuts.",
    danger=_LIVE,
)


def _protecting(house: Dwelling) -> frozenset[str]:
    wanted = (Breaker.GFCI, Breaker.AFCI, Breaker.DUAL)
    return frozenset(circuit.panel_id for circuit in house.facts.circuits if circuit.breaker in wanted)


def has_protecting_breakers(panel: Panel, house: Dwelling, code: Edition) -> str | None:
    """The panel has a GFCI or AFCI breaker."""
    return (
        None
        if panel.id in house.derive(_protecting)
        else "No GFCI or AFCI breaker is recorded in this panel."
    )


protection_neutrals = look(
    id="protection-neutrals",
    stage=Stage.FINAL,
    about=Panel,
    cites=held("110.3(B)"),
    title="GFCI and AFCI breakers have the right neutral",
    why="On another circuit's neutral the breaker trips at every switch, and is then taken out.",
    look_for="The load neutral of the circuit on the breaker, its own tail (or the plug-on clip) on the neutral bar.",
    cure="Find the circuit's own neutral and land it on the breaker.",
    applies=has_protecting_breakers,
    mistakes="All neutrals on the bar as with the old breakers.",
    plain="The white wire of an AFCI or GFCI circuit goes on the breaker, not on the bar.",
    danger=_LIVE,
)


def _multiwire_panels(house: Dwelling) -> Mapping[str, bool]:
    found: dict[str, bool] = defaultdict(bool)
    for circuit in house.facts.circuits:
        if circuit.multiwire_with is not None:
            found[circuit.panel_id] = True
    return dict(found)


def _has_multiwire(panel: Panel, house: Dwelling, code: Edition) -> str | None:
    return (
        None if panel.id in house.derive(_multiwire_panels) else "No circuits of this panel share a neutral."
    )


multiwire_grouped = look(
    id="multiwire-grouped",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("210.4(D)"),
    title="Hots and neutral of a shared circuit are tied together in the panel",
    why="Whoever moves a breaker later must see which neutral belongs to it.",
    look_for="A cable tie around each set, where the cable or raceway does not show it by itself.",
    cure="Tie each set once near its terminals.",
    applies=_has_multiwire,
    plain="Bundle the wires of a shared-neutral circuit together with a tie.",
    danger=_LIVE,
)

green_not_hot = look(
    id="green-not-hot",
    stage=Stage.FINAL,
    about=Panel,
    cites=moved(e2017="250.119, 310.110(C)", e2020="250.119, 310.6(C)"),
    title="Green and bare conductors are used for nothing but ground",
    why="Everybody takes hold of a bare wire.",
    look_for="No green or bare conductor under a breaker or on a neutral that is not bonded there, no taped-over green.",
    cure="Pull a conductor of the right color.",
    plain="Never use a green or bare wire as a hot.",
    danger=_LIVE,
)
