"""A pool's wiring beyond its short list: lights under water and their boxes, grounds, cords, heater, cover, chemicals."""

from __future__ import annotations

from server.dwelling import Fixture, FixtureKind, Stage
from server.rules.citing import carried, moved
from server.rules.looks import look, measured
from server.rules.reach import fixture_is
from server.rules.rule import Measure

__all__ = [
    "pool_chemicals",
    "pool_cover_motor",
    "pool_equipment_pit",
    "pool_ground_wire",
    "pool_heater",
    "pool_light_box_away",
    "pool_light_boxes",
    "pool_light_depth",
    "pool_lights_in_water",
    "pool_pump_cord",
    "pool_storable",
]

_POOL = fixture_is(FixtureKind.POOL)
_WATER = fixture_is(FixtureKind.POOL, FixtureKind.HOT_TUB)
_DANGER = "Current in water paralyzes swimmers before they can call. Have pools and hot tubs wired by a licensed electrician."

pool_lights_in_water = look(
    id="pool-lights-in-water",
    stage=Stage.UNDERGROUND,
    about=Fixture,
    cites=carried("680.23(A), (B)"),
    title="Lights under water sit in listed shells, bonded and potted, with cord enough to come up on the deck",
    why="Water creeps along the wire into the shell, and from there into the house.",
    look_for="Listed shell and luminaire, 8 AWG bond outside of it, inside the insulated 8 AWG potted where its raceway is plastic, raceway of a kind "
    "for it, cord that lets the light be laid on the deck. No light: “not here”.",
    cure="Change what is not listed, and pot the bond before the shell is covered.",
    applies=_WATER,
    plain="Pool light shells must be bonded inside and out before they are covered.",
    danger=_DANGER,
)

pool_light_depth = measured(
    id="pool-light-depth",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.23(A)(5)"),
    title="The light's lens is deep enough below the water",
    why="A swimmer who holds on at the edge has the chest before it.",
    look_for="Lights in the wall of the pool; one listed for a lesser depth: “not here”.",
    cure="Use a light that is listed for a lesser depth.",
    measure=Measure(
        unit="in",
        limit="pool.light_depth_in",
        least=True,
        how="Measure from the normal water level to the top of the lens.",
        worst="the light that is nearest to the surface",
    ),
    applies=_WATER,
    plain="Pool lights sit at least 18 inches below the water, unless made for less.",
    danger=_DANGER,
)

pool_light_boxes = look(
    id="pool-light-boxes",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.24"),
    title="Boxes, transformers and GFCIs of lights under water are of the listed kind and high enough",
    why="The raceway ends in the pool: a low box fills like the pool does.",
    look_for="A box listed for pools with its grounding terminals and strain relief, four inches above deck or eight above the water, whichever is higher; "
    "not in a walkway without guard, not straight into a panel.",
    cure="Raise the box, or fit one listed for pools.",
    applies=_WATER,
    mistakes="A box flush in the deck; an ordinary outdoor box.",
    plain="The box for the pool light must be a pool box, well above deck and water.",
    danger=_DANGER,
)

pool_light_box_away = measured(
    id="pool-light-box-away",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.24(A)(2), (B)(2)"),
    title="The light's box stands away from the pool",
    why="Nobody should hold on to it and to the water at once.",
    look_for="The box or transformer whose raceway leads to a light under water; behind a solid fence or wall: “not here”.",
    cure="Move the box away from the pool, or behind a wall.",
    measure=Measure(
        unit="in",
        limit="pool.light_box_in",
        least=True,
        how="Measure level from the inside wall of the pool to the box.",
        worst="the nearest box",
    ),
    applies=_WATER,
    plain="The pool light's box must be at least four feet from the pool.",
    danger=_DANGER,
)

pool_ground_wire = look(
    id="pool-ground-wire",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.21(A), 680.23(F), 680.25"),
    title="Insulated copper grounds run with the circuits of the pool's lights and pump, and back to the house's panel",
    why="Chlorine eats a bare wire, and nobody sees when it is gone.",
    look_for="Green insulated copper of 12 AWG and larger with the circuits of lights and (where chemicals are) of motors; an insulated ground in "
    "the feeder of the pool's panel; raceways, not ordinary cable, outdoors.",
    cure="Pull an insulated copper ground.",
    applies=_WATER,
    mistakes="UF cable with its bare ground to the pump; an old feeder whose ground is bare.",
    plain="Pool circuits need a green insulated copper ground wire.",
    danger=_DANGER,
)

