"""The adjustment for current-carrying conductors that lie together (310.15(C)(1), and the cable articles).

Four questions, in this order: are there more than three at all; do more than two cables touch insulation or share
a sealed hole (then length does not matter); is the length short or the spacing kept; is it armored or metal-clad
cable that is exempt.
"""

from __future__ import annotations

from fractions import Fraction

from server.dwelling.supply import CableKind, ConductorMaterial
from server.editions import Edition
from server.reckon.conductor_run import ConductorRun
from server.reckon.conductor_sizes import sized
from server.reckon.figures import written
from server.reckon.work import SILENT, Work

__all__ = ["adjustment_factor", "table_adjustment"]

_UNADJUSTED = Fraction(1)


def table_adjustment(current_carrying: int, code: Edition, work: Work = SILENT) -> Fraction:
    """The table's factor for so many current-carrying conductors, without any exemption."""
    if current_carrying <= code.number("conductor.unadjusted_most", work):
        return _UNADJUSTED
    for most, factor in code.table("conductor.adjustment", work).items():
        if current_carrying <= int(most):
            assert isinstance(factor, int | Fraction)
            return Fraction(factor)
    return code.number("conductor.adjustment_beyond", work)


def adjustment_factor(run: ConductorRun, code: Edition, work: Work = SILENT) -> Fraction:
    """The factor for a conductor as it is run, with the reason among the steps."""
    count = run.current_carrying
    cites = code.cites("conductor.adjustment")
    most = code.number("conductor.unadjusted_most", work)
    if count is None or count <= most:
        if work:
            came = (
                "Conductors together not given" if count is None else f"{count} current-carrying conductors"
            )
            work.skip(f"{came}: not more than {written(most)}, no adjustment", cites)
        return _UNADJUSTED
    if _sealed(run, count, code, work):
        return _adjusted(count, "in insulation or a sealed hole, at any length", code, work)
    if run.spaced:
        work.skip("Spacing is kept: no adjustment", cites)
        return _UNADJUSTED
    longest = code.number("conductor.together_longest_in", work)
    if run.together_in is not None and run.together_in <= longest:
        if work:
            work.skip(
                f"Together for {written(run.together_in)} in, not more than {written(longest)} in: no adjustment",
                code.cites("conductor.together_longest_in"),
            )
        return _UNADJUSTED
    if _metal_cable(run, code):
        return _metal_cable_factor(count, code, work)
    return _adjusted(count, f"together for more than {written(longest)} in", code, work)


def _adjusted(count: int, how: str, code: Edition, work: Work) -> Fraction:
    factor = table_adjustment(count, code, work)
    if work:
        work.step(
            f"{count} current-carrying conductors {how}", factor, "", code.cites("conductor.adjustment")
        )  # fmt: skip
    return factor


def _sealed(run: ConductorRun, count: int, code: Edition, work: Work) -> bool:
    """Whether the cable articles ask for the adjustment however short the cables lie together."""
    if not (run.in_insulation or run.sealed_hole) or run.kind is CableKind.RACEWAY or run.spaced:
        return False
    kind = CableKind.NM_B if run.is_nm else run.kind
    node = "conductor.sealed_kinds"
    if kind.value not in code.names(node, work):
        if work:
            work.skip(
                f"No rule for {kind.value} in insulation at any length in this edition", code.cites(node)
            )
        return False
    most = code.number("conductor.sealed_most_cables", work)
    cables = run.cables
    if cables is None:
        # Every cable that counts has at least so many: at most this many cables are together.
        cables = int(count // code.number("conductor.sealed_least_in_cable", work))
    if cables <= most:
        if work:
            work.skip(
                f"{cables} cables, not more than {written(most)}, in insulation or a sealed hole",
                code.cites("conductor.sealed_most_cables"),
            )
        return False
    return True


def _metal_cable(run: ConductorRun, code: Edition) -> bool:
    each = run.each_cable
    return (
        run.kind.value in code.names("conductor.metal_cable_exempt_kinds")
        and not run.jacketed
        and run.material is ConductorMaterial.COPPER
        and run.awg == str(code.value("conductor.metal_cable_exempt_awg"))
        and (each is None or each <= code.number("conductor.metal_cable_exempt_each"))
    )


def _exempt_size(code: Edition) -> str:
    return sized(str(code.value("conductor.metal_cable_exempt_awg")))


def _metal_cable_factor(count: int, code: Edition, work: Work) -> Fraction:
    most = code.number("conductor.metal_cable_exempt_most", work)
    node = "conductor.metal_cable_beyond"
    if count <= most:
        if work:
            work.skip(
                f"{count} conductors of {_exempt_size(code)} copper AC or MC cable, not more than {written(most)}: no adjustment",
                code.cites("conductor.metal_cable_exempt_most"),
            )
        return _UNADJUSTED
    factor = code.number(node, work)
    if work:
        work.step(
            f"{count} conductors of {_exempt_size(code)} copper AC or MC cable, more than {written(most)}", factor, "",
            code.cites(node),
        )  # fmt: skip
    return factor
