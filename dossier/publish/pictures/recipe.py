"""What is asked for: one picture, its masks and its sizes, and the name under which the result may be kept."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Literal

from dossier.model.picture import FileMark, Mask, fit
from dossier.publish.program import installed

RECIPE = 2
"""Raise by one whenever the same request would give other bytes."""

JPEG_QUALITY = 80
WEBP_QUALITY = 80
WEBP_METHOD = 2
"""Effort of the WebP encoder, 0 to 6: 2 took half the time of 4 for a few per cent more bytes."""

BLOCK = 16
"""Pixels of the grid to which a mask grows: the largest coding unit of JPEG (ITU-T T.81, 4:2:0), out of which detail
may bleed."""

FILL = 90
"""The grey, 0 to 255, that stands where a mask was."""

NEAR = 0.9
"""A size that is at least this part of the largest one is left out: it would save nothing."""


@dataclass(frozen=True, slots=True)
class Size:
    """A published size: the long edge in pixels and the coding."""

    edge: int
    coding: Literal["webp", "jpeg"]


SIZES = (Size(480, "webp"), Size(1200, "webp"), Size(2400, "jpeg"))


@dataclass(frozen=True, slots=True)
class PictureRequest:
    """One picture to be published: `sha256` is that of the source at reading, `mark` the file mark of the same moment.

    Two requests for one photograph with different masks bear different keys.
    """

    key: str
    source: Path
    sha256: str
    mark: FileMark | None = None
    masks: tuple[Mask, ...] = ()
    sizes: tuple[Size, ...] = SIZES


def steps(width: int, height: int, sizes: Iterable[Size]) -> list[tuple[int, int, Literal["webp", "jpeg"]]]:
    """The sizes to make of a picture of `width` × `height` pixels: largest first, none larger than the picture, no two
    alike."""
    largest, *smaller = sorted(sizes, key=lambda size: size.edge, reverse=True)
    top = fit(width, height, largest.edge)
    made = [(*top, largest.coding)]
    made += [(*fit(width, height, size.edge), size.coding) for size in smaller if size.edge < NEAR * max(top)]
    return made


def recipe_name(request: PictureRequest) -> str:
    """64 hexadecimal digits that change with the source's content, the masks, the sizes, the settings and the
    libraries' versions."""
    parts = [
        request.sha256,
        [[mask.kind, [[float(x), float(y)] for x, y in mask.points]] for mask in request.masks],
        [[size.edge, size.coding] for size in request.sizes],
        [RECIPE, JPEG_QUALITY, WEBP_QUALITY, WEBP_METHOD, BLOCK, FILL, NEAR],
        _libraries(),
    ]
    return hashlib.sha256(json.dumps(parts, separators=(",", ":")).encode("ascii")).hexdigest()


@cache
def _libraries() -> str:
    """Versions of the libraries that make the bytes, so asked that none of them is imported for a hit."""
    found = [name for name in installed() if name.lower().startswith("pillow")]
    if not found:  # installed in some other way
        from importlib import metadata

        found = [f"{name}-{metadata.version(name)}" for name in ("pillow", "pillow-heif")]
    return " ".join(found)
