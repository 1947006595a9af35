"""What becomes of a photograph's bytes: decided by content, turned upright, shrunk, stripped, written anew.

Nothing that came is ever stored or sent as it came: a picture is decoded within limits and encoded again without
any metadata (no position, no camera, no thumbnail). What cannot be decoded as one of three kinds is refused with a
sentence.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import sha256
from typing import Final

from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError
from pillow_heif import register_heif_opener

__all__ = ["MOST_BYTES", "MOST_PIXELS", "Picture", "Refused", "prepare_picture"]

register_heif_opener()

MOST_BYTES: Final = 25_000_000
MOST_PIXELS: Final = 60_000_000
"""About what the largest phone camera takes; decoded it is 180 MB, and no more than one at a time is decoded."""
_LONGEST_SIDE_PX: Final = 1600
_LEAST_SIDE_PX: Final = 16
_QUALITY: Final = 82
_KINDS: Final = ("JPEG", "PNG", "HEIF")
_SIGNS: Final = (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n")
_HEIF_BRANDS: Final = (b"heic", b"heix", b"heif", b"mif1", b"msf1", b"hevc")
_TAKEN: Final = 36867
"""The EXIF tag of when a picture was taken."""
_EXIF_IFD: Final = 0x8769


class Refused(ValueError):
    """A file that is no photograph for us; the sentence says why."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph ready to be kept: JPEG without metadata, at the size that paper needs."""

    content: bytes
    sha256: str
    width_px: int
    height_px: int
    taken_at: datetime | None


def prepare_picture(came: bytes) -> Picture:
    """Turn an upload into a picture that may be kept.

    Raises:
        Refused: too large, of another kind, broken, or claiming more pixels than any camera has.
    """
    if not came:
        raise Refused("The file is empty.")
    if len(came) > MOST_BYTES:
        raise Refused(f"A photograph may have {MOST_BYTES // 1_000_000} MB; this has {len(came) / 1e6:.1f}.")
    if not _looks_like_a_picture(came):
        raise Refused("Expected a JPEG, PNG or HEIC photograph; this begins like something else.")
    # a switch of the whole process, which the library that sets the paper turns on when it is loaded
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        with warnings.catch_warnings():
            # Pillow only warns between one and two times its own limit; ours is checked before decoding
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            with Image.open(io.BytesIO(came), formats=_KINDS) as opened:
                return _prepared(opened)
    except Refused:
        raise
    except (UnidentifiedImageError, Image.DecompressionBombError, OSError, ValueError, SyntaxError, EOFError, MemoryError,
            OverflowError, TypeError, IndexError, KeyError, RuntimeError, AttributeError) as error:  # fmt: skip
        # decoders of hostile files raise nearly anything; whatever it is, the file is not a photograph
        raise Refused("This file cannot be read as a photograph.") from error


def _looks_like_a_picture(came: bytes) -> bool:
    return came.startswith(_SIGNS) or (came[4:8] == b"ftyp" and came[8:12] in _HEIF_BRANDS)


def _prepared(opened: Image.Image) -> Picture:
    width, height = opened.size
    if width * height > MOST_PIXELS:
        raise Refused(
            f"This claims {width} x {height} pixels; up to {MOST_PIXELS // 1_000_000} million are taken."
        )
    if min(width, height) < _LEAST_SIDE_PX:
        raise Refused(f"This is {width} x {height} pixels: too small to see anything on.")
    if getattr(opened, "n_frames", 1) > 1 and opened.format != "HEIF":
        raise Refused("This moves: send one picture.")
    taken_at = _taken_at(opened)
    # JPEG can be decoded at a half, quarter or eighth: a camera picture costs a quarter of the time and memory
    opened.draft("RGB", (_LONGEST_SIDE_PX, _LONGEST_SIDE_PX))
    upright = ImageOps.exif_transpose(opened)
    if upright.mode in ("RGBA", "LA", "PA") or "transparency" in upright.info:
        ground = Image.new("RGB", upright.size, "white")
        with_alpha = upright.convert("RGBA")
        ground.paste(with_alpha, mask=with_alpha.getchannel("A"))
        upright = ground
    else:
        upright = upright.convert("RGB")
    upright.thumbnail((_LONGEST_SIDE_PX, _LONGEST_SIDE_PX), Image.Resampling.LANCZOS)
    # the pixels alone, in a fresh image: nothing of the file's own boxes and profiles comes along
    bare = Image.new("RGB", upright.size)
    bare.paste(upright)
    out = io.BytesIO()
    bare.save(out, "JPEG", quality=_QUALITY, optimize=True)
    content = out.getvalue()
    return Picture(content, sha256(content).hexdigest(), bare.width, bare.height, taken_at)


def _taken_at(opened: Image.Image) -> datetime | None:
    """When the camera says that it was taken, as far as that can be read. Cameras know no time zone: as UTC."""
    try:
        text = str(opened.getexif().get_ifd(_EXIF_IFD).get(_TAKEN, ""))
        return datetime.strptime(text[:19], "%Y:%m:%d %H:%M:%S").replace(tzinfo=UTC)
    except Exception:
        return None
