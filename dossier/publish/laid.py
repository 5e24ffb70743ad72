"""What a publish left in its folder, kept for the next: marks of every file, the pictures, and where the pages speak of them."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import tempfile
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from dossier.model.picture import Mask, PublishedFile, Rendition
from dossier.publish.blanks import Place

MOST_KEPT = 200
"""Publishes remembered; the longest unused go first."""

_DAMAGED = (OSError, ValueError, KeyError, TypeError, AttributeError, IndexError)

Marks = dict[str, tuple[int, int, int, int]]


@dataclass(frozen=True)
class LaidPhoto:
    """A photograph as it was published: its id, its file, what was masked, and the files made of it."""

    id: str
    file: str
    masks: tuple[Mask, ...]
    made: Rendition


@dataclass(frozen=True)
class LaidDossier:
    """One dossier within the published folder: where (empty for its root), its photographs in their order, and by file the places."""

    folder: str
    photos: tuple[LaidPhoto, ...]
    places: dict[str, tuple[Place, ...]]


@dataclass(frozen=True)
class Laid:
    """All that was laid out by one publish. `of` says of what and for whom, `said` what was told of the folder then."""

    of: tuple[str, ...]
    said: str
    marks: Marks
    dossiers: tuple[LaidDossier, ...]
    standing: Mapping[str, Any]
    """How the inputs stood, as the room that tends them wrote it down."""


def marks_of(out: Path) -> Marks:
    """Size, times and inode of every file of a published folder, folders themselves by name."""
    return dict(_marks(str(out), ""))


def _marks(folder: str, name: str) -> Iterator[tuple[str, tuple[int, int, int, int]]]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                yield f"{name}{entry.name}/", (0, 0, 0, 0)
                yield from _marks(entry.path, f"{name}{entry.name}/")
            else:
                state = entry.stat(follow_symlinks=False)
                yield f"{name}{entry.name}", (state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino)


def untouched(laid: Laid, out: Path) -> bool:
    """Whether a folder holds what was laid out there and nothing else, by the file system's word."""
    try:
        return marks_of(out) == laid.marks
    except OSError:
        return False


def _path(cache: Path, out: Path) -> Path:
    return cache / "published" / f"{hashlib.sha256(os.fsencode(out.absolute())).hexdigest()[:32]}.json"


def usual_cache() -> Path | None:
    """Where things are kept unless told otherwise (XDG Base Directory Specification 0.8); None where there is no home."""
    named = os.environ.get("XDG_CACHE_HOME", "")
    try:
        return (Path(named) if Path(named).is_absolute() else Path.home() / ".cache") / "dossier"
    except RuntimeError:
        return None


def remember(cache: Path, out: Path, laid: Laid) -> None:
    """Write down what was laid out at `out`; a cache that cannot be written to is done without."""
    path = _path(cache, out)
    data = json.dumps({**asdict(laid), "dossiers": [_as_data(one) for one in laid.dossiers]}, separators=(",", ":"))
    with contextlib.suppress(OSError):
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=path.stem, suffix=".part", dir=path.parent)
        try:
            with os.fdopen(handle, "w", encoding="utf-8", errors="surrogateescape") as aside:
                aside.write(data)
            Path(name).replace(path)
        finally:
            Path(name).unlink(missing_ok=True)
        _tidy(path.parent)


def forget(cache: Path, out: Path) -> None:
    """Remember nothing of `out` any more."""
    with contextlib.suppress(OSError):
        _path(cache, out).unlink(missing_ok=True)


def recall(cache: Path, out: Path) -> Laid | None:
    """What was laid out at `out` last, or None where nothing is known or the note is damaged."""
    try:
        data = json.loads(_path(cache, out).read_text(encoding="utf-8", errors="surrogateescape"))
        marks = {name: tuple(mark) for name, mark in data["marks"].items()}
        return Laid(tuple(data["of"]), data["said"], marks, tuple(map(_from_data, data["dossiers"])), data["standing"])
    except _DAMAGED:
        return None


def _tidy(folder: Path) -> None:
    kept = sorted(folder.glob("*.json"), key=lambda path: path.stat().st_mtime)
    for path in kept[:-MOST_KEPT]:
        path.unlink(missing_ok=True)


def _as_data(one: LaidDossier) -> dict[str, Any]:
    places = {name: [[p.at, p.length, p.photo, p.file, p.kind] for p in some] for name, some in one.places.items()}
    return {"folder": one.folder, "photos": [asdict(photo) for photo in one.photos], "places": places}


def _from_data(data: Mapping[str, Any]) -> LaidDossier:
    photos = tuple(
        LaidPhoto(
            one["id"], one["file"],
            tuple(Mask(mask["kind"], tuple((x, y) for x, y in mask["points"])) for mask in one["masks"]),
            Rendition(tuple(PublishedFile(**file) for file in one["made"]["files"])),
        )
        for one in data["photos"]
    )  # fmt: skip
    return LaidDossier(data["folder"], photos, {name: tuple(Place(*place) for place in some) for name, some in data["places"].items()})
