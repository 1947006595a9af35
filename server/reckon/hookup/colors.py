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


@dataclass(frozen=True, slots=True, eq=False)
class Palette:
    """The colors of one cable, the ``grounded`` ones and the ``others``; ``free`` where single conductors of any color
    are pulled. ``most`` conductors in all, of which ``most_grounded`` can be neutrals and ``most_others`` need no
    re-identification to be ungrounded."""

    colors: tuple[str, ...]
    grounded: tuple[str, ...]
    others: tuple[str, ...]
    free: bool
    most: int
    most_grounded: int
    most_others: int

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
        self._grounds: dict[str, str] | None = None
        self._usual: dict[int, Palette] = {}
        self._of: dict[tuple[int, tuple[str, ...], str], Palette] = {}
        self._handed_out: dict[
            tuple[Palette, int, tuple[Role, ...]], list[tuple[str, int | None, str | None]]
        ] = {}

    def is_grounded(self, color: str) -> bool:
        """Whether a color is one of a grounded conductor."""
        return color in self.grounded or color.startswith("white")

    def may_be_white(self, role: Role) -> bool:
        """Whether a signal may run on a re-identified white."""
        return role.value in self.reusable

    def palette(self, colors: tuple[str, ...], kind: str = "") -> Palette:
        """Colors sorted into grounded ones and others."""
        grounded = tuple(color for color in colors if self.is_grounded(color))
        others = tuple(color for color in colors if color not in grounded)
        free, most = kind in self.free_kinds, len(colors)
        return Palette(
            colors,
            grounded,
            others,
            free,
            most,
            most if free else len(grounded),
            most if free else len(others),
        )

    def of(self, cable: Cable) -> Palette:
        """The palette of a cable: its own colors, or the usual ones."""
        key = (cable.insulated, cable.colors, cable.kind)
        if key not in self._of:
            self._of[key] = self.palette(cable.colors or self.usual(cable.insulated).colors, cable.kind)
        return self._of[key]

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
        key = (self.of(cable), cable.insulated, tuple([role for role, _ in signals]))
        handed_out = self._handed_out.get(key)
        if handed_out is None:
            handed_out = self._handed_out[key] = self._hand_out(cable, key[2])
        return tuple(
            [Conductor(color, None if at is None else signals[at][1], band) for color, at, band in handed_out]
        )

    def _hand_out(self, cable: Cable, roles: tuple[Role, ...]) -> list[tuple[str, int | None, str | None]]:
        """For each color the place of its signal (None for a spare) and the band, where it is re-identified."""
        palette = self.of(cable)
        others = [at for at, role in enumerate(roles) if role is not Role.NEUTRAL]
        neutrals = [at for at, role in enumerate(roles) if role is Role.NEUTRAL]
        if palette.free:
            return self._pulled(cable, neutrals, others)
        on_white: list[int] = []
        for role in _GIVEN_UP_FIRST:
            for at in reversed([at for at in others if roles[at] is role]):
                if len(others) - len(on_white) > len(palette.others) and self.may_be_white(role):
                    on_white.append(at)
        order = list(Role)
        plain = sorted((at for at in others if at not in on_white), key=lambda at: order.index(roles[at]))
        whites = palette.grounded
        if len(plain) > len(palette.others) or len(neutrals) + len(on_white) > len(whites):
            raise NoHookup(f"The signals of cable {cable.id} do not fit its colors.")
        carried = dict(zip(palette.others, plain, strict=False))
        carried |= dict(zip(whites, [*neutrals, *on_white], strict=False))
        bands = dict(zip(whites[len(neutrals) :], self._bands(palette, len(on_white)), strict=False))
        return [(color, carried.get(color), bands.get(color)) for color in palette.colors]

    def _pulled(
        self, cable: Cable, neutrals: Sequence[int], others: Sequence[int]
    ) -> list[tuple[str, int | None, str | None]]:
        """Single conductors pulled in the colors that are wanted."""
        many = self.usual(max(4, 3 * cable.insulated))
        found: list[tuple[str, int | None, str | None]] = []
        found += [(color, at, None) for color, at in zip(many.others, others, strict=False)]
        found += [(color, at, None) for color, at in zip(many.grounded, neutrals, strict=False)]
        taken = {color for color, _, _ in found}
        spare = [color for color in many.colors if color not in taken]
        return [*found, *((color, None, None) for color in spare[: cable.insulated - len(found)])]

    def _bands(self, palette: Palette, count: int) -> list[str]:
        """Colors for re-identifying: first those that the cable has not got already."""
        free: list[str] = []
        for insulated in (4, 10):
            many = self.usual(insulated).others
            free = [color for color in many if color not in palette.colors]
            if len(free) >= count:
                return free[:count]
        return [*free, *self.usual(4).others * count][:count]

    def ground(self, kind: str) -> str:
        """What the equipment grounding conductor of a cable kind looks like."""
        if self._grounds is None:
            table = self.code.table("hookup.ground_color", self.work)
            self._grounds = {key: str(color) for key, color in table.items()}
        return self._grounds.get(kind, "bare")
