"""Pixels in, published bytes out: every size from the next larger one, rebuilt from bare pixels, written without a
word about its making."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Iterable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from io import BytesIO
from typing import BinaryIO

from PIL import Image

from dossier.model.picture import Mask, PublishedFile
from dossier.publish.pictures.open_picture import Pixels, open_pixels
from dossier.publish.pictures.recipe import JPEG_QUALITY, WEBP_METHOD, WEBP_QUALITY, Size, steps

NAME_DIGITS = 24
"""Hexadecimal digits of a published name: 96 bits, too many for two files to meet by accident or by search."""

_FILTER = Image.Resampling.BICUBIC
"""A fifth cheaper than Lanczos, and no halo along hard edges, which a reader of evidence might take for a repair."""

_STRIP = 128
"""Rows of a strip: half a thousand pixels wide or five, what is between two sizes fits the processor's cache."""

_TURNS = {
    2: Image.Transpose.FLIP_LEFT_RIGHT,
    3: Image.Transpose.ROTATE_180,
    4: Image.Transpose.FLIP_TOP_BOTTOM,
    5: Image.Transpose.TRANSPOSE,
    6: Image.Transpose.ROTATE_270,
    7: Image.Transpose.TRANSVERSE,
    8: Image.Transpose.ROTATE_90,
}


@dataclass(frozen=True, slots=True)
class Encoded:
    """A published file and its bytes."""

    file: PublishedFile
    data: bytes


def encode(data: bytes, masks: Sequence[Mask], sizes: Sequence[Size], beside: bool = False) -> list[Encoded]:
    """The published files of one source file, narrowest first; UnfitPictureError when it cannot be decoded.

    With `beside` the strips of a picture and its sizes are made at the same time, for when cores stand idle.
    """
    pixels = open_pixels(data, max(size.edge for size in sizes))
    if masks:
        from dossier.publish.pictures.masks import destroy

        pixels.image = destroy(pixels.image, masks, pixels.orientation)
    turned = pixels.orientation >= 5
    wanted = steps(*((pixels.height, pixels.width) if turned else (pixels.width, pixels.height)), sizes)
    picture = _largest(pixels, wanted[0][:2], beside)
    del pixels  # the large decoded picture need not outlive this line
    if not beside:
        return [_written(one, coding) for one, coding in _smaller(picture, wanted, beside)][::-1]
    with ThreadPoolExecutor(len(wanted)) as pool:
        coded = [pool.submit(_written, one, coding) for one, coding in _smaller(picture, wanted, beside)]
    return [one.result() for one in reversed(coded)]


def _smaller(picture: Image.Image, wanted: Iterable[tuple[int, int, str]], beside: bool) -> Iterator[tuple[Image.Image, str]]:
    """Every size wanted with its coding, each made from the one before."""
    for width, height, coding in wanted:
        if picture.size != (width, height):
            picture = _resized(picture, (width, height), (0.0, 0.0, float(picture.width), float(picture.height)), beside)
        yield picture, coding


def _largest(pixels: Pixels, size: tuple[int, int], beside: bool) -> Image.Image:
    """The largest published picture: made smaller first, then turned and coloured, since fewer pixels cost less."""
    stored = size[::-1] if pixels.orientation >= 5 else size
    whole = (0.0, 0.0, float(stored[0]), float(stored[1]))
    image, bare = pixels.image, False
    if image.size != stored or pixels.box != whole:
        image, bare = _resized(image, stored, pixels.box, beside), True
    if pixels.orientation in _TURNS:
        image = image.transpose(_TURNS[pixels.orientation])
    if image.mode != "RGB" or pixels.profile:
        from dossier.publish.pictures.colour import to_srgb

        image, bare = to_srgb(image, pixels.profile), False
    return image if bare else _bare(image)


def _bare(image: Image.Image) -> Image.Image:
    """The pixels alone: whatever else the library attached to the picture on its way ends here."""
    bare = Image.new(image.mode, image.size)
    bare.paste(image)
    return bare


def _resized(image: Image.Image, size: tuple[int, int], box: tuple[float, float, float, float], beside: bool) -> Image.Image:
    """A part of a picture at another size, its pixels alone.

    Made strip by strip, whether at the same time or not: what lies between two sizes then stays small, and the bytes are the same.
    """
    width, height = size
    left, top, right, bottom = box
    step = (bottom - top) / height
    whole = Image.new(image.mode, size)

    def lay(at: int) -> None:
        rows = min(_STRIP, height - at)
        strip = image.resize((width, rows), _FILTER, box=(left, top + at * step, right, min(top + (at + rows) * step, bottom)))
        whole.paste(strip, (0, at))

    strips = range(0, height, _STRIP)
    if not beside:
        for at in strips:
            lay(at)
        return whole
    with ThreadPoolExecutor(2) as pool:
        list(pool.map(lay, strips))
    return whole


def _written(picture: Image.Image, coding: str) -> Encoded:
    """One picture coded; its name is the beginning of the SHA-256 of its own bytes."""
    with _sheet() if coding == "jpeg" else BytesIO() as out:
        if coding == "jpeg":
            picture.save(out, "JPEG", quality=JPEG_QUALITY, progressive=True, optimize=True)
        else:
            picture.save(out, "WEBP", quality=WEBP_QUALITY, method=WEBP_METHOD)
        out.seek(0)
        data = out.read()
    sha256 = hashlib.sha256(data).hexdigest()
    name = f"{sha256[:NAME_DIGITS]}.{'jpg' if coding == 'jpeg' else 'webp'}"
    return Encoded(PublishedFile(name, picture.width, picture.height, len(data), sha256), data)


def _sheet() -> BinaryIO:
    """Something to write to: a file in memory where the system has such, for into one the library writes a JPEG while others work."""
    try:
        return os.fdopen(os.memfd_create("picture"), "w+b", buffering=0)
    except (AttributeError, OSError):
        return BytesIO()
