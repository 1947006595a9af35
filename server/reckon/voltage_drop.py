"""Voltage drop by K, by direct-current resistance (Table 8) or by impedance (Table 9). Advice, not a rule.

Lengths are one way. A single-phase current goes there and back (twice the length); a three-phase one counts the
root of three.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from math import isqrt
from typing import Final

from server.dwelling.supply import ConductorMaterial
from server.editions import Edition
from server.reckon.conductor_sizes import ConductorError, circular_mils, sized, sizes
from server.reckon.figures import written
from server.reckon.work import SILENT, Work

__all__ = ["Conduit", "DropMethod", "VoltageDrop", "VoltageRun", "ohms_per_kft", "reckon_voltage_drop"]

_FT = 1000
"""The tables are per 1000 ft."""
_HUNDRED = 100
_SINE_SCALE: Final = 10**12
_PLACES = 3


class DropMethod(StrEnum):
    K = "k"
    TABLE_8 = "table8"
    TABLE_9 = "table9"


class Conduit(StrEnum):
    """Columns of Table 9. Cable without metal stands with PVC."""

    PVC = "pvc"
    ALUMINUM = "aluminum"
    STEEL = "steel"


@dataclass(frozen=True, slots=True)
class VoltageRun:
    """A load at the end of a run. Without ``awg`` only the smallest size is looked for.

    ``k`` replaces the usual K of the material; ``stranded`` tells solid from stranded where Table 8 has both (None:
    solid up to 10 AWG); ``power_factor`` is used by Table 9 alone (None: the printed 0.85); ``limit_percent`` is the
    drop to stay within (None: the recommended one).
    """

    volts: Fraction
    load_a: Fraction
    one_way_ft: Fraction
    awg: str | None = None
    material: ConductorMaterial = ConductorMaterial.COPPER
    phases: int = 1
    method: DropMethod = DropMethod.K
    k: Fraction | None = None
    stranded: bool | None = None
    power_factor: Fraction | None = None
    conduit: Conduit = Conduit.PVC
    limit_percent: Fraction | None = None

    def __post_init__(self) -> None:
        for field in ("volts", "load_a", "one_way_ft"):
            value = getattr(self, field)
            if value <= 0:
                raise ConductorError(field, f"expected a number above 0, came {value}", value)
        if self.phases not in (1, 3):
            raise ConductorError("phases", f"expected 1 or 3, came {self.phases}", self.phases)
        if self.k is not None and self.k <= 0:
            raise ConductorError("k", f"expected a K above 0, came {self.k}", self.k)
        if self.power_factor is not None and not 0 < self.power_factor <= 1:
            raise ConductorError(
                "power_factor", f"expected a power factor above 0 up to 1, came {self.power_factor}",
                self.power_factor,
            )  # fmt: skip


@dataclass(frozen=True, slots=True)
class VoltageDrop:
    """The drop in volts and percent (None without a size), the limit, and the smallest size within it
    (None where no size of the table is)."""

    drop_v: Fraction | None
    drop_percent: Fraction | None
    limit_percent: Fraction
    smallest_awg: str | None
    least_circular_mils: Fraction | None
    """What the K method asks for within the limit; None for the tables."""


def reckon_voltage_drop(run: VoltageRun, code: Edition, work: Work = SILENT) -> VoltageDrop:
    """Reckon the drop of a run and the smallest size that stays within the recommended percentage.

    Raises:
        ConductorError: the size does not exist, or the table of the method has none of it.
    """
    limit_percent = (
        code.number("voltage_drop.branch_percent", work) if run.limit_percent is None else run.limit_percent
    )
    drop = percent = None
    if run.awg is not None:
        drop = _drop_v(run, run.awg, code, work)
        percent = drop * _HUNDRED / run.volts
        if work:
            work.step(
                f"{written(drop, _PLACES)} V of {written(run.volts)} V", percent, "percent",
                code.cites("voltage_drop.branch_percent"),
            )  # fmt: skip
    allowed = run.volts * limit_percent / _HUNDRED
    smallest = _smallest(run, allowed, code)
    least = _least_circular_mils(run, allowed, code) if run.method is DropMethod.K else None
    if work:
        work.step(
            f"Within {written(limit_percent)} % ({written(allowed)} V): smallest size",
            sized(smallest) if smallest else "none of the table", "", code.cites("voltage_drop.branch_percent"),
        )  # fmt: skip
    return VoltageDrop(drop, percent, limit_percent, smallest, least)


def _length_factor(run: VoltageRun, code: Edition, work: Work = SILENT) -> Fraction:
    phase = "single" if run.phases == 1 else "three"
    return code.number(f"voltage_drop.{phase}_phase_factor", work)


def _drop_v(run: VoltageRun, awg: str, code: Edition, work: Work = SILENT) -> Fraction:
    there_and_back = _length_factor(run, code, work)
    if run.method is DropMethod.K:
        k, cmil = _k(run, code, work), circular_mils(awg, code, work)
        drop = there_and_back * k * run.load_a * run.one_way_ft / cmil
        if work:
            work.step(
                f"{written(there_and_back, _PLACES)} × K {written(k)} × {written(run.load_a)} A × "
                f"{written(run.one_way_ft)} ft ÷ {written(cmil)} cmil",
                drop, "V", code.cites("voltage_drop.k_copper"),
            )  # fmt: skip
        return drop
    ohms = ohms_per_kft(run, awg, code, work)
    drop = there_and_back * ohms * run.load_a * run.one_way_ft / _FT
    if work:
        work.step(
            f"{written(there_and_back, _PLACES)} × {written(ohms, 5)} Ω × {written(run.load_a)} A × "
            f"{written(run.one_way_ft)} ft ÷ {_FT}",
            drop, "V", _table_cites(run, code),
        )  # fmt: skip
    return drop


def _table_cites(run: VoltageRun, code: Edition) -> str:
    table = "table9_power_factor" if run.method is DropMethod.TABLE_9 else "table8_copper_stranded"
    return code.cites(f"voltage_drop.{table}")


def _k(run: VoltageRun, code: Edition, work: Work = SILENT) -> Fraction:
    if run.k is not None:
        return run.k
    return code.number(f"voltage_drop.k_{_metal(run)}", work)


def _metal(run: VoltageRun) -> str:
    return "copper" if run.material is ConductorMaterial.COPPER else "aluminum"


def _least_circular_mils(run: VoltageRun, allowed_v: Fraction, code: Edition) -> Fraction:
    return _length_factor(run, code) * _k(run, code) * run.load_a * run.one_way_ft / allowed_v


def ohms_per_kft(run: VoltageRun, awg: str, code: Edition, work: Work = SILENT) -> Fraction:
    """The resistance (Table 8) or effective impedance (Table 9) of 1000 ft of a size.

    Raises:
        ConductorError: the size does not exist, or the table has none of it in this material.
    """
    if run.method is DropMethod.TABLE_8:
        return _resistance(run, awg, code, work)
    column = f"{_metal(run)}_{run.conduit.value}"
    printed_for = code.number("voltage_drop.table9_power_factor", work)
    if run.power_factor is None or run.power_factor == printed_for:
        ohms = _cell(f"voltage_drop.table9_z_{column}", awg, code, work)
        if work:
            work.step(
                f"Effective Z of {sized(awg)} at power factor {written(printed_for)}, {run.conduit.value}", ohms,
                "ohm/kft", _table_cites(run, code),
            )  # fmt: skip
        return ohms
    r = _cell(f"voltage_drop.table9_r_{column}", awg, code, work)
    x = _cell(f"voltage_drop.table9_x_{run.conduit.value}", awg, code, work)
    sine = _sine(run.power_factor)
    ohms = r * run.power_factor + x * sine
    if work:
        work.step(
            f"Z = R cos φ + X sin φ = {written(r, 5)} × {written(run.power_factor)} + {written(x, 5)} × "
            f"{written(sine, _PLACES)}",
            ohms, "ohm/kft", _table_cites(run, code),
        )  # fmt: skip
    return ohms


def _sine(cosine: Fraction) -> Fraction:
    """The sine of the angle of a cosine, to twelve decimals."""
    square = (1 - cosine * cosine) * _SINE_SCALE * _SINE_SCALE
    return Fraction(isqrt(square.numerator // square.denominator), _SINE_SCALE)


def _resistance(run: VoltageRun, awg: str, code: Edition, work: Work) -> Fraction:
    stranded = run.stranded
    if stranded is None:
        most = circular_mils(str(code.value("voltage_drop.solid_largest_awg")), code)
        stranded = circular_mils(awg, code) > most
    node = f"voltage_drop.table8_{_metal(run)}_{'stranded' if stranded else 'solid'}"
    if awg not in code.table(node):
        # Larger sizes are made stranded only, the smallest of aluminum not at all.
        node = node.replace("solid", "stranded")
    ohms = _cell(node, awg, code, work)
    if work:
        made = "stranded" if node.endswith("stranded") else "solid"
        work.step(f"Resistance of {sized(awg)} {_metal(run)}, {made}", ohms, "ohm/kft", code.cites(node))
    return ohms


def _cell(node: str, awg: str, code: Edition, work: Work) -> Fraction:
    found = code.table(node, work).get(awg)
    if not isinstance(found, int | Fraction):
        circular_mils(awg, code)
        every = tuple(code.table(node))
        raise ConductorError(
            "awg", f"expected a size from {every[0]} to {every[-1]} of {code.cites(node)}, came {awg!r}", awg
        )
    return Fraction(found)


def _smallest(run: VoltageRun, allowed_v: Fraction, code: Edition) -> str | None:
    """The smallest size for general wiring whose drop by the same method is within the volts allowed."""
    first = circular_mils(str(code.value(f"conductor.least_{_metal(run)}_awg")), code)
    for awg in sizes(code):
        if circular_mils(awg, code) < first:
            continue
        try:
            if _drop_v(run, awg, code) <= allowed_v:
                return awg
        except ConductorError:
            # Table 9 leaves out some of the large sizes; the next listed one is looked at.
            continue
    return None
