"""Everything that can be wrong with a picture file: one row a code, with its weight, its sentence and what to do."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

Weight = Literal["error", "warning", "note"]


@dataclass(frozen=True, slots=True)
class PhotoFault:
    """One thing wrong with a picture file (sentence in lower case, no full stop); with an error it cannot be used."""

    code: str
    message: str
    instead: str
    severity: Weight = "error"


_COPY_AGAIN = "copy it again from the camera or the backup"
_SAVE_AGAIN = "save it as JPEG, PNG, TIFF, WebP or HEIC"

PHOTO_FAULTS: dict[str, tuple[Weight, str, str]] = {
    "photo-missing": ("error", "there is no such picture file", "correct the name, or put the file in its place"),
    "photo-empty": ("error", "the picture file is empty: zero bytes", _COPY_AGAIN),
    "photo-too-large": ("error", "the picture file is too large: {detail}", "save it smaller"),
    "photo-unreadable": ("error", "the picture cannot be read: {detail}", f"{_COPY_AGAIN}, or {_SAVE_AGAIN}"),
    "photo-truncated": ("error", "the picture file breaks off before its end: it was not copied whole", _COPY_AGAIN),
    "photo-other-format": ("error", "the file is {detail}, which is not read", _SAVE_AGAIN),
    "photo-raw": ("error", "the file is a camera's raw file", "develop it and save it as JPEG or TIFF beside the raw"),
    "photo-bomb": ("error", "the file claims {detail}: it would fill the memory", "save it with fewer pixels"),
    "photo-odd-depth": (
        "error",
        "the picture has 32 bits a sample, and what is black and what is white is not said",
        "save it with 8 or 16 bits a sample",
    ),
    "photo-changed": (
        "error",
        "the picture is no longer the file that was read: its SHA-256 differs",
        "publish again: the folder is then read afresh",
    ),
    "photo-wrong-extension": ("warning", "the picture is {detail} by its content", "rename it to say so"),
    "photo-animated": (
        "note",
        "the picture has {detail} frames, of which the first is used",
        "save another frame as a file of its own if that is the one to show",
    ),
    "photo-many-pages": (
        "note",
        "the scan has {detail} pages, of which the first is used",
        "save the other pages as files of their own if they are to be shown",
    ),
    "photo-notes-damaged": (
        "note",
        "what the camera wrote beside the picture cannot be read in full",
        "give the picture's date by hand",
    ),
    "photo-colour-profile": (
        "note",
        "the picture {detail}: its colours may come out wrong",
        "save it in sRGB if they do",
    ),
}


def photo_fault(code: str, detail: str = "") -> PhotoFault:
    """The fault of a code; KeyError for a code without a row."""
    weight, sentence, instead = PHOTO_FAULTS[code]
    return PhotoFault(code, sentence.format(detail=detail), instead, weight)
