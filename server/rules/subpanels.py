"""Panels that are fed from another: four wires, neutral apart from ground, a bar for the grounds."""

from __future__ import annotations

from server.dwelling import Cable, CableKind, Dwelling, Panel, Stage, WorkKind
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried, moved
from server.rules.naming import cable_name
from server.rules.outcome import Missing, Outcome, ask_inspector, clear, correction, outside, unseen
from server.rules.rule import rule

__all__ = ["feeder_four_wire", "subpanel_ground_bar", "subpanel_neutral_apart"]

_HOTS_AND_NEUTRAL = 3
"""Insulated conductors of a feeder that serves 120 V loads: two hots and a neutral, with the ground beside them."""
_METAL_MAY_GROUND = (CableKind.RACEWAY, CableKind.AC)
"""Wiring methods whose metal may be the equipment ground."""


@rule(
    id="subpanel-neutral-apart",
    stage=Stage.SERVICE,
    about=Panel,
    cites=moved(e2017="250.24(A)(5), 250.142(B)", e2023="250.24(B), 250.142(B)"),
    title="The neutral of a subpanel is apart from its enclosure",
    why="Bonded twice, half of the neutral's current goes home over grounds, pipes and whoever holds them.",
    look_for="Neutrals on a bar that stands off the enclosure, the bonding screw or strap out, grounds on a bar of their own.",
    cure="Take the bonding screw or strap out, and move neutrals and grounds to separate bars.",
    says={
        "apart": "The neutral is not bonded to the enclosure.",
        "bonded": "The neutral is bonded to the enclosure of a panel that is fed from another.",
        "not-recorded": "Whether the neutral is bonded to the enclosure is not recorded.",
        "service": "In the service panel the neutral is bonded.",
    },
    mistakes="The green screw left in because it came with the panel; an old main panel that became a subpanel when the disconnect moved outdoors.",
    plain="In every panel but the first, neutral and ground wires must be kept apart.",
    danger="A subpanel with bonded neutral puts current on water pipes. Let an electrician separate it.",
)
def subpanel_neutral_apart(panel: Panel, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The bond of a panel that is no service panel."""
    if panel.is_service:
        return outside("service")
    if panel.neutral_bonded is None:
        missing = Missing("whether the neutral is bonded to the enclosure", "panel.neutral_bonded")
        return unseen("not-recorded", missing)
    if work:
        work.step("neutral bonded to the enclosure", panel.neutral_bonded, "", "250.142(B)")
    return correction("bonded") if panel.neutral_bonded else clear("apart")


@rule(
    id="subpanel-ground-bar",
    stage=Stage.SERVICE,
    about=Panel,
    cites=carried("408.40"),
    title="A subpanel has a bar for the equipment grounds",
    why="Without one they end up on the neutral bar, and the neutral is bonded by the back door.",
    look_for="A grounding bar of the panel's maker, screwed to the bare metal of the enclosure.",
    cure="Add a grounding bar listed for the panel, and move the grounds to it.",
    says={
        "has-one": "It has a bar for the grounds.",
        "none": "It has no bar for the grounds.",
        "not-recorded": "Whether it has a bar for the grounds is not recorded.",
        "service": "In the service panel grounds may share the bonded bar.",
    },
    plain="A subpanel needs its own bar for the bare wires.",
)
def subpanel_ground_bar(panel: Panel, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The grounding bar of a panel that is no service panel."""
    if panel.is_service:
        return outside("service")
    if panel.ground_bar is None:
        return unseen("not-recorded", Missing("whether the panel has a ground bar", "panel.ground_bar"))
    if work:
        work.step("ground bar", panel.ground_bar, "", "408.40")
    return clear("has-one") if panel.ground_bar else correction("none")


def _feeder(panel: Panel, house: Dwelling) -> Cable | None:
    """The cable that brings the panel's feeder."""
    return next(
        (
            cable
            for cable in house.cables_of_panel.get(panel.id, ())
            if panel.fed_by_circuit_id is not None and panel.fed_by_circuit_id in cable.circuit_ids
        ),
        None,
    )


@rule(
    id="feeder-four-wire",
    stage=Stage.ROUGH_IN,
    about=Panel,
    cites=carried("215.6, 250.32(B)"),
    title="The feeder of a subpanel has four wires",
    why="With three, one of them has to be neutral and ground at once.",
    look_for="Two hots, an insulated neutral and a ground in the feeder, to panels in the house and in separate buildings alike.",
    cure="Run a feeder with a separate equipment ground before the wall is closed.",
    says={
        "four": "The feeder {cable} has {insulated:n} insulated conductors and a ground.",
        "no-neutral": "The feeder {cable} has {insulated:n} insulated conductors; with a neutral there would be three.",
        "no-ground": "The feeder {cable} has no equipment ground.",
        "metal-grounds": "The feeder {cable} has no ground wire; whether its metal may be the ground depends on its fittings. Ask your inspector.",
        "old-feeder": "The feeder {cable} has no ground. In an existing building it may stay under conditions. Ask your inspector.",
        "not-recorded": "The cable that feeds this panel is not recorded.",
        "service": "The service panel is fed by the service.",
    },
    mistakes="Three-wire service cable with a bare neutral used to feed a subpanel.",
    plain="A subpanel must be fed with four wires.",
)
def feeder_four_wire(panel: Panel, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Insulated conductors and ground of the cable that feeds the panel."""
    if panel.is_service:
        return outside("service")
    feeder = _feeder(panel, house)
    if feeder is None:
        return unseen("not-recorded", Missing("the cable of its feeder", "cable"))
    if work:
        work.step(f"{cable_name(feeder)}: insulated conductors", feeder.insulated, "count", "215.6")
        work.step("with a ground", feeder.has_ground, "", "250.32(B)")
    name = cable_name(feeder)
    if feeder.insulated < _HOTS_AND_NEUTRAL:
        return correction("no-neutral", cable=name, insulated=feeder.insulated)
    if feeder.has_ground:
        return clear("four", cable=name, insulated=feeder.insulated)
    if feeder.kind in _METAL_MAY_GROUND:
        return ask_inspector("metal-grounds", cable=name)
    if panel.in_separate_building and house.site.work is not WorkKind.NEW:
        return ask_inspector("old-feeder", cable=name)
    return correction("no-ground", cable=name)
