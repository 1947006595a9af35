"""Photographs: what is taken, what is refused and why, and that nothing of the camera survives."""

from __future__ import annotations

import io
import struct
import zlib
from collections.abc import Callable

import pytest
from PIL import Image, ImageDraw, ImageFile
from pillow_heif import from_pillow

from server.store.pictures import MOST_PIXELS, Refused, prepare_picture

GPS, ORIENTATION, MAKE = 0x8825, 0x0112, 0x010F


def painted(size: tuple[int, int] = (640, 480), mode: str = "RGB") -> Image.Image:
    image = Image.new(mode, size, 128 if mode == "L" else None)
    ImageDraw.Draw(image).rectangle((0, 0, size[0] // 4, size[1] // 4), fill=255 if mode == "L" else "red")
    return image


def as_bytes(image: Image.Image, kind: str = "JPEG", **more: object) -> bytes:
    out = io.BytesIO()
    image.save(out, kind, **more)
    return out.getvalue()


def camera_picture(orientation: int = 1, size: tuple[int, int] = (640, 480)) -> bytes:
    """A JPEG as a phone writes it: position, maker, when, and which way up."""
    image = painted(size)
    exif = image.getexif()
    exif[ORIENTATION] = orientation
    exif[MAKE] = "Acme Phones"
    exif.get_ifd(0x8769)[36867] = "2026:11:20 09:30:00"
    gps = exif.get_ifd(GPS)
    gps[1], gps[2], gps[3], gps[4] = "N", (44.0, 58.0, 12.0), "W", (93.0, 16.0, 4.0)
    return as_bytes(image, exif=exif, comment=b"secret comment", icc_profile=b"fake profile")


def heic(size: tuple[int, int] = (320, 240)) -> bytes:
    out = io.BytesIO()
    from_pillow(painted(size)).save(out)
    return out.getvalue()


@pytest.mark.parametrize(
    "came",
    [
        camera_picture(),
        as_bytes(painted(), "PNG"),
        as_bytes(painted(mode="RGBA"), "PNG"),
        as_bytes(painted(mode="L"), "PNG"),
        heic(),
    ],
    ids=["camera jpeg", "png", "png with alpha", "grey png", "heic"],
)
def test_a_photograph_becomes_a_bare_jpeg(came: bytes) -> None:
    made = prepare_picture(came)

    with Image.open(io.BytesIO(made.content)) as image:
        assert image.format == "JPEG"
        assert image.mode == "RGB"
        assert image.size == (made.width_px, made.height_px)


@pytest.mark.parametrize("came", [camera_picture(), camera_picture(6)], ids=["upright", "turned"])
def test_no_metadata_survives(came: bytes) -> None:
    assert b"Acme" in came

    made = prepare_picture(came)

    with Image.open(io.BytesIO(made.content)) as image:
        assert len(image.getexif()) == 0
        assert "icc_profile" not in image.info
        assert "comment" not in image.info
    for word in (b"Acme", b"Exif", b"GPS", b"secret", b"fake profile", b"2026:11:20"):
        assert word not in made.content


@pytest.mark.parametrize(
    ("orientation", "corner"),
    [(1, (0, 0)), (3, (1, 1)), (6, (1, 0)), (8, (0, 1))],
)
def test_a_picture_is_turned_upright(orientation: int, corner: tuple[int, int]) -> None:
    made = prepare_picture(camera_picture(orientation))

    with Image.open(io.BytesIO(made.content)) as image:
        x = 5 if corner[0] == 0 else image.width - 6
        y = 5 if corner[1] == 0 else image.height - 6
        red, green, _ = image.getpixel((x, y))  # type: ignore[misc]
    assert red > 200
    assert green < 60


def test_a_large_picture_is_shrunk_to_what_paper_needs() -> None:
    made = prepare_picture(camera_picture(size=(4032, 3024)))

    assert max(made.width_px, made.height_px) == 1600
    assert made.taken_at is not None
    assert made.taken_at.year == 2026


def test_the_same_picture_has_the_same_hash() -> None:
    assert prepare_picture(camera_picture()).sha256 == prepare_picture(camera_picture()).sha256


def png_claiming(width: int, height: int) -> bytes:
    """A PNG of a few hundred bytes that claims any size."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk(b"IHDR", header)
        + chunk(b"IDAT", zlib.compress(b"\0" * 1000))
        + chunk(b"IEND", b"")
    )


def truncated(came: bytes, part: float) -> bytes:
    return came[: int(len(came) * part)]


def animated() -> bytes:
    frames = [Image.new("RGB", (64, 64), color) for color in ("red", "blue")]
    out = io.BytesIO()
    frames[0].save(out, "PNG", save_all=True, append_images=frames[1:])
    return out.getvalue()


SVG = b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>"
HTML = b"<!doctype html><script>alert(1)</script>"
HOSTILE: dict[str, Callable[[], bytes]] = {
    "nothing": lambda: b"",
    "one byte": lambda: b"\xff",
    "text": lambda: b"hello",
    "svg with script": lambda: SVG,
    "svg with a byte order mark": lambda: b"\xef\xbb\xbf" + SVG,
    "svg with an entity bomb": lambda: b"<!DOCTYPE x [<!ENTITY a 'aaaa'>]>" + SVG,
    "html": lambda: HTML,
    "html that begins like a jpeg": lambda: b"\xff\xd8\xff" + HTML,
    "html that begins like a png": lambda: b"\x89PNG\r\n\x1a\n" + HTML,
    "pdf": lambda: b"%PDF-1.7\n1 0 obj<<>>endobj",
    "postscript": lambda: b"%!PS-Adobe-3.0 EPSF-3.0\n",
    "zip": lambda: b"PK\x03\x04" + b"\0" * 60,
    "gzip": lambda: b"\x1f\x8b\x08" + b"\0" * 60,
    "elf": lambda: b"\x7fELF" + b"\0" * 60,
    "windows program": lambda: b"MZ" + b"\0" * 60,
    "shell script": lambda: b"#!/bin/sh\nrm -rf x\n",
    "python pickle": lambda: b"\x80\x04\x95" + b"\0" * 60,
    "mp4": lambda: b"\0\0\0\x18ftypmp42" + b"\0" * 60,
    "quicktime": lambda: b"\0\0\0\x14ftypqt  " + b"\0" * 60,
    "avif": lambda: b"\0\0\0\x1cftypavif" + b"\0" * 60,
    "webp": lambda: as_bytes(painted(), "WEBP"),
    "gif": lambda: as_bytes(painted(), "GIF"),
    "bmp": lambda: as_bytes(painted(), "BMP"),
    "tiff": lambda: as_bytes(painted(), "TIFF"),
    "ico": lambda: as_bytes(painted((64, 64)), "ICO"),
    "jpeg 2000 signature": lambda: b"\0\0\0\x0cjP  \r\n\x87\n" + b"\0" * 60,
    "psd signature": lambda: b"8BPS\0\x01" + b"\0" * 60,
    "png of 400 megapixels": lambda: png_claiming(20_000, 20_000),
    "png just over the limit": lambda: png_claiming(MOST_PIXELS // 6000 + 1, 6000),
    "png of 2^31 pixels a side": lambda: png_claiming(2**31 - 1, 2**31 - 1),
    "png of no width": lambda: png_claiming(0, 100),
    "png one pixel high": lambda: png_claiming(30_000, 1),
    "png too small": lambda: as_bytes(painted((8, 8)), "PNG"),
    "png whose data is short": lambda: png_claiming(4000, 4000),
    "png that moves": animated,
    "heic header alone": lambda: b"\0\0\0\x18ftypheic" + b"\0" * 60,
    "heic mif1 rubbish": lambda: b"\0\0\0\x18ftypmif1" + b"\xff" * 400,
    "heic with the length of a universe": lambda: b"\xff\xff\xff\xffftypheic" + b"\0" * 60,
    "jpeg start alone": lambda: b"\xff\xd8\xff",
    "jpeg of noise": lambda: b"\xff\xd8\xff\xe0" + bytes(range(256)) * 20,
    "jpeg of zeros": lambda: b"\xff\xd8\xff\xe0" + b"\0" * 5000,
    "jpeg of markers": lambda: b"\xff\xd8" + b"\xff\xe1\xff\xff" * 2000,
    "png of noise": lambda: b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20,
    "png with a wrong checksum": lambda: as_bytes(painted(), "PNG").replace(b"IHDR", b"IHDX", 1),
    "png with a huge chunk": lambda: b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 2**31 - 1) + b"IHDR" + b"\0" * 60,
    "png with a text bomb": lambda: b"\x89PNG\r\n\x1a\n" + struct.pack(">I", 9) + b"zTXtx\0\0" + zlib.compress(b"\0" * 10**6),
    "jpeg with a cut header": lambda: camera_picture()[:20],
    "a name instead of a picture": lambda: b"../../etc/passwd",
    "a path with a null": lambda: b"a.jpg\0.php",
    "a data address": lambda: b"data:image/png;base64,AAAA",
    "jpeg dimensions of zero": lambda: _jpeg_claiming(0, 0),
    "jpeg of 65535 a side": lambda: _jpeg_claiming(65_535, 65_535),
    "jpeg wider than taken": lambda: _jpeg_claiming(65_535, 2_000),
}  # fmt: skip
for _part in (0.02, 0.05, 0.1, 0.3, 0.5):
    HOSTILE[f"heic cut at {_part:.0%}"] = lambda part=_part: truncated(heic(), part)  # type: ignore[misc]
    HOSTILE[f"png cut at {_part:.0%}"] = lambda part=_part: truncated(as_bytes(painted(), "PNG"), part)  # type: ignore[misc]
    HOSTILE[f"jpeg cut at {_part:.0%}"] = lambda part=_part: truncated(as_bytes(painted()), part)  # type: ignore[misc]


def _jpeg_claiming(width: int, height: int) -> bytes:
    """A real JPEG whose frame header claims another size."""
    came = bytearray(as_bytes(painted()))
    place = came.index(b"\xff\xc0")
    came[place + 5 : place + 9] = struct.pack(">HH", height, width)
    return bytes(came)


@pytest.mark.parametrize("name", HOSTILE)
def test_what_is_no_photograph_is_refused_with_a_sentence(name: str) -> None:
    with pytest.raises(Refused) as refused:
        prepare_picture(HOSTILE[name]())

    assert str(refused.value).endswith(".")


@pytest.mark.parametrize(
    ("width", "height", "taken"), [(7500, 8000, True), (7501, 8000, False), (9400, 9400, False)]
)
def test_sixty_million_pixels_are_taken_and_one_row_more_is_not(width: int, height: int, taken: bool) -> None:
    """Pillow only warns of what lies between its limit (89 million) and twice that; ours comes before decoding."""
    came = as_bytes(Image.new("1", (width, height)), "PNG")
    assert len(came) < 20_000

    if taken:
        assert prepare_picture(came).height_px == 1600
    else:
        with pytest.raises(Refused, match=f"claims {width} x {height} pixels"):
            prepare_picture(came)


@pytest.mark.parametrize("name", ["png cut at 50%", "jpeg cut at 50%"])
def test_half_a_picture_is_refused_although_another_library_takes_them(
    monkeypatch: pytest.MonkeyPatch, name: str
) -> None:
    # loading WeasyPrint does this to the whole process
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)

    with pytest.raises(Refused):
        prepare_picture(HOSTILE[name]())


def test_there_are_at_least_sixty_hostile_files() -> None:
    assert len(HOSTILE) >= 60


def test_a_file_over_the_limit_is_refused_before_it_is_read() -> None:
    with pytest.raises(Refused, match="may have 25 MB"):
        prepare_picture(b"\xff\xd8\xff" + b"\0" * 25_000_000)


@pytest.mark.parametrize("tail", [HTML, b"PK\x03\x04" + b"\0" * 100, SVG, b"<?php echo 1 ?>"])
def test_what_hangs_behind_a_picture_is_cut_off(tail: bytes) -> None:
    made = prepare_picture(camera_picture() + tail)

    assert tail not in made.content
