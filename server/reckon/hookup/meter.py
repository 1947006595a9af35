"""What a load of signals asks of the cables: whether it fits, what would have to be added, which whites it takes."""

from __future__ import annotations

from server.reckon.hookup.colors import Palettes
from server.reckon.hookup.tree import FIELD, Tree, fields_of

__all__ = ["Meter"]


class Meter:
    """The limits of all cables of a tree, packed as :class:`Tree` packs paths."""

    __slots__ = ("_grounded", "_most", "_others", "palettes", "tree")

    def __init__(self, tree: Tree, palettes: Palettes) -> None:
        self.tree, self.palettes = tree, palettes
        own = [palettes.of(cable) for cable in tree.cables]
        self._most = _packed([palette.most for palette in own])
        self._grounded = _packed([palette.most_grounded for palette in own])
        self._others = _packed([palette.most_others for palette in own])

    def fits(self, neutrals: int, others: int, switched: int) -> bool:
        """Whether every cable can carry its neutrals and other signals, of these so many switched hots."""
        within = self.tree.within
        return (
            within(self._most, neutrals + others)
            and within(self._grounded, neutrals)
            and within(self._others, switched)
        )

    def room(self, total: int) -> int:
        """What the cables have left beside a load that fits."""
        return self._most - total

    def lack(self, total: int) -> tuple[int, int]:
        """At least so many conductors are to be added, in at least so many cables: colors left aside."""
        return self.tree.excess(total, self._most)

    def needs(self, neutrals: int, others: int, switched: int) -> list[int]:
        """The conductors that each cable is to have, never fewer than it has."""
        cables = self.tree.cables
        if self.fits(neutrals, others, switched):
            return [cable.insulated for cable in cables]
        count = len(cables)
        counts = zip(
            cables,
            fields_of(neutrals, count),
            fields_of(others, count),
            fields_of(switched, count),
            strict=True,
        )
        return [self.palettes.needs(*each) for each in counts]

    def added(self, needs: list[int]) -> tuple[int, int]:
        """Conductors to add, and cables to replace for it."""
        more = [need - cable.insulated for need, cable in zip(needs, self.tree.cables, strict=True)]
        return sum(more), sum(extra > 0 for extra in more)

    def reidentified(self, others: int, needs: list[int] | None = None) -> int:
        """Whites that have to carry something else, in the cables as they are or as they are to be."""
        if needs is None and self.tree.within(self._others, others):
            return 0
        found = 0
        for at, (cable, count) in enumerate(
            zip(self.tree.cables, fields_of(others, len(self.tree.cables)), strict=True)
        ):
            palette = self.palettes.of(cable)
            if needs is not None and needs[at] > cable.insulated and not palette.free:
                palette = self.palettes.usual(needs[at])
            if not palette.free:
                found += max(0, count - palette.most_others)
        return found


def _packed(counts: list[int]) -> int:
    return sum(count << FIELD * index for index, count in enumerate(counts))
