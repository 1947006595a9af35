"""Circuits that share a neutral, and yokes with two circuits: all their hots open together."""

from __future__ import annotations

from server.dwelling import Circuit, Device, DeviceKind, Dwelling, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried
from server.rules.naming import circuit_name
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import rule

__all__ = ["multiwire_disconnect", "yoke_disconnect"]


def _tied(circuit: Circuit) -> bool | None:
    """Whether the breakers of a multiwire circuit open together; None where nobody said."""
    if circuit.poles > 1:
        return True
    return circuit.handle_tied


@rule(
    id="multiwire-disconnect",
    stage=Stage.ROUGH_IN,
    about=Circuit,
    cites=carried("210.4(B)"),
    title="The hots of a shared-neutral circuit open together",
    why="Whoever turns off one breaker believes the box dead, and the neutral still carries the other leg's current.",
    look_for="A two-pole breaker, or an identified handle tie between the two breakers, on opposite legs of the panel.",
    cure="Fit a two-pole breaker, or an identified handle tie between the two.",
    says={
        "together": "Its breaker and that of {circuit} open together.",
        "apart": "It shares its neutral with {circuit}, and nothing ties their breakers.",
        "one-leg": "It shares its neutral with {circuit}, and both are on the same leg (spaces {spaces:list}): the neutral carries the sum.",
        "not-recorded": "It shares its neutral with {circuit}; whether their breakers are tied is not recorded.",
        "partner-missing": "The circuit that it shares its neutral with is not recorded.",
        "own-neutral": "The circuit has a neutral of its own.",
    },
    cures={
        "one-leg": "Move one of the two to the next space, so that they are on opposite legs, and tie them."
    },
    mistakes="A nail through two handles; tying breakers that sit on the same leg.",
    plain="Two circuits that share a neutral wire need breakers that switch off together.",
    danger="On the same leg a shared neutral carries twice what it may. Turn both off and prove every conductor dead.",
)
def multiwire_disconnect(circuit: Circuit, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Poles and handle tie of a circuit with a shared neutral, and the legs that both are on."""
    if circuit.multiwire_with is None:
        return outside("own-neutral")
    partner = house.circuits.get(circuit.multiwire_with)
    if partner is None:
        missing = Missing("the circuit that shares its neutral", "circuit.multiwire_with")
        return unseen("partner-missing", missing)
    name = circuit_name(partner)
    if circuit.spaces and partner.spaces and circuit.poles == partner.poles == 1:
        # spaces down one side of a panel alternate between the legs: 1 and 2 on one, 3 and 4 on the other
        legs = {(circuit.spaces[0] - 1) // 2 % 2, (partner.spaces[0] - 1) // 2 % 2}
        if work:
            work.step(f"spaces {circuit.spaces[0]} and {partner.spaces[0]}: legs", len(legs), "count")
        if len(legs) == 1 and circuit.panel_id == partner.panel_id:
            both = tuple(str(space) for space in (circuit.spaces[0], partner.spaces[0]))
            return correction("one-leg", circuit=name, spaces=both)
    tied = _tied(circuit) or _tied(partner)
    if tied:
        return clear("together", circuit=name)
    if _tied(circuit) is None:
        missing = Missing("whether the breakers are tied", "circuit.handle_tied")
        return unseen("not-recorded", missing, circuit=name)
    return correction("apart", circuit=name)


@rule(
    id="yoke-disconnect",
    stage=Stage.ROUGH_IN,
    about=Device,
    cites=carried("210.7"),
    title="Two circuits on one yoke open together",
    why="A receptacle of which one half stays live when its breaker is off has surprised many people.",
    look_for="A receptacle with its tab broken and a circuit on each half: a two-pole breaker or a handle tie for both.",
    cure="Put both circuits on a two-pole breaker or tie their handles.",
    says={
        "together": "Both circuits of the receptacle open together.",
        "apart": "The halves are on {first} and {second}, and nothing makes their breakers open together.",
        "not-recorded": "The halves are on {first} and {second}; whether their breakers are tied is not recorded.",
        "one-circuit": "The device is on one circuit.",
        "second-missing": "The second circuit of this device is not recorded.",
    },
    plain="If the two halves of an outlet are on different breakers, those breakers must switch off together.",
    danger="Test both halves of a receptacle before you touch it.",
)
def yoke_disconnect(device: Device, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The breakers of the two circuits on one receptacle."""
    if device.second_circuit_id is None or device.kind is not DeviceKind.RECEPTACLE:
        return outside("one-circuit")
    first, second = house.circuit_of(device), house.circuits.get(device.second_circuit_id)
    if first is None or second is None:
        return unseen(
            "second-missing", Missing("both circuits of the receptacle", "device.second_circuit_id")
        )
    names = {"first": circuit_name(first), "second": circuit_name(second)}
    if work:
        work.step(f"{names['first']} and {names['second']}", "two circuits on one yoke")
    pair = first.multiwire_with == second.id or second.multiwire_with == first.id
    tied = (_tied(first) or _tied(second)) if pair or first.handle_tied or second.handle_tied else False
    if first.poles > 1 or tied:
        return clear("together")
    if first.handle_tied is None and second.handle_tied is None:
        missing = Missing("whether the breakers are tied", "circuit.handle_tied")
        return unseen("not-recorded", missing, first=names["first"], second=names["second"])
    return correction("apart", first=names["first"], second=names["second"])
