"""A rule: one function over one subject, with everything a person needs to know about it.

    @rule(
        id="sheath-into-box", stage=Stage.ROUGH_IN, about=Box, kind=Kind.MEASURED,
        cites={2017: "314.17(C)", 2020: "314.17(B)(1)", 2023: "314.17(B)(1)", 2026: Carried("314.17(B)(1)")},
        title="Cable sheath reaches into the box",
        why=..., look_for=..., cure=...,
        says={"reaches": "The sheath reaches {reach_in:in} into the box; {least_in:in} is the least."},
    )
    def sheath_into_box(box: Box, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome: ...

``says`` has one sentence per reason that the function can give; ``cures`` one cure per reason where the rule's
own ``cure`` would not do. Both take the outcome's operands by name: ``{reach_in:in}`` writes a length,
``{load_va:n}`` a number, ``{rooms:list}`` a list.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any, Final, TypeVar

from server.dwelling import (
    Box,
    Cable,
    Circuit,
    Counter,
    Device,
    Dwelling,
    Fixture,
    Level,
    Panel,
    Room,
    Site,
    Stage,
    Wall,
)
from server.editions import YEARS, Edition
from server.reckon.work import SILENT, Work
from server.rules.outcome import Outcome

__all__ = ["ABOUT_KINDS", "COMMON_PRACTICE", "NOT_IN_EDITION", "Carried", "Kind", "Measure", "Rule", "rule"]

About = Site | Level | Room | Wall | Counter | Fixture | Box | Device | Panel | Circuit | Cable

ABOUT_KINDS: Final[Mapping[type[Any], str]] = {
    Site: "job", Level: "level", Room: "room", Wall: "wall", Counter: "counter", Fixture: "fixture", Box: "box",
    Device: "device", Panel: "panel", Circuit: "circuit", Cable: "cable",
}  # fmt: skip
"""The word for each kind of subject, as in references."""

NOT_IN_EDITION: Final = "not in this edition"
_SAID_BY_LOOKS: Final = {
    "not-here": "{who} recorded that there is none here{noted}.",
    "one-of-room": "One in this room was found wrong, and nobody said which one.",
    "one-named": "Another one in this room was found wrong; nobody has looked at this one since.",
}
"""What every rule that somebody settles can say."""
COMMON_PRACTICE: Final = "common practice"
"""In place of an article: the trade's own standard, not the code's."""

_ID: Final = re.compile(r"^[a-z][a-z0-9]*(-[a-z0-9]+)*$")
_FORBIDDEN_IN_ID: Final = ("check", "must", "no-", "dont", "verify")


class Carried(str):
    """An article carried to a later edition and verified by nobody yet; shown as such."""

    __slots__ = ()


class Kind(StrEnum):
    """How a rule comes to its verdict."""

    RECKONED = "reckoned"
    MEASURED = "measured"
    SEEN = "seen"
    PAPER = "paper"


@dataclass(frozen=True, slots=True, eq=False)  # one a rule: itself is its key
class Measure:
    """How a measured rule is measured and judged.

    ``limit`` names the edition's value; ``least`` says whether the measure must be at least (True) or at most
    that much. ``worst`` tells which one to measure when a whole room is settled at once.
    """

    unit: str
    limit: str
    least: bool
    how: str
    worst: str


@dataclass(frozen=True, slots=True)
class Rule:
    """A registered rule; calling it runs its function."""

    id: str
    stage: Stage
    about: type[Any]
    kind: Kind
    cites: Mapping[int, str]
    title: str
    why: str
    look_for: str
    cure: str
    says: Mapping[str, str]
    function: Callable[..., Outcome]
    cures: Mapping[str, str] = field(default_factory=dict)
    measure: Measure | None = None
    mistakes: str = ""
    plain: str = ""
    danger: str = ""

    def __call__(self, about: Any, house: Dwelling, code: Edition, work: Work = SILENT) -> Outcome:
        return self.function(about, house, code, work)

    @property
    def about_kind(self) -> str:
        """The word for its kind of subject."""
        return ABOUT_KINDS[self.about]

    @property
    def recordable(self) -> bool:
        """Whether a person settles it by looking, measuring or showing a paper."""
        return self.kind is not Kind.RECKONED

    def article(self, code: Edition) -> str:
        """The article in an edition; :data:`NOT_IN_EDITION` where it has none."""
        return self.cites[code.year]


F = TypeVar("F", bound=Callable[..., Outcome])


def rule(
    *,
    id: str,  # noqa: A002 - the word that the registry and the job file use
    stage: Stage,
    about: type[Any],
    cites: Mapping[int, str],
    title: str,
    why: str,
    look_for: str,
    cure: str,
    says: Mapping[str, str],
    kind: Kind = Kind.RECKONED,
    cures: Mapping[str, str] | None = None,
    measure: Measure | None = None,
    mistakes: str = "",
    plain: str = "",
    danger: str = "",
) -> Callable[[F], Rule]:
    """Declare a rule; odd declarations fail when the module is imported.

    Raises:
        ValueError: naming the rule and what is wrong with its declaration.
    """

    def declare(function: F) -> Rule:
        if not _ID.match(id) or any(id.startswith(word) for word in _FORBIDDEN_IN_ID):
            raise ValueError(
                f"{id!r}: a rule is named for what is looked at, in lower-case words and hyphens"
            )
        if about not in ABOUT_KINDS:
            raise ValueError(f"{id}: expected about to be a kind of subject, came {about!r}")
        if missing := [year for year in YEARS if not cites.get(year)]:
            raise ValueError(f"{id}: no citation and no explicit absence for {missing}")
        if kind is Kind.MEASURED and measure is None:
            raise ValueError(f"{id}: a measured rule says how it is measured")
        for name, text in (("title", title), ("why", why), ("look_for", look_for), ("cure", cure)):
            if not text.strip():
                raise ValueError(f"{id}: {name} is empty")
        return Rule(
            id=id, stage=stage, about=about, kind=kind, cites=dict(cites), title=title, why=why,
            look_for=look_for, cure=cure, function=function,
            says=dict(says) if kind is Kind.RECKONED else {**_SAID_BY_LOOKS, **says}, cures=dict(cures or {}),
            measure=measure, mistakes=mistakes, plain=plain, danger=danger,
        )  # fmt: skip

    return declare
