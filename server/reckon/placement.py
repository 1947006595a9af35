"""Where to put the fewest receptacles, exactly.

A span of wall is to be served: every point of it within ``reach_in`` of a receptacle in it. Some stand
already. New ones may stand only on given ground: stretches of the line, or marks on it (studs, whole
inches). The answer is the least number that does it, and among the ways to do it with that number one that
keeps the farthest point as near as can be, to the 16th of an inch.

Why greedy is exact here. What is left to serve falls into gaps, each between two served parts. A served
part is at least two reaches wide unless an end of the span cuts it, and a new receptacle serves exactly
two reaches: so none can help in two gaps, and each gap stands alone. In a gap, something must serve its
left end; of all spots that do, the rightmost serves whatever the others serve further on. On an unbroken
ring without a receptacle any answer can be turned until one of its spots stands at the right end of some
ground (or, on ground without end, anywhere), and that spot opens the ring into a gap: every such start is tried.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from server.dwelling.length import Inches, format_length
from server.reckon.floor_line import Span, Stretch, uncovered
from server.reckon.work import SILENT, Work

__all__ = ["Ground", "Patch", "Placement", "Spot", "ToServe", "fewest_anywhere", "place_fewest"]

_FINEST_IN = Fraction(1, 16)
"""How finely the farthest distance is evened out; the number of receptacles does not depend on it."""


@dataclass(frozen=True, slots=True)
class Patch:
    """Ground from ``start_in`` to ``end_in``, both ends included, in running inches: all of it, or only
    the marks ``first_in + n * step_in`` on it."""

    start_in: Inches
    end_in: Inches
    step_in: Inches | None = None
    first_in: Inches = Fraction(0)

    def last_up_to(self, limit_in: Inches) -> Inches | None:
        """The rightmost spot of this patch that is not beyond a limit."""
        top = min(limit_in, self.end_in)
        if self.step_in is not None:
            top = self.first_in + (top - self.first_in) // self.step_in * self.step_in
        return top if top >= self.start_in else None

    def right_ends(self) -> Iterator[Inches]:
        """Every spot of it with no ground just right of it: its end, or each of its marks."""
        spot = self.last_up_to(self.end_in)
        while spot is not None:
            yield spot
            spot = self.last_up_to(spot - self.step_in) if self.step_in else None


@dataclass(frozen=True, slots=True)
class Ground:
    """Where a new receptacle may stand, and how it is called: ``on a stud``, ``between studs`` ...

    The patches lie in order and do not overlap (they may touch).
    """

    name: str
    patches: tuple[Patch, ...]

    def last_up_to(self, limit_in: Inches) -> Inches | None:
        """The rightmost spot that is not beyond a limit."""
        begun = bisect_right(self.patches, limit_in, key=lambda patch: patch.start_in)
        for patch in reversed(self.patches[:begun]):
            spot = patch.last_up_to(limit_in)
            if spot is not None:
                return spot
        return None


@dataclass(frozen=True, slots=True)
class ToServe:
    """A span, the reach, the receptacles that already count in it, and the grounds for new ones.

    ``snapped`` is the ground that is asked for (studs): it is used wherever it can do the job, though
    another might do with fewer. ``grounds`` are the others, the most ordinary first: of these the one that
    does with the fewest is used.
    """

    span: Span
    reach_in: Inches
    have_in: tuple[Inches, ...] = ()
    grounds: tuple[Ground, ...] = ()
    snapped: Ground | None = None


@dataclass(frozen=True, slots=True)
class Spot:
    """A new receptacle: its running distance, and the ground it stands on."""

    at_in: Inches
    ground: str


@dataclass(frozen=True, slots=True)
class Placement:
    """The fewest new receptacles; ``left`` are gaps that no ground given can serve."""

    spots: tuple[Spot, ...]
    left: tuple[Stretch, ...] = ()


def fewest_anywhere(length_in: Inches, reach_in: Inches) -> int:
    """The fewest receptacles for an empty span of a length, wherever they stand: each serves two reaches."""
    return int(-(-length_in // (2 * reach_in)))


def place_fewest(task: ToServe, work: Work = SILENT) -> Placement:
    """Place the fewest receptacles that serve what is not yet served.

    Source: 210.52(A)(1) and (C)(1) of every edition give the reach; the method is plain interval covering.
    """
    spots: list[Spot] = []
    left: list[Stretch] = []
    for gap in uncovered(task.span, task.have_in, task.reach_in):
        ring = task.span.ring and not task.have_in
        found = _in_gap(gap, task, ring)
        if found is None:
            left.append(gap)
            continue
        ground, at = found
        spots.extend(Spot(each, ground.name) for each in sorted(at))
        if work:
            anywhere = fewest_anywhere(gap.length_in, task.reach_in)
            text = f"Fewest to add for {format_length(gap.length_in)}, {ground.name}"
            if len(at) > anywhere:
                text += f" ({anywhere} would do if they could stand anywhere)"
            work.step(text, len(at), "count")
    return Placement(tuple(spots), tuple(left))


def _in_gap(gap: Stretch, task: ToServe, ring: bool) -> tuple[Ground, list[Inches]] | None:
    if task.snapped is not None:
        at = _fewest(gap, task.reach_in, task.snapped, ring)
        if at is not None:
            return task.snapped, _evened(gap, task.reach_in, task.snapped, ring, at)
    best: tuple[Ground, list[Inches]] | None = None
    for ground in task.grounds:
        at = _fewest(gap, task.reach_in, ground, ring)
        if at is not None and (best is None or len(at) < len(best[1])):
            best = ground, at
            if len(at) == fewest_anywhere(gap.length_in, task.reach_in):
                break
    return best and (best[0], _evened(gap, task.reach_in, best[0], ring, best[1]))


def _evened(gap: Stretch, reach_in: Inches, ground: Ground, ring: bool, at: list[Inches]) -> list[Inches]:
    """The same number of spots with the shortest reach (in 16ths) that still does."""
    # Below the gap's length shared out evenly no reach can do.
    low = int(-(-gap.length_in / (2 * len(at)) // _FINEST_IN)) - 1
    high = int(-(-reach_in // _FINEST_IN))
    best = at
    while high - low > 1:
        middle = (low + high) // 2
        tried = _fewest(gap, middle * _FINEST_IN, ground, ring, enough=len(at))
        if tried is not None and len(tried) <= len(at):
            best, high = tried, middle
        else:
            low = middle
    return best


def _fewest(
    gap: Stretch, reach_in: Inches, ground: Ground, ring: bool, enough: int = 0
) -> list[Inches] | None:
    """The fewest spots that serve a gap, or None where they cannot. On a ring the search ends as soon as
    ``enough`` spots do."""
    if not ring:
        return _chain(gap.start_in, gap.end_in, reach_in, ground)
    enough = max(enough, fewest_anywhere(gap.length_in, reach_in))
    best: list[Inches] | None = None
    for start in _starts(gap, reach_in, ground):
        rest = _chain(start + reach_in, start + gap.length_in - reach_in, reach_in, ground)
        if rest is not None and (best is None or len(rest) + 1 < len(best)):
            best = [start, *rest]
            if len(best) <= enough:
                break
    return best


def _chain(start_in: Inches, end_in: Inches, reach_in: Inches, ground: Ground) -> list[Inches] | None:
    """Spots from left to right, each as far right as it can stand and still serve what is left."""
    spots: list[Inches] = []
    served_to = start_in
    while served_to < end_in:
        spot = ground.last_up_to(served_to + reach_in)
        if spot is None or spot + reach_in <= served_to:
            return None
        spots.append(spot)
        served_to = spot + reach_in
    return spots


def _starts(gap: Stretch, reach_in: Inches, ground: Ground) -> Sequence[Inches]:
    """Where one spot of some best answer on a ring may be taken to stand.

    Marks: any two neighbours of an answer are at most two reaches apart, so one stands in the first two
    reaches. Whole ground: an answer can be turned until a spot meets a right end. Those near the middle of
    the first two reaches come first, since of equal answers the first found is kept.
    """
    window = gap.start_in + min(2 * reach_in, gap.length_in)
    starts: list[Inches] = []
    for patch in ground.patches:
        if patch.start_in >= gap.end_in:
            break
        last = window if patch.step_in is not None else gap.end_in
        starts.extend(spot for spot in patch.right_ends() if gap.start_in <= spot <= last)
    middle = (gap.start_in + window) / 2
    return sorted(starts, key=lambda spot: (abs(spot - middle), spot))
