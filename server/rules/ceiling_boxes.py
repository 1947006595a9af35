"""What hangs on a box: luminaires and paddle fans by their weight, and ceilings where a fan may come one day."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling import Box, Device, DeviceKind, Dwelling, Stage, Surface
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried, moved
from server.rules.looks import by_look, observed
from server.rules.outcome import Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import Kind, rule
from server.rules.switched_receptacles import habitable

__all__ = ["ceiling_box_for_fan", "fan_box", "luminaire_box"]


def _first(box: Box, house: Dwelling, kind: DeviceKind) -> Device | None:
    return next((d for d in house.devices_of_box.get(box.id, ()) if d.kind is kind), None)


@rule(
    id="luminaire-box",
    stage=Stage.ROUGH_IN,
    about=Box,
    kind=Kind.SEEN,
    cites=carried("314.27(A)"),
    title="The box holds the luminaire that will hang on it",
    why="A chandelier on a box that was made for a small light comes down with the box.",
    look_for="The weight on the luminaire's label against 50 lb, or against the weight marked in the box; anything "
    "heavier hung from the framing itself.",
    cure="Hang the luminaire from the framing independently of the box, or set a box that is marked for its weight.",
    says={
        "holds": "The luminaire weighs {weight_lb:n} lb; the box holds {holds_lb:n} lb.",
        "too-heavy": "The luminaire weighs {weight_lb:n} lb and the box holds {holds_lb:n} lb.",
        "looked-right": "{who} looked: what will hang here weighs no more than the box holds, {holds_lb:n} lb{noted}.",
        "looked-wrong": "{who} looked: what will hang here weighs more than the {holds_lb:n} lb that the box holds{noted}.",
        "weight-not-recorded": "What will hang here is not recorded; the box holds {holds_lb:n} lb.",
        "no-luminaire": "No luminaire hangs on this box.",
        "recessed": "A recessed luminaire hangs in its own frame, not on a box.",
    },
    mistakes="Hanging a heavy fixture on the plastic box that came with the ceiling fan kit of another room.",
    plain="A normal ceiling box holds a light of up to 50 pounds. Anything heavier needs its own support.",
    danger="A falling luminaire can injure: have help when you hang one, and never leave it hanging by its wires.",
)
def luminaire_box(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The luminaire's weight against the box's marking, or what any outlet box holds."""
    luminaire = _first(box, house, DeviceKind.LUMINAIRE)
    if luminaire is None:
        return outside("no-luminaire")
    if luminaire.recessed:
        return outside("recessed")
    holds_lb = code.number("box.luminaire_lb", work)
    if box.rated_lb is not None:
        holds_lb = box.rated_lb
    weight_lb = luminaire.weight_lb
    if weight_lb is None:
        seen = observed(house, box, "luminaire-box")
        if seen is None:
            missing = Missing("a look at what will hang here, or its weight")
            return unseen("weight-not-recorded", missing, holds_lb=holds_lb)
        return by_look(seen, holds_lb=holds_lb)
    if work:
        work.step(
            f"{float(weight_lb):g} lb on a box that holds", holds_lb, "lb", code.cites("box.luminaire_lb")
        )
    outcome, reason = (clear, "holds") if weight_lb <= holds_lb else (correction, "too-heavy")
    return outcome(reason, weight_lb=weight_lb, holds_lb=holds_lb)


