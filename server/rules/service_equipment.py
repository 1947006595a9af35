"""The service disconnect and what belongs to it: where it is, how far inside, what it is marked with."""

from __future__ import annotations

from server.dwelling import Answer, Dwelling, Site, Stage, format_length
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import DEPARTMENT, carried, moved
from server.rules.looks import judge_measure, look, observed
from server.rules.outcome import Missing, Outcome, ask_inspector, clear, correction, outside, unseen
from server.rules.rule import Kind, Measure, rule

__all__ = [
    "house_closed_in",
    "interrupting_rating",
    "neutral_brought_in",
    "service_conductors_inside",
    "service_disconnect_marked",
    "service_disconnect_place",
    "service_disconnects_few",
    "service_equipment_marked",
    "service_neutral_marked",
    "service_working_space",
    "unused_openings_service",
]

_INSIDE = Measure(
    unit="in",
    limit="service.inside_most_in",
    least=False,
    how="Measure along the conductors from where they enter the house to the disconnect.",
    worst="the run from the wall to the disconnect",
)


@rule(
    id="service-conductors-inside",
    stage=Stage.SERVICE,
    about=Site,
    kind=Kind.MEASURED,
    cites=carried("230.70(A)(1)"),
    title="Service conductors run only a short way inside before the disconnect",
    why="Nothing protects them but the utility's fuse on the pole; a nail through them burns until the transformer gives up.",
    look_for="The disconnect nearest to where the conductors come in. Many places set a figure: five, ten or fifteen feet.",
    cure="Set a disconnect outside or right inside the wall, and feed the panel from it with four wires.",
    says={
        "measured-enough": "{measure} measured; {limit} is the {edge} here.",
        "measured-short": "{measure} measured; {limit} is the {edge} here.",
        "no-figure": "{measure} run inside; the code says nearest the entrance and gives no figure. Ask what your department takes.",
        "looked-right": "{who} looked and found it right without a figure{noted}.",
        "looked-wrong": "{who} looked and found it wrong{noted}.",
        "not-here": "{who} recorded that there is none here{noted}.",
        "not-measured": "Not measured yet.",
    },
    measure=_INSIDE,
    mistakes="A panel in the middle of the basement, fed across the joists by the service cable.",
    plain="The main shut-off must be right where the power comes into the house.",
    danger="These conductors stay live with the main off. Only the utility can turn them off.",
)
def service_conductors_inside(site: Site, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The length inside against a local figure; without one a look, or a question."""
    seen = observed(house, site, "service-conductors-inside")
    if code.has(_INSIDE.limit) and seen is not None:
        return judge_measure(seen, _INSIDE, code, work)
    if seen is None:
        return unseen("not-measured", Missing("how far the service conductors run inside"))
    said = {"who": seen.by or "Someone", "noted": f": {seen.note}" if seen.note else ""}
    if seen.answer is Answer.NOT_HERE:
        return outside("not-here", **said)
    if seen.measure is not None:
        if work:
            work.skip("no figure in this edition, and no amendment of this job sets one", "230.70(A)(1)")
        return ask_inspector("no-figure", measure=format_length(seen.measure))
    if seen.answer is Answer.WRONG:
        return correction("looked-wrong", **said)
    return clear("looked-right", **said)


service_disconnect_place = look(
    id="service-disconnect-place",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.70(A)"),
    title="The service disconnect is readily reached and not in a bathroom",
    why="Whoever runs to it in an emergency must not look for a key or move a freezer.",
    look_for="Outside or just inside, nothing before it, no lock that keeps the household out, no bathroom around it.",
    cure="Move the disconnect, or clear the way to it for good.",
    mistakes="Behind the garage shelves that came after the inspection.",
    plain="Everybody in the house must be able to reach the main switch quickly.",
)

service_disconnects_few = look(
    id="service-disconnects-few",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.71, 230.72"),
    title="Few motions turn the whole house off, at one place",
    why="A fireman has time for one switch.",
    look_for="One main, or at most six disconnects grouped together and marked with what they turn off; from 2020 on each in an enclosure or "
    "compartment of its own.",
    cure="Fit a main ahead of them, or group and mark the disconnects.",
    mistakes="A split-bus panel replaced by a panel without main; a disconnect for the hot tub on the other side of the house.",
    plain="It should take one switch to turn off the house.",
)

service_disconnect_marked = look(
    id="service-disconnect-marked",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.70(B)"),
    title="The service disconnect is marked as what it is",
    why="In the dark or the smoke a row of breakers looks alike.",
    look_for="A lasting label that names it the service disconnect.",
    cure="Put a lasting label on it.",
    plain="Label the main switch.",
)

service_equipment_marked = look(
    id="service-equipment-marked",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.66"),
    title="The equipment is marked as suitable for a service",
    why="Only such equipment has the place for the bond between neutral and enclosure.",
    look_for="The words on the maker's label, and the bonding screw or strap that came with it in the bag.",
    cure="Change the equipment for one that is marked for service use.",
    mistakes="A subpanel without main used as service equipment; the bonding screw thrown away with the bag.",
    plain="The main panel must say on its label that it may be used as service equipment.",
)

interrupting_rating = look(
    id="interrupting-rating",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("110.9, 110.10"),
    title="The breakers can interrupt what the utility can deliver",
    why="Near a large transformer a short circuit is more than a cheap breaker can open; it bursts.",
    look_for="The utility's figure for the fault current at the meter against the rating marked on main and breakers (10,000 A is the usual).",
    cure="Fit breakers or a main with a higher interrupting rating, or a series-rated combination.",
    plain="Ask the power company for the fault current, and compare it with the number on your breakers.",
)

neutral_brought_in = look(
    id="neutral-brought-in",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2017="250.24(C)", e2023="250.24(D)"),
    title="The service neutral comes to the disconnect and is bonded there",
    why="It is the only way back for a fault; a lost neutral puts 200 V on lamps.",
    look_for="The utility's neutral landed in the disconnect, of the size that the service asks for, tight, bonded to the enclosure.",
    cure="Bring the neutral to the disconnect, and bond it there.",
    plain="The neutral from the power company must be connected in the main switch.",
    danger="A loose service neutral destroys appliances and starts fires. Lamps that grow bright and dim together: call the utility at once.",
)

service_neutral_marked = look(
    id="service-neutral-marked",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("200.6(B), 310.6"),
    title="The service neutral is marked white at its ends",
    why="Three black conductors look alike, and two of them are 240 V apart.",
    look_for="White tape around the neutral where it ends, unless it is bare or white by itself; no white on the others.",
    cure="Wrap white tape around the neutral at both ends.",
    plain="Mark the thick neutral wire with white tape.",
)

house_closed_in = look(
    id="house-closed-in",
    stage=Stage.SERVICE,
    about=Site,
    cites=DEPARTMENT,
    title="The house is closed in where the service needs it",
    why="Utilities and departments do not energize equipment that rains in.",
    look_for="The roof on, the wall behind the meter finished, the ground at its final height, as the department and the utility ask.",
    cure="Finish roof, wall and grade at the service first.",
    plain="The roof and the wall by the meter should be finished before you ask for power.",
)

unused_openings_service = look(
    id="service-openings-closed",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("110.12(A), 408.7"),
    title="Meter, disconnect and outdoor boxes have no open holes",
    why="Mice, wasps and fingers go in, sparks come out.",
    look_for="Plugs made for it in every unused knockout and breaker space, at the meter and outdoors too.",
    cure="Close the openings with listed plugs.",
    plain="Plug every unused hole in the meter box and main switch.",
    danger="Do not reach or poke into an opening of service equipment: what is behind it is live.",
)

service_working_space = look(
    id="service-working-space",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("110.26(A)"),
    title="There is room to work at the outdoor disconnect and meter",
    why="A gas meter, a bush or a condenser in the way turns a quick job into a dangerous one.",
    look_for="Three feet clear before disconnect and meter, thirty inches wide, six and a half feet high, on level ground.",
    cure="Move what stands before it, or move the equipment.",
    mistakes="The air conditioner set below the meter after the service was passed.",
    plain="Keep three feet clear in front of the meter and outdoor switch.",
)
