"""The rating of the service, against the least, against the load, against its conductors and its busbars."""

from __future__ import annotations

from server.dwelling import ConductorMaterial, Dwelling, Panel, Site, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried, moved
from server.rules.house_load import house_load
from server.rules.outcome import Lazily, Missing, Outcome, clear, correction, unseen
from server.rules.rule import rule
from server.rules.service_sizes import (
    service_conductors,
    service_panels,
    service_rating_a,
    sized_look,
    sizes_for,
)

__all__ = ["panel_protected", "service_carries_load", "service_conductor_size", "service_size"]


@rule(
    id="service-size",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.79(C)"),
    title="The service of the house is not below the least rating",
    why="A house grows: range, charger, heat pump. The code keeps its service from being born too small.",
    look_for="A three-wire service whose disconnect is marked with at least the least rating for a one-family house.",
    cure="Set a service disconnect of the least rating or above, with conductors to suit.",
    says={
        "enough": "The service disconnect is rated {rating_a:n} A; {least_a:n} A is the least.",
        "too-small": "The service disconnect is rated {rating_a:n} A; {least_a:n} A is the least for a one-family house.",
        "not-recorded": "It is not recorded: {what}.",
    },
    plain="A house needs at least a 100 amp main.",
    danger="Service work is done with the utility's disconnection, by a licensed electrician in most places.",
)
def service_size(site: Site, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The disconnects' rating against the least of a one-family dwelling."""
    rating_a = service_rating_a(house)
    if isinstance(rating_a, Missing):
        return unseen("not-recorded", rating_a, what=rating_a.words)
    least_a = code.number("service.one_family_least_a", work)
    if work:
        work.step(
            f"service disconnect {rating_a} A; at least",
            least_a,
            "A",
            code.cites("service.one_family_least_a"),
        )
    outcome, reason = (clear, "enough") if rating_a >= least_a else (correction, "too-small")
    return outcome(reason, rating_a=rating_a, least_a=least_a)


@rule(
    id="service-carries-load",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2017="220.82, 230.42", e2026="120.82, 230.42"),
    title="The service is large enough for the load of the house",
    why="A main that trips on Thanksgiving is an annoyance; one that was made larger without its conductors is a fire.",
    look_for="The load by one of the code's methods, from the floor area and the nameplates of everything large, against the main.",
    cure="Set a larger service, or take a large load away (gas range, charger with load management).",
    says={
        "carries": "The load by the {method} method is {amperes:n} A ({total_va:n} VA); the service is rated {rating_a:n} A.",
        "overloaded": "The load by the {method} method is {amperes:n} A ({total_va:n} VA); the service is rated only {rating_a:n} A.",
        "not-recorded": "The load cannot be reckoned: {what} is not recorded.",
    },
    mistakes="Reckoning the plan set instead of the house: the charger, the hot tub and the second oven came later.",
    plain="Add up everything in the house by the code's recipe; the main breaker must be at least that big.",
)
def service_carries_load(site: Site, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The smaller of the methods' loads against the service's rating."""
    rating_a = service_rating_a(house)
    if isinstance(rating_a, Missing):
        return unseen("not-recorded", rating_a, what=rating_a.words)
    load = house_load(house, code, work)
    if isinstance(load, Missing):
        return unseen("not-recorded", load, what=load.words)
    enough = load.amperes <= rating_a
    if work:
        work.step(f"service {rating_a} A for a load of {load.amperes} A", enough, "", load.section)
    outcome, reason = (clear, "carries") if enough else (correction, "overloaded")
    return outcome(
        reason, method=str(load.method), amperes=load.amperes, total_va=load.total_va, rating_a=rating_a,
        cites=load.section,
    )  # fmt: skip


def _conductors(rating_a: int, house: Dwelling, code: Edition, work: Work) -> Lazily:
    panel = service_panels(house)[0]
    cable = service_conductors(panel, house)
    copper = sizes_for(rating_a, house, code, work)
    aluminum = sizes_for(rating_a, house, code, material=ConductorMaterial.ALUMINUM)
    recorded = "" if cable is None else f"; recorded is {cable.awg} {cable.material}"
    return Lazily(
        lambda: f"{copper.conductor} copper or {aluminum.conductor} aluminum for {rating_a} A{recorded}"
    )


def _recorded_enough(rating_a: int, house: Dwelling, code: Edition, work: Work) -> bool | None:
    cable = service_conductors(service_panels(house)[0], house)
    if cable is None:
        return None
    return sizes_for(rating_a, house, code, work, material=cable.material, installed=cable.awg).adequate


service_conductor_size = sized_look(
    id="service-conductor-size",
    stage=Stage.SERVICE,
    cites=moved(e2017="310.15(B)(7), 230.42", e2020="310.12, 230.42"),
    title="The service conductors suit the rating of the disconnect",
    why="Nothing but the utility's fuse stands ahead of them; they have to carry whatever the main lets through.",
    look_for="The size printed on the service conductors, and the metal, against what the rating asks for.",
    cure="Pull conductors of the size that the rating asks for, or fit a smaller main.",
    sizes=_conductors,
    settled=_recorded_enough,
    mistakes="The old 100 A cable left in place behind a new 200 A panel.",
    plain="The thick wires from the meter must be the right size for your main breaker.",
    danger="Service conductors are live until the utility disconnects them. Read their print from outside or leave it to an electrician.",
)


def _ahead_a(panel: Panel, house: Dwelling) -> int | Missing:
    """The smallest overcurrent device ahead of or in a panel."""
    found = [] if panel.main_a is None else [panel.main_a]
    if panel.fed_by_circuit_id is not None:
        feeder = house.circuits.get(panel.fed_by_circuit_id)
        if feeder is not None and feeder.rating_a is not None:
            found.append(feeder.rating_a)
    if found:
        return min(found)
    if panel.is_service:
        return Missing("the rating of its main", "panel.main_a")
    return Missing("the feeder that feeds it, with its rating", "panel.fed_by_circuit_id")


@rule(
    id="panel-protected",
    stage=Stage.SERVICE,
    about=Panel,
    cites=carried("408.36"),
    title="The breaker ahead of the panel suits its busbars",
    why="Busbars that carry more than their rating run hot behind the breakers, where nobody sees it.",
    look_for="The ampere rating on the panel's label against the main, or against the feeder breaker of a panel without one.",
    cure="Fit a main or a feeder breaker of at most the panel's rating, or a panel of a higher rating.",
    says={
        "protected": "The panel is rated {bus_a:n} A and protected at {ahead_a:n} A.",
        "too-large": "The panel is rated {bus_a:n} A and the breaker ahead of it {ahead_a:n} A.",
        "not-recorded": "It is not recorded: {what}.",
    },
    mistakes="A 100 A panel without main on a 125 A feeder.",
    plain="The breaker that feeds a panel may not be bigger than the number on the panel's label.",
)
def panel_protected(panel: Panel, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The device ahead against the rating of the busbars."""
    if panel.bus_a is None:
        missing = Missing("the rating of the panel's busbars", "panel.bus_a")
        return unseen("not-recorded", missing, what=missing.words)
    ahead_a = _ahead_a(panel, house)
    if isinstance(ahead_a, Missing):
        return unseen("not-recorded", ahead_a, what=ahead_a.words)
    if work:
        work.step(f"busbars {panel.bus_a} A; the device ahead", ahead_a, "A", "408.36")
    outcome, reason = (clear, "protected") if ahead_a <= panel.bus_a else (correction, "too-large")
    return outcome(reason, bus_a=panel.bus_a, ahead_a=ahead_a)
