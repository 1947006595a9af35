"""Heat and cooling of a dwelling: which of them counts, and at how much, by each method.

They do not run together, so only the larger counts. A heat pump's compressor runs in both seasons; heat that
supplements it runs beside it unless the two are locked out against each other.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from server.editions import Edition
from server.reckon.dwelling_loads import DwellingLoads
from server.reckon.figures import percent_of, written
from server.reckon.work import SILENT, Work

__all__ = ["HvacLoad", "existing_hvac", "hvac_connected", "optional_hvac", "standard_hvac"]

NOTHING = "neither heat nor cooling"


@dataclass(frozen=True, slots=True)
class HvacLoad:
    """The heat or cooling that counts, of one unit; ``compressor_runs`` says whether it includes the compressor."""

    va: Fraction
    what: str
    compressor_runs: bool


@dataclass(frozen=True, slots=True)
class _Way:
    what: str
    sum_text: str
    va: Fraction
    cites: str
    compressor_runs: bool


def _larger(ways: Sequence[_Way], code: Edition, work: Work) -> HvacLoad:
    """Show every way and keep the largest (the first of equals)."""
    ways = [way for way in ways if way.va]
    if not ways:
        return HvacLoad(Fraction(0), NOTHING, compressor_runs=False)
    kept = max(ways, key=lambda way: way.va)
    code.flag("load.noncoincident", work)
    if work:
        for way in ways:
            if way is kept:
                work.step(f"{way.what}: {way.sum_text}", way.va, "VA", way.cites)
            else:
                work.skip(
                    f"{way.what}: {way.sum_text} = {written(way.va)} VA, not larger than {written(kept.va)} VA: left out",
                    code.cites("load.noncoincident"),
                )
    return HvacLoad(kept.va, kept.what, kept.compressor_runs)


def _heating_together(loads: DwellingLoads) -> tuple[Fraction, str, bool]:
    """All heat that can run at once, in full: volt-amperes, the sum as text, whether the compressor is in it."""
    if loads.heat_pump_va and loads.pump_locked_out:
        larger = max(loads.heat_pump_va, loads.heat_va)
        return (
            larger + loads.heat_storage_va,
            f"{written(larger)} VA (pump and heat locked out)",
            larger == loads.heat_pump_va,
        )
    parts = [va for va in (loads.heat_pump_va, loads.heat_va, loads.heat_storage_va) if va]
    return sum(parts, Fraction(0)), " + ".join(written(va) for va in parts) + " VA", bool(loads.heat_pump_va)


def standard_hvac(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> HvacLoad:
    """Heat and cooling of one unit in the standard method: each in full, the larger of the two."""
    return _at_percent(loads, "load.heat_percent", code, work)


def hvac_connected(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> HvacLoad:
    """The larger of heat and cooling of one unit as connected load (multifamily optional method)."""
    return _at_percent(loads, "load.heat_percent", code, work)


def existing_hvac(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> HvacLoad:
    """Heat and cooling of an existing dwelling where some is added or made larger: the larger, in full."""
    return _at_percent(loads, "load.existing_hvac_percent", code, work)


def _at_percent(loads: DwellingLoads, node: str, code: Edition, work: Work) -> HvacLoad:
    percent = code.number(node, work)
    heating, sum_text, runs = _heating_together(loads)
    cooling = max(loads.cool_va, loads.heat_pump_va)
    return _larger(
        [
            _Way("Electric heat", f"{sum_text} at {written(percent)} %", percent_of(percent, heating), code.cites(node), runs),
            _Way("Cooling", f"{written(cooling)} VA", cooling, code.cites("load.noncoincident"), True),
        ],
        code,
        work,
    )  # fmt: skip


def optional_hvac(loads: DwellingLoads, code: Edition, work: Work = SILENT) -> HvacLoad:
    """Heat and cooling of a dwelling in the optional method: the largest of the listed ways."""
    cool = code.number("load.optional_cool_percent", work)
    cool_cites = code.cites("load.optional_cool_percent")
    ways = [
        _Way(
            "Cooling",
            f"{written(loads.cool_va)} VA × {written(cool)} %",
            percent_of(cool, loads.cool_va),
            cool_cites,
            True,
        )
    ]
    pump = percent_of(cool, loads.heat_pump_va)
    if loads.heat_pump_va and loads.heat_va:
        percent = code.number("load.optional_supplemental_percent", work)
        supplement = percent_of(percent, loads.heat_va)
        cites = code.cites("load.optional_supplemental_percent")
        sum_text = f"{written(loads.heat_va)} VA × {written(percent)} %"
        if loads.pump_locked_out:
            ways.append(_Way("Supplemental heat without the pump", sum_text, supplement, cites, False))
            ways.append(
                _Way(
                    "Heat pump",
                    f"{written(loads.heat_pump_va)} VA × {written(cool)} %",
                    pump,
                    cool_cites,
                    True,
                )
            )
        else:
            ways.append(
                _Way(
                    "Heat pump and supplemental heat",
                    f"{written(loads.heat_pump_va)} VA + {sum_text}",
                    pump + supplement,
                    cites,
                    True,
                )
            )
    elif loads.heat_pump_va:
        ways.append(
            _Way("Heat pump", f"{written(loads.heat_pump_va)} VA × {written(cool)} %", pump, cool_cites, True)
        )
    elif loads.heat_va:
        many = loads.heat_units >= code.number("load.optional_many_heaters", work)
        node = "load.optional_many_heaters_percent" if many else "load.optional_few_heaters_percent"
        percent = code.number(node, work)
        units = f"{loads.heat_units} separately controlled" if loads.heat_units > 1 else "central or one unit"
        ways.append(
            _Way(
                f"Electric heat, {units}",
                f"{written(loads.heat_va)} VA × {written(percent)} %",
                percent_of(percent, loads.heat_va),
                code.cites(node),
                False,
            )
        )
    if loads.heat_storage_va:
        percent = code.number("load.optional_storage_percent", work)
        ways.append(
            _Way(
                "Storage heat",
                f"{written(loads.heat_storage_va)} VA × {written(percent)} %",
                percent_of(percent, loads.heat_storage_va),
                code.cites("load.optional_storage_percent"),
                False,
            )
        )
    return _larger(ways, code, work)