@rule(
    id="fan-box",
    stage=Stage.ROUGH_IN,
    about=Box,
    kind=Kind.SEEN,
    cites=carried("314.27(C)"),
    title="A paddle fan hangs on a box made for fans",
    why="A fan turns and shakes for years; an ordinary box works loose and lets it fall.",
    look_for="A box marked as acceptable for fan support, on a brace or screwed to the framing; above 35 lb the box names "
    "the weight, and above 70 lb no box will do.",
    cure="Set a box that is listed and marked for fans, fastened to a fan brace or to the framing.",
    says={
        "fan-rated": "The box is rated for fans{weight}.",
        "not-rated": "A paddle fan is planned on a box that is not rated for fans.",
        "over-all": "The fan weighs {weight_lb:n} lb; no box may hold more than {most_lb:n} lb.",
        "over-marking": "The fan weighs {weight_lb:n} lb, and the box is marked for {rated_lb:n} lb.",
        "marking-missing": "The fan weighs {weight_lb:n} lb; above {marked_lb:n} lb the box must be marked with what it holds.",
        "rating-not-recorded": "Whether the box is rated for fans is not recorded.",
        "looked-right": "{who} looked: the box is marked for the fan that will hang here{noted}.",
        "looked-wrong": "{who} looked: the box is not marked for the fan that will hang here{noted}.",
        "weight-not-recorded": "What the fan weighs is not recorded; up to {marked_lb:n} lb any fan box will do.",
        "no-fan": "No paddle fan hangs on this box.",
    },
    cures={
        "over-all": "Hang the fan from the framing itself, independently of the box.",
        "marking-missing": "Look inside the box for the marked weight and record it, or set a box marked for this fan.",
        "over-marking": "Set a box marked for at least the weight of the fan, or choose a lighter fan.",
    },
    mistakes="Reusing a light's box for a fan; a fan-rated box nailed to a scrap of strapping.",
    plain="A ceiling fan needs a box that says it is for fans.",
    danger="Have somebody hold the fan while you work, with the circuit off and proved dead.",
)
def fan_box(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The box's listing and marking against the fan's weight."""
    fan = _first(box, house, DeviceKind.FAN)
    if fan is None:
        return outside("no-fan")
    most_lb, marked_lb = code.number("box.fan_lb", work), code.number("box.fan_marked_over_lb", work)
    weight_lb, rated_lb = fan.weight_lb, box.rated_lb
    if work and weight_lb is not None:
        work.step(
            f"the fan weighs {float(weight_lb):g} lb; a box may hold at most",
            most_lb,
            "lb",
            code.cites("box.fan_lb"),
        )
    if weight_lb is not None and weight_lb > most_lb:
        return correction("over-all", weight_lb=weight_lb, most_lb=most_lb)
    if box.fan_rated is None:
        return unseen("rating-not-recorded", Missing("whether the box is rated for fans", "box.fan_rated"))
    if not box.fan_rated:
        return correction("not-rated")
    if weight_lb is None:
        seen = observed(house, box, "fan-box")
        if seen is None:
            missing = Missing("a look at the fan's weight and the box's marking")
            return unseen("weight-not-recorded", missing, marked_lb=marked_lb)
        return by_look(seen)
    if rated_lb is not None and weight_lb > rated_lb:
        return correction("over-marking", weight_lb=weight_lb, rated_lb=rated_lb)
    if rated_lb is None and weight_lb > marked_lb:
        return correction("marking-missing", weight_lb=weight_lb, marked_lb=marked_lb)
    return clear("fan-rated", weight=_weight(weight_lb, rated_lb))


def _weight(weight_lb: Fraction, rated_lb: Fraction | None) -> str:
    marked = "" if rated_lb is None else f", marked for {float(rated_lb):g} lb"
    return f"{marked}; the fan weighs {float(weight_lb):g} lb"


@rule(
    id="ceiling-box-for-fan",
    stage=Stage.ROUGH_IN,
    about=Box,
    kind=Kind.SEEN,
    cites=moved(e2020="314.27(C)"),
    title="A ceiling box where a fan could hang is ready for one",
    why="Sooner or later somebody replaces the light in the middle of a bedroom with a fan, and does it on the box that is there.",
    look_for="Ceiling boxes of lived-in rooms where the blades would clear the walls: a fan box, or a box through which a "
    "fan can be screwed to solid framing.",
    cure="Set a fan-rated box or a fan brace now, while the ceiling is open, or block behind the box.",
    says={
        "fan-rated": "The box is rated for fans.",
        "looked-right": "{who} looked: the box gives access to framing that can hold a fan, or no fan could hang here{noted}.",
        "looked-wrong": "{who} looked: a fan could hang here, and the box is not ready for one{noted}.",
        "not-looked": "The box is not rated for fans; whether it sits on framing that can hold one, or no fan could hang here, nobody has looked.",
        "not-recorded": "Whether this ceiling box is rated for fans is not recorded.",
        "has-fan": "A fan is planned here and judged by its own rule.",
        "not-here": "Only outlet boxes in the ceilings of lived-in rooms are meant.",
        "no-light": "No luminaire hangs on this box, so it is no place for a fan.",
    },
    mistakes="Pancake boxes screwed to the drywall strapping in the middle of a bedroom.",
    plain="A ceiling light box in a bedroom or living room must be strong enough for a fan, in case somebody puts one there.",
)
def ceiling_box_for_fan(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """A fan-rated box, or a look that says framing is there (or that no fan could hang)."""
    room = house.rooms.get(box.room_id)
    if box.surface is not Surface.CEILING or room is None or not habitable(room, code):
        return outside("not-here")
    if _first(box, house, DeviceKind.FAN) is not None:
        return outside("has-fan")
    luminaire = _first(box, house, DeviceKind.LUMINAIRE)
    if luminaire is None or luminaire.recessed:
        return outside("no-light")
    if work:
        work.step(
            "a box that can take a fan, or access to framing",
            code.flag("box.fan_rooms", work),
            "",
            code.cites("box.fan_rooms"),
        )
    if box.fan_rated:
        return clear("fan-rated")
    seen = observed(house, box, "ceiling-box-for-fan")
    if seen is None:
        if box.fan_rated is None:
            return unseen("not-recorded", Missing("whether the box is rated for fans", "box.fan_rated"))
        return unseen("not-looked", Missing("a look at what is behind the box"))
    return by_look(seen)
