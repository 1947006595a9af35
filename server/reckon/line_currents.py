"""From volt-amperes to amperes, by the system that brings the power, and line by line where legs are named."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from fractions import Fraction

from server.editions import Edition
from server.reckon.dwelling_loads import Appliance, DwellingLoads, Leg, Motor, System
from server.reckon.figures import percent_of, written
from server.reckon.load_result import LineCurrents
from server.reckon.work import SILENT, Work, round_half_up

__all__ = ["amperes_of", "line_currents", "without_legs"]


def without_legs(loads: DwellingLoads) -> DwellingLoads:
    """The loads without those that stand on a named leg."""
    return replace(
        loads,
        appliances=tuple(item for item in loads.appliances if item.leg is None),
        motors=tuple(item for item in loads.motors if item.leg is None),
    )


def amperes_of(
    loads: DwellingLoads,
    total_va: Fraction,
    line_to_neutral_va: Fraction | None,
    code: Edition,
    work: Work = SILENT,
) -> Fraction:
    """Amperes of the lines for a total.

    ``line_to_neutral_va`` is the part that stands between a line and the neutral; on two lines of a wye it is
    divided over two 120 V legs and only the rest by 208 V (Example D5). None: everything by the line voltage.
    """
    cites = code.cites("load.half_ampere")
    match loads.system:
        case System.WYE_FOUR_WIRE:
            root = code.number("load.root_of_three", work)
            amperes = total_va / (loads.volts * root)
            text = f"{written(total_va)} VA ÷ ({written(loads.volts)} V × {written(root, 3)})"
        case System.WYE_THREE_WIRE if line_to_neutral_va is not None:
            legs = 2 * code.number("load.lighting_circuit_volts", work)
            between = total_va - line_to_neutral_va
            amperes = line_to_neutral_va / legs + between / loads.volts
            text = f"{written(line_to_neutral_va)} VA ÷ {written(legs)} V + {written(between)} VA ÷ {written(loads.volts)} V"
        case _:
            amperes = total_va / loads.volts
            text = f"{written(total_va)} VA ÷ {written(loads.volts)} V"
    if work:
        work.step(f"Amperes: {text}", amperes, "A", cites)
    return amperes


def _amperes(item: Appliance | Motor, loads: DwellingLoads, code: Edition) -> Fraction:
    if item.volts is not None:
        return item.va / item.volts
    return item.va / (loads.volts if item.leg is Leg.BOTH else code.number("load.lighting_circuit_volts"))


def _is_motor(item: Appliance | Motor) -> bool:
    return isinstance(item, Motor) or item.motor


def line_currents(
    loads: DwellingLoads, balanced_a: Fraction, neutral_a: Fraction, code: Edition, work: Work = SILENT
) -> LineCurrents | None:
    """Each line and the neutral, in amperes: the balanced load (whole amperes) and what stands on each leg.

    Loads that name one circuit share its neutral, which then carries the larger of both legs; each other 120 V
    load puts all of its current on the neutral, as Example D1(b) adds them. The largest motor of each conductor
    adds 25 percent on it. None where no load names a leg.
    """
    if not loads.on_lines:
        return None
    percent = code.number("load.largest_motor_percent", work)
    cites = code.cites("load.largest_motor_percent")
    line_a, line_b = Fraction(round_half_up(balanced_a)), Fraction(round_half_up(balanced_a))
    neutral = Fraction(round_half_up(neutral_a))
    if work:
        work.step("Balanced load on both lines, whole amperes", line_a, "A", code.cites("load.half_ampere"))
    on_a, on_b, shared = Fraction(0), Fraction(0), Fraction(0)
    for name, members in _by_circuit(loads.on_lines):
        a = sum(
            (_amperes(item, loads, code) for item in members if item.leg in (Leg.A, Leg.BOTH)), Fraction(0)
        )
        b = sum(
            (_amperes(item, loads, code) for item in members if item.leg in (Leg.B, Leg.BOTH)), Fraction(0)
        )
        return_a = sum((_amperes(item, loads, code) for item in members if item.leg is Leg.A), Fraction(0))
        return_b = sum((_amperes(item, loads, code) for item in members if item.leg is Leg.B), Fraction(0))
        back = max(return_a, return_b)
        on_a, on_b, shared = on_a + a, on_b + b, shared + back
        if work:
            work.step(
                f"{name.capitalize()}: line A {written(a)} A, line B {written(b)} A, neutral {written(back)} A",
                None,
                "",
                cites,
            )
    motors = [item for item in loads.on_lines if _is_motor(item)]
    extra_a = percent_of(percent, _largest(motors, (Leg.A, Leg.BOTH), loads, code))
    extra_b = percent_of(percent, _largest(motors, (Leg.B, Leg.BOTH), loads, code))
    extra_n = percent_of(percent, _largest(motors, (Leg.A, Leg.B), loads, code))
    found = LineCurrents(line_a + on_a + extra_a, line_b + on_b + extra_b, neutral + shared + extra_n)
    if work:
        work.step(
            f"{written(percent)} % of the largest motor: line A {written(extra_a)} A, line B {written(extra_b)} A, "
            f"neutral {written(extra_n)} A", None, "", cites,
        )  # fmt: skip
        work.step(f"Line A: {written(line_a)} + {written(on_a)} + {written(extra_a)}", found.a, "A")
        work.step(f"Line B: {written(line_b)} + {written(on_b)} + {written(extra_b)}", found.b, "A")
        work.step(f"Neutral: {written(neutral)} + {written(shared)} + {written(extra_n)}", found.neutral, "A")
    return found


def _by_circuit(items: Iterable[Appliance | Motor]) -> list[tuple[str, list[Appliance | Motor]]]:
    groups: dict[str, list[Appliance | Motor]] = {}
    for place, item in enumerate(items):
        groups.setdefault(item.circuit if item.circuit is not None else f"\0{place}", []).append(item)
    return [(" and ".join(item.name for item in members), members) for members in groups.values()]


def _largest(
    motors: list[Appliance | Motor], legs: tuple[Leg, ...], loads: DwellingLoads, code: Edition
) -> Fraction:
    return max((_amperes(item, loads, code) for item in motors if item.leg in legs), default=Fraction(0))
