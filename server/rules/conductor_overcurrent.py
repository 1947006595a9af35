"""Conductors against the breaker of their circuit, as they are run; receptacles against the circuit they are on."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from server.dwelling import (
    RECEPTACLE_RATINGS,
    Answer,
    Cable,
    Circuit,
    Device,
    DeviceKind,
    Dwelling,
    Fixture,
    FixtureKind,
    Stage,
)
from server.editions import Edition
from server.reckon.ampacity import reckon_ampacity
from server.reckon.conductor_run import ConductorRun
from server.reckon.conductor_sizes import ConductorError
from server.reckon.figures import percent_of
from server.reckon.overcurrent import ProtectedCircuit, reckon_overcurrent
from server.reckon.overcurrent_ratings import Exemption, most_device_a, receptacle_fault
from server.reckon.remembered import remembered
from server.reckon.work import SILENT, Work
from server.rules.circuit_outlets import outlets_of
from server.rules.citing import carried
from server.rules.looks import observed
from server.rules.naming import cable_name, circuit_name
from server.rules.outcome import Lazily, Missing, Outcome, clear, correction, outside, unseen
from server.rules.rule import Kind, rule

__all__ = ["conductor_overcurrent", "receptacle_rating"]

_MARKED_C = 75
"""The temperature that the terminals of most breakers and panels are marked for (110.14(C)); it has to be seen."""
_RECEPTACLES = (Fraction(15), Fraction(15))
"""With two or more nothing is rounded up, however many there are (240.4(B)(1))."""
_COOLING = (FixtureKind.AIR_CONDITIONER, FixtureKind.HEAT_PUMP, FixtureKind.MINI_SPLIT)
_STEADY = {
    FixtureKind.EV_CHARGER: "equipment.ev_percent",
    FixtureKind.ELECTRIC_HEAT: "equipment.heat_percent",
    FixtureKind.FLOOR_HEATING: "equipment.heat_percent",
    FixtureKind.WATER_HEATER: "equipment.water_heater_percent",
}
"""Equipment that runs for hours, and the edition's percentage of its current that circuit and wire are made for."""


@dataclass(frozen=True, slots=True)
class _Carries:
    """What a run may carry and be protected at (None: no device may protect it). ``plain_a`` is what it carries at
    its terminals, before warmth and neighbors are counted: 125 percent of a steady load are held against that."""

    allowed_a: Fraction
    most_a: Fraction | None
    plain_a: Fraction


@dataclass(frozen=True, slots=True)
class _Load:
    """What runs for hours on a circuit, and the part more that its wire is made for (210.19(A))."""

    total_a: Fraction
    design_a: Fraction


_NO_LOAD = _Load(Fraction(0), Fraction(0))


def run_of(cable: Cable) -> ConductorRun:
    """The cable as it is run: bundled with others, in insulation, in a warm place, as recorded."""
    each = 2 if len(cable.circuit_ids) > 1 or cable.insulated < 3 else cable.insulated
    together = None if cable.bundled_with is None else each * (cable.bundled_with + 1)
    return ConductorRun(
        awg=cable.awg or "",
        material=cable.material,
        kind=cable.kind,
        ambient_f=None if cable.ambient_f is None else Fraction(cable.ambient_f),
        current_carrying=together,
        in_insulation=bool(cable.in_insulation),
        together_in=cable.bundled_length_in,
        cables=None if cable.bundled_with is None else cable.bundled_with + 1,
        each_cable=each,
        as_nm=True,
    )


def _nameplate(circuit: Circuit, house: Dwelling) -> Fraction | None:
    """The largest device marked on the air conditioner that a circuit serves alone."""
    outlets = outlets_of(circuit, house)
    if len(outlets) != 1 or outlets[0].fixture is None or outlets[0].fixture.kind not in _COOLING:
        return None
    return outlets[0].fixture.maximum_overcurrent_a


