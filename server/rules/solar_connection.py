"""Where a solar array or a battery joins the house: breaker, busbar, disconnects, shutdown, signs."""

from __future__ import annotations

from fractions import Fraction

from server.dwelling import Circuit, Dwelling, Fixture, FixtureKind, Panel, Site, Stage
from server.editions import Edition
from server.reckon.figures import percent_of
from server.reckon.work import SILENT, Work
from server.rules.citing import DEPARTMENT, carried, moved
from server.rules.equipment_circuits import NAMEPLATE, SAYS, circuit_for, judge_rating, not_recorded
from server.rules.job_facts import house_has
from server.rules.looks import by_look, look, measured, observed
from server.rules.outcome import Missing, Outcome, clear, correction, outside
from server.rules.reach import fixture_is
from server.rules.rule import Kind, Measure, rule

__all__ = [
    "power_sources_plaque", "solar_ac_label", "solar_arc_and_ground_fault", "solar_breaker_rating", "solar_busbar",
    "solar_dc_label", "solar_disconnect", "solar_inverter_disconnect", "solar_inverter_place", "solar_raceway_labels",
    "solar_rapid_shutdown", "solar_rapid_shutdown_label", "solar_utility_disconnect", "source_breaker_end",
    "source_supply_side",
]  # fmt: skip

_SOURCES = frozenset({FixtureKind.SOLAR_ARRAY, FixtureKind.ENERGY_STORAGE})
_SOLAR = fixture_is(FixtureKind.SOLAR_ARRAY)
_SOURCE = fixture_is(FixtureKind.SOLAR_ARRAY, FixtureKind.ENERGY_STORAGE)
_BUSBAR = moved(e2017="705.12(B)(2)(3)", e2020="705.12(B)(3)", e2023="705.12(B)")
_LIVE = (
    "With two sources the panel stays live from one when the other is off. Its cover is for qualified people."
)
_BUS = Missing("the rating of the panel's busbars", "panel.bus_a")
_MAIN = Missing("the rating of what feeds the panel", "panel.main_a")
_BREAKERS = Missing("the rating of every breaker in its panel", "circuit.rating_a")


