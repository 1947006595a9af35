"""Receptacles with a grounding contact, on cables that bring the ground."""

from __future__ import annotations

from server.dwelling import CableKind, Device, DeviceKind, Dwelling, Stage, WorkKind
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried, moved
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.protection_tree import protection
from server.rules.rule import Carried, rule

__all__ = ["grounding_brought", "receptacle_has_ground"]

_RENUMBERED = 2026
"""The edition that moved 406.4 to 406.12."""


@rule(
    id="receptacle-has-ground",
    stage=Stage.ROUGH_IN,
    about=Device,
    cites=moved(e2017="406.4(A), 250.140", e2026=Carried("406.12(A), 250.140")),
    title="The receptacle has a grounding contact",
    why="A range or dryer on three wires uses its neutral as ground; when that opens, its shell is live.",
    look_for="On new circuits: three-slot receptacles for 120 V, four-slot ones (14-30, 14-50) for ranges and dryers.",
    cure="Run a cable with a ground, and fit the four-wire (or three-slot) receptacle.",
    says={
        "has-one": "A {configuration} has a grounding contact.",
        "without": "A {configuration} has no grounding contact and is not for new circuits.",
        "not-recorded": "What kind of receptacle it is is not recorded.",
        "old-circuit": "On old circuits other rules hold for replaced receptacles.",
        "no-receptacle": "Only receptacles are meant.",
    },
    mistakes="Reusing the old three-wire range cord and receptacle in the new kitchen.",
    plain="New outlets for stoves and dryers must be the four-prong kind.",
)
def receptacle_has_ground(device: Device, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The receptacle's configuration against those without ground."""
    if device.kind is not DeviceKind.RECEPTACLE:
        return outside("no-receptacle")
    if house.site.work is WorkKind.REPLACEMENT:
        return outside("old-circuit")
    if device.configuration is None:
        return unseen("not-recorded", Missing("the receptacle's configuration", "device.configuration"))
    without = device.configuration in code.names("receptacles.without_ground", work)
    if work:
        work.step(device.configuration, not without, "", code.cites("receptacles.without_ground"))
    outcome, reason = (correction, "without") if without else (clear, "has-one")
    return outcome(reason, configuration=device.configuration)


@rule(
    id="ground-brought",
    stage=Stage.ROUGH_IN,
    about=Device,
    cites=carried("250.118, 250.130"),
    title="A ground comes to every receptacle and appliance",
    why="Without it nothing trips when a case becomes live.",
    look_for="A grounding conductor (or metal raceway or armor that counts as one) in every cable that reaches the box.",
    cure="Pull a cable with a ground to this box.",
    says={
        "brought": "A cable with a ground, or metal that counts as one, comes to it.",
        "missing": "No cable that comes to it has a ground.",
        "two-slot": "It was replaced where no ground comes, by a receptacle without a grounding contact, which may be.",
        "gfci-instead": "It was replaced where no ground comes, and has GFCI protection instead; it has to say “No equipment ground”.",
        "replaced-bare": "It was replaced where no ground comes, by one with a grounding contact that leads nowhere, without GFCI protection.",
        "no-cable": "No cable is recorded at its box.",
        "no-need": "Only receptacles, luminaires and equipment are meant.",
    },
    cures={
        "replaced-bare": "Fit a GFCI receptacle, or protect it by a GFCI ahead, and mark it “No equipment ground”; or fit one with two slots; "
        "or bring a ground to the box."
    },
    mistakes="Extending an old two-wire circuit and trusting a GFCI to make up for it.",
    plain="Every outlet needs a ground wire.",
    danger="A GFCI does not give permission to extend a circuit without a ground.",
)
def grounding_brought(device: Device, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Whether any cable at the device's box brings a ground."""
    if device.kind in (DeviceKind.SWITCH, DeviceKind.PROTECTOR, DeviceKind.OTHER):
        return outside("no-need")
    cables = house.cables_of_box.get(device.box_id, ())
    if not cables:
        return unseen("no-cable", Missing("the cables that enter it", "cable"))
    if house.site.work is WorkKind.REPLACEMENT and device.kind is DeviceKind.RECEPTACLE:
        return _replaced(device, house, code)
    return clear("brought") if _brings(device, house) else correction("missing")


def _replaced(device: Device, house: Dwelling, code: Edition) -> Outcome:
    """A receptacle in place of an old one, where no ground comes to the box: 406.4(D)(2) names three ways."""
    cites = "406.12(D)(2)" if code.year >= _RENUMBERED else "406.4(D)(2)"
    if _brings(device, house):
        return clear("brought")
    if device.configuration == "1-15":
        return clear("two-slot", cites=cites)
    need = house.derive(protection, code).needs.get(device.id)
    if device.gfci or (need is not None and need.coverage is not None and need.coverage.gfci_by is not None):
        return clear("gfci-instead", cites=cites)
    return correction("replaced-bare", cites=cites)


def _brings(device: Device, house: Dwelling) -> bool:
    cables = house.cables_of_box.get(device.box_id, ())
    return any(cable.has_ground or cable.kind in (CableKind.AC, CableKind.MC) for cable in cables)
