"""What would mend a box that is too small: the smallest standard box, or the smallest ring on this one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from typing import Final

from server.editions import Edition
from server.reckon.box_contents import BoxContents
from server.reckon.box_fill import BoxFill, yokes_of
from server.reckon.figures import written
from server.reckon.standard_boxes import (
    EXTENDED_SHAPES,
    GANGED_SHAPES,
    BoxShape,
    StandardBox,
    find_box,
    standard_boxes,
)
from server.reckon.work import SILENT, Work

__all__ = ["BoxCure", "ChosenBox", "cure_box", "gangs_needed"]

_FOR_DEVICES: Final = (BoxShape.DEVICE, BoxShape.SQUARE)
_FOR_SPLICES: Final = (BoxShape.OCTAGONAL, BoxShape.SQUARE, BoxShape.DEVICE)
"""Shapes proposed where none is asked for, by preference between equal volumes. Masonry and cast boxes are
proposed only to who has one; a yoke goes on a device box or on a square box with a ring."""


@dataclass(frozen=True, slots=True)
class ChosenBox:
    """A standard box, perhaps ganged."""

    box: StandardBox
    gangs: int = 1

    @property
    def volume_in3(self) -> Fraction:
        return self.box.volume_in3 * self.gangs

    @property
    def name(self) -> str:
        return self.box.name if self.gangs == 1 else f"{self.box.name}, {self.gangs} ganged"


@dataclass(frozen=True, slots=True)
class BoxCure:
    """What would hold the contents.

    ``smallest_box`` keeps to the shape that was asked for where one of it is large enough, else it is
    ``any_shape``; ``by_shape`` has the smallest of each shape. ``extension_in3`` is the least volume that must be
    marked on a ring or extension of the box as it is (0 where it fits, None where the box is not known), and
    ``extension`` the smallest standard extension ring for its face.
    """

    smallest_box: ChosenBox | None
    any_shape: ChosenBox | None
    by_shape: Mapping[BoxShape, ChosenBox | None]
    extension_in3: Fraction | None
    extension: StandardBox | None


def gangs_needed(contents: BoxContents, code: Edition) -> int:
    """How many gangs the yokes take side by side, at least one."""
    return max(1, sum(yoke.gangs for yoke in yokes_of(contents, code)))


def cure_box(
    fill: BoxFill,
    contents: BoxContents,
    code: Edition,
    work: Work = SILENT,
    *,
    shape: BoxShape | None = None,
) -> BoxCure:
    """Find what would hold a fill. ``shape`` is asked for; without it, the shape of the box as it is."""
    boxes = standard_boxes(code)
    own = find_box(contents.box.table, code) if contents.box and contents.box.table else None
    wanted = shape or (own.shape if own else None)
    required = fill.required_in3
    if required is None:
        return BoxCure(None, None, dict.fromkeys(BoxShape), None, None)
    gangs = gangs_needed(contents, code)
    by_shape = {each: _smallest(each, boxes, required, gangs, code) for each in BoxShape}
    usable = [by_shape[each] for each in (_FOR_DEVICES if yokes_of(contents, code) else _FOR_SPLICES)]
    any_shape = min((c for c in usable if c), key=lambda chosen: chosen.volume_in3, default=None)
    smallest = (by_shape[wanted] if wanted else None) or any_shape
    extension_in3 = None if fill.left_in3 is None else max(-fill.left_in3, Fraction(0))
    extension = _extension(own, boxes, extension_in3) if own and extension_in3 else None
    if work:
        _show(smallest, extension_in3, extension, code, work)
    return BoxCure(smallest, any_shape, by_shape, extension_in3, extension)


def _smallest(
    shape: BoxShape, boxes: tuple[StandardBox, ...], required: Fraction, gangs: int, code: Edition
) -> ChosenBox | None:
    if shape is BoxShape.SQUARE and gangs > code.number("box.square_most_gangs"):
        return None
    if shape is BoxShape.OCTAGONAL and gangs > 1:
        return None
    sections = gangs if shape in GANGED_SHAPES else 1
    fitting = [
        ChosenBox(box, sections)
        for box in boxes
        if box.shape is shape
        and box.volume_in3 * sections >= required
        and (shape is not BoxShape.CAST or box.for_several == (gangs > 1))
    ]
    return min(fitting, key=lambda chosen: chosen.volume_in3, default=None)


def _extension(own: StandardBox, boxes: tuple[StandardBox, ...], needed_in3: Fraction) -> StandardBox | None:
    if own.shape not in EXTENDED_SHAPES:
        return None
    fitting = [
        box
        for box in boxes
        if box.shape is own.shape and box.face_in == own.face_in and box.volume_in3 >= needed_in3
    ]
    return min(fitting, key=lambda box: box.volume_in3, default=None)


def _show(
    smallest: ChosenBox | None,
    extension_in3: Fraction | None,
    extension: StandardBox | None,
    code: Edition,
    work: Work,
) -> None:
    if smallest is None:
        work.skip(
            "No standard box is large enough: a box marked with the volume is needed",
            code.cites("box.marked_volume"),
        )
    else:
        code.table(smallest.box.node, work)
        work.step(
            f"Smallest standard box that works: {smallest.name}", smallest.volume_in3, "in3",
            code.cites(smallest.box.node),
        )  # fmt: skip
    if not extension_in3:
        return
    cites = code.cites("box.additions_marked_or_standard")
    work.step("A ring or extension must be marked with at least", extension_in3, "in3", cites)
    if extension is not None:
        work.step(
            f"Or an extension ring {extension.name} ({written(extension.volume_in3)} in³)",
            extension.volume_in3, "in3", cites,
        )  # fmt: skip
