"""How much of its voltage a circuit's farthest outlet loses: advice, never a finding.

    advice = voltage_advice(circuit, run, house, code)
    advice.percent, advice.limit_percent, advice.larger_awg, advice.work.steps

The whole load is taken at the far end, which is the worst that the circuit can do.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from server.dwelling import Cable, Circuit, CircuitPurpose, Dwelling
from server.editions import Edition
from server.readiness.shopping import estimated_length_in
from server.reckon.conductor_sizes import ConductorError
from server.reckon.figures import written
from server.reckon.voltage_drop import VoltageRun, reckon_voltage_drop
from server.reckon.work import Work
from server.rules.runs import Leg, Run

__all__ = ["VoltageAdvice", "voltage_advice"]

_HUNDRED = 100
_PER_FOOT_IN = 12


@dataclass(frozen=True, slots=True)
class VoltageAdvice:
    """The drop at the end of the longest way. ``estimated`` and ``unknown`` count cables on it without a recorded
    length; a way with unknown ones loses more than is said. ``larger_awg`` is the size that would do for the whole
    way (None: the present one does, or no size of the table does)."""

    end: str
    way_ft: Fraction
    load_a: Fraction
    recorded: bool
    percent: Fraction
    limit_percent: Fraction
    larger_awg: str | None
    estimated: int
    unknown: int
    work: Work

    @property
    def within(self) -> bool:
        """It stays within what is recommended."""
        return self.percent <= self.limit_percent

    @property
    def percent_words(self) -> str:
        """To a tenth, marked where more follows."""
        return written(self.percent, 1)

    @property
    def way_words(self) -> str:
        """In feet, to a tenth."""
        return written(self.way_ft, 1)

    @property
    def load_words(self) -> str:
        """In amperes, to a tenth."""
        return written(self.load_a, 1)


@dataclass(frozen=True, slots=True)
class _Way:
    """The cables from the panel to a box, and the sum of their lengths."""

    cables: tuple[tuple[Cable, Fraction], ...] = ()
    estimated: int = 0
    unknown: int = 0

    @property
    def length_ft(self) -> Fraction:
        return sum((length for _, length in self.cables), Fraction(0))


def voltage_advice(circuit: Circuit, run: Run, house: Dwelling, code: Edition) -> VoltageAdvice | None:
    """The drop of a branch circuit with the load that is recorded for it, or with what breakers are usually loaded
    to. None where no length, size or rating tells anything.

    Source: 210.19, informational note (3 percent); the load is common practice.
    """
    if circuit.purpose is CircuitPurpose.FEEDER or circuit.rating_a is None:
        return None
    end, way = _longest(run, house)
    if not way.cables:
        return None
    work = Work()
    volts = Fraction(circuit.volts)
    if circuit.va is not None:
        load_a = circuit.va / volts
        work.step(f"{written(circuit.va)} VA recorded ÷ {circuit.volts} V", load_a, "A")
    else:
        share = code.number("voltage_drop.advice_load_percent", work)
        load_a = circuit.rating_a * share / _HUNDRED
        work.step(
            f"{circuit.rating_a} A × {written(share)} %",
            load_a,
            "A",
            code.cites("voltage_drop.advice_load_percent"),
        )
    if load_a <= 0:
        return None
    drop_v = Fraction(0)
    try:
        for cable, length_ft in way.cables:
            part = VoltageRun(volts, load_a, length_ft, cable.awg or circuit.conductor_awg, cable.material)
            if part.awg is None:
                return None
            found = reckon_voltage_drop(part, code, work)
            drop_v += found.drop_v or 0
        whole = VoltageRun(volts, load_a, way.length_ft, None, circuit.material)
        needed = reckon_voltage_drop(whole, code)
    except ConductorError:
        return None
    percent = drop_v * _HUNDRED / volts
    work.step(f"Together {written(drop_v, 2)} V of {circuit.volts} V", percent, "percent", code.cites("voltage_drop.branch_percent"))  # fmt: skip
    return VoltageAdvice(
        end, way.length_ft, load_a, circuit.va is not None, percent, needed.limit_percent,
        needed.smallest_awg if percent > needed.limit_percent else None, way.estimated, way.unknown, work,
    )  # fmt: skip


def _longest(run: Run, house: Dwelling) -> tuple[str, _Way]:
    """The box that is farthest from the panel along the cables, and the way to it."""
    ways: dict[str | None, _Way] = {None: _Way()}
    best: tuple[str, _Way] = ("", _Way())
    for leg in run.legs:
        way = _onward(ways[leg.start], leg, house)
        ways[leg.end] = way
        # what is beyond a cable of unknown length is farther than what is before it
        if (way.length_ft, way.unknown) > (best[1].length_ft, best[1].unknown):
            best = leg.end, way
    return best


def _onward(way: _Way, leg: Leg, house: Dwelling) -> _Way:
    cable = leg.cable
    if cable.length_ft is not None and cable.length_ft > 0:
        return replace(way, cables=(*way.cables, (cable, cable.length_ft)))
    guessed = estimated_length_in(cable, house)
    if guessed:
        return replace(
            way, cables=(*way.cables, (cable, guessed / _PER_FOOT_IN)), estimated=way.estimated + 1
        )
    return replace(way, unknown=way.unknown + 1)
