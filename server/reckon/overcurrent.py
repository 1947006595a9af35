"""Overcurrent protection of a circuit: the largest device for the conductor, the device that the load and the
receptacles ask for, whether both go together, and the smallest conductor that would do."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from server.dwelling.supply import ConductorMaterial
from server.editions import Edition
from server.reckon.ampacity import Ampacity, reckon_ampacity
from server.reckon.conductor_run import ConductorRun
from server.reckon.conductor_sizes import ConductorError, circular_mils, not_smaller_than, sized
from server.reckon.figures import written
from server.reckon.overcurrent_ratings import (
    Exemption,
    Fault,
    breaker_ratings,
    most_device_a,
    receptacle_fault,
)
from server.reckon.work import SILENT, Work

__all__ = ["Overcurrent", "ProtectedCircuit", "reckon_overcurrent"]


@dataclass(frozen=True, slots=True)
class ProtectedCircuit:
    """A circuit and its conductor.

    ``load_a`` is the whole load and ``continuous_a`` the part of it that runs three hours or more. ``outlets`` has the
    rating of each receptacle (a duplex is two). ``device_a`` is the breaker or fuse as it is; without it the
    smallest that the load and the receptacles allow is judged, or the largest for the conductor.
    """

    run: ConductorRun
    load_a: Fraction | None = None
    continuous_a: Fraction = Fraction(0)
    outlets: tuple[Fraction, ...] = ()
    device_a: Fraction | None = None
    exempt: Exemption | None = None
    nameplate_most_a: Fraction | None = None
    whole_dwelling: bool = False

    def __post_init__(self) -> None:
        for field in ("load_a", "continuous_a", "device_a", "nameplate_most_a"):
            value = getattr(self, field)
            if value is not None and value < 0:
                raise ConductorError(field, f"expected amperes of 0 or more, came {value}", value)
        if self.load_a is not None and self.continuous_a > self.load_a:
            raise ConductorError(
                "continuous",
                f"expected a continuous part within the load of {written(self.load_a)} A, "
                f"came {written(self.continuous_a)} A",
                self.continuous_a,
            )

    @property
    def total_a(self) -> Fraction | None:
        """The load; the continuous part alone where nothing more is given."""
        if self.load_a is None and self.continuous_a:
            return self.continuous_a
        return self.load_a


@dataclass(frozen=True, slots=True)
class Overcurrent:
    """What protects a circuit.

    ``max_device_a`` is the largest device for the conductor (None: none); ``device_a`` the one that was judged;
    ``design_a`` the load with its continuous part at 125 percent (None without a load). ``faults`` are sentences;
    without any the circuit is allowed.
    """

    ampacity: Ampacity
    max_device_a: Fraction | None
    device_a: Fraction | None
    design_a: Fraction | None
    min_conductor_awg: str | None
    faults: tuple[str, ...]
    why: str

    @property
    def allowed(self) -> bool:
        return not self.faults


def reckon_overcurrent(circuit: ProtectedCircuit, code: Edition, work: Work = SILENT) -> Overcurrent:
    """Reckon device and conductor of a circuit together.

    Raises:
        ConductorError: a size or a load that cannot be.
    """
    ampacity = reckon_ampacity(circuit.run, code, work)
    most = _most(circuit, circuit.run, ampacity.allowed_a, code, work)
    design = _design_a(circuit, code, work)
    device = _device_a(circuit, most, design, code, work)
    faults = _conductor_faults(circuit, circuit.run, ampacity, most, device, design, code)
    faults += _device_faults(circuit, device, design, code)
    smallest = _smallest(circuit, device, design, code)
    if work:
        for fault in faults:
            work.step(f"Not allowed: {fault.text}", False, "", fault.cites)
        if smallest:
            work.step(
                "Smallest conductor that does, run the same way",
                sized(smallest),
                "",
                code.cites("overcurrent.by_ampacity"),
            )
    sentences = tuple(fault.text for fault in faults)
    why = _why(circuit, ampacity, most, device, design, sentences)
    return Overcurrent(ampacity, most, device, design, smallest, sentences, why)


def _most(
    circuit: ProtectedCircuit, run: ConductorRun, ampacity_a: Fraction, code: Edition, work: Work = SILENT
) -> Fraction | None:
    return most_device_a(
        ampacity_a, run, circuit.outlets, code, work,
        exempt=circuit.exempt, nameplate_most_a=circuit.nameplate_most_a, whole_dwelling=circuit.whole_dwelling,
    )  # fmt: skip


def _design_a(circuit: ProtectedCircuit, code: Edition, work: Work) -> Fraction | None:
    total = circuit.total_a
    if total is None:
        return None
    node = "overcurrent.continuous_factor"
    factor = code.number(node, work)
    steady = circuit.continuous_a
    design = total - steady + factor * steady
    if work:
        work.step(
            f"Load {written(total - steady)} A + {written(factor)} × {written(steady)} A continuous", design, "A",
            code.cites(node),
        )  # fmt: skip
    return design


def _device_a(
    circuit: ProtectedCircuit, most: Fraction | None, design: Fraction | None, code: Edition, work: Work
) -> Fraction | None:
    if circuit.device_a is not None:
        return circuit.device_a
    if design is None and not circuit.outlets:
        return most
    carrying = [rating for rating in breaker_ratings(code) if rating >= (design or 0)]
    fitting = [rating for rating in carrying if receptacle_fault(rating, circuit.outlets, code) is None]
    chosen = next(iter(fitting or carrying), None)
    if work and chosen is not None:
        work.step(
            "Smallest standard device for load and receptacles", chosen, "A",
            code.cites("overcurrent.standard_ratings_a"),
        )  # fmt: skip
    return chosen


def _device_faults(
    circuit: ProtectedCircuit, device: Fraction | None, design: Fraction | None, code: Edition
) -> list[Fault]:
    if device is None:
        return []
    faults = []
    if design is not None and device < design:
        text = f"a {written(device)} A device is less than the {written(design)} A that the load asks for"
        faults.append(Fault(text, code.cites("overcurrent.device_covers_load")))
    if wrong := receptacle_fault(device, circuit.outlets, code):
        faults.append(wrong)
    return faults


def _least_awg(material: ConductorMaterial, code: Edition) -> tuple[str, str]:
    name = {
        ConductorMaterial.COPPER: "copper",
        ConductorMaterial.ALUMINUM: "aluminum",
        ConductorMaterial.COPPER_CLAD: "copper_clad",
    }[material]
    node = f"conductor.least_{name}_awg"
    return str(code.value(node)), code.cites(node)


def _conductor_faults(
    circuit: ProtectedCircuit,
    run: ConductorRun,
    ampacity: Ampacity,
    most: Fraction | None,
    device: Fraction | None,
    design: Fraction | None,
    code: Edition,
) -> list[Fault]:
    """What is wrong with a conductor under a device and a load."""
    name = f"{sized(run.awg)} {run.material.value}"
    faults = []
    least, least_cites = _least_awg(run.material, code)
    if circular_mils(run.awg, code) < circular_mils(least, code):
        faults.append(Fault(f"{name} is smaller than {least} AWG, the least for general wiring", least_cites))
    if most is None:
        faults.append(
            Fault(f"{name} has no ampacity as it is run", code.cites("conductor.ambient_factor_90"))
        )
        return faults
    if device is not None and device > most:
        faults.append(
            Fault(
                f"{name} may be protected at {written(most)} A at most, not {written(device)} A",
                code.cites("overcurrent.by_ampacity"),
            )
        )
    total = circuit.total_a
    if design is None or total is None:
        return faults
    load_cites = code.cites("overcurrent.conductor_covers_load")
    plain = min(ampacity.table_a, ampacity.terminal_limit_a, ampacity.cable_limit_a or ampacity.table_a)
    if plain < design:
        text = f"{name} carries {written(plain)} A at its terminals, less than {written(design)} A"
        faults.append(Fault(f"{text} that the load asks for", load_cites))
    if ampacity.allowed_a < total:
        text = f"{name} carries {written(ampacity.allowed_a)} A as it is run"
        faults.append(Fault(f"{text}, less than the load of {written(total)} A", load_cites))
    steady = _most_continuous_a(run, code)
    if steady is not None and circuit.continuous_a > steady:
        cites = code.cites("overcurrent.small_continuous_a")
        faults.append(Fault(f"{name} takes {written(steady)} A of continuous load at most", cites))
    return faults


def _most_continuous_a(run: ConductorRun, code: Edition) -> Fraction | None:
    """The most continuous load of the very small conductors that 240.4(D) limits."""
    found = code.table("overcurrent.small_continuous_a").get(run.awg)
    clad_only = circular_mils(run.awg, code) >= circular_mils(
        _least_awg(ConductorMaterial.COPPER, code)[0], code
    )
    if not isinstance(found, int | Fraction) or (
        clad_only and run.material is not ConductorMaterial.COPPER_CLAD
    ):
        return None
    return Fraction(found)


def _smallest(
    circuit: ProtectedCircuit, device: Fraction | None, design: Fraction | None, code: Edition
) -> str | None:
    """The smallest size of the same material, run the same way, that goes with device and load."""
    if device is None:
        return None
    for awg in not_smaller_than(_least_awg(circuit.run.material, code)[0], code):
        run = replace(circuit.run, awg=awg)
        try:
            ampacity = reckon_ampacity(run, code)
        except ConductorError:
            continue
        most = _most(circuit, run, ampacity.allowed_a, code)
        if not _conductor_faults(circuit, run, ampacity, most, device, design, code):
            return awg
    return None


def _why(
    circuit: ProtectedCircuit,
    ampacity: Ampacity,
    most: Fraction | None,
    device: Fraction | None,
    design: Fraction | None,
    faults: tuple[str, ...],
) -> str:
    if faults:
        text = "; ".join(faults)
        return f"{text[0].upper()}{text[1:]}."
    assert most is not None
    assert device is not None
    run = circuit.run
    load = "" if design is None else f"; the load asks for {written(design)} A"
    return (
        f"{sized(run.awg)} {run.material.value} carries {written(ampacity.allowed_a)} A as it is run and may be "
        f"protected at {written(most)} A; the device is {written(device)} A{load}."
    )