@rule(
    id="solar-breaker-rating",
    stage=Stage.ROUGH_IN,
    about=Fixture,
    cites=moved(e2017="690.9(B), 705.60", e2020="690.9(B), 705.28, 705.30"),
    title="The circuit of a solar array or battery is rated for its full output without a rest",
    why="On a clear day an inverter gives all it has for hours; a breaker that carries its rating so long trips or bakes.",
    look_for="The output on the inverter's nameplate, and a quarter more, against breaker and wire.",
    cure="Run a larger circuit, or limit the inverter's output to what the circuit carries.",
    says=SAYS,
    mistakes="Ten small inverters on a branch whose maker allows eight.",
    plain="Take the inverter's amps, add a quarter: the breaker must be at least that.",
)
def solar_breaker_rating(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The circuit's rating against 125 percent of the source's output current."""
    if fixture.kind not in _SOURCES:
        return outside("other-kind", kinds="solar arrays and batteries")
    circuit = circuit_for(fixture, house)
    if isinstance(circuit, Missing):
        return not_recorded(circuit)
    if fixture.va is None:
        return not_recorded(NAMEPLATE)
    return judge_rating(fixture.va, "solar.source_percent", circuit, code, work)


def _ahead_a(panel: Panel, house: Dwelling) -> int | None:
    feeder = house.circuits.get(panel.fed_by_circuit_id) if panel.fed_by_circuit_id else None
    return panel.main_a if panel.main_a is not None else feeder.rating_a if feeder else None


def _sources_in(panel: Panel, house: Dwelling) -> list[tuple[Fixture, Circuit]] | Missing:
    """The sources whose circuits end in a panel."""
    found = []
    for fixture in house.facts.fixtures:
        if fixture.kind in _SOURCES:
            circuit = circuit_for(fixture, house)
            if isinstance(circuit, Circuit) and circuit.panel_id == panel.id:
                if fixture.va is None:
                    return NAMEPLATE
                found.append((fixture, circuit))
    return found


@rule(
    id="solar-busbar",
    stage=Stage.SERVICE,
    about=Fixture,
    kind=Kind.SEEN,
    cites=_BUSBAR,
    title="The panel's busbars carry the main and the solar array or battery together",
    why="Two sources meet on the busbar, and no breaker there knows what the other gives: it burns with every breaker on.",
    look_for="A quarter above the sources' current and the main together, against a fifth above the busbar's rating; or all breakers but the main against the "
    "rating. More than that only with a power control system on paper.",
    cure="Fit a smaller main, a panel with larger busbars, a listed power control system, or connect ahead of the main.",
    says={
        "carries": "Main {main_a:n} A and {source_a:n} A for the sources make {sum_a:n} A; the busbars of {bus_a:n} A may have {most_a:n} A.",
        "breakers-fit": "Main and sources make {sum_a:n} A of {most_a:n} A, but all breakers besides the main come to {breakers_a:n} A on busbars of {bus_a:n} A.",
        "too-much": "Main {main_a:n} A and {source_a:n} A for the sources make {sum_a:n} A; the busbars of {bus_a:n} A may have {most_a:n} A.",
        "looked-right": "{who} saw how it is controlled and found it right{noted}.",
        "looked-wrong": "{who} looked and found it wrong{noted}.",
        "not-recorded": "It is not recorded: {what}.",
        "other-kind": "Only {kinds} are meant.",
    },
    mistakes="A 60 A array on a 200 A panel with a 200 A main: 260 of 240 A.",
    plain="Main breaker plus solar breaker may not be more than 120 percent of the number on the panel.",
    danger=_LIVE,
)  # fmt: skip
def solar_busbar(fixture: Fixture, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """Main and 125 percent of all sources of the panel against 120 percent of its busbars; else the breakers' sum."""
    if fixture.kind not in _SOURCES:
        return outside("other-kind", kinds="solar arrays and batteries")
    seen = observed(house, fixture, "solar-busbar")
    if seen is not None:
        return by_look(seen)
    circuit = circuit_for(fixture, house)
    if isinstance(circuit, Missing):
        return not_recorded(circuit)
    panel = house.panels.get(circuit.panel_id)
    if panel is None or panel.bus_a is None:
        return not_recorded(_BUS)
    main_a, sources = _ahead_a(panel, house), _sources_in(panel, house)
    if main_a is None:
        return not_recorded(_MAIN)
    if isinstance(sources, Missing):
        return not_recorded(sources)
    given_a = sum((source.va or Fraction(0)) / each.volts for source, each in sources)
    source_a = percent_of(code.number("solar.source_percent", work), Fraction(given_a))
    most_a = percent_of(code.number("solar.busbar_percent", work), Fraction(panel.bus_a))
    sum_a = main_a + source_a
    if work:
        work.step(f"the sources' output {float(given_a):g} A, with a quarter more", source_a, "A", code.cites("solar.source_percent"))  # fmt: skip
        work.step(f"and {main_a} A ahead of the panel", sum_a, "A")
        work.step(f"busbars {panel.bus_a} A: the most", most_a, "A", code.cites("solar.busbar_percent"))
    cites, confidence = code.cites("solar.busbar_percent"), code.confidence("solar.busbar_percent")
    if sum_a <= most_a:
        return clear(
            "carries", cites=cites, confidence=confidence, main_a=main_a, source_a=source_a, sum_a=sum_a,
            bus_a=panel.bus_a, most_a=most_a,
        )  # fmt: skip
    ratings = [each.rating_a for each in house.facts.circuits if each.panel_id == panel.id]
    if any(rating is None for rating in ratings):
        return not_recorded(_BREAKERS)
    breakers_a = sum(rating or 0 for rating in ratings)
    if work:
        work.step("all breakers but the main", breakers_a, "A", code.cites("solar.source_percent"))
    if breakers_a <= panel.bus_a:
        return clear(
            "breakers-fit", confidence=confidence, sum_a=sum_a, most_a=most_a, breakers_a=breakers_a,
            bus_a=panel.bus_a,
        )  # fmt: skip
    return correction(
        "too-much", cites=cites, confidence=confidence, main_a=main_a, source_a=source_a, sum_a=sum_a,
        bus_a=panel.bus_a, most_a=most_a,
    )  # fmt: skip


source_breaker_end = look(
    id="source-breaker-end",
    stage=Stage.FINAL,
    about=Fixture,
    cites=_BUSBAR,
    title="The breaker of a solar array or battery is at the far end from the main, and says that it stays there",
    why="Only there the two currents do not add up in one stretch of busbar.",
    look_for="The breaker at the other end of the busbars, a label that it must not be moved; a breaker that may be fed from either side. Other way of connecting: “not here”.",
    cure="Move the breaker to the far end and put the label beside it.",
    applies=_SOURCE,
    mistakes="The solar breaker in the first free space, next to the main.",
    plain="The solar breaker goes at the opposite end from the main, with its warning label.",
    danger=_LIVE,
)

source_supply_side = look(
    id="source-supply-side",
    stage=Stage.SERVICE,
    about=Fixture,
    cites=moved(e2017="705.12(A)", e2020="705.11"),
    title="A connection ahead of the main is made as a service is",
    why="Nothing but the utility's fuse is ahead of it.",
    look_for="Conductors not smaller than the least for it, short, in metal or outside, to a fused disconnect for services with its bond; taps of a listed kind; "
    "the utility's consent. Connected behind the main: “not here”.",
    cure="Have it rebuilt as a service: sizes, disconnect, bond, listed taps.",
    applies=_SOURCE,
    mistakes="Piercing taps in a meter base that is not listed for them.",
    plain="If the solar connects before the main breaker, it must be built like a second main. Licensed work.",
    danger="These conductors cannot be turned off by anybody but the utility. Work for a licensed electrician.",
)

solar_disconnect = look(
    id="solar-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.13"),
    title="The array has a disconnect that is readily reached and marked",
    why="Whoever fights a fire or mends the panel turns everything off that can be turned off.",
    look_for="A switch or breaker outdoors or nearest to where the wires come in, “PV system disconnect” on it; a warning where both sides may be live.",
    cure="Set the disconnect where it is reached, and mark it.",
    applies=_SOLAR,
    plain="There must be a labeled solar shut-off that is easy to reach.",
)

