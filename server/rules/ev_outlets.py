"""Outlets for charging electric vehicles."""

from __future__ import annotations

from server.dwelling import Dwelling, Fixture, FixtureKind, Stage
from server.editions import Edition
from server.reckon.work import SILENT, Work
from server.rules.citing import carried, moved
from server.rules.equipment_circuits import NAMEPLATE, SAYS, circuit_for, judge_rating, not_recorded
from server.rules.looks import look, measured
from server.rules.outcome import Missing, Outcome, outside
from server.rules.reach import fixture_is
from server.rules.rule import Measure, rule

__all__ = [
    "ev_cable_height", "ev_cable_length", "ev_circuit_rating", "ev_disconnect", "ev_enclosure", "ev_listed",
    "ev_setting_marked", "ev_two_way", "ev_ventilated",
]  # fmt: skip

_EV = fixture_is(FixtureKind.EV_CHARGER)


@rule(
    id="ev-circuit-rating",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=carried("625.41, 625.42"),
    title="The car charger's circuit is rated for a load that never rests",
    why="It runs at full current all night. A breaker that carries its rating for hours warms until it trips, or until its screw loosens.",
    look_for="The charger's current as it is set, and a quarter more, against the breaker and its wire.",
    cure="Set the charger to a lower current, or run a larger circuit.",
    says=SAYS,
    mistakes="A 48 A charger on a 50 A breaker.",
    plain="A 32 amp charger needs a 40 amp breaker: always a quarter more.",
)
def ev_circuit_rating(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The circuit's rating against 125 percent of the charger's current."""
    if fixture.kind is not FixtureKind.EV_CHARGER:
        return outside("other-kind", kinds="car chargers")
    circuit = circuit_for(fixture, house)
    if isinstance(circuit, Missing):
        return not_recorded(circuit)
    if fixture.va is None:
        return not_recorded(NAMEPLATE)
    return judge_rating(fixture.va, "equipment.ev_percent", circuit, code, work, fixture.volts)


ev_setting_marked = look(
    id="ev-setting-marked",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("625.42"),
    title="The charger is set to what its circuit carries, and the setting is kept",
    why="Its default is often the highest current, and an update may set it back.",
    look_for="The current set inside or in its program as for this circuit, with access for qualified people only, a label with the figure; load "
    "management commissioned where the service needs it.",
    cure="Set the current to the circuit's and label it.",
    applies=_EV,
    plain="Check that the charger is set for the size of its breaker.",
)

ev_disconnect = look(
    id="ev-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("625.43"),
    title="A charger of more than 60 A has a disconnect within reach",
    why="Whoever services it must be able to lock it off.",
    look_for="Above 60 A or 150 V to ground: a disconnect that can be locked open, readily reached. Smaller ones: “not here”.",
    cure="Set a lockable disconnect near the charger, or a lock on its breaker where it is in sight.",
    applies=_EV,
    plain="A very large charger needs its own shut-off switch.",
)

ev_listed = look(
    id="ev-listed",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="625.5", e2023="625.6"),
    title="The charger is listed, and plugged in only as it may be",
    why="A receptacle for a dryer is not made for six hours at full load every night.",
    look_for="The mark of a testing laboratory; fastened in place; a cord and plug only up to what its instructions allow, into a heavy-duty receptacle.",
    cure="Wire the charger directly, or change the receptacle for one made for charging.",
    applies=_EV,
    mistakes="The cheapest range receptacle: its contacts burn.",
    plain="Use a listed charger. Direct wiring is safer than a plug.",
    danger="A plug or receptacle that is hot to the touch or discolored: stop charging and have it replaced.",
)

ev_cable_height = measured(
    id="ev-cable-height",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("625.50"),
    title="The charging plug hangs high enough",
    why="It is out of puddles, and out of the way of fuel vapor on a garage floor.",
    look_for="Where the connector is stored; outdoors it is higher, as its listing says.",
    cure="Mount the charger or its holder higher.",
    measure=Measure(
        unit="in",
        limit="ev.coupling_least_in",
        least=True,
        how="Measure from the floor to the connector in its holder.",
        worst="the connector's lowest place of storage",
    ),
    applies=_EV,
    plain="The plug should hang at least a foot and a half above the garage floor.",
)

ev_cable_length = measured(
    id="ev-cable-length",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("625.17(C)"),
    title="The charger's cable is no longer than it may be",
    why="A long one lies in the drive, and cars stand on it.",
    look_for="The cable's usable length; on a listed reel or hoist it may be longer: “not here”. No extension cord, ever.",
    cure="Hang the charger nearer to the car, or fit the maker's cable reel.",
    measure=Measure(
        unit="in",
        limit="ev.cable_most_in",
        least=False,
        how="Measure from the charger to the connector, or read the leaflet.",
        worst="the longest cable",
    ),
    applies=_EV,
    plain="A charger's cable may be at most 25 feet long.",
)

ev_ventilated = look(
    id="ev-ventilated",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("625.52"),
    title="Indoors the charger is marked for use without ventilation, or there is a fan",
    why="Some old batteries give off hydrogen while they charge.",
    look_for="“Ventilation not required” on the charger; else the fan that its article asks for, running with it. Outdoors: “not here”.",
    cure="Use a charger that is marked so.",
    applies=_EV,
    plain="Check that the charger's label says ventilation is not required.",
)

ev_enclosure = look(
    id="ev-enclosure",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("625.50, 110.3(B), 110.27(B)"),
    title="The charger is fastened, in an enclosure for its place, out of the car's way",
    why="A bumper tears it off the wall with its wires live.",
    look_for="Bolts into studs, a rain mark and sealed entry outdoors, beside the car's way or behind a post, its cable hook.",
    cure="Move it or set a post, and seal its entry.",
    applies=_EV,
    plain="Mount the charger firmly where a car cannot hit it.",
)

ev_two_way = look(
    id="ev-two-way",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("625.48, 702, 705"),
    title="A charger that feeds the house back is listed for it and cut off from the street",
    why="The car is then a generator.",
    look_for="Charger and transfer or island switch listed for feeding the house, the sign at the service, the utility's consent. One that only charges: “not here”.",
    cure="Leave the feature off until the listed switch is in.",
    applies=_EV,
    plain="If your car can power the house, it needs a listed transfer switch.",
    danger="A car that feeds the street kills linemen. Never use a cord with two plugs.",
)
