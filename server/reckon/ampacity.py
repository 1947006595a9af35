"""Ampacity of a conductor as it is run: table, ambient, conductors together, cable kind, terminals.

The order is the code's: start from the column of the insulation (or the one the cable's article allows), correct
for ambient (310.15(B)), adjust for conductors together (310.15(C)), then stay within the cable's own limit
(334.80 for NM) and within the terminals' column (110.14(C)).
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from server.dwelling.supply import CableKind, ConductorMaterial
from server.editions import Edition
from server.reckon.conductor_run import COLUMNS_C, ConductorRun
from server.reckon.conductor_sizes import ConductorError, circular_mils, sized
from server.reckon.conductors_together import adjustment_factor
from server.reckon.figures import written
from server.reckon.work import SILENT, Work

__all__ = ["Ampacity", "ambient_factor", "reckon_ampacity", "table_ampacity", "terminal_column"]


@dataclass(frozen=True, slots=True)
class Ampacity:
    """The amperes that a run may carry, and every number on the way.

    ``table_a`` is the table value of ``start_c``; ``derated_a`` that times both factors; ``terminal_limit_a`` the
    table value of ``terminal_c``; ``cable_limit_a`` what the cable's article allows at most (None: no limit of its
    own). ``allowed_a`` is the least of the three.
    """

    start_c: int
    table_a: Fraction
    correction: Fraction
    adjustment: Fraction
    derated_a: Fraction
    terminal_c: int
    terminal_limit_a: Fraction
    cable_limit_a: Fraction | None
    allowed_a: Fraction


def reckon_ampacity(run: ConductorRun, code: Edition, work: Work = SILENT) -> Ampacity:
    """Reckon what a conductor may carry as it is run.

    Raises:
        ConductorError: no such size, or none of this material in the table.
    """
    limit_c = _cable_limit_c(run, code, work)
    start_c = _start_c(run, code, work)
    table_a = table_ampacity(run.awg, run.material, start_c, code, work)
    if work:
        work.step(
            f"{sized(run.awg)} {run.material.value}, {start_c} °C column",
            table_a,
            "A",
            _table_cites(run, code),
        )
    correction = _corrected(run, start_c, code, work)
    adjustment = adjustment_factor(run, code, work)
    derated = table_a * correction * adjustment
    if work:
        work.step(
            f"{written(table_a)} A × {written(correction)} × {written(adjustment)}", derated, "A",
            code.cites("conductor.ambient_factor_90"),
        )  # fmt: skip
    cable_limit = None
    if limit_c is not None:
        cable_limit = table_ampacity(run.awg, run.material, limit_c, code, work)
        if work:
            work.step(f"The cable's limit: {limit_c} °C column", cable_limit, "A", _limit_cites(run, code))
    terminal_c = terminal_column(run, code, work)
    terminal_limit = table_ampacity(run.awg, run.material, terminal_c, code, work)
    if work:
        work.step(
            f"The terminals' limit: {terminal_c} °C column", terminal_limit, "A", _terminal_cites(run, code)
        )
    allowed = min(derated, terminal_limit, *(() if cable_limit is None else (cable_limit,)))
    if work:
        work.step("Allowed: the least of these", allowed, "A", _table_cites(run, code))
    return Ampacity(
        start_c, table_a, correction, adjustment, derated, terminal_c, terminal_limit, cable_limit, allowed
    )


def _tables_of(material: ConductorMaterial) -> tuple[str, ...]:
    if material is ConductorMaterial.COPPER:
        return (
            "conductor.ampacity_copper",
            "conductor.ampacity_copper_kcmil",
            "conductor.ampacity_copper_small",
        )
    return ("conductor.ampacity_aluminum", "conductor.ampacity_aluminum_kcmil")


def table_ampacity(
    awg: str, material: ConductorMaterial, column_c: int, code: Edition, work: Work = SILENT
) -> Fraction:
    """The ampacity table's value: not more than three conductors, 30 °C. The smallest copper sizes stand in the
    90 °C column only, and that value is given for every column.

    Raises:
        ConductorError: the size does not exist, or the table has none of this material.
    """
    for node in _tables_of(material):
        row = code.table(node).get(awg)
        if row is None:
            continue
        work.trust(code.confidence(node))
        assert not isinstance(row, int | str | bool | tuple | Fraction)
        found = row.get(str(column_c), row[str(max(COLUMNS_C))])
        assert isinstance(found, int | Fraction)
        return Fraction(found)
    circular_mils(awg, code)
    first = _tables_of(material)[0]
    raise ConductorError(
        "awg",
        f"expected {material.value} of {next(iter(code.table(first)))} AWG or larger ({code.cites(first)}), "
        f"came {awg!r}",
        awg,
    )


def _table_cites(run: ConductorRun, code: Edition) -> str:
    return code.cites(_tables_of(run.material)[0])


def _start_c(run: ConductorRun, code: Edition, work: Work) -> int:
    """The column from which correction and adjustment start."""
    if run.kind is CableKind.UF_B and not run.as_nm:
        only = int(code.number("conductor.uf_limit_c", work))
        if work and run.insulation_c is not None and run.insulation_c > only:
            work.skip(
                f"The {run.insulation_c} °C insulation of UF cable gives no higher start: its ampacity is that of "
                f"{only} °C conductors",
                code.cites("conductor.uf_limit_c"),
            )
        return only
    if run.is_nm and run.insulation_c is None:
        return int(code.number("conductor.nm_start_c", work))
    if run.insulation_c is None:
        return int(code.number("conductor.usual_insulation_c", work))
    if run.insulation_c not in COLUMNS_C:
        raise ConductorError(
            "insulation_c", f"expected 60, 75 or 90, came {run.insulation_c}", run.insulation_c
        )
    return run.insulation_c


def _limit_node(run: ConductorRun, code: Edition) -> str | None:
    """What limits the cable's ampacity whatever its insulation; None for no limit of its own."""
    if run.is_nm:
        return "conductor.nm_limit_c"
    if run.kind is CableKind.UF_B:
        return "conductor.uf_limit_c"
    insulated = run.in_insulation or run.sealed_hole
    if run.kind is CableKind.AC and insulated:
        return "conductor.ac_insulated_limit_c"
    if run.kind is CableKind.SE and insulated:
        most = str(code.value("conductor.se_insulated_largest_awg"))
        if circular_mils(run.awg, code) <= circular_mils(most, code):
            return "conductor.se_insulated_limit_c"
    return None


