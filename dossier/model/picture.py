"""What is known of a photograph: facts found at reading, masks laid over it, and the files published of it."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Literal

Point = tuple[float, float]

FORMATS = {
    "jpeg": ("jpg", "jpeg", "jpe", "jfif"),
    "png": ("png",),
    "tiff": ("tif", "tiff"),
    "webp": ("webp",),
    "heic": ("heic", "heif", "hif"),
}
"""Formats that are read, each with the endings a file of it may bear."""

MOST_PIXELS = 89_000_000
"""More pixels than this are refused: a file of a few kB can claim them and fill the memory (600 MB measured)."""

MOST_PIXELS_JPEG = 250_000_000
"""The same for JPEG, which is decoded straight to a smaller size; above MOST_PIXELS only if the file is as big as a
photograph."""

MOST_BYTES = 1_000_000_000
"""No file above this is opened: every worker holds one whole file in memory."""

_HEIF_BRANDS = frozenset({b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"})


@dataclass(frozen=True, slots=True)
class FileMark:
    """What the file system says of a file without opening it; equal marks mean the file was not written to since."""

    size: int
    mtime_ns: int
    ctime_ns: int
    inode: int


@dataclass(frozen=True, slots=True)
class PhotoFacts:
    """What reading finds in one picture file.

    `width` and `height` are pixels as seen, after turning by `orientation` (1 to 8, EXIF 2.32 tag 0x0112). `taken` is
    the camera's own clock without zone; `taken_offset` that clock's distance from UTC where the camera wrote one.
    `noted` are the lesser faults found, in words,
    `likeness` is a perceptual hash as hexadecimal text, `mark` what the file system said of the file at reading.
    """

    sha256: str
    width: int
    height: int
    format: str
    taken: datetime | None = None
    taken_offset: timedelta | None = None
    mark: FileMark | None = None
    orientation: int = 1
    frames: int = 1
    colour: str = "RGB"
    camera: str = ""
    has_position: bool = False
    likeness: str = ""
    noted: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Mask:
    """An area to be destroyed, in per cent of the turned picture from its upper left corner.

    A rectangle is given by two opposite corners, a polygon by three points or more. ValueError for anything that could
    leave the area uncovered.
    """

    kind: Literal["rectangle", "polygon"]
    points: tuple[Point, ...]

    def __post_init__(self) -> None:
        if self.kind not in ("rectangle", "polygon"):
            raise ValueError(f"a mask is a rectangle or a polygon, not {self.kind!r}")
        if self.kind == "rectangle" and len(self.points) != 2:
            raise ValueError(f"a rectangle has two opposite corners, not {len(self.points)} points")
        if self.kind == "polygon" and len(self.points) < 3:
            raise ValueError(f"a polygon has three points or more, not {len(self.points)}")
        for x, y in self.points:
            # A NaN fails both comparisons, and pixels written by mistake for per cent lie above 100.
            if not (0 <= x <= 100 and 0 <= y <= 100):
                raise ValueError(f"mask point ({x}, {y}) is outside the picture: points are per cent, 0 to 100")

    @property
    def outline(self) -> tuple[Point, ...]:
        """The corners in order, in per cent, for both kinds."""
        if self.kind == "polygon":
            return self.points
        (left, top), (right, bottom) = self.points
        return (left, top), (right, top), (right, bottom), (left, bottom)


@dataclass(frozen=True, slots=True)
class PublishedFile:
    """One published picture file: its name (from its own bytes), width and height in pixels, size in bytes."""

    name: str
    width: int
    height: int
    size: int
    sha256: str

    @property
    def media_type(self) -> str:
        """The media type a page or a manifest states for it."""
        return "image/webp" if self.name.endswith(".webp") else "image/jpeg"


@dataclass(frozen=True, slots=True)
class Rendition:
    """A photograph as published under one set of masks: its files from small to large, the last always a JPEG."""

    files: tuple[PublishedFile, ...]

    @property
    def small(self) -> PublishedFile:
        """The smallest, for a thumbnail."""
        return self.files[0]

    @property
    def large(self) -> PublishedFile:
        """The largest, for the large view and for print."""
        return self.files[-1]

    def srcset(self, folder: str) -> str:
        """The value of an HTML `srcset` attribute; `folder` is the pictures' address without a slash at its end."""
        return ", ".join(f"{folder}/{file.name} {file.width}w" for file in self.files)


def format_of(head: bytes) -> str:
    """The picture format that the first 32 bytes of a file show, a key of FORMATS, or nothing when it is none of
    them."""
    if head.startswith(b"\xff\xd8\xff"):
        return "jpeg"
    if head.startswith(b"\x89PNG\r\n\x1a\n"):
        return "png"
    if head[:4] in (b"II*\0", b"MM\0*", b"II+\0", b"MM\0+"):
        return "tiff"
    if head[:4] == b"RIFF" and head[8:12] == b"WEBP":
        return "webp"
    if head[4:8] == b"ftyp" and head[8:12] in _HEIF_BRANDS:
        return "heic"
    return ""


def is_bomb(format: str, width: int, height: int, size: int) -> bool:
    """Whether a picture of `width` × `height` pixels in `size` bytes would fill the memory out of proportion."""
    pixels = width * height
    if pixels <= MOST_PIXELS:
        return False
    # Telephones write 108 and 200 megapixels; such a JPEG is never below a fiftieth of a byte a pixel.
    return format != "jpeg" or pixels > MOST_PIXELS_JPEG or size * 50 < pixels


def wrong_order(before: PhotoFacts, after: PhotoFacts) -> bool:
    """Whether the picture claimed as *before* was certainly taken later than the one claimed as *after*.

    With both offsets known, instants are compared; with one or none, the clocks, and a difference below 26 hours stays
    open
    when one offset only is known, since zones run from UTC−12 to UTC+14.
    """
    if before.taken is None or after.taken is None:
        return False
    late = before.taken - after.taken
    if before.taken_offset is not None and after.taken_offset is not None:
        return late - before.taken_offset + after.taken_offset > timedelta(0)
    if before.taken_offset is None and after.taken_offset is None:
        return late > timedelta(0)
    return late > timedelta(hours=26)


def fit(width: int, height: int, edge: int) -> tuple[int, int]:
    """Width and height of the picture with its long edge at most `edge` pixels, never larger than it is."""
    longest = max(width, height)
    if longest <= edge:
        return width, height
    return max(1, math.floor(width * edge / longest + 0.5)), max(1, math.floor(height * edge / longest + 0.5))