pool_chemicals = look(
    id="pool-chemicals",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.14"),
    title="Where pool chemicals are kept the wiring withstands them",
    why="Chlorine in a shed turns steel boxes to rust in two summers.",
    look_for="Rooms and pits of chemicals and pumps: plastic or other raceways for corrosive places, boxes and panel of such a kind, lids on the tubs.",
    cure="Move chemicals or wiring, or change to a kind for corrosive places.",
    applies=_WATER,
    plain="Do not store chlorine beside ordinary electrical boxes.",
)

pool_heater = look(
    id="pool-heater",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="680.10", e2020="680.10, 680.28"),
    title="The pool's heater has its circuit, its disconnect and its protection",
    why="It touches the water with metal.",
    look_for="Electric heater or heat pump: elements split to 48 A and 60 A breakers, wire and breaker a quarter above its load. Gas heater on 120 V: GFCI "
    "from 2020 on. Bonded either way. No heater: “not here”.",
    cure="Fit circuit and protection by its nameplate.",
    applies=_WATER,
    plain="Check the pool heater's circuit, shut-off and bond.",
    danger=_DANGER,
)

pool_cover_motor = look(
    id="pool-cover-motor",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.27, 680.22(D)"),
    title="The cover's motor, loudspeakers and deck heaters keep their distances",
    why="All of them are wired, and all of them are within a swimmer's reach.",
    look_for="Cover motor five feet from the inside wall or behind a wall, on GFCI, its switch where one sees the whole pool; speakers of a listed kind; deck "
    "heaters five feet off and never above the water; outlets of telephone, signals and remote controls ten feet off. None of them: “not here”.",
    cure="Move it, or part it from the pool by a permanent barrier.",
    applies=_WATER,
    plain="Pool cover motors, speakers and patio heaters have to keep away from the water.",
    danger=_DANGER,
)

pool_equipment_pit = look(
    id="pool-equipment-pit",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.12"),
    title="Rooms and pits of the pool's equipment drain, and have a receptacle",
    why="A pit that fills drowns the motor and electrifies its lid.",
    look_for="A drain or slope that keeps water out in every season; from 2020 on a GFCI receptacle on a general circuit. None: “not here”.",
    cure="Drain the pit, or raise the equipment.",
    applies=_WATER,
    plain="A pool pump pit must not collect water.",
)

pool_pump_cord = measured(
    id="pool-pump-cord",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.8(A)"),
    title="The cord of a pump that is plugged in is short",
    why="A long one ends up in the water or under the mower.",
    look_for="Fixed pumps and heaters with cord and plug: copper ground of 12 AWG, grounding plug. Wired in, or a pool that is put away in winter: “not here”.",
    cure="Fit a shorter cord by the maker's kit, or wire the pump in.",
    measure=Measure(
        unit="in",
        limit="pool.cord_most_in",
        least=False,
        how="Measure the cord from the pump to the face of its plug.",
        worst="the longest cord",
    ),
    applies=_POOL,
    plain="A pool pump's cord may be at most three feet long.",
    danger=_DANGER,
)

pool_storable = look(
    id="pool-storable",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("680.31, 680.32, 680.34"),
    title="A pool that is put away has a double-insulated pump with GFCI in its plug, and no receptacle near",
    why="It is filled by the owner in an afternoon, and nobody inspects it again.",
    look_for="Pump marked double insulated, GFCI as part of its plug, no extension cord, all receptacles within twenty feet on GFCI and none within six. A pool "
    "built in: “not here”.",
    cure="Change the pump for a listed one, and add a GFCI receptacle in its band.",
    applies=_POOL,
    mistakes="An extension cord over the fence.",
    plain="Plug an above-ground pool's pump straight into a GFCI outlet six feet or more away.",
    danger=_DANGER,
)
