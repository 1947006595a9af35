"""Before the pour: the steel of the footing as an electrode, and what lies in or below the slab."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import carried
from server.rules.job_facts import new_house
from server.rules.looks import look, measured
from server.rules.rule import Measure

__all__ = [
    "footing_electrode_tied",
    "footing_in_earth",
    "footing_steel_cover",
    "footing_steel_length",
    "footing_tail",
    "slab_raceways",
]

footing_electrode_tied = look(
    id="footing-electrode-tied",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("250.50, 250.52(A)(3)"),
    title="The footing's steel is made the house's electrode before the pour",
    why="Steel in a footing is the best electrode that a house has, and after the pour nobody can reach it.",
    look_for="Bare or zinc-coated bars of the footing, tied or welded to each other, with a bar or conductor brought up for the service; "
    "or bare copper laid in the footing instead.",
    cure="Tie the bars together and bring one up, or lay bare copper in the footing, before the concrete comes.",
    applies=new_house,
    mistakes="Epoxy-coated bars; a bar that stands in the form and touches no other.",
    plain="Before the footing is poured, the rebar must be tied together and one piece brought up for grounding.",
)

footing_steel_length = measured(
    id="footing-steel-length",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("250.52(A)(3)"),
    title="Enough steel or copper lies in the concrete",
    why="The electrode works by its length in damp concrete.",
    look_for="One piece, or pieces tied to one, of at least half-inch bar or 4 AWG copper.",
    cure="Tie on more bar, or lay a longer piece of copper.",
    measure=Measure(
        unit="in",
        limit="electrode.footing_length_in",
        least=True,
        how="Measure along the bar or copper that will be in the concrete, tied pieces together.",
        worst="the run that the tail is tied to",
    ),
    applies=new_house,
    plain="At least 20 feet of rebar or copper wire must lie in the footing.",
)

footing_steel_cover = measured(
    id="footing-steel-cover",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("250.52(A)(3)"),
    title="The electrode lies well within the concrete",
    why="Steel that touches earth rusts away in a few years.",
    look_for="Bars on chairs or stones, near the bottom of the footing, with concrete all around them.",
    cure="Raise the bars on chairs before the pour.",
    measure=Measure(
        unit="in",
        limit="electrode.footing_cover_in",
        least=True,
        how="Measure from the bar to the nearest earth or form.",
        worst="the bar that lies nearest to the earth",
    ),
    applies=new_house,
    plain="The rebar needs two inches of concrete on every side.",
)

footing_in_earth = look(
    id="footing-in-earth",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("250.52(A)(3)"),
    title="The concrete with the electrode touches the earth",
    why="A sheet of plastic below the footing insulates the electrode.",
    look_for="No vapor barrier, foam or film between the earth and the part of the footing that holds the electrode.",
    cure="Cut the barrier away there, or place the electrode in a part of the footing that touches the earth.",
    applies=new_house,
    mistakes="Insulated forms around the whole foundation.",
    plain="No plastic sheet may lie between the grounding footing and the soil.",
)

footing_tail = look(
    id="footing-tail",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("250.68(A), (C)(3)"),
    title="The tail of the footing electrode comes up where the service will be",
    why="A tail on the wrong side of the house, or cut off by the mason, is no electrode any more.",
    look_for="A bar or copper that stands up inside the wall near the panel, marked so that nobody cuts it, where its clamp will stay reachable.",
    cure="Move the tail to the service's place, and mark it.",
    applies=new_house,
    mistakes="A rebar tail that comes up outside in the earth, where it rusts off.",
    plain="Bring the grounding rebar up near the panel and tag it so nobody cuts it.",
)

slab_raceways = look(
    id="slab-raceways",
    stage=Stage.UNDERGROUND,
    about=Site,
    cites=carried("300.4(F), 300.18"),
    title="Raceways in the slab are at their places, tied and capped",
    why="A stub that ends in the middle of a doorway is there for good, and one full of concrete too.",
    look_for="Stub-ups measured from the plan, tied so that the pour does not float them, ends capped, joints glued, nothing crossing a cut joint.",
    cure="Set, tie and cap the stub-ups before the pour.",
    applies=new_house,
    plain="Pipes in the floor slab must be in the right spot, tied down and capped before the concrete comes.",
)
