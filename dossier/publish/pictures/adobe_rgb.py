"""The colour profile meant by a picture that only says Adobe RGB: many cameras mark it so and enclose no profile."""

from __future__ import annotations

import struct
from functools import cache

from PIL import Image

# DCF 2.0 (CIPA DC-009): a file of the optional colour space bears interoperability index R03.
_INTEROPERABILITY, _INDEX, _OPTIONAL = 0xA005, 0x0001, "R03"

# Adobe RGB (1998) Color Image Encoding, version 2005-05: gamma 2.19921875; colorants adapted to D50 as in its profile.
_GAMMA = 563 / 256
_COLORANTS = {
    b"rXYZ": (0.60974, 0.31111, 0.01947),
    b"gXYZ": (0.20528, 0.62567, 0.06087),
    b"bXYZ": (0.14919, 0.06322, 0.74457),
    b"wtpt": (0.95045, 1.0, 1.08905),
}
_D50 = (0.9642, 1.0, 0.8249)


def says_adobe_rgb(image: Image.Image) -> bool:
    """Whether an opened picture is marked as Adobe RGB by its camera; False when the marks are damaged."""
    try:
        return str(image.getexif().get_ifd(_INTEROPERABILITY).get(_INDEX, "")).strip("\0 ") == _OPTIONAL
    except Exception:  # the library raises nearly anything at damaged tags
        return False


@cache
def adobe_rgb_profile() -> bytes:
    """An ICC profile (ICC.1:2001-04, three colorants and one curve) for Adobe RGB (1998)."""
    curve = b"curv\0\0\0\0" + struct.pack(">IH", 1, round(_GAMMA * 256)) + b"\0\0"
    tags = {name: b"XYZ \0\0\0\0" + _fixed(*values) for name, values in _COLORANTS.items()}
    tags |= dict.fromkeys((b"rTRC", b"gTRC", b"bTRC"), curve)
    tags[b"desc"] = b"desc\0\0\0\0" + struct.pack(">I", 4) + b"RGB\0" + b"\0" * 80
    at, rows, body = 128 + 4 + 12 * len(tags), b"", b""
    for name, value in tags.items():
        rows += name + struct.pack(">II", at + len(body), len(value))
        body += value
    head = struct.pack(">I4xI4s4s4s12x4s28x", at + len(body), 0x02400000, b"mntr", b"RGB ", b"XYZ ", b"acsp")
    return (head + _fixed(*_D50)).ljust(128, b"\0") + struct.pack(">I", len(tags)) + rows + body


def _fixed(*values: float) -> bytes:
    """Numbers as s15Fixed16, the profile's own notation."""
    return struct.pack(f">{len(values)}i", *(round(value * 65536) for value in values))
