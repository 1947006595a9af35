"""What a load reckoning comes to."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from server.reckon.dwelling_loads import Method

__all__ = ["LineCurrents", "LoadPart", "LoadResult", "NeutralLoad"]


@dataclass(frozen=True, slots=True)
class LoadPart:
    """One row of the load: what is connected, and what of it counts (after demand)."""

    name: str
    connected_va: Fraction
    demand_va: Fraction


@dataclass(frozen=True, slots=True)
class NeutralLoad:
    """The neutral: volt-amperes, amperes before and after the reduction above 200 A (exact)."""

    va: Fraction
    full_a: Fraction
    a: Fraction
    line_to_neutral_va: Fraction
    """The part that stands between a line and the neutral in full (no cooking, no dryers)."""


@dataclass(frozen=True, slots=True)
class LineCurrents:
    """Amperes of each line and the neutral where some loads stand on a named leg."""

    a: Fraction
    b: Fraction
    neutral: Fraction


@dataclass(frozen=True, slots=True)
class LoadResult:
    """A reckoned load. Exact values carry ``_exact``; ``amperes`` and ``neutral_a`` are whole (a half counts up).

    ``unmet`` lists what the chosen method asks for and the facts do not show; ``notes`` what was supposed or is
    read differently by different departments.
    """

    method: Method
    section: str
    parts: tuple[LoadPart, ...]
    connected_va: Fraction
    total_va: Fraction
    amperes_exact: Fraction
    amperes: int
    neutral: NeutralLoad
    neutral_a: int
    lines: LineCurrents | None
    lighting_circuits_15a: int
    lighting_circuits_20a: int
    unmet: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def permitted(self) -> bool:
        """Whether the facts meet the chosen method's conditions."""
        return not self.unmet
