"""What else is written up at a service: one supply, guarded terminals, heights, water, trees, lightning."""

from __future__ import annotations

from server.dwelling import Site, Stage
from server.rules.citing import carried, moved
from server.rules.looks import look, measured
from server.rules.rule import Measure

__all__ = [
    "above_flood_level", "drop_not_on_trees", "equipment_not_reconditioned", "lightning_protection_bonded",
    "one_service", "service_handle_height", "service_line_barriers", "service_raceway_drains",
]  # fmt: skip

one_service = look(
    id="one-service",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.2"),
    title="One service supplies the house, or each says where the others are",
    why="Whoever turns off the only main he sees believes the house dead.",
    look_for="A single drop or lateral; where the utility and the department allowed a second one, a plaque at each that names all of them.",
    cure="Take the second service out, or put up the plaques.",
    plain="A house has one electric service.",
)

service_line_barriers = look(
    id="service-line-barriers",
    stage=Stage.SERVICE,
    about=Site,
    cites=moved(e2017="408.3(A)(2)", e2020="230.62(C)"),
    title="With the main off no live terminal can be touched by chance",
    why="The lugs ahead of the main stay live whatever is turned off.",
    look_for="The maker's barrier over the line lugs of panel or disconnect, seated, with its screws, after the conductors are in.",
    cure="Order and fit the maker's barrier kit.",
    mistakes="The barrier left in the carton, or cut away for large wire.",
    plain="The always-live screws at the main must be covered by the factory's plastic barrier.",
    danger="Line terminals are live with the main off. Looking at them is for qualified people.",
)

service_handle_height = measured(
    id="service-handle-height",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("240.24(A), 404.8(A)"),
    title="The handle of the main disconnect is within reach",
    why="Whoever has to turn the house off stands on the ground.",
    look_for="The middle of the grip at its highest, for the main and every disconnect beside it, from finished ground or a platform that stays.",
    cure="Lower the enclosure, or raise the ground.",
    measure=Measure(
        unit="in",
        limit="panel.handle_most_in",
        least=False,
        how="Measure from where one stands to the middle of the grip in its highest place.",
        worst="the highest handle",
    ),
    plain="You must be able to reach the main switch from the ground.",
)

service_raceway_drains = look(
    id="service-raceway-drains",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.53, 225.22"),
    title="Raceways outdoors keep rain out and let water drain",
    why="Water that comes in at the top stands in the main.",
    look_for="Raintight fittings and threads, no low pocket before the enclosure, the enclosure's drain opening free, service cable not running into the top without a hub.",
    cure="Make the fittings raintight and let the low point drain.",
    plain="Outdoor pipes to the meter must shed water, not lead it in.",
)

drop_not_on_trees = look(
    id="drop-not-on-trees",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("230.10, 225.26"),
    title="No tree or bush carries the conductors outdoors",
    why="It grows, sways and falls.",
    look_for="Drop and overhead wires of our own on poles or the house; branches cut back as the utility asks. Underground: “not here”.",
    cure="Set a pole, or trim what touches the line (near the drop that is the utility's work).",
    plain="Never hang wires on trees. Ask the utility to trim near its line.",
    danger="Keep ladders and saws ten feet from the utility's line.",
)

above_flood_level = look(
    id="above-flood-level",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("IRC R322.1.6, 110.11"),
    title="In a flood zone panel, outlets and equipment are above the flood",
    why="What has stood in water is thrown away, and whoever wades in is killed by it.",
    look_for="The elevation on the permit against meter (as the utility allows), panel, air conditioner, outlets; what must be lower on its own GFCI circuits. No flood zone: “not here”.",
    cure="Raise the equipment above the level on the permit.",
    plain="In a flood area everything electric goes above the marked flood level.",
    danger="Never step into a flooded basement before the utility has cut the power.",
)

lightning_protection_bonded = look(
    id="lightning-protection-bonded",
    stage=Stage.SERVICE,
    about=Site,
    cites=carried("250.106, 250.60"),
    title="A lightning-protection system is joined to the house's electrodes and is none of them",
    why="Two earths stand thousands of volts apart when it strikes.",
    look_for="Its ground terminals bonded to the grounding electrode system; its rods not used as the service's. No lightning protection: “not here”.",
    cure="Bond the two systems together.",
    plain="Lightning rods and the house's ground must be connected.",
)

equipment_not_reconditioned = look(
    id="equipment-not-reconditioned",
    stage=Stage.FINAL,
    about=Site,
    cites=moved(
        e2017="110.21(A)(2)",
        e2020="110.21(A)(2), 240.88, 404.16, 406.3",
        e2023="110.21(A)(2), 240.2, 404.16, 406.2",
    ),
    title="Breakers, switches and receptacles are new, not reconditioned",
    why="What was once flooded or overheated looks like new after a wash.",
    look_for="No mark or carton of reconditioned goods on breakers, GFCI, AFCI, switches and receptacles; where equipment may be, the name and date of who did it.",
    cure="Replace it by new equipment.",
    mistakes="Breakers by the bag from an auction.",
    plain="Buy new breakers and outlets, never used or refurbished ones.",
)
