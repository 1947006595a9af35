"""The colors of a cable's conductors, what fits into them, and which conductor gets which signal.

Two kinds of conductor matter: *grounded* ones (white, gray, striped white), which alone may be neutrals, and the
others. A signal is one of three kinds accordingly: a neutral needs a grounded color; a switched hot (the return from
a switch to its outlet) must not have one; a hot, traveler or link may be a grounded color once it is re-identified.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from server.editions import Edition
from server.reckon.hookup.facts import Cable
from server.reckon.hookup.faults import NoHookup
from server.reckon.hookup.result import Conductor
from server.reckon.work import Work

__all__ = ["Palette", "Palettes", "Role"]


class Role(StrEnum):
    """What a signal is, in the order in which colors are handed out."""

    NEUTRAL = "neutral"
    HOT = "hot"
    SWITCHED = "switched"
    TRAVELER = "traveler"
    LINK = "link"


_GIVEN_UP_FIRST = (Role.HOT, Role.LINK, Role.TRAVELER)
"""Which signal takes a re-identified white where the other colors do not suffice."""


@dataclass(frozen=True, slots=True)
class Palette:
    """The colors of one cable. ``free`` where single conductors of any color are pulled."""

    colors: tuple[str, ...]
    grounded: tuple[str, ...]
    free: bool = False

    @property
    def others(self) -> tuple[str, ...]:
        """The colors that are not grounded ones."""
        return tuple(color for color in self.colors if color not in self.grounded)

    @property
    def most(self) -> int:
        """How many conductors there are."""
        return len(self.colors)

    @property
    def most_grounded(self) -> int:
        """How many of them can be neutrals."""
        return len(self.colors) if self.free else len(self.grounded)

    @property
    def most_others(self) -> int:
        """How many of them need no re-identification to be ungrounded."""
        return len(self.colors) if self.free else len(self.colors) - len(self.grounded)

    def fits(self, neutrals: int, others: int, switched: int) -> bool:
        """Whether some neutrals and other signals, of these so many switched hots, find their conductors."""
        return (
            neutrals <= self.most_grounded and switched <= self.most_others and neutrals + others <= self.most
        )


class Palettes:
    """The edition's colors, and the smallest cable for some signals."""

    def __init__(self, code: Edition, work: Work) -> None:
        self.code, self.work = code, work
        self.grounded = code.names("hookup.grounded_colors", work)
        self.reusable = frozenset(code.names("hookup.white_reidentified_for", work))
        self.free_kinds = frozenset(code.names("hookup.free_color_kinds", work))
        self._usual: dict[int, Palette] = {}

    def is_grounded(self, color: str) -> bool:
        """Whether a color is one of a grounded conductor."""
        return color in self.grounded or color.startswith("white")

    def may_be_white(self, role: Role) -> bool:
        """Whether a signal may run on a re-identified white."""
        return role.value in self.reusable

    def palette(self, colors: tuple[str, ...], kind: str = "") -> Palette:
        """Colors sorted into grounded ones and others."""
        return Palette(colors, tuple(filter(self.is_grounded, colors)), kind in self.free_kinds)

    def of(self, cable: Cable) -> Palette:
        """The palette of a cable: its own colors, or the usual ones."""
        colors = cable.colors or self.usual(cable.insulated).colors
        return self.palette(colors, cable.kind)

    def usual(self, insulated: int) -> Palette:
        """The usual colors of so many conductors."""
        if insulated not in self._usual:
            self._usual[insulated] = self.palette(self._colors(insulated))
        return self._usual[insulated]

    def _colors(self, insulated: int) -> tuple[str, ...]:
        for name in ("hookup.cable_colors", "hookup.more_cable_colors"):
            table = self.code.table(name)
            if str(insulated) in table:
                self.work.trust(self.code.confidence(name))
                colors = table[str(insulated)]
                assert isinstance(colors, tuple)
                return tuple(map(str, colors))
        # Beyond what is made up as cable, conductors are told apart by printed numbers; every third is a white.
        shorter = self._colors(insulated - 1) if insulated > 1 else ()
        return (*shorter, f"white {insulated}" if insulated % 3 == 0 else f"number {insulated}")

    def fits(self, cable: Cable, roles: Sequence[Role]) -> bool:
        """Whether signals of these roles find their conductors in a cable as it is."""
        neutrals, switched = roles.count(Role.NEUTRAL), roles.count(Role.SWITCHED)
        return self.of(cable).fits(neutrals, len(roles) - neutrals, switched)

    def needs(self, cable: Cable, neutrals: int, others: int, switched: int) -> int:
        """The fewest conductors of a cable, not fewer than it has, that carry some signals."""
        if self.of(cable).fits(neutrals, others, switched):
            return cable.insulated
        if cable.kind in self.free_kinds:
            return neutrals + others
        least = max(cable.insulated, neutrals + others)
        while not self.usual(least).fits(neutrals, others, switched):
            least += 1
        return least

    def assign(self, cable: Cable, signals: Sequence[tuple[Role, str]]) -> tuple[Conductor, ...]:
        """Give every signal a conductor; signals are (role, text) and are known to fit.

        Raises:
            NoHookup: they do not fit after all.
        """
        palette = self.of(cable)
        others = [signal for signal in signals if signal[0] is not Role.NEUTRAL]
        neutrals = [signal for signal in signals if signal[0] is Role.NEUTRAL]
        if palette.free:
            return self._pulled(cable, neutrals, others)
        on_white: list[tuple[Role, str]] = []
        for role in _GIVEN_UP_FIRST:
            for signal in reversed([signal for signal in others if signal[0] is role]):
                if len(others) - len(on_white) > len(palette.others) and self.may_be_white(role):
                    on_white.append(signal)
        plain = sorted((s for s in others if s not in on_white), key=lambda s: list(Role).index(s[0]))
        whites = list(palette.grounded)
        if len(plain) > len(palette.others) or len(neutrals) + len(on_white) > len(whites):
            raise NoHookup(f"The signals of cable {cable.id} do not fit its colors.")
        carried = dict(zip(palette.others, (text for _, text in plain), strict=False))
        carried |= dict(zip(whites, (text for _, text in [*neutrals, *on_white]), strict=False))
        bands = iter(self._bands(palette))
        marked = {white: next(bands) for white in whites[len(neutrals) : len(neutrals) + len(on_white)]}
        return tuple(Conductor(color, carried.get(color), marked.get(color)) for color in palette.colors)

    def _pulled(
        self, cable: Cable, neutrals: Sequence[tuple[Role, str]], others: Sequence[tuple[Role, str]]
    ) -> tuple[Conductor, ...]:
        """Single conductors pulled in the colors that are wanted."""
        many = self.usual(max(4, 3 * cable.insulated))
        found = [Conductor(color, text) for color, (_, text) in zip(many.others, others, strict=False)]
        found += [Conductor(color, text) for color, (_, text) in zip(many.grounded, neutrals, strict=False)]
        spare = [color for color in many.colors if color not in {c.color for c in found}]
        return (*found, *(Conductor(color) for color in spare[: cable.insulated - len(found)]))

    def _bands(self, palette: Palette) -> list[str]:
        """Colors for re-identifying: never one that the cable has already."""
        many = self.usual(10).others
        return [color for color in many if color not in palette.colors] + list(many)