solar_utility_disconnect = look(
    id="solar-utility-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=DEPARTMENT,
    title="The utility's own switch is where it asks for it",
    why="Many utilities lock it open before their people work on the line.",
    look_for="A visible-blade, lockable switch near the meter, marked as the utility's sheet says. Where the utility wants none: “not here”.",
    cure="Set the switch that the utility's sheet shows.",
    applies=_SOLAR,
    plain="Many power companies want a lockable solar switch next to the meter.",
)

solar_inverter_disconnect = look(
    id="solar-inverter-disconnect",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.15"),
    title="Inverter and combiner can be cut off from both sides",
    why="Whoever changes an inverter stands between two sources.",
    look_for="Direct and alternating current each with a disconnect within sight or in the inverter; fuses that can be pulled dead; small inverters by their plugs.",
    cure="Fit the missing isolating device at the inverter.",
    applies=_SOLAR,
    plain="The inverter needs a shut-off on both sides.",
)

solar_inverter_place = look(
    id="solar-inverter-place",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("110.3(B), 110.26(A)"),
    title="The inverter hangs as its leaflet says, with room to work before it",
    why="It throttles and dies of heat in a closet, and is opened live to find a fault.",
    look_for="Clearances of the leaflet, a wall that carries and does not burn, its rating for rain or sun, three feet free before it. Small inverters below modules: “not here”.",
    cure="Move the inverter, or what stands around it.",
    applies=_SOLAR,
    plain="Leave space around the inverter for air and for a person.",
)

solar_rapid_shutdown = look(
    id="solar-rapid-shutdown",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.12"),
    title="Rapid shutdown works from one place outdoors",
    why="Firemen cut through a roof with wires in it; after the switch those must be harmless within half a minute.",
    look_for="One switch, outdoors at the service or as the plans show, that starts it; listed equipment on every module or string; tried in the inspector's sight.",
    cure="Fit or commission the missing shutdown parts, and show that it works.",
    applies=_SOLAR,
    mistakes="Transmitter on a circuit that stays on when the main is off.",
    plain="One outside switch must make the roof wires safe. Try it.",
    danger="Even after shutdown the modules themselves give voltage in daylight.",
)

