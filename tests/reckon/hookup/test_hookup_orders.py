"""The orders of a group's switches: what the recursion keeps covers every permutation, and what it charges is what the
nets come to."""

from __future__ import annotations

from collections import Counter
from itertools import permutations

from hypothesis import given, settings
from hypothesis import strategies as st

from server.reckon.hookup import Cable, Device, Kind, SwitchWays
from server.reckon.hookup.chains import Option, lines_of, rings_of, unbeaten
from server.reckon.hookup.colors import Role
from server.reckon.hookup.demand import Group, Spot, Tier
from server.reckon.hookup.nets import Order, nets_of
from server.reckon.hookup.tree import Tree, fields_of


@st.composite
def groups(draw: st.DrawFn) -> tuple[Tree, Group]:
    """A tree of up to seven boxes and a group of two to five switches in it, with one or two tiers of loads."""
    count = draw(st.integers(1, 7))
    boxes = [f"B{number}" for number in range(count)]
    cables = [
        Cable(f"c{number}", boxes[draw(st.integers(0, number - 1))], boxes[number])
        for number in range(1, count)
    ]
    box = st.sampled_from(boxes)
    size = draw(st.integers(2, 5))
    said = draw(st.lists(st.sampled_from([None, None, None, *SwitchWays]), min_size=size, max_size=size))
    ways = [way if way in (SwitchWays.THREE_WAY, SwitchWays.FOUR_WAY) else None for way in said]
    if ways.count(SwitchWays.THREE_WAY) > 2:
        ways = [None] * size
    switches = tuple(Device(f"S{at}", draw(box), Kind.SWITCH, ways=ways[at]) for at in range(size))

    def tier(some: int, name: str) -> Tier:
        spots = tuple(Spot(draw(box), f"{name}{at}", "hot") for at in range(draw(st.integers(1, 2))))
        return Tier(frozenset(s.id for s in switches[:some]), spots, tuple(spot.device for spot in spots))

    tiers = [tier(size, "L")]
    if draw(st.booleans()):
        tiers.insert(0, tier(draw(st.integers(1, size - 1)), "M"))
    return Tree(boxes, cables), Group(switches, tuple(tiers), 1)


def reckoned(tree: Tree, group: Group, order: Order) -> Option:
    """What an order comes to, from its nets."""
    feeds, nets = nets_of(group, order)
    either = switched = splices = 0
    for net in nets:
        span = tree.span(net.nodes)
        splices += tree.splices(span, Counter(net.nodes))
        if net.role is Role.SWITCHED:
            switched += span
        else:
            either += span
    return Option(either, switched, tuple(spot.node for spot in feeds), splices, order)


def allowed(group: Group, order: tuple[int, ...]) -> bool:
    """Whether switches that are said to be three-way lie at the ends, and smaller tiers come first."""
    between = order[1:-1]
    if any(group.switches[at].ways is SwitchWays.THREE_WAY for at in between):
        return False
    return all(
        {group.switches[at].id for at in order[: len(tier.switches)]} == tier.switches for tier in group.tiers
    )


def covers(tree: Tree, kept: Option, other: Option) -> bool:
    """Whether one option needs no more of anything than another, cable by cable."""
    count = len(tree.cables)

    def counts(option: Option) -> list[tuple[int, int]]:
        return [
            (a + b, b)
            for a, b in zip(fields_of(option.either, count), fields_of(option.switched, count), strict=True)
        ]

    return (
        kept.splices <= other.splices
        and not Counter(kept.feeds) - Counter(other.feeds)
        and all(a <= c and b <= d for (a, b), (c, d) in zip(counts(kept), counts(other), strict=True))
    )


@settings(max_examples=150, deadline=None)
@given(groups())
def test_an_option_costs_what_its_nets_come_to(drawn: tuple[Tree, Group]) -> None:
    tree, group = drawn

    options = [*lines_of(group, tree), *rings_of(group, tree, lambda *_: True)]

    for option in options:
        again = reckoned(tree, group, option.order)
        assert (option.either, option.switched, option.splices) == (
            again.either,
            again.switched,
            again.splices,
        )
        assert sorted(option.feeds) == sorted(again.feeds)


@settings(max_examples=80, deadline=None)
@given(groups())
def test_every_permutation_is_covered_by_an_option_that_was_kept(drawn: tuple[Tree, Group]) -> None:
    tree, group = drawn
    kept = unbeaten([*lines_of(group, tree), *rings_of(group, tree, lambda *_: True)], tree)
    pairs: list[int | None] = [None]
    if len(group.tiers) == 1:
        pairs += range(len(group.switches) - 1)

    for order in permutations(range(len(group.switches))):
        if not allowed(group, order):
            continue
        for pair in pairs:
            other = reckoned(tree, group, Order(order, pair))
            assert any(covers(tree, option, other) and option.ring <= other.ring for option in kept)


@settings(max_examples=60, deadline=None)
@given(groups(), st.integers(0, 4))
def test_with_little_room_only_what_does_not_fit_is_missing(drawn: tuple[Tree, Group], room: int) -> None:
    tree, group = drawn
    most = sum(room * bit for bit in tree.bits)
    count = len(tree.cables)

    fitting = lines_of(group, tree, most)

    for other in lines_of(group, tree):
        taken = fields_of(other.either + other.switched, count)
        if max(taken, default=0) <= room:
            assert any(covers(tree, option, other) for option in fitting)


@given(st.lists(st.integers(0, 300), min_size=1, max_size=30), st.data())
def test_packed_counts_compare_and_add_up_field_by_field(counts: list[int], data: st.DataObject) -> None:
    size = len(counts)
    limits = data.draw(st.lists(st.integers(0, 300), min_size=size, max_size=size))
    tree = Tree(
        [f"B{n}" for n in range(size + 1)], [Cable(f"c{n}", f"B{n}", f"B{n + 1}") for n in range(size)]
    )
    load = sum(count * bit for count, bit in zip(counts, tree.bits, strict=True))
    limit = sum(count * bit for count, bit in zip(limits, tree.bits, strict=True))
    over = [max(0, count - most) for count, most in zip(counts, limits, strict=True)]

    assert tree.within(limit, load) == (sum(over) == 0)
    assert tree.excess(load, limit) == (sum(over), sum(more > 0 for more in over))
    assert fields_of(tree.least(load, limit), size) == [
        min(pair) for pair in zip(counts, limits, strict=True)
    ]
