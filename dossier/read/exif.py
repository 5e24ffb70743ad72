"""What a camera wrote beside a picture: how to turn it, date with offset, camera, and whether a position is among it."""

from __future__ import annotations

import re
from dataclasses import dataclass
from datetime import datetime, timedelta

from PIL import Image

# EXIF 2.32 (CIPA DC-008): original first, then digitised; the date of last change (0x0132) says nothing of the taking.
_DATES = ((0x9003, 0x9011), (0x9004, 0x9012))
_ORIENTATION = 0x0112
_MAKE, _MODEL, _EXIF_IFD, _GPS_IFD, _LATITUDE = 0x010F, 0x0110, 0x8769, 0x8825, 0x0002
_DATE = re.compile(r"(\d{4})[:/-](\d\d)[:/-](\d\d)[ T](\d\d):(\d\d):(\d\d)", re.ASCII)
_OFFSET = re.compile(r"([+-])(\d\d):(\d\d)", re.ASCII)
_MOST_OFFSET = timedelta(hours=14)


@dataclass(frozen=True, slots=True)
class CameraNotes:
    """The few things kept of the metadata; `damaged` when they, or a date in them, could not be read."""

    taken: datetime | None = None
    taken_offset: timedelta | None = None
    camera: str = ""
    has_position: bool = False
    damaged: bool = False


def camera_notes(image: Image.Image) -> CameraNotes:
    """Read the notes of an opened picture; never raises at what a camera or a program left there."""
    try:
        exif = image.getexif()
        details = dict(exif.get_ifd(_EXIF_IFD))
        position = dict(exif.get_ifd(_GPS_IFD))
        camera = _camera(_text(exif.get(_MAKE)), _text(exif.get(_MODEL)))
    except Exception:  # the library raises nearly anything at damaged tags
        return CameraNotes(damaged=True)
    taken, offset, damaged = _taken(details)
    return CameraNotes(taken, offset, camera, _LATITUDE in position, damaged)


def orientation_of(image: Image.Image) -> int:
    """The orientation (1 to 8) still to be applied to an opened picture; 1 where none or nonsense is written."""
    try:
        written = image.getexif().get(_ORIENTATION, 1)
    except Exception:  # damaged tags
        return 1
    return written if isinstance(written, int) and 1 <= written <= 8 else 1


def _taken(details: dict[int, object]) -> tuple[datetime | None, timedelta | None, bool]:
    """The camera's clock, its offset, and whether a date is written that is none."""
    damaged = False
    for date_tag, offset_tag in _DATES:
        written = _text(details.get(date_tag))
        # A clock never set writes blanks or zeros: no date, and nothing damaged.
        if not written.strip(" 0:/-"):
            continue
        found = _DATE.match(written)
        if found:
            year, month, day, hour, minute, second = (int(part) for part in found.groups())
            try:
                return (
                    datetime(year, month, day, hour, minute, second),
                    _offset(_text(details.get(offset_tag))),
                    damaged,
                )
            except ValueError:
                pass
        damaged = True
    return None, None, damaged


def _offset(written: str) -> timedelta | None:
    """The distance from UTC, or None where none or nonsense is written."""
    if written in ("Z", "z"):
        return timedelta(0)
    found = _OFFSET.fullmatch(written)
    if not found or int(found[3]) > 59:
        return None
    offset = timedelta(hours=int(found[2]), minutes=int(found[3]))
    if offset > _MOST_OFFSET:
        return None
    return -offset if found[1] == "-" else offset


def _camera(make: str, model: str) -> str:
    """Maker and model, the maker not said twice."""
    return model if model.lower().startswith(make.lower()) else f"{make} {model}".strip()


def _text(value: object) -> str:
    """A tag's value as clean text of at most 80 characters."""
    if isinstance(value, bytes):
        value = value.decode("ascii", "replace")
    if not isinstance(value, str):
        return ""
    return "".join(letter for letter in value.split("\0")[0] if letter.isprintable()).strip()[:80]
