"""Standard metal boxes: their names, shapes and volumes, and which of them is meant by what people write.

``find_box("4 in. sq. x 1 1/2", code)`` and ``find_box("4 x 4 x 1.5 square", code)`` are the same box.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from functools import lru_cache
from typing import Final

from server.editions import Edition
from server.reckon.work import SILENT, Work

__all__ = [
    "EXTENDED_SHAPES",
    "GANGED_SHAPES",
    "BoxError",
    "BoxShape",
    "StandardBox",
    "find_box",
    "find_shape",
    "standard_boxes",
]


class BoxShape(StrEnum):
    """The groups of Table 314.16(A)."""

    OCTAGONAL = "octagonal"
    SQUARE = "square"
    DEVICE = "device"
    MASONRY = "masonry"
    CAST = "cast"
    """FS and FD boxes."""


GANGED_SHAPES: Final = frozenset({BoxShape.DEVICE, BoxShape.MASONRY, BoxShape.CAST})
"""Shapes whose table row is one gang: a box of several gangs has as many times the volume."""

EXTENDED_SHAPES: Final = frozenset({BoxShape.OCTAGONAL, BoxShape.SQUARE})
"""Shapes with extension rings that are made from a box of the table."""

_LONGEST_NAME = 60


class BoxError(ValueError):
    """A box or what is in it cannot be reckoned; ``field`` is the fact that is wrong."""

    def __init__(self, field: str, message: str, came: object) -> None:
        self.field, self.came = field, came
        super().__init__(message)


@dataclass(frozen=True, slots=True)
class StandardBox:
    """One row of Table 314.16(A). ``size_in`` are the dimensions of its trade size, face before depth;
    empty for FS and FD boxes, which are told by ``name``. ``volume_in3`` is that of one gang."""

    name: str
    shape: BoxShape
    size_in: tuple[Fraction, ...]
    volume_in3: Fraction

    @property
    def node(self) -> str:
        """The name under which its volume stands in the edition."""
        return f"box.volumes_{self.shape.value}_in3"

    @property
    def for_several(self) -> bool:
        """Whether a cast box takes several covers."""
        return "multiple" in self.name

    @property
    def face_in(self) -> tuple[Fraction, ...]:
        """The face: rings fit boxes of the same face."""
        return self.size_in[:-1]


def standard_boxes(code: Edition, work: Work = SILENT) -> tuple[StandardBox, ...]:
    """Every standard metal box of the edition, by shape and size as the table lists them."""
    found = []
    for shape in BoxShape:
        for name, volume in code.table(f"box.volumes_{shape.value}_in3", work).items():
            assert isinstance(volume, int | Fraction)
            found.append(StandardBox(name, shape, _size_of(name), Fraction(volume)))
    return tuple(found)


_DASHES = str.maketrans(
    {"×": " x ", "–": "-", "⁄": "/", "″": " ", '"': " ", "”": " ", "’": " ", "'": " ", ",": " "}
)
_VULGAR = {"½": "1/2", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}
_NUMBER = re.compile(r"\d+\s*-?\s+\d+/\d+|\d+-\d+/\d+|\d+/\d+|\d+\.\d+|\d+")
_SHAPE_WORDS: Final = (
    (BoxShape.CAST, r"\bf[sd]\b"),
    (BoxShape.MASONRY, r"\bmasonry\b"),
    (BoxShape.OCTAGONAL, r"\b(?:octagon(?:al|s)?|octo?|round|rd)\b"),
    (BoxShape.SQUARE, r"\b(?:square|sq)\b"),
    (BoxShape.DEVICE, r"\b(?:device|switch|handy|utility|gangable)\b"),
)


def find_shape(text: str) -> BoxShape | None:
    """The shape that a description names, None where it names none."""
    plain = _plain(text)
    for shape, words in _SHAPE_WORDS:
        if re.search(words, plain):
            return shape
    return None


def find_box(text: str, code: Edition) -> StandardBox:
    """The standard box that a description means.

    Inch marks, decimals, fractions in any of the usual spellings, ``octagon`` or ``round``, and a square face
    given twice (``4 x 4 x 1-1/2``) are understood. The shape may be left out where the size leaves no doubt.

    Raises:
        BoxError: no standard box is meant, or more than one could be; names the nearest.
    """
    for shape in BoxShape:
        # The service's own names need no reading of sizes.
        volume = code.table(f"box.volumes_{shape.value}_in3").get(text)
        if isinstance(volume, int | Fraction):
            return StandardBox(text, shape, _size_of(text), Fraction(volume))
    return _described(text, code)


def _described(text: str, code: Edition) -> StandardBox:
    boxes = standard_boxes(code)
    if len(text) > _LONGEST_NAME:
        raise BoxError(
            "table", f"expected the trade size of a standard box, came {len(text)} characters", text[:40]
        )
    shape, size = find_shape(text), _size_of(text)
    if shape is BoxShape.CAST:
        found = [box for box in boxes if _cast_words(box.name) == _cast_words(text)]
    else:
        found = [
            box for box in boxes if size and shape in (None, box.shape) and _same_size(box, size, shape)
        ]  # fmt: skip
    if len(found) == 1:
        return found[0]
    near = [box.name for box in found or boxes if shape in (None, box.shape)]
    what = "which of these is meant" if found else "a standard metal box"
    raise BoxError("table", f"expected {what}: {', '.join(near)}; came {text!r}", text)


def _plain(text: str) -> str:
    plain = text.translate(_DASHES).lower()
    for glyph, written in _VULGAR.items():
        plain = plain.replace(glyph, f" {written}")
    plain = re.sub(r"\([^()]*\)", " ", plain)
    return re.sub(r"\s+", " ", plain).strip()


@lru_cache(maxsize=512)
def _size_of(text: str) -> tuple[Fraction, ...]:
    """Every length in a description, in order: ``4-11/16 x 1-1/2 square`` gives (75/16, 3/2)."""
    try:
        return tuple(
            sum((Fraction(part) for part in re.split(r"[\s-]+", number)), Fraction(0))
            for number in _NUMBER.findall(_plain(text))
        )
    except ZeroDivisionError:
        return ()


def _same_size(box: StandardBox, size: tuple[Fraction, ...], shape: BoxShape | None) -> bool:
    if size == box.size_in:
        return True
    if box.shape in GANGED_SHAPES:
        # 2 x 3 x 2-1/2 is 3 x 2 x 2-1/2: the face either way round.
        return len(size) == len(box.size_in) and (size[1], size[0], *size[2:]) == box.size_in
    # 4 x 4 x 1-1/2: the face written twice. Without a shape that says a square box.
    twice = box.shape is BoxShape.SQUARE or shape is box.shape
    return twice and len(size) == len(box.size_in) + 1 and size[0] == size[1] and size[1:] == box.size_in


def _cast_words(text: str) -> tuple[str, bool] | None:
    plain = _plain(text)
    kind = re.search(r"\bf[sd]\b", plain)
    return (kind.group(), "multiple" in plain) if kind else None
