"""A box with barriers: each space is reckoned by itself (314.16(A), 314.16(B))."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from fractions import Fraction

from server.editions import Edition
from server.reckon.box_contents import BoxContents, BoxSize
from server.reckon.box_fill import BoxFill, box_volume_in3, reckon_box_fill
from server.reckon.figures import written
from server.reckon.standard_boxes import BoxError
from server.reckon.work import SILENT, Work

__all__ = ["Barrier", "BarrierMaterial", "BoxSpace", "reckon_partitioned_box"]


class BarrierMaterial(StrEnum):
    METAL = "metal"
    NONMETALLIC = "nonmetallic"


@dataclass(frozen=True, slots=True)
class Barrier:
    """A securely installed barrier; ``volume_in3`` is what it is marked with, if it is."""

    material: BarrierMaterial = BarrierMaterial.METAL
    volume_in3: Fraction | None = None


@dataclass(frozen=True, slots=True)
class BoxSpace:
    """One space between barriers. ``volume_in3`` is its part of the box where it is known; without it the box,
    less its barriers, is divided evenly among the spaces that are left."""

    contents: BoxContents
    name: str = ""
    volume_in3: Fraction | None = None


def reckon_partitioned_box(
    box: BoxSize | None,
    barriers: Sequence[Barrier],
    spaces: Sequence[BoxSpace],
    code: Edition,
    work: Work = SILENT,
) -> tuple[BoxFill, ...]:
    """The fill of each space, in order. A divided box fits where every space does.

    Raises:
        BoxError: no space, a space with a box of its own, or more volume given to spaces than there is.
    """
    if not spaces:
        raise BoxError("spaces", "expected one space or more, came none", 0)
    if any(space.contents.box is not None for space in spaces):
        raise BoxError("spaces", "expected spaces without a box of their own: the box is the whole", "box")
    volumes = _apportioned(box_volume_in3(box, code, work), barriers, spaces, code, work)
    fills = []
    for number, (space, volume) in enumerate(zip(spaces, volumes, strict=True), start=1):
        if work:
            work.step(
                f"Space {number}{': ' + space.name if space.name else ''}",
                None,
                "",
                code.cites("box.divided"),
            )
        size = None if volume is None else BoxSize(volume_in3=volume)
        fills.append(reckon_box_fill(replace(space.contents, box=size), code, work))
    return tuple(fills)


def _apportioned(
    whole: Fraction | None, barriers: Sequence[Barrier], spaces: Sequence[BoxSpace], code: Edition, work: Work
) -> list[Fraction | None]:
    given = [space.volume_in3 for space in spaces]
    if whole is None:
        return given
    for barrier in barriers:
        node = f"box.barrier_{barrier.material.value}_in3"
        taken = code.number(node, work) if barrier.volume_in3 is None else barrier.volume_in3
        whole -= taken
        if work:
            marked = "unmarked" if barrier.volume_in3 is None else "marked"
            work.step(f"Less a {barrier.material.value} barrier, {marked}", taken, "in3", code.cites(node))
    rest = whole - sum((volume for volume in given if volume is not None), Fraction(0))
    unknown = given.count(None)
    if rest < 0 or (unknown and rest == 0):
        raise BoxError(
            "spaces",
            f"expected spaces of {written(whole)} in³ together at most, came {written(whole - rest)}",
            None,
        )
    share = rest / unknown if unknown else Fraction(0)
    if work and unknown > 1:
        work.step(
            f"Taken as equal spaces: {written(rest)} in³ ÷ {unknown}", share, "in3", code.cites("box.divided")
        )
    return [share if volume is None else volume for volume in given]
