"""The grounding electrodes of the house, and the conductor that leads to them."""

from __future__ import annotations

from server.dwelling import Dwelling, Site, Stage
from server.editions import Edition
from server.reckon.work import Work
from server.rules.citing import carried, held, moved
from server.rules.looks import look, measured
from server.rules.outcome import Lazily
from server.rules.rule import Measure
from server.rules.service_sizes import service_conductors, service_panels, sized_look, sizes_for

__all__ = [
    "electrode_conductor_continuous",
    "electrode_conductor_protected",
    "electrode_conductor_raceway",
    "electrode_conductor_size",
    "electrode_connections_reached",
    "electrodes_all_joined",
    "lone_rod_resistance",
    "rod_clamp",
    "rod_driven_flush",
    "rod_kind",
    "rod_length",
    "rod_second",
    "rods_apart",
]

electrodes_all_joined = look(
    id="electrodes-all-joined",
    stage=Stage.SERVICE,
    about=Site,
    cites=held("250.50"),
    title="Every electrode that the house has is joined into one system",
    why="Two electrodes that are not joined stand at different voltages when lightning comes.",
    look_for="Footing steel, metal water pipe in the earth, ground ring, rods, the steel of a deep well: all that are there, bonded together. A water "
    "pipe has another electrode beside it.",
    cure="Join the missing electrode with a conductor of its size.",
    mistakes="Two rods driven beside footing steel that nobody connected.",
    plain="Whatever grounding the house has, rods, rebar, water pipe, must be tied together.",
)

rod_second = look(
    id="second-rod",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.53(A)(2)"),
    title="A rod is not alone",
    why="One rod in dry soil is hardly a ground at all.",
    look_for="A second rod or another electrode, unless a test of the first is on paper. “Not here” where no rod is used.",
    cure="Drive a second rod and join it to the first.",
    plain="Drive two ground rods, not one.",
    danger="Have buried lines marked before you drive a rod.",
)

lone_rod_resistance = measured(
    id="lone-rod-resistance",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.53(A)(2) Exception"),
    title="A rod that stands alone has been tested",
    why="Only a test shows what the soil does.",
    look_for="Where a single rod is the only electrode: the figure of an earth tester. With a second one record “not here”: nothing is to be tested.",
    cure="Drive a second rod and join it to the first.",
    measure=Measure(
        unit="ohm",
        limit="electrode.lone_rod_ohm",
        least=False,
        how="With an earth tester and its two stakes, the rod disconnected from the service, power off.",
        worst="the only rod",
    ),
    mistakes="Measuring with a multimeter to the neutral.",
    plain="If you use only one rod it must be tested. Two rods are simpler.",
    danger="Never disconnect the electrode of a live service.",
)

rods_apart = measured(
    id="rods-apart",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.53(A)(3), (B)"),
    title="Rods stand far enough apart",
    why="Two rods side by side use the same soil.",
    look_for="The distance between rods, and to the electrode of any other system.",
    cure="Drive the second rod farther away; twice the length of a rod is better still.",
    measure=Measure(
        unit="in",
        limit="electrode.rods_apart_in",
        least=True,
        how="Measure between the rods at the ground.",
        worst="the two rods that stand nearest to each other",
    ),
    plain="Ground rods must be at least six feet apart.",
)

rod_length = measured(
    id="rod-length",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2017="250.53(G)", e2020="250.53(A)(4)"),
    title="The rod is in the earth with its full length",
    why="A rod that was sawn off at a rock is a stake.",
    look_for="The length stamped near the top, driven all the way; at rock it may slant up to forty-five degrees or lie in a trench two and a half feet deep.",
    cure="Drive a full rod at a slant or lay it in a trench.",
    measure=Measure(
        unit="in",
        limit="electrode.rod_length_in",
        least=True,
        how="Read the length on the rod before it is driven; what stands out of the earth does not count.",
        worst="the rod that stands out farthest",
    ),
    mistakes="Cut off with a grinder when it would not go on.",
    plain="Eight feet of each ground rod must be in the soil.",
    danger="Have buried lines marked before you drive a rod.",
)

rod_driven_flush = look(
    id="rod-driven-flush",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2017="250.53(G)", e2020="250.53(A)(4)"),
    title="Rod and clamp are at or below the ground, or guarded",
    why="A mower takes the clamp off.",
    look_for="The top flush with the ground or below; standing out only where something guards rod and conductor.",
    cure="Drive the rod deeper, or guard it.",
    plain="The top of the rod should be at or below ground level.",
)

