"""A case: one house, one subject, one rule, the verdict that it must give."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from seed_demo.building import HouseBuilder
from server.dwelling import Dwelling, Ref
from server.editions import YEARS

__all__ = ["Case", "House"]

House = Callable[[HouseBuilder], Ref]
"""Builds a house and says which subject is meant."""


@dataclass(frozen=True, slots=True)
class Case:
    """``name`` is a sentence that begins with the verdict: ``clear - sheath is exactly 1/4 in inside``."""

    rule: str
    name: str
    house: House
    reason: str = ""
    years: tuple[int, ...] = YEARS
    source: str = ""

    @property
    def verdict(self) -> str:
        return self.name.split(" - ", 1)[0]

    def build(self) -> tuple[Dwelling, Ref]:
        builder = HouseBuilder()
        ref = self.house(builder)
        return builder.dwelling(), ref
