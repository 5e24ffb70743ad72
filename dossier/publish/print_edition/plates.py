"""Photographs for paper: made anew at 200 dots an inch of the size they are printed in, masks laid over them as for the site."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from dossier.model.edition import Edition
from dossier.model.picture import Rendition
from dossier.publish.dossier import PictureChangedError
from dossier.publish.pictures.make import make_renditions
from dossier.publish.pictures.recipe import PictureRequest, Size
from dossier.publish.print_edition.marked import Tree, UnsetError, words_of

DOTS = 200
"""Dots an inch, the finest that the two commonest papers show."""
LARGE, HALF, THIRD = 160.0, 82.0, 54.0
"""Millimetres of the long edge of a photograph: alone, one of a pair, one of three in a row."""

Node = dict[str, Any]


@dataclass(frozen=True)
class Plate:
    """A photograph as made for paper: for each length of its long edge in mm the file, and its width and height in pixels."""

    files: Mapping[float, str]
    width: int
    height: int


def dots(millimetres: float) -> int:
    """Pixels of an edge that is so long on paper."""
    return math.ceil(millimetres / 25.4 * DOTS)


def make_plates(
    edition: Edition, source: Path, into: Path, cache: Path | None, progress: Callable[[int, int], None] | None = None
) -> tuple[dict[str, Rendition], dict[str, Plate]]:
    """The edition's photographs as JPEG files in the folder `into`: renditions by photo id, plates by the name of their largest file.

    PictureChangedError when a photograph is not what was read.
    """
    sizes = tuple(Size(dots(edge), "jpeg") for edge in (THIRD, HALF, LARGE))
    requests = [PictureRequest(one.photo, source / "photos" / one.file, one.sha256, one.mark, one.masks, sizes) for one in edition.travels]
    run = make_renditions(requests, into, cache, progress)
    if run.faults:
        raise PictureChangedError(run.faults)
    return run.renditions, {made.large.name: _plate(made) for made in run.renditions.values()}


def _plate(made: Rendition) -> Plate:
    """For each edge the smallest file that is fine enough, else the largest."""
    files = {}
    for edge in (THIRD, HALF, LARGE):
        fine = [file for file in made.files if max(file.width, file.height) >= dots(edge)]
        files[edge] = (fine[0] if fine else made.large).name
    return Plate(files, made.large.width, made.large.height)


def plates_of(tree: Tree, plates: Mapping[str, Plate]) -> list[Node]:
    """The photographs among some elements as nodes, pins with them. UnsetError at a picture that is no photograph of this edition."""
    out: list[Node] = []
    for one in tree:
        if isinstance(one, str):
            continue
        if one["tag"] == "img":
            raise UnsetError("a picture that leads to no large one is no photograph of this edition")
        if one["tag"] == "a" and "large" in one["of"].get("class", "").split():
            out.append(_photo(one, plates))
            continue
        found = plates_of(one["inside"], plates)
        if found and "pinned" in one["of"].get("class", "").split():
            found[0]["pins"] = [_pin(pin) for pin in one["inside"] if "pin" in pin["of"].get("class", "").split()]
        out += found
    return out


def _photo(link: Node, plates: Mapping[str, Plate]) -> Node:
    name, [image] = link["of"].get("href", "").rpartition("/")[2], link["inside"]
    if name not in plates:
        raise UnsetError(f"{name} is no photograph of this edition")
    one = plates[name]
    files = {f"{edge:g}": f"/{file}" for edge, file in one.files.items()}
    return {
        "k": "photo",
        "files": files,
        "shape": one.width / one.height,
        "alt": image["of"].get("alt", ""),
        "pins": [],
        "legend": [],
        "css": "",
    }


def _pin(pin: Node) -> list[Any]:
    placed = dict(part.split(":") for part in pin["of"]["style"].split(";"))
    return [float(placed["left"].removesuffix("%")), float(placed["top"].removesuffix("%")), words_of(pin["inside"])]
