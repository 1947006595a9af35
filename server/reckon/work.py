"""How a reckoning shows its work.

Every reckoning takes a ``work`` recorder. With :data:`SILENT` (falsy) it costs nothing; with a
:class:`Work` it collects the steps that a person can follow with a pencil::

    def sheath_short_by(reach_in, least_in, work=SILENT):
        short = max(least_in - reach_in, 0)
        if work:
            work.step(f"{format_length(least_in)} - {format_length(reach_in)}", short, "in", "314.17(B)(1)")
        return short

The same function thus gives the bare answer and, run once more with a recorder, the explanation.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Final

__all__ = ["CONFIDENCE_ORDER", "SILENT", "Step", "Value", "Work", "lowest_confidence", "round_half_up"]

Value = Fraction | int | str | bool | None
"""What a step can result in. Never a float: numbers stay exact until they are shown."""

CONFIDENCE_ORDER: Final = ("two", "one", "derived", "carry", "memory")
"""From best to weakest: two sources, one source, derived from a sourced text, carried to a later edition
unverified, from memory."""


@dataclass(frozen=True, slots=True)
class Step:
    """One line of a reckoning: what was done, what came out, in which unit, by which article."""

    text: str
    value: Value = None
    unit: str = ""
    cites: str = ""
    applied: bool = True
    """False where the line says what did *not* apply, and why."""


@dataclass(slots=True)
class Work:
    """A recorder of steps; truthy unless silent."""

    silent: bool = False
    steps: list[Step] = field(default_factory=list)
    confidences: set[str] = field(default_factory=set)

    def __bool__(self) -> bool:
        return not self.silent

    def step(self, text: str, value: Value = None, unit: str = "", cites: str = "") -> None:
        """Record what was done."""
        if not self.silent:
            self.steps.append(Step(text, value, unit, cites))

    def skip(self, text: str, cites: str = "") -> None:
        """Record what did not apply, and why."""
        if not self.silent:
            self.steps.append(Step(text, cites=cites, applied=False))

    def trust(self, confidence: str) -> None:
        """Record how well a number that was read is supported."""
        if not self.silent:
            self.confidences.add(confidence)

    @property
    def confidence(self) -> str:
        """The weakest support of any number read so far (``two`` where none was read)."""
        return lowest_confidence(self.confidences)

    @property
    def cites(self) -> tuple[str, ...]:
        """Every article named by a step that applied, in order, once."""
        return tuple(dict.fromkeys(s.cites for s in self.steps if s.cites and s.applied))


SILENT: Final = Work(silent=True)
"""The recorder that records nothing."""


def lowest_confidence(words: Iterable[str]) -> str:
    """The weakest of some confidence words; ``two`` for none."""
    return max(words, key=CONFIDENCE_ORDER.index, default="two")


def round_half_up(number: Fraction | int) -> int:
    """Round halves up: 2.5 -> 3, as loads are rounded (not to the even neighbour).

    The code drops fractions of an ampere below 0.5 (220.5(B)); a half counts up.
    """
    return int((Fraction(number) + Fraction(1, 2)) // 1)
