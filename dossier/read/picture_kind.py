"""What a file is that will not do as a picture: a raw file, another kind of file, or one that breaks off."""

from __future__ import annotations

from PIL import Image

_DNG_VERSION, _PHOTOMETRIC, _COLOUR_FILTER_ARRAY = 50706, 262, 32803
_RAW_ENDINGS = frozenset(
    "3fr arw cr2 cr3 crw dng erf iiq kdc mef mos mrw nef nrw orf pef raf raw rw2 rwl sr2 srf srw x3f".split()  # noqa: SIM905
)
_OTHERS = (
    (b"GIF8", "a GIF picture"),
    (b"BM", "a BMP picture"),
    (b"8BPS", "a layered picture of an editor"),
    (b"\0\0\0\x0cjP  ", "a JPEG 2000 picture"),
    (b"\xff\x4f\xff\x51", "a JPEG 2000 picture"),
    (b"\0\0\0\x0cJXL ", "a JPEG XL picture"),
    (b"%PDF", "a PDF document"),
    (b"PK\x03\x04", "a zip file"),
    (b"<", "text in tags, perhaps a web page or a drawing"),
)
_END = 65536
"""Bytes at the end in which the end mark is looked for: cameras and telephones add things after it."""


def named_raw(ending: str) -> bool:
    """Whether a file's ending, with its dot, is that of a camera's raw files; many of them are TIFF on the surface."""
    return ending.lower().lstrip(".") in _RAW_ENDINGS


def is_raw(image: Image.Image) -> bool:
    """Whether a TIFF is a raw file, its first picture a mere preview (Adobe DNG 1.6: tag 50706; ISO 12234-2: a colour
    filter array)."""
    tags = getattr(image, "tag_v2", {})
    return _DNG_VERSION in tags or tags.get(_PHOTOMETRIC) == _COLOUR_FILTER_ARRAY


def other_kind(data: bytes) -> str:
    """A name for a file that is none of the picture formats read, or nothing."""
    if data[4:8] == b"ftyp":
        return "an AVIF picture" if data[8:12] in (b"avif", b"avis") else "a film, or a picture of another kind"
    return next((name for start, name in _OTHERS if data.startswith(start)), "")


def is_cut_short(data: bytes, format: str) -> bool:
    """Whether a file of this format lacks its end; never true for TIFF, which has none."""
    if format == "jpeg":
        return b"\xff\xd9" not in data[-_END:]
    if format == "png":
        return b"IEND" not in data[-_END:]
    if format == "webp":
        return int.from_bytes(data[4:8], "little") + 8 > len(data)
    return format == "heic" and _end_of_boxes(data) > len(data)


def _end_of_boxes(data: bytes) -> int:
    """Where the last box begun in a HEIC file ends by its own word (ISO/IEC 14496-12, section 4.2), in bytes."""
    at = 0
    while at + 8 <= len(data):
        length = int.from_bytes(data[at : at + 4], "big")
        if length == 1:
            length = int.from_bytes(data[at + 8 : at + 16], "big")
        if length < 8:
            return at  # to the end of the file, or nonsense
        at += length
    return at
