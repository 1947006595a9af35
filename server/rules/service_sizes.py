"""What the rating of the house's service asks of its conductors, and looks that say the size while they wait.

Where the service conductors are recorded (a cable at the service panel that leads to nothing else recorded), they are
judged; else the smallest that would do are named, for whoever looks.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from server.dwelling import Answer, Cable, ConductorMaterial, Dwelling, Panel, Site, Stage
from server.editions import Edition
from server.reckon.conductor_sets import conductor_set
from server.reckon.conductor_sizes import ConductorError
from server.reckon.service_sizing import ServiceSize, size_service
from server.reckon.work import SILENT, Work
from server.rules.looks import observed
from server.rules.outcome import Lazily, Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import Kind, Rule, rule

__all__ = ["service_conductors", "service_panels", "service_rating_a", "sized_look", "sizes_for"]

_NOTHING_RECORDED = Missing("the service panel", "panel")
_NO_RATING = Missing("the rating of the service disconnect", "panel.main_a")


def _find_service_panels(house: Dwelling) -> tuple[Panel, ...]:
    return tuple(panel for panel in house.facts.panels if panel.is_service)


def service_panels(house: Dwelling) -> tuple[Panel, ...]:
    """The panels that hold service disconnects."""
    return house.derive(_find_service_panels)


def service_rating_a(house: Dwelling) -> int | Missing:
    """The ratings of the service disconnects together, or the fact that is missing to tell."""
    panels = service_panels(house)
    if not panels:
        return _NOTHING_RECORDED
    total = 0
    for panel in panels:
        if panel.main_a is None:
            return _NO_RATING
        total += panel.main_a
    return total


def service_conductors(panel: Panel, house: Dwelling) -> Cable | None:
    """The cable that brings the service to a panel: one of its own that leads to no box, panel or circuit."""
    for cable in house.cables_of_panel.get(panel.id, ()):
        ends = (cable.a_box_id, cable.b_box_id, cable.a_panel_id, cable.b_panel_id)
        if not cable.circuit_ids and sum(end is not None for end in ends) == 1 and cable.awg:
            return cable
    return None


def _kept(house: Dwelling, code: Edition) -> dict[tuple[int, ConductorMaterial, str | None], ServiceSize]:
    return {}


def sizes_for(
    rating_a: int,
    house: Dwelling,
    code: Edition,
    work: Work = SILENT,
    *,
    material: ConductorMaterial = ConductorMaterial.COPPER,
    installed: str | None = None,
) -> ServiceSize:
    """The conductors that a rating asks for, or the installed ones judged; where there is one service panel they
    carry the whole dwelling.

    Raises:
        ConductorError: there is no such installed size.
    """
    kept = house.derive(_kept, code)
    key = (rating_a, material, installed)
    found = kept.get(key)
    if found is None or work:
        found = kept[key] = size_service(
            rating_a, material, code, work, whole_dwelling=len(service_panels(house)) == 1,
            installed=conductor_set(installed, 1, material, code) if installed else None,
        )  # fmt: skip
    return found


Sizes = Callable[[int, Dwelling, Edition, Work], Lazily]
"""The sizes that a sentence names, for the rating of the service: words made when somebody asks."""

Settled = Callable[[int, Dwelling, Edition, Work], bool | None]
"""Whether what is recorded is large enough; None where nothing is recorded and only a look can tell."""

_SAYS = {
    "recorded-enough": "What is recorded is enough. Needed: {needs}.",
    "recorded-short": "What is recorded is too small. Needed: {needs}.",
    "seen-right": "{who} looked and found it right{noted}. Needed: {needs}.",
    "seen-wrong": "{who} looked and found it wrong{noted}. Needed: {needs}.",
    "not-here": "{who} recorded that there is none here{noted}.",
    "not-looked": "Nobody has looked yet. Needed: {needs}.",
    "fact-missing": "It cannot be said what is needed: {what} is not recorded.",
}


def sized_look(
    *,
    id: str,  # noqa: A002
    stage: Stage,
    cites: Mapping[int, str],
    title: str,
    why: str,
    look_for: str,
    cure: str,
    sizes: Sizes,
    settled: Settled | None = None,
    mistakes: str = "",
    plain: str = "",
    danger: str = "",
) -> Rule:
    """A look about the whole job whose sentence says the sizes that the service asks for."""

    def settle(subject: Site, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
        rating_a = service_rating_a(house)
        if isinstance(rating_a, Missing):
            return unseen("fact-missing", rating_a, what=rating_a.words)
        try:
            of_panel_a = service_panels(house)[0].main_a or rating_a
            needs = sizes(of_panel_a, house, code, work)
            enough = None if settled is None else settled(of_panel_a, house, code, work)
        except ConductorError as error:
            missing = Missing("a size of the service conductors that exists", "cable.awg")
            return unseen("fact-missing", missing, what=str(error))
        if enough is not None:
            return (
                clear("recorded-enough", needs=needs) if enough else correction("recorded-short", needs=needs)
            )
        seen = observed(house, subject, id)
        if seen is None:
            return unseen("not-looked", Missing("a look"), needs=needs)
        said: dict[str, Any] = {"who": seen.by or "Someone", "noted": f": {seen.note}" if seen.note else ""}
        if seen.answer is Answer.NOT_HERE:
            return outside("not-here", **said)
        outcome, reason = (correction, "seen-wrong") if seen.answer is Answer.WRONG else (clear, "seen-right")
        return outcome(reason, needs=needs, **said)

    return rule(
        id=id, stage=stage, about=Site, kind=Kind.SEEN, cites=cites, title=title, why=why, look_for=look_for,
        cure=cure, says=_SAYS, mistakes=mistakes, plain=plain, danger=danger,
    )(settle)  # fmt: skip
