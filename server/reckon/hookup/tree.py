"""Paths and spanning subtrees of a tree of cables, as packed integers.

Each cable has a field of ``FIELD`` bits. A path or subtree has 1 in the fields of its cables, so that the path between
two nodes is the exclusive or of their paths from the root, a union is an or, and conductor counts of several signals
add up by plain addition. One comparison then checks all cables at once.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Final

from server.reckon.hookup.facts import Cable

__all__ = ["FIELD", "Tree", "fields_of", "total_of"]

FIELD: Final = 16


def fields_of(packed: int, count: int) -> list[int]:
    """The counts in the first fields."""
    wanted = (1 << FIELD) - 1
    return [packed >> FIELD * index & wanted for index in range(count)]


def total_of(packed: int) -> int:
    """The sum of all counts: the digits of a number in base 2**FIELD sum to it modulo 2**FIELD - 1."""
    return packed % ((1 << FIELD) - 1)


class Tree:
    """Nodes joined by cables without a ring; ``bits[i]`` is the field of cable ``i``."""

    __slots__ = ("_at", "_from_root", "_touching", "bits", "cables", "tops")

    def __init__(self, nodes: Iterable[str], cables: Sequence[Cable]) -> None:
        self.cables: Final = tuple(cables)
        self.bits: Final = tuple(1 << FIELD * index for index in range(len(self.cables)))
        self.tops: Final = sum(bit << FIELD - 1 for bit in self.bits)
        around: dict[str, list[tuple[str, int]]] = {node: [] for node in nodes}
        for index, cable in enumerate(self.cables):
            around[cable.a].append((cable.b, self.bits[index]))
            around[cable.b].append((cable.a, self.bits[index]))
        self._touching = {node: sum(bit for _, bit in ends) for node, ends in around.items()}
        self._from_root: dict[str, int] = {}
        self._at = tuple(around)
        root = self._at[0]
        self._from_root[root] = 0
        waiting = [root]
        while waiting:
            node = waiting.pop()
            for other, bit in around[node]:
                if other not in self._from_root:
                    self._from_root[other] = self._from_root[node] | bit
                    waiting.append(other)
        assert len(self._from_root) == len(self._at) == len(self.cables) + 1, "expected a tree"

    @property
    def nodes(self) -> tuple[str, ...]:
        """All nodes, as they were given."""
        return self._at

    def path(self, one: str, other: str) -> int:
        """The cables between two nodes."""
        return self._from_root[one] ^ self._from_root[other]

    def span(self, nodes: Iterable[str]) -> int:
        """The smallest subtree that reaches all of some nodes (nothing for none)."""
        found, first = 0, None
        for node in nodes:
            if first is None:
                first = self._from_root[node]
            else:
                found |= first ^ self._from_root[node]
        return found

    def ends_at(self, node: str, span: int) -> int:
        """How many cables of a subtree end in a node."""
        return (span & self._touching[node]).bit_count()

    def splices(self, span: int, terminals: Mapping[str, int]) -> int:
        """Nodes where a signal over a subtree needs a connector: two cable ends, or more than two ends.

        ``terminals`` counts the device terminals of the signal by node.
        """
        found = 0
        for node, touching in self._touching.items():
            ends = (span & touching).bit_count()
            if ends > 1 or ends + terminals.get(node, 0) > 2:
                found += 1
        return found

    def mask(self, flags: int) -> int:
        """All bits of the fields whose top bit is among some flags."""
        ones = flags >> FIELD - 1
        return (ones << FIELD) - ones

    def least(self, one: int, other: int) -> int:
        """The smaller count of each field."""
        not_less = self.mask(((one | self.tops) - other) & self.tops)
        return (other & not_less) | (one & ~not_less)

    def excess(self, load: int, limit: int) -> tuple[int, int]:
        """By how much a load is above a limit, summed over all fields, and in how many fields."""
        not_less = self.mask(((load | self.tops) - limit) & self.tops)
        more = (load & not_less) - (limit & not_less)
        above = ((more | self.tops) - (self.tops >> FIELD - 1)) & self.tops
        return total_of(more), above.bit_count()

    def within(self, limit: int, load: int) -> bool:
        """Whether no field of a load is above that of a limit."""
        return ((limit | self.tops) - load) & self.tops == self.tops
