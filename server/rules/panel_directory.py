"""What each breaker is for: names that tell circuits apart, spaces that are filled once, labels that last."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping

from server.dwelling import Circuit, Dwelling, Panel, Site, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import PRACTICE, carried
from server.rules.job_facts import is_subpanel
from server.rules.looks import look
from server.rules.naming import capital, circuit_name
from server.rules.outcome import Missing, Outcome, clear, correction, unseen
from server.rules.rule import rule

__all__ = ["breaker_spaces", "circuit_named", "disconnects_marked", "panel_directory", "panel_source_noted"]


def _named_alike(house: Dwelling) -> Mapping[tuple[str, str], int]:
    """How many circuits of a panel have the same name."""
    found: dict[tuple[str, str], int] = defaultdict(int)
    for circuit in house.facts.circuits:
        found[circuit.panel_id, _plain(circuit.name)] += 1
    return dict(found)


def _plain(name: str) -> str:
    return " ".join(name.lower().split())


@rule(
    id="circuit-named",
    stage=Stage.FINAL,
    about=Circuit,
    cites=carried("408.4(A)"),
    title="The circuit has a name that tells it from every other",
    why="At two in the morning somebody reads the directory with a flashlight to stop a pump.",
    look_for="Where and what: “Bedroom 2 receptacles”, “Dishwasher”. Not “lights”, not “misc”, not the name of who sleeps there now.",
    cure="Name the circuit by the room and what it serves, and write it so in the directory.",
    says={
        "named": "It is named “{name}”.",
        "nameless": "It has no name for the directory.",
        "says-nothing": "“{name}” does not say what the circuit serves.",
        "same-as-another": "{alike:n} circuits of this panel are named “{name}”.",
        "space-not-recorded": "Which space its breaker fills is not recorded, so its line in the directory is not known.",
    },
    mistakes="Three lines that say “general lighting”; “Emma's room”.",
    plain="Write down for every breaker what exactly it turns off.",
)
def circuit_named(circuit: Circuit, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The circuit's name: there, telling something, and its own within the panel."""
    plain = _plain(circuit.name)
    if not plain:
        return correction("nameless")
    if plain in code.names("directory.empty_words", work):
        return correction("says-nothing", name=circuit.name)
    alike = house.derive(_named_alike)[circuit.panel_id, plain]
    if work:
        work.step(f"circuits named “{circuit.name}” in this panel", alike, "count", "408.4(A)")
    if alike > 1:
        return correction("same-as-another", name=circuit.name, alike=alike)
    if not circuit.spaces:
        return unseen("space-not-recorded", Missing("the space that its breaker fills", "circuit.spaces"))
    return clear("named", name=circuit.name)


def _fillings(house: Dwelling) -> Mapping[str, Mapping[int, int]]:
    """How many circuits fill each space of each panel."""
    found: dict[str, dict[int, int]] = defaultdict(lambda: defaultdict(int))
    for circuit in house.facts.circuits:
        for space in circuit.spaces:
            found[circuit.panel_id][space] += 1
    return {panel_id: dict(spaces) for panel_id, spaces in found.items()}


@rule(
    id="breaker-spaces",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("110.3(B), 408.54"),
    title="Every breaker has a space of its own in the panel",
    why="Two circuits on one space are either a slip in the directory or two wires under one screw.",
    look_for="Each circuit at the space it is written for, none twice (but for tandem breakers where the panel's label takes them), none beyond "
    "the panel's last space.",
    cure="Move a circuit to a free space, or fit a larger panel.",
    cures={"one-leg": "Write the breaker at two spaces under each other, as it stands in the panel."},
    says={
        "fits": "{filled:n} of {spaces:n} spaces are filled.",
        "twice": "Space {space:n} is written for {circuits:n} circuits.",
        "beyond": "Space {space:n} is written for a circuit; the panel has {spaces:n}.",
        "one-leg": "{circuit} is written for spaces {spaces}, which are on one leg: its two poles have no 240 V between them.",
        "not-recorded": "How many spaces the panel has is not recorded.",
    },
    mistakes="Tandem breakers forced into a panel whose bus is not notched for them.",
    plain="No two circuits may share one slot of the panel.",
)
def breaker_spaces(panel: Panel, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The spaces of the panel's circuits: each filled once, none beyond the last."""
    filled = house.derive(_fillings).get(panel.id, {})
    twice = next((space for space in sorted(filled) if filled[space] > 1), None)
    if work:
        work.step("spaces filled", len(filled), "count", "408.54")
    if twice is not None:
        return correction("twice", space=twice, circuits=filled[twice])
    if panel.spaces is None:
        return unseen("not-recorded", Missing("the number of the panel's spaces", "panel.spaces"))
    last = max(filled, default=0)
    if last > panel.spaces:
        return correction("beyond", space=last, spaces=panel.spaces)
    for circuit in house.facts.circuits:
        if circuit.panel_id == panel.id and circuit.poles == 2 and _on_one_leg(circuit.spaces):
            name = capital(circuit_name(circuit))
            return correction("one-leg", circuit=name, spaces=" and ".join(map(str, circuit.spaces)))
    return clear("fits", filled=len(filled), spaces=panel.spaces)


def _on_one_leg(spaces: tuple[int, ...]) -> bool:
    """Whether all spaces are on one leg: rows of two spaces, and the legs take turns from row to row."""
    return len(spaces) > 1 and len({(space + 1) // 2 % 2 for space in spaces}) == 1


panel_directory = look(
    id="panel-directory",
    stage=Stage.FINAL,
    about=Panel,
    cites=carried("408.4(A)"),
    title="The directory is in the panel, legible and true",
    why="It is what everybody after you works by.",
    look_for="Each breaker by number, in lasting ink or print, spares named as spares, switched off and tried: what it says goes off goes off.",
    cure="Try every breaker, and print the directory of this job's panel.",
    mistakes="Pencil; the numbers of the old panel; a directory made from the plan instead of the wiring.",
    plain="Fill in the list inside the panel door neatly and check that it is right.",
)

panel_source_noted = look(
    id="panel-source-noted",
    stage=Stage.FINAL,
    about=Panel,
    cites=PRACTICE,
    title="A panel that is fed from another says from where",
    why="Whoever wants it dead looks for its breaker in the wrong panel first.",
    look_for="A label on the panel: fed from which panel, which breaker. The code asks it of larger buildings, the trade does it in houses too.",
    cure="Put a label on with the name of the panel and the breaker.",
    applies=is_subpanel,
    plain="Write on a subpanel which breaker in the main panel feeds it.",
)

disconnects_marked = look(
    id="disconnects-marked",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("110.22(A)"),
    title="Every disconnect says what it turns off",
    why="A switch without a name gets tried.",
    look_for="Lasting labels on the disconnects of air conditioner, furnace, pumps, heater, charger, outbuilding, wherever it is not evident.",
    cure="Label each disconnect with what it serves, in a way that outlasts the weather.",
    plain="Label every shut-off switch.",
)
