"""Areas destroyed in the decoded pixels: solid fill, grown to the block grid and one block more; never blur or mosaic,
which can be read back."""

from __future__ import annotations

from collections.abc import Iterable

from PIL import Image, ImageChops, ImageDraw, ImageFilter

from dossier.model.picture import Mask, Point
from dossier.publish.pictures.recipe import BLOCK, FILL

_FILLS: dict[str, int | tuple[int, ...]] = {"L": FILL, "RGB": (FILL, FILL, FILL), "CMYK": (0, 0, 0, 255 - FILL)}

_PEN = 5


def destroy(image: Image.Image, masks: Iterable[Mask], orientation: int) -> Image.Image:
    """Fill every mask in a picture (mode L, RGB or CMYK) that is still to be turned by `orientation`; returns the same
    picture or a copy."""
    covers = [cover(image.size, [as_stored(point, orientation) for point in mask.outline]) for mask in masks]
    if not covers:
        return image
    whole = covers[0]
    for other in covers[1:]:
        whole = ImageChops.lighter(whole, other)
    filled = image.copy()
    filled.paste(_FILLS[image.mode], (0, 0), whole)
    return filled


def cover(size: tuple[int, int], outline: list[Point]) -> Image.Image:
    """The pixels to fill, 255 in a mode L picture of `size`, for an outline in per cent: every block touched and the
    ring of blocks round them."""
    width, height = size
    drawn = Image.new("L", size, 0)
    corners = [(min(int(x / 100 * width), width - 1), min(int(y / 100 * height), height - 1)) for x, y in outline]
    pen = ImageDraw.Draw(drawn)
    pen.polygon(corners, fill=255)
    # A thick pen: whatever the drawing rounds, no pixel the outline passes through is left out.
    pen.line([*corners, corners[0]], fill=255, width=_PEN)
    blocks = drawn.reduce(BLOCK).point(lambda level: 255 if level else 0)
    grown = _without_holes(blocks).filter(ImageFilter.MaxFilter(3))
    full = grown.resize((grown.width * BLOCK, grown.height * BLOCK), Image.Resampling.NEAREST)
    return full.crop((0, 0, width, height))


def _without_holes(blocks: Image.Image) -> Image.Image:
    """The same with every enclosed hole filled: an outline that crosses itself leaves its middle open otherwise."""
    framed = Image.new("L", (blocks.width + 2, blocks.height + 2), 0)
    framed.paste(blocks, (1, 1))
    outside = framed.copy()
    ImageDraw.floodfill(outside, (0, 0), 128)
    inside = outside.point(lambda level: 0 if level == 128 else 255)
    return inside.crop((1, 1, blocks.width + 1, blocks.height + 1))


def as_stored(point: Point, orientation: int) -> Point:
    """Where a point of the turned picture lies in the picture as stored, both in per cent (EXIF 2.32, tag 0x0112)."""
    x, y = point
    return {
        1: (x, y),
        2: (100 - x, y),
        3: (100 - x, 100 - y),
        4: (x, 100 - y),
        5: (y, x),
        6: (y, 100 - x),
        7: (100 - y, 100 - x),
        8: (100 - y, x),
    }[orientation]
