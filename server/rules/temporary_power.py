"""Temporary power: the pole, what hangs on it, and the cords and lamps that it feeds."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import DEPARTMENT, carried
from server.rules.job_facts import new_house
from server.rules.looks import look, measured
from server.rules.rule import Measure

__all__ = [
    "temporary_breakers",
    "temporary_cables_held",
    "temporary_closed",
    "temporary_cords",
    "temporary_drop_height",
    "temporary_generator",
    "temporary_gfci",
    "temporary_grounding_receptacles",
    "temporary_lamps",
    "temporary_not_the_house",
    "temporary_own_pole",
    "temporary_place",
    "temporary_pole_braced",
    "temporary_pole_electrode",
    "temporary_reached",
    "temporary_removed",
    "temporary_splices",
    "temporary_weatherproof",
]

temporary_pole_braced = look(
    id="temporary-pole-braced",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=DEPARTMENT,
    title="The temporary pole stands fast",
    why="The utility's drop pulls on it all winter; a pole that leans takes the live conductors down with it.",
    look_for="A post of the size and length that the utility asks for, set deep and tamped, braced against the pull of the drop.",
    cure="Set the post deeper and brace it with two legs at the height the utility asks for.",
    applies=new_house,
    mistakes="A two-by-four nailed to a stake.",
    plain="The temporary pole has to be planted deep and braced so that it cannot lean.",
    danger="Never dig or brace near a pole that is connected. Ask the utility to disconnect it.",
)

temporary_pole_electrode = look(
    id="temporary-pole-electrode",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("590.4(A), 250.50"),
    title="The temporary pole has its electrode driven and clamped",
    why="It is a service like any other: lightning and a fallen primary go to earth at the pole or through somebody's drill.",
    look_for="The rod (or the two that the place asks for) driven full length, a listed clamp, the conductor unbroken and protected up the pole.",
    cure="Drive the electrodes and clamp the conductor to them with listed clamps.",
    applies=new_house,
    mistakes="A rod cut short and driven beside a rock; the clamp left loose for later.",
    plain="Drive the ground rod at the pole all the way in and clamp its wire tightly.",
)

temporary_gfci = look(
    id="temporary-gfci",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("590.6"),
    title="Receptacles for construction have GFCI protection",
    why="Wet ground, worn cords and metal tools: this is where people are electrocuted.",
    look_for="GFCI protection on every receptacle that tools are plugged into, on the pole and in the house alike; press test and reset on each. "
    "Some places want it on 240 V too.",
    cure="Fit GFCI receptacles or breakers, or use cord sets with GFCI protection built in.",
    mistakes="Tools plugged into the finished laundry receptacle, which has none.",
    plain="Every outlet used for tools must be GFCI protected, and the test button must work.",
    danger="A GFCI that does not trip when you press its button protects nobody. Replace it before anybody uses it.",
)

temporary_grounding_receptacles = look(
    id="temporary-grounding-receptacles",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("590.4(D)"),
    title="Temporary receptacles are of the grounding type and not on the lighting",
    why="A tripped saw must not leave the stair dark.",
    look_for="Three-hole receptacles with a ground that reaches the panel; receptacles and temporary lights on different circuits.",
    cure="Give the temporary lights a circuit of their own and connect the grounds.",
    plain="Use three-prong outlets, and put the work lights on a different breaker.",
)

temporary_breakers = look(
    id="temporary-breakers",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("240.4, 110.3(B)"),
    title="Temporary breakers suit the wire and the panel",
    why="The pole gets whatever breaker was in the truck; one of another make may not hold or not trip.",
    look_for="Breakers of the make that the panel's label names, none larger than its wire allows.",
    cure="Fit breakers that are listed for this panel and no larger than the wire.",
    plain="Use the right brand of breaker, sized for the wire.",
)

temporary_weatherproof = look(
    id="temporary-weatherproof",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("312.2, 406.9(B)"),
    title="Enclosures outdoors keep the rain out, with cords plugged in",
    why="The pole stands in the rain with cords in it for half a year.",
    look_for="Rainproof enclosures with their doors, covers that close over a plugged-in cord, hubs at the top entries, nothing laid on the ground.",
    cure="Fit rainproof enclosures and in-use covers, and close the entries.",
    mistakes="A flip cover that stands open as soon as a cord is in it.",
    plain="Boxes on the pole must keep rain out even when something is plugged in.",
)

temporary_closed = look(
    id="temporary-closed",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("110.12(A), 408.7"),
    title="Nothing live can be touched on the temporary panel",
    why="Everybody on the site opens that door, most of them no electricians.",
    look_for="The inner cover screwed on, every opening closed, blanks in unused breaker spaces, no bare splice anywhere.",
    cure="Screw the inner cover on and close every opening with a fitting made for it.",
    plain="No open holes or bare wires on the temporary panel.",
    danger="With the inner cover off the parts behind it are live whatever the breakers say.",
)

temporary_drop_height = measured(
    id="temporary-drop-height",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("230.24(B)"),
    title="The drop to the temporary pole clears the ground",
    why="Trucks with raised beds and people with ladders pass below it.",
    look_for="The lowest point of drop and drip loop above finished ground; more over a drive or a road, and what the utility asks on top.",
    cure="Use a taller pole, or move it so that nothing drives below the drop.",
    measure=Measure(
        unit="in",
        limit="clearance.grade_in",
        least=True,
        how="Sight the lowest point of the loop against a story pole held at a distance. Never hold a tape or pole up to the conductors.",
        worst="the lowest point of the drop or its drip loop",
    ),
    applies=new_house,
    plain="The wires to the pole must hang at least 10 feet above ground, more where trucks drive.",
    danger="Drop conductors carry no insulation that you may rely on. Keep tapes, ladders and poles away from them.",
)

temporary_own_pole = look(
    id="temporary-own-pole",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=DEPARTMENT,
    title="The project has its own temporary pole where the place asks for one",
    why="Cords across two lots get run over, and nobody knows whose breaker it is.",
    look_for="A pole on this lot for this permit, marked with its address.",
    cure="Set a pole on the lot, or ask the department whether the neighbor's may be shared.",
    applies=new_house,
    plain="Many towns want one temporary pole per house.",
)

temporary_not_the_house = look(
    id="temporary-not-the-house",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=DEPARTMENT,
    title="The temporary pole does not feed the house's own wiring",
    why="Wiring that has not been looked at is not to be energized by the back door.",
    look_for="No cable from the pole to the house panel; cords and temporary receptacles only, unless the department has approved it.",
    cure="Disconnect the house from the pole until its wiring is approved.",
    applies=new_house,
    mistakes="A range cord from the pole to the house panel “for the heat”.",
    plain="Do not power the house wiring from the temporary pole.",
    danger="A cord with a plug on both ends puts live prongs in your hand. Never make or use one.",
)

temporary_cords = look(
    id="temporary-cords",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("590.4(C), (H)"),
    title="Cords and temporary cables are whole, up off the floor and protected",
    why="A cord through a doorway is cut by the door, one on the floor by the lift.",
    look_for="Hard-usage cords without taped repairs, protected at doors and edges, temporary cables fastened and not on the ground.",
    cure="Throw damaged cords away, hang the others, and protect them where they pass a door.",
    plain="Use heavy cords without damage and keep them out of doorways and puddles.",
    danger="Tape does not mend a cut cord.",
)

temporary_lamps = look(
    id="temporary-lamps",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("590.4(F)"),
    title="Temporary lamps are guarded or out of reach",
    why="A broken bulb leaves two live wires at the height of a forehead.",
    look_for="Cages or sturdy fixtures on every lamp string, strings fastened, no empty socket.",
    cure="Fit guards, fill or take down empty sockets, and hang the string out of reach.",
    plain="Work lights need cages over the bulbs.",
)

temporary_removed = look(
    id="temporary-removed",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("590.3(D)"),
    title="Temporary wiring is gone",
    why="What was made to last half a year is found in the crawl space ten years later.",
    look_for="Pole, cords, lamp strings and temporary cables taken away, their openings closed, the pole's service disconnected by the utility.",
    cure="Take the temporary wiring out and close what it leaves open.",
    plain="When the house is done, all temporary wiring has to go.",
    danger="Let the utility disconnect the pole before anybody touches it.",
)

temporary_splices = look(
    id="temporary-splices",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("590.4(G), (H)"),
    title="Joints of temporary wiring are in boxes, or of the kind that may do without",
    why="They lie in sawdust and rain.",
    look_for="A box or a cord connector at each joint; cable-to-cable joints of nonmetallic cable only where the edition lets them, with ground through; ends of dead cables in boxes.",
    cure="Put each joint into a covered box.",
    plain="Put temporary splices in boxes too.",
)

temporary_reached = look(
    id="temporary-reached",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("590.4(E), 110.26(A)"),
    title="The temporary panel can be reached and turned off",
    why="Somebody hangs on a cord and somebody else looks for the switch behind the lumber.",
    look_for="A main or breaker for every circuit at the pole, within reach from the ground, nothing stacked before it, both legs of shared neutrals off together.",
    cure="Clear the space and lower the enclosure.",
    applies=new_house,
    plain="Keep the way to the temporary panel clear.",
)

temporary_place = look(
    id="temporary-place",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=DEPARTMENT,
    title="The pole stands where the utility reaches it, clear of the work and marked",
    why="The utility goes away from a pole that it cannot reach, and comes back next week.",
    look_for="Within the utility's distance of its transformer, not over drive or excavation, socket of its kind and height, address on the pole, the permit posted.",
    cure="Move the pole to where the utility's sheet shows it.",
    applies=new_house,
    plain="Put the temporary pole where the power company wants it.",
)

temporary_generator = look(
    id="temporary-generator",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("590.6(A)(3)"),
    title="A generator that serves the site has GFCI receptacles and stands outdoors",
    why="It is often the only power, in the wet, in the garage.",
    look_for="GFCI on all its 125 V (and 125/250 V) receptacles, cords for it, far from openings, never plugged into the house's wiring. None: “not here”.",
    cure="Use a set with GFCI receptacles, or listed cord sets with GFCI.",
    plain="Job-site generators need GFCI outlets.",
    danger="Exhaust in a closed house kills. Never feed a house's wiring through a receptacle.",
)

temporary_cables_held = look(
    id="temporary-cables-held",
    stage=Stage.TEMPORARY,
    about=Site,
    cites=carried("590.4(J), 590.4(H)"),
    title="Temporary cables hang from what stays, not from trees and ladders",
    why="What they hang on is carried away at four o'clock.",
    look_for="Straps or hooks of a kind that does not cut, on poles or framing; not on trees (but for holiday lights) or fences, not through closing doors.",
    cure="Hang them on the building or on poles.",
    plain="Do not hang temporary cables on trees.",
)