def _several(circuit: Circuit, house: Dwelling) -> tuple[Fraction, ...]:
    """The receptacles of a circuit, as far as rounding up asks for them."""
    receptacles = sum(
        outlet.device.receptacles for outlet in outlets_of(circuit, house) if outlet.is_receptacle
    )
    return _RECEPTACLES[: min(receptacles, 2)]


def _carries(
    cable: Cable,
    circuit: Circuit,
    house: Dwelling,
    code: Edition,
    work: Work,
    *,
    terminal_c: int | None = None,
) -> _Carries:
    run = run_of(cable)
    if terminal_c is not None:
        run = replace(run, terminal_c=terminal_c)
    several = _several(circuit, house)
    nameplate = _nameplate(circuit, house)
    return _reckoned(run, several, nameplate, code, work) if work else _known(run, several, nameplate, code)


def _reckoned(
    run: ConductorRun,
    receptacles: tuple[Fraction, ...],
    nameplate_a: Fraction | None,
    code: Edition,
    work: Work,
) -> _Carries:
    found = reckon_ampacity(run, code, work)
    exempt = Exemption.AC if nameplate_a is not None else None
    most_a = most_device_a(
        found.allowed_a, run, receptacles, code, work, exempt=exempt, nameplate_most_a=nameplate_a
    )
    limits = (found.table_a, found.terminal_limit_a, found.cable_limit_a)
    return _Carries(found.allowed_a, most_a, min(limit for limit in limits if limit is not None))


@remembered(4096)
def _known(
    run: ConductorRun, receptacles: tuple[Fraction, ...], nameplate_a: Fraction | None, code: Edition
) -> _Carries:
    """Most cables of a house are run like many others."""
    return _reckoned(run, receptacles, nameplate_a, code, SILENT)


def _load_on(cable: Cable, circuit: Circuit, house: Dwelling, code: Edition, work: Work) -> _Load:
    """What runs for hours beyond a cable, where its circuit is rated for it (else that is what has to be said)."""
    heavy: dict[str, Fixture] = {}
    for outlet in outlets_of(circuit, house):
        fixture = outlet.fixture
        if fixture is not None and fixture.kind in _STEADY and fixture.va and not fixture.fuel_burning:
            heavy[fixture.id] = fixture
    if len(heavy) > 1 and circuit.panel_id not in (cable.a_panel_id, cable.b_panel_id):
        return _NO_LOAD  # a part of the way carries a part of the load
    total_a = design_a = Fraction(0)
    for fixture in heavy.values():
        assert fixture.va is not None
        amperes = fixture.va / (fixture.volts or circuit.volts)
        total_a += amperes
        design_a += percent_of(code.number(_STEADY[fixture.kind], work), amperes)
    assert circuit.rating_a is not None
    if design_a > circuit.rating_a:
        return _NO_LOAD
    if work and design_a:
        work.step("What it feeds runs for hours: its current and the part more", design_a, "A", "210.19(A)")
    return _Load(total_a, design_a)


def _does(found: _Carries, circuit: Circuit, load: _Load) -> bool:
    """Whether device and load go with what a run carries."""
    assert circuit.rating_a is not None
    if found.most_a is None or circuit.rating_a > found.most_a:
        return False
    return found.plain_a >= load.design_a and found.allowed_a >= load.total_a


def _cure(
    cable: Cable, circuit: Circuit, most_a: Fraction | None, load: _Load, house: Dwelling, code: Edition
) -> str:
    assert circuit.rating_a is not None
    total = load.total_a or None
    asked = ProtectedCircuit(
        run_of(cable), total, load.total_a, _several(circuit, house), Fraction(circuit.rating_a)
    )
    smallest = reckon_overcurrent(asked, code).min_conductor_awg
    ways = []
    if smallest:
        ways.append(f"run {smallest} AWG {cable.material} for this circuit")
    if most_a is not None and load.design_a <= most_a < circuit.rating_a:
        ways.append(f"put the circuit on a breaker of at most {float(most_a):g} A, if its outlets allow that")
    text = ", or ".join(ways) or "run a larger conductor for this circuit"
    return f"{text[0].upper()}{text[1:]}."


