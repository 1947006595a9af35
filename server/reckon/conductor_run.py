"""A conductor and how it is run, as ampacity and overcurrent protection look at it."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from server.dwelling.supply import CableKind, ConductorMaterial

__all__ = ["COLUMNS_C", "ConductorRun"]

COLUMNS_C: Final = (60, 75, 90)
"""The temperature columns of the ampacity tables."""


@dataclass(frozen=True, slots=True)
class ConductorRun:
    """A conductor and how it is run.

    ``insulation_c`` and ``terminal_c`` are 60, 75 or 90; without them, what is usual for the cable and what
    110.14(C) gives for the size. ``current_carrying`` counts every current-carrying conductor that lies together
    with this one, itself included. ``together_in`` is how long they lie together (None: longer than the
    limit). ``in_insulation`` is contact with thermal insulation, ``sealed_hole`` a hole in wood framing shared with
    the others and closed with insulation, caulk or foam. ``cables`` counts the cables together where it is known.
    ``jacketed`` is an overall jacket over the armor of MC; ``each_cable`` the most current-carrying conductors in one
    of the cables. ``as_nm`` is a UF-B cable run indoors in place of NM.
    """

    awg: str
    material: ConductorMaterial = ConductorMaterial.COPPER
    kind: CableKind = CableKind.NM_B
    insulation_c: int | None = None
    terminal_c: int | None = None
    ambient_f: Fraction | None = None
    current_carrying: int | None = None
    spaced: bool = False
    in_insulation: bool = False
    sealed_hole: bool = False
    together_in: Fraction | None = None
    cables: int | None = None
    jacketed: bool = False
    each_cable: int | None = None
    as_nm: bool = False

    @property
    def is_nm(self) -> bool:
        """Whether the rules for nonmetallic-sheathed cable hold."""
        return self.kind is CableKind.NM_B or (self.kind is CableKind.UF_B and self.as_nm)