solar_rapid_shutdown_label = look(
    id="solar-rapid-shutdown-label",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="690.56(C)", e2023="690.12(D)"),
    title="The rapid shutdown label and its switch's label are up",
    why="The fire crew has seconds to find it.",
    look_for="The diagram label at the service (or where it directs to), the reflective one on or beside the switch, in letters of their size, in the sun for years.",
    cure="Put up the labels in the colors, words and sizes of the edition.",
    applies=_SOLAR,
    mistakes="Last edition's wording; labels printed on office paper.",
    plain="Put the right rapid-shutdown labels on the meter and the switch.",
)

solar_raceway_labels = measured(
    id="solar-raceway-labels",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="690.31(G)(4)", e2020="690.31(D)(2)"),
    title="Raceways and cables with solar direct current are labeled along their way",
    why="Someone with a saw must know which pipe stays live.",
    look_for="Reflective labels on every exposed raceway, cable, box and fitting cover with direct current, at each section and both sides of walls. None inside or in raceway: “not here”.",
    cure="Add the labels that are missing.",
    measure=Measure(
        unit="in",
        limit="solar.label_every_in",
        least=False,
        how="Measure along the raceway from one label to the next.",
        worst="the longest stretch without a label",
    ),
    applies=_SOLAR,
    plain="Put a solar warning label on the pipes at least every ten feet.",
)

solar_dc_label = look(
    id="solar-dc-label",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="690.53", e2023="690.7(D)"),
    title="A label gives the array's highest voltage",
    why="Whoever opens it chooses meter and gloves by it.",
    look_for="The highest direct-current voltage (and what else the edition asks) at the disconnect or inverter, as on the plans. Only alternating current: “not here”.",
    cure="Put up a lasting label with the figures of the plans.",
    applies=_SOLAR,
    plain="Label the solar disconnect with its highest voltage.",
)

solar_ac_label = look(
    id="solar-ac-label",
    stage=Stage.FINAL,
    about=Fixture,
    cites=moved(e2017="690.54", e2023="690.54, 705.10"),
    title="Where the array joins, a label names it a source, with amperes and volts",
    why="The breaker looks like any other, and is fed from the other side.",
    look_for="“Power source”, rated output current and voltage at the breaker or switch where it is connected; the directory names it too.",
    cure="Put up a lasting label with the inverter's figures.",
    applies=_SOLAR,
    plain="Label the solar breaker as a power source with its amps and volts.",
)

solar_arc_and_ground_fault = look(
    id="solar-arc-and-ground-fault",
    stage=Stage.FINAL,
    about=Fixture,
    cites=carried("690.11, 690.41(B)"),
    title="Arc-fault and ground-fault protection of the array is there and on",
    why="Most roof fires begin as an arc in direct current, which no breaker sees.",
    look_for="The inverter's listing or settings show both; no fault on its screen. No circuits of 80 V and more: “not here”.",
    cure="Turn it on in the settings, or fit equipment that has it.",
    applies=_SOLAR,
    plain="The inverter must have arc-fault protection, turned on, with no error on its screen.",
)

power_sources_plaque = look(
    id="power-sources-plaque",
    stage=Stage.FINAL,
    about=Site,
    cites=carried("705.10, 690.56(B)"),
    title="A plaque at the service shows every power source and where its disconnect is",
    why="Whoever pulls the meter believes the house dead.",
    look_for="A lasting directory at each service and each source: what feeds the house, where it is turned off, with a plan where they are apart.",
    cure="Put up a directory of all sources, and add what came later.",
    applies=house_has(FixtureKind.SOLAR_ARRAY, FixtureKind.ENERGY_STORAGE),
    mistakes="The battery added a year later and not written on it.",
    plain="Put a sign by the meter that shows the solar, the battery and their shut-offs.",
)
