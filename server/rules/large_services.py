"""What only large services have: conductors in parallel, joints ahead of the main. And what carries a feeder's load."""

from __future__ import annotations

from server.dwelling import Dwelling, Panel, Site, Stage
from server.editions import Edition
from server.rules.citing import carried, moved
from server.rules.job_facts import is_subpanel
from server.rules.looks import look
from server.rules.rule import Kind

__all__ = ["feeder_load", "service_joints", "service_parallel"]

_ONE_SET_A = 200
"""Up to here one set of conductors, one meter base and one main are the rule; not a figure of the code."""


def _large(subject: Site, house: Dwelling, code: Edition) -> str | None:
    """Several service panels, or a main above the usual."""
    services = [panel for panel in house.facts.panels if panel.is_service]
    if len(services) > 1 or any((panel.main_a or 0) > _ONE_SET_A for panel in services):
        return None
    return "The service is one panel of at most 200 A, as far as it is recorded."


service_parallel = look(
    id="service-parallel",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2017="310.10(H), 300.3(B)", e2020="310.10(G), 300.3(B)"),
    title="Conductors in parallel are alike",
    why="The shorter one takes the current of both and burns.",
    look_for="1/0 and larger only; each of a set of one length, metal, size, insulation and kind of lug; a whole set with its neutral (and ground) in each "
    "raceway, raceways alike; lugs made for as many. One set alone: “not here”.",
    cure="Replace the odd ones, so that all are cut to one length.",
    applies=_large,
    mistakes="All of one phase in one steel pipe; one leg spliced, the other not.",
    plain="Where two wires share a load they have to be exactly alike.",
    danger="Ahead of the main nothing is protected. Only with the utility disconnected.",
)

service_joints = look(
    id="service-joints",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.46, 230.82"),
    title="What is joined or connected ahead of the main may be there",
    why="Nothing but the utility's fuse stands behind it.",
    look_for="Splices, taps and blocks ahead of the main in an enclosure, since 2020 marked for the line side; ahead of the main only what the article "
    "lists: meters and their disconnects, surge protectors, other sources by their own disconnect. None: “not here”.",
    cure="Use connectors marked for the line side, or move what is connected behind the main.",
    applies=_large,
    mistakes="Split bolts and tape in the gutter between two panels.",
    plain="Joints ahead of the main breaker need special connectors.",
    danger="Ahead of the main nothing is protected. Only with the utility disconnected.",
)

feeder_load = look(
    id="feeder-load",
    stage=Stage.SERVICE,
    about=Panel,
    kind=Kind.PAPER,
    cites=moved(e2017="215.2(A), 220.40", e2026="215.2(A), 120.40"),
    title="The feeder of a subpanel carries what it feeds",
    why="Its breaker trips on the first cold evening, when heat pump, dryer and car come together.",
    look_for="The load of the subpanel by the rules of the dwelling's, lasting loads a quarter more, against feeder, breaker and panel; room left for what is to come.",
    cure="Run a larger feeder, or feed a large load from the service panel.",
    applies=is_subpanel,
    mistakes="A 60 A feeder kept for a garage that now charges a car.",
    plain="Add up what the subpanel will run before you choose its feeder.",
)