@rule(
    id="conductor-overcurrent",
    stage=Stage.ROUGH_IN,
    about=Cable,
    kind=Kind.SEEN,
    cites=carried("240.4"),
    title="The wire is large enough for its breaker",
    why="The breaker protects the wire. One that is too large for it lets the wire burn before it trips.",
    look_for="14 AWG copper on 15 A, 12 on 20 A, 10 on 30 A, all the way to the last box; larger where many cables lie "
    "together, in insulation or in heat. Aluminum is larger for the same breaker.",
    cure="Run the larger wire that the breaker asks for, or fit a breaker that suits the wire.",
    says={
        "fits": "It carries {allowed_a:n} A as it is run and may be protected at {most_a:n} A; the circuit is on {rating_a:n} A.",
        "too-small": "The {cable} carries {allowed_a:n} A as it is run and may be protected at {most:n} A; {circuit} is on {rating_a:n} A.",
        "load": "The {cable} carries {plain_a:n} A at its terminals and {allowed_a:n} A as it is run. What it feeds takes {load_a:n} A "
        "for hours, and its wire is made for {design_a:n} A.",
        "nameplate": "The nameplate allows {most:n} A, which this breaker is above: that is written up at the equipment, whose least ampacity the wire is held to.",
        "unprotectable": "The {cable} has no ampacity as it is run.",
        "size-not-recorded": "The wire size of this cable is not recorded.",
        "no-circuit": "This cable is on no recorded circuit.",
        "rating-not-recorded": "What {circuit} is rated is not recorded.",
        "no-such-wire": "The wire cannot be judged: {problem}.",
        "terminals": "It may be protected at {most:n} A where the terminals at both ends are marked for 75 °C, which its {rating_a:n} A circuit or its load needs; nobody has looked.",
    },
    cures={"too-small": "{cure}", "load": "{cure}", "unprotectable": "{cure}"},
    mistakes="A tail of 14 AWG to a light on a 20 A circuit; a short piece of old aluminum left in the run.",
    plain="The number on the breaker must suit the thickness of the wire: 14 gauge for 15 amps, 12 gauge for 20.",
    danger="Do not exchange a breaker for a larger one because it trips: that is how houses burn.",
)
def conductor_overcurrent(cable: Cable, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The cable's allowed overcurrent device against the ratings of its circuits."""
    circuits = [house.circuits[each] for each in cable.circuit_ids if each in house.circuits]
    if not circuits:
        return unseen("no-circuit", Missing("which circuit it is on", "cable.circuit_ids"))
    if cable.awg is None:
        return unseen("size-not-recorded", Missing("the wire size of the cable", "cable.awg"))
    fits: Outcome | None = None
    for circuit in circuits:
        name = circuit_name(circuit) if circuit.rating_a is None else ""
        if circuit.rating_a is None:
            return unseen(
                "rating-not-recorded", Missing("the rating of the circuit", "circuit.rating_a"), circuit=name
            )
        try:
            found = _carries(cable, circuit, house, code, work)
        except ConductorError as error:
            return unseen(
                "no-such-wire", Missing("the wire size of the cable", "cable.awg"), problem=str(error)
            )
        nameplate_a = _nameplate(circuit, house)
        if nameplate_a is not None and circuit.rating_a > nameplate_a:
            return outside("nameplate", most=nameplate_a)
        load = _load_on(cable, circuit, house, code, work)
        if not _does(found, circuit, load):
            warmer = _carries(cable, circuit, house, code, SILENT, terminal_c=_MARKED_C)
            if not _does(warmer, circuit, load):
                return _too_small(cable, circuit, found, load, house, code)
            found = warmer
            seen = observed(house, cable, "conductor-overcurrent")
            if seen is None or seen.answer is Answer.NOT_HERE:
                missing = Missing("a look at the temperature marked at both ends' terminals")
                return unseen("terminals", missing, most=found.most_a, rating_a=circuit.rating_a)
            if seen.answer is Answer.WRONG:
                cold = _carries(cable, circuit, house, code, SILENT)
                return _too_small(cable, circuit, cold, load, house, code)
        if fits is None:
            fits = clear("fits", allowed_a=found.allowed_a, most_a=found.most_a, rating_a=circuit.rating_a)
    assert fits is not None
    return fits


def _too_small(
    cable: Cable, circuit: Circuit, found: _Carries, load: _Load, house: Dwelling, code: Edition
) -> Outcome:
    cure = Lazily(lambda: _cure(cable, circuit, found.most_a, load, house, code))
    if found.most_a is None:
        return correction("unprotectable", cable=cable_name(cable), cure=cure)
    assert circuit.rating_a is not None
    if circuit.rating_a <= found.most_a:
        return correction(
            "load", cites="210.19(A)", cable=cable_name(cable), plain_a=found.plain_a, allowed_a=found.allowed_a,
            load_a=load.total_a, design_a=load.design_a, cure=cure,
        )  # fmt: skip
    return correction(
        "too-small", cable=cable_name(cable), allowed_a=found.allowed_a, most=found.most_a, circuit=circuit_name(circuit),
        rating_a=circuit.rating_a, cure=cure,
    )  # fmt: skip


@rule(
    id="receptacle-rating",
    stage=Stage.ROUGH_IN,
    about=Device,
    cites=carried("210.21(B)"),
    title="The receptacle suits the rating of its circuit",
    why="A 20 A plug invites a 20 A load; a receptacle for more than its circuit carries, or a lone one for less, is a trap.",
    look_for="15 A receptacles on 15 A circuits; 15 or 20 A ones on a 20 A circuit with two or more; a single receptacle on a "
    "circuit of its own rated at least like the circuit.",
    cure="Fit a receptacle of the rating that goes with the circuit.",
    says={
        "suits": "A {amps:n} A receptacle may be on a circuit of {rating_a:n} A with {contacts} on it.",
        "does-not": "Not allowed: {why}.",
        "not-recorded": "What kind of receptacle it is is not recorded.",
        "no-circuit": "Which circuit feeds it is not recorded.",
        "rating-not-recorded": "What {circuit} is rated is not recorded.",
        "no-receptacle": "Only receptacles are meant.",
    },
    mistakes="A 20 A receptacle on a 15 A circuit; a single 15 A receptacle for the freezer on its own 20 A circuit.",
    plain="Do not put a 20 amp outlet on a 15 amp circuit.",
)
def receptacle_rating(device: Device, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
    """The receptacle's rating against the circuit's, alone on it or with others."""
    if device.kind is not DeviceKind.RECEPTACLE:
        return outside("no-receptacle")
    rated = RECEPTACLE_RATINGS.get(device.configuration or "")
    if rated is None:
        return unseen("not-recorded", Missing("the receptacle's configuration", "device.configuration"))
    circuit = house.circuit_of(device)
    if circuit is None:
        return unseen("no-circuit", Missing("the circuit that feeds it", "device.circuit_id"))
    if circuit.rating_a is None:
        missing = Missing("the rating of the circuit", "circuit.rating_a")
        return unseen("rating-not-recorded", missing, circuit=circuit_name(circuit))
    contacts = sum(outlet.device.receptacles for outlet in outlets_of(circuit, house) if outlet.is_receptacle)
    amps = Fraction(rated[1])
    fault = receptacle_fault(Fraction(circuit.rating_a), (amps,) * min(contacts, 2), code)
    if work:
        work.step(f"{contacts} receptacles on a circuit of", circuit.rating_a, "A", "210.21(B)")
    if fault is not None:
        return correction("does-not", cites=fault.cites, why=fault.text)
    counted = "no other receptacle" if contacts <= 1 else f"{contacts} receptacles"
    return clear("suits", amps=amps, rating_a=circuit.rating_a, contacts=counted)
