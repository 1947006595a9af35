"""What a rule answers: one of five verdicts, with a reason and raw operands. Words come later.

clear       recorded facts meet the rule
correction  recorded facts fall short
unseen      a fact or a look is missing, and it says which
outside     the rule does not reach this subject, and it says why
inspector   the code leaves it to the authority having jurisdiction; it says what to ask
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from typing import NamedTuple

__all__ = [
    "Lazily",
    "Missing",
    "Operand",
    "Outcome",
    "Verdict",
    "ask_inspector",
    "clear",
    "correction",
    "outside",
    "unseen",
]


@dataclass(frozen=True, slots=True, eq=False)
class Lazily:
    """An operand whose words are made only when somebody asks: ``str()`` of it calls ``make``.

    Two are equal where their words are; pickled, one becomes its words.
    """

    make: Callable[[], str]

    def __str__(self) -> str:
        return self.make()

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Lazily) and str(self) == str(other)

    def __hash__(self) -> int:
        return hash(str(self))

    def __reduce__(self) -> tuple[type[str], tuple[str]]:
        return str, (str(self),)


Operand = Fraction | int | str | tuple[str, ...] | Lazily | None


class Verdict(StrEnum):
    CLEAR = "clear"
    CORRECTION = "correction"
    UNSEEN = "unseen"
    OUTSIDE = "outside"
    INSPECTOR = "inspector"

    __hash__ = str.__hash__  # verdicts are counted by the thousand, and an enumeration's own hash is slow


@dataclass(frozen=True, slots=True)
class Missing:
    """A fact that a verdict waits for: in words, and the field that would hold it (``box.volume_in3``).

    An empty field means a look or a measurement under the rule itself.
    """

    words: str
    field: str = ""


class Outcome(NamedTuple):
    """A verdict with the reason's key and its operands; rendered by ``server.readiness.words``.

    ``cites`` is given only where it is narrower than the rule's own article. ``confidence`` is the weakest
    support of the numbers that decided it, where a reckoning tells. ``of_room`` is the room where a look at all of it
    found one wrong and nobody said which: this subject stands for it. A named tuple, because a house has thousands
    of them and a frozen dataclass takes three times as long to make.
    """

    verdict: Verdict
    reason: str
    operands: Mapping[str, Operand]
    missing: tuple[Missing, ...] = ()
    cites: str = ""
    confidence: str = ""
    of_room: str = ""


def clear(reason: str, *, cites: str = "", confidence: str = "", **operands: Operand) -> Outcome:
    """The recorded facts meet the rule."""
    return Outcome(Verdict.CLEAR, reason, operands, cites=cites, confidence=confidence)


def correction(reason: str, *, cites: str = "", confidence: str = "", **operands: Operand) -> Outcome:
    """The recorded facts fall short."""
    return Outcome(Verdict.CORRECTION, reason, operands, cites=cites, confidence=confidence)


def unseen(reason: str, *missing: Missing, cites: str = "", **operands: Operand) -> Outcome:
    """Facts are missing; at least one must be named."""
    assert missing, "an unseen outcome names what is missing"
    return Outcome(Verdict.UNSEEN, reason, operands, missing, cites=cites)


def outside(reason: str, *, cites: str = "", **operands: Operand) -> Outcome:
    """The rule does not reach this subject."""
    return Outcome(Verdict.OUTSIDE, reason, operands, cites=cites)


def ask_inspector(reason: str, *, cites: str = "", **operands: Operand) -> Outcome:
    """The code leaves it to the authority having jurisdiction."""
    return Outcome(Verdict.INSPECTOR, reason, operands, cites=cites)