def _cable_limit_c(run: ConductorRun, code: Edition, work: Work) -> int | None:
    node = _limit_node(run, code)
    return None if node is None else int(code.number(node, work))


def _limit_cites(run: ConductorRun, code: Edition) -> str:
    node = _limit_node(run, code)
    return code.cites(node) if node else ""


def ambient_factor(
    ambient_f: Fraction, insulation_c: int, code: Edition, work: Work = SILENT
) -> Fraction | None:
    """The correction for an ambient in Fahrenheit; None where it is too hot for the insulation. An ambient
    between two bands takes the hotter one."""
    for top_f, factor in code.table(f"conductor.ambient_factor_{insulation_c}", work).items():
        if ambient_f <= Fraction(top_f):
            assert isinstance(factor, int | Fraction)
            return Fraction(factor)
    return None


def _corrected(run: ConductorRun, start_c: int, code: Edition, work: Work) -> Fraction:
    node = f"conductor.ambient_factor_{start_c}"
    ambient = code.number("conductor.base_ambient_f", work) if run.ambient_f is None else run.ambient_f
    factor = ambient_factor(ambient, start_c, code, work)
    if factor is None:
        if work:
            work.step(
                f"{written(ambient)} °F is too hot for {start_c} °C insulation",
                Fraction(0),
                "",
                code.cites(node),
            )
        return Fraction(0)
    if work:
        work.step(f"Ambient {written(ambient)} °F, {start_c} °C insulation", factor, "", code.cites(node))
    return factor


def terminal_column(run: ConductorRun, code: Edition, work: Work = SILENT) -> int:
    """The column of the terminals: as they are marked, else by size."""
    if run.terminal_c is None:
        return int(code.number(_terminal_node(run, code), work))
    if run.terminal_c not in COLUMNS_C:
        raise ConductorError("terminal_c", f"expected 60, 75 or 90, came {run.terminal_c}", run.terminal_c)
    return run.terminal_c


def _terminal_node(run: ConductorRun, code: Edition) -> str:
    small = circular_mils(str(code.value("conductor.terminal_small_largest_awg")), code)
    size = "small" if circular_mils(run.awg, code) <= small else "large"
    return f"conductor.terminal_{size}_c"


def _terminal_cites(run: ConductorRun, code: Edition) -> str:
    node = _terminal_node(run, code) if run.terminal_c is None else "conductor.terminal_as_marked"
    return code.cites(node)
