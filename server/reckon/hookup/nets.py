"""The conductors that a group of switches needs, once the order of its switches is chosen.

Two or more switches act on common loads only if they form a chain: a three-way at each end, four-ways between, a pair
of conductors from each to the next. There are two ways of putting hot and load to such a chain, and no other
(enumerated for two and three switches in the tests):

* the *line*: hot on the common of the first, the load on the common of the last, and travelers in every pair;
* the *ring*: a link between the two commons, and hot and load themselves as one of the pairs. It takes one conductor
  fewer where both are wanted at both ends. It is uncommon and disputed (with both switches to the hot side the link
  runs beside the hot), so it is used only where the line does not fit, and shown as a question for the inspector.

The loads of a smaller tier tap a traveler of the pair after its switches.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from server.reckon.hookup.colors import Role
from server.reckon.hookup.demand import Group, Spot
from server.reckon.hookup.facts import Device, SwitchWays
from server.reckon.hookup.listing import listed

__all__ = ["Net", "Order", "nets_of"]


@dataclass(frozen=True, slots=True)
class Order:
    """The order of a group's switches from the fed end (indices into the group); ``hot_pair`` is the place in the
    chain of the pair that is hot and load themselves, None for a line."""

    switches: tuple[int, ...]
    hot_pair: int | None = None


@dataclass(frozen=True, slots=True)
class Net:
    """One signal with its terminals; ``kept`` are nodes that it has to reach without a terminal there."""

    role: Role
    text: str
    spots: tuple[Spot, ...]
    kept: tuple[str, ...] = ()

    @property
    def nodes(self) -> tuple[str, ...]:
        """Every node it reaches, repeated as its terminals are."""
        return (*(spot.node for spot in self.spots), *self.kept)


def nets_of(group: Group, order: Order) -> tuple[list[Spot], list[Net]]:
    """The hot terminals of a group, and its own nets."""
    chain = [group.switches[index] for index in order.switches]
    last = len(chain) - 1
    left = [_side(switch, at, last, is_left=True) for at, switch in enumerate(chain)]
    right = [_side(switch, at, last, is_left=False) for at, switch in enumerate(chain)]
    tapped = {len(tier.switches): tier for tier in group.tiers}
    ends = tapped.pop(len(chain)) if len(chain) in tapped else None
    nets: list[Net] = []
    if order.hot_pair is None:
        feeds = [left[0][0]]
        back = [right[last][0]]
    else:
        at = order.hot_pair
        feeds = [right[at][0], left[at + 1][0]]
        back = [right[at][1], left[at + 1][1]]
        text = f"link ({chain[0].id} to {chain[last].id})"
        nets.append(Net(Role.LINK, text, (left[0][0], right[last][0])))
    if ends is not None:
        nets.append(Net(Role.SWITCHED, f"switched hot to {listed(ends.loads)}", (*back, *ends.spots)))
    for at in range(last):
        if at == order.hot_pair:
            continue
        for number, spots in enumerate(zip(right[at], left[at + 1], strict=True), 1):
            text = f"traveler {number} ({chain[at].id} to {chain[at + 1].id})"
            tier = tapped.get(at + 1) if number == 1 else None
            if tier is None:
                nets.append(Net(Role.TRAVELER, text, spots))
            else:
                # What goes to an outlet is a return, whatever else it is: it must not be a white.
                text = f"{text} and switched hot to {listed(tier.loads)}"
                nets.append(Net(Role.SWITCHED, text, (*spots, *tier.spots)))
    return feeds, nets


def _side(switch: Device, at: int, last: int, *, is_left: bool) -> Sequence[Spot]:
    """The terminals of a switch toward one side of the chain: one at an end of it, a pair elsewhere."""
    single = at == (0 if is_left else last)
    ways = switch.ways
    if ways is None:
        ways = SwitchWays.SINGLE_POLE if last == 0 else SwitchWays.THREE_WAY
    names: tuple[str, ...]
    if 0 < at < last or ways is SwitchWays.FOUR_WAY:
        names = ("in_1", "in_2") if is_left else ("out_1", "out_2")
    elif last == 0 and ways is SwitchWays.THREE_WAY:
        names = ("common",) if is_left else ("traveler_1",)
    elif last == 0:
        names = ("line",) if is_left else ("load",)
    else:
        names = ("common",) if single else ("traveler_1", "traveler_2")
    return [Spot(switch.node, switch.id, name) for name in (names[:1] if single else names)]