rod_clamp = look(
    id="rod-clamp",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.70, 250.12, 250.8"),
    title="The clamp is listed for its rod and the earth, tight, on clean metal",
    why="A hose clamp rusts through in two winters, and nobody sees it.",
    look_for="A clamp marked for the rod's metal and size and for direct burial where it is in the earth; one conductor in it unless it is made for more.",
    cure="Change the clamp for a listed one, on bare metal.",
    mistakes="A water-pipe clamp on a rod; two conductors under an acorn clamp.",
    plain="Use a proper ground-rod clamp and tighten it well.",
)

rod_kind = look(
    id="rod-kind",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.52(A)(5), (B)"),
    title="The rod is one that may be an electrode",
    why="Reinforcing steel rusts through in the earth, and a gas pipe must not carry lightning.",
    look_for="A rod of copper-clad steel, stainless or zinc-coated steel five eighths thick (half an inch where it is listed), or a listed plate or pipe. Not rebar, not aluminum, "
    "not the gas pipe, not the steel of a pool. No rod: “not here”.",
    cure="Drive a listed rod beside it.",
    mistakes="A length of rebar left over from the footing, driven like a rod.",
    plain="Use real ground rods, not rebar.",
    danger="Have buried lines marked before you drive a rod.",
)


def _electrode(rating_a: int, house: Dwelling, code: Edition, work: Work) -> Lazily:
    cable = service_conductors(service_panels(house)[0], house)
    if cable is not None:
        found = sizes_for(rating_a, house, code, work, material=cable.material, installed=cable.awg)
    else:
        found = sizes_for(rating_a, house, code, work)
    sizes = found.grounding
    return Lazily(
        lambda: (
            f"{sizes.gec_copper} AWG copper or {sizes.gec_aluminum} AWG aluminum for {found.conductor} "
            f"{found.material} service conductors; {sizes.gec_to_rod} copper is enough to rods alone, "
            f"{sizes.gec_to_concrete} copper to a footing alone"
        )
    )


electrode_conductor_size = sized_look(
    id="electrode-conductor-size",
    stage=Stage.SERVICE,
    cites=carried("250.66"),
    title="The grounding electrode conductor is large enough",
    why="It must not melt when the utility's primary falls onto the service.",
    look_for="The size of the conductor to each electrode against what the service conductors ask for.",
    cure="Run a larger conductor to that electrode.",
    sizes=_electrode,
    mistakes="6 AWG to the water pipe of a 200 A service because it is enough for the rods.",
    plain="The wire to the ground rods and pipes must be thick enough for your service.",
)

electrode_conductor_continuous = look(
    id="electrode-conductor-continuous",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.64(C)"),
    title="The grounding electrode conductor runs unbroken",
    why="Every joint is a place where it comes apart unseen.",
    look_for="One length from the service to the electrode, passing on through clamps; joints only irreversible crimps or welds listed for it.",
    cure="Run a new length, or have the joint crimped with a listed connector.",
    mistakes="A split bolt in the crawl space.",
    plain="The ground wire must be one piece.",
)

electrode_conductor_protected = look(
    id="electrode-conductor-protected",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.64(A), (B)"),
    title="The grounding electrode conductor is fastened and protected",
    why="It is copper on an outside wall: mowed, kicked and stolen.",
    look_for="Stapled along the surface; in raceway where it can be struck, always when it is smaller than 6 AWG; aluminum not in the earth nor within a foot and a "
    "half of it.",
    cure="Fasten it, and put the exposed stretch into Schedule 80 or metal raceway.",
    plain="Staple the ground wire down and protect it near the ground.",
)

electrode_conductor_raceway = look(
    id="electrode-conductor-raceway",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.64(E)"),
    title="Metal pipe around the electrode conductor is bonded to it at both ends",
    why="Steel around a lone conductor chokes the surge that it should lead away.",
    look_for="At each end of a metal raceway: a clamp or bonding bushing that joins it to the conductor. “Not here” for plastic or none.",
    cure="Bond the raceway at both ends, or change it for Schedule 80.",
    mistakes="A steel sleeve two feet long, bonded nowhere.",
    plain="If the ground wire is in metal pipe, bond the pipe to it at both ends.",
)

electrode_connections_reached = look(
    id="electrode-connections-reached",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.68(A)"),
    title="The connections to the electrodes can be reached",
    why="The plumber knocks a clamp off behind the drywall, and nobody knows.",
    look_for="Every clamp in the open or behind a panel; those buried or in concrete are let off.",
    cure="Open an access at the clamp, or move it.",
    plain="You must be able to get to the ground clamps.",
)
