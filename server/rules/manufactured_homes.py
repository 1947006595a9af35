"""A home that came from the factory: its own label answers for what is inside; pedestal, feeder, frame and what was joined on
site are ours."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Stage
from server.rules.citing import DEPARTMENT, carried
from server.rules.looks import look, measured
from server.rules.reach import fixture_is
from server.rules.rule import Kind, Measure

__all__ = [
    "manufactured_home_crossover",
    "manufactured_home_disconnect",
    "manufactured_home_feeder",
    "manufactured_home_frame_bonded",
    "manufactured_home_heat_cable",
    "manufactured_home_neutral",
    "manufactured_home_papers",
    "manufactured_home_service_on_it",
    "manufactured_home_service_rating",
    "manufactured_home_tested",
]

_HOME = fixture_is(FixtureKind.MANUFACTURED_HOME)
_DANGER = "A skin of metal without its ground is live from step to roof. Do not touch home and earth at once while it is being connected."

manufactured_home_papers = look(
    id="manufactured-home-papers",
    stage=Stage.PAPERWORK,
    about=Fixture,
    kind=Kind.PAPER,
    cites=DEPARTMENT,
    title="Label, data plate and setup manual of the factory home are there",
    why="Inside its label counts; without it the inspector has to ask for everything to be opened.",
    look_for="The metal label on each section, the data plate within, the maker's setup manual on site, the set permit.",
    cure="Ask the maker or the state's office for a copy.",
    applies=_HOME,
    plain="Have the home's setup manual on site, and do not cover its metal labels.",
)

manufactured_home_disconnect = measured(
    id="manufactured-home-disconnect",
    stage=Stage.SERVICE,
    about=Fixture,
    cites=carried("550.32(A)"),
    title="The factory home's service equipment stands in sight and near",
    why="Whoever runs out of a burning home must see the switch that turns it off.",
    look_for="Pedestal or post in sight of the home, readily reached, not upon the home itself.",
    cure="Set a disconnect suitable as service equipment nearer to the home.",
    measure=Measure(
        unit="in",
        limit="manufactured.disconnect_most_in",
        least=False,
        how="Measure from the service equipment to the nearest outside wall of the home.",
        worst="the only one",
    ),
    applies=_HOME,
    mistakes="The pole of the old farmhouse, across the yard.",
    plain="The main switch must be in sight of the home and within 30 feet.",
)

manufactured_home_service_rating = measured(
    id="manufactured-home-service-rating",
    stage=Stage.SERVICE,
    about=Fixture,
    cites=carried("550.32(C)"),
    title="The factory home's service equipment is rated high enough",
    why="Its panel was built for that much, and the next home on the lot will be larger.",
    look_for="The rating on the pedestal's label, and that it is no less than what the home's own label asks for.",
    cure="Set service equipment of the rating that the home asks for.",
    measure=Measure(
        unit="a",
        limit="manufactured.service_least_a",
        least=True,
        how="Read the rating on the label of the service equipment; nothing is to be measured.",
        worst="the only one",
    ),
    applies=_HOME,
    plain="The pedestal must be rated 100 amps or more.",
)

manufactured_home_service_on_it = look(
    id="manufactured-home-service-on-it",
    stage=Stage.SERVICE,
    about=Fixture,
    cites=carried("550.32(B)"),
    title="A main on the factory home itself is there only under its conditions",
    why="A home on wheels takes its ground along when it moves, and leaves it behind as well.",
    look_for="The home set and anchored for good, service equipment made for it and of its maker's kind, a ground brought out to electrodes, the "
    "maker's warning by it. On a pedestal or post: “not here”.",
    cure="Set the main on a pedestal, and feed the home from it.",
    applies=_HOME,
    plain="The main panel belongs on a pedestal, unless the home was built for one on its wall.",
)

manufactured_home_feeder = look(
    id="manufactured-home-feeder",
    stage=Stage.SERVICE,
    about=Fixture,
    cites=carried("550.10, 550.33(A)"),
    title="A feeder of four insulated conductors, or one listed cord, brings power to the factory home",
    why="With three the neutral's current comes home over frame and steps.",
    look_for="Two hots, white, and a green that has insulation, of the size that the home's label asks for, protected up to the panel; or the one "
    "50 A (or 40 A) cord made for such homes, whole. No adapters, no second cord.",
    cure="Run a feeder of four insulated conductors.",
    applies=_HOME,
    mistakes="Service cable with a bare neutral from the pole; an old three-wire feeder kept for a new home.",
    plain="Four insulated wires must run from the pedestal to the home.",
    danger=_DANGER,
)

manufactured_home_neutral = look(
    id="manufactured-home-neutral",
    stage=Stage.SERVICE,
    about=Fixture,
    cites=carried("550.16(A)"),
    title="In the factory home neutral and ground are apart",
    why="Its panel is no service panel: bonded there, the frame carries current.",
    look_for="No bonding screw or strap in its panel, neutrals off the enclosure, range and dryer with four wires and their straps out.",
    cure="Take the bond out, and fit four-wire cords.",
    applies=_HOME,
    plain="Inside the home's panel the white and green wires stay separate.",
    danger=_DANGER,
)

manufactured_home_frame_bonded = look(
    id="manufactured-home-frame-bonded",
    stage=Stage.SERVICE,
    about=Fixture,
    cites=carried("550.16(B), (C)"),
    title="Frame, pipes, ducts and metal skin of the factory home are bonded",
    why="All of it is metal that somebody touches standing on wet grass.",
    look_for="8 AWG solid copper from the panel's ground to a lug on the frame, every section's frame joined to the next, metal water and gas "
    "pipes, ducts, roof and siding bonded to it.",
    cure="Join each with 8 AWG copper and listed lugs.",
    applies=_HOME,
    mistakes="The strap between the halves rolled up below the belly board.",
    plain="The steel frames of both halves must be wired together and to ground.",
    danger=_DANGER,
)

manufactured_home_crossover = look(
    id="manufactured-home-crossover",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("550.19"),
    title="Where the home's sections meet the wiring is joined as its manual says",
    why="What the factory left for the site is what nobody has tested.",
    look_for="Each crossover's connectors or boxes made up, closed, still to be reached and off the ground; plugs of the maker's own kind; lights and "
    "fans that came loose hung and grounded.",
    cure="Make up the crossovers by the manual.",
    applies=_HOME,
    plain="Check that the wires between the halves of the home are connected and covered.",
)

manufactured_home_heat_cable = look(
    id="manufactured-home-heat-cable",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("550.13(E)"),
    title="Heating cable of the water inlet has its receptacle below the factory home",
    why="Otherwise an extension cord lies in the puddle below the floor.",
    look_for="Where there is such cable: a GFCI receptacle within two feet of the inlet, on a circuit that one would notice dead, the cable listed for "
    "such homes. No cable: “not here”.",
    cure="Add the receptacle, or take the cord away.",
    applies=_HOME,
    plain="Pipe heating cable needs its own GFCI outlet under the home.",
)

manufactured_home_tested = look(
    id="manufactured-home-tested",
    stage=Stage.FINAL,
    about=Fixture,
    kind=Kind.PAPER,
    cites=carried("550.17"),
    title="After the set the factory home's wiring was tested, and it is written down",
    why="A thousand miles of road loosen screws.",
    look_for="Continuity of frame, skin and luminaires to ground, polarity at the receptacles, everything tried with power on; date and name.",
    cure="Test it as the manual says, and write it down.",
    applies=_HOME,
    plain="After setup somebody has to test grounds, polarity and every outlet, and sign for it.",
)
