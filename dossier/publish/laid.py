"""What a publish left in its folder, kept for the next: marks of every file, the pictures, and where the pages speak of them.

There is one note a dossier, so that of an archive only what changed is made anew and never more than one note is in memory,
and one note for what is an archive's own.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import shutil
import tempfile
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from dossier.model.picture import Mask, PublishedFile, Rendition
from dossier.publish.blanks import Place

MOST_KEPT = 200
"""Places published to that are remembered; the longest unused go first."""

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
    """One published dossier: its photographs in their order, and by file the places that speak of them."""

    photos: tuple[LaidPhoto, ...]
    places: dict[str, tuple[Place, ...]]


@dataclass(frozen=True)
class Laid:
    """One dossier as it was laid out. `of` says of what, for whom and by which program; `warnings` has a word for each its folder had."""

    of: tuple[str, ...]
    warnings: tuple[str, ...]
    marks: Marks
    dossier: LaidDossier
    standing: Mapping[str, Any]
    """How the inputs stood, as the room that tends them wrote it down."""


@dataclass(frozen=True)
class LaidArchive:
    """What is an archive's own, beside its dossiers: of what, a digest of the entries it was made from, its files, a digest of each page."""

    of: tuple[str, ...]
    entries: str
    marks: Marks
    pages: dict[str, str]


@dataclass(frozen=True)
class MadeBefore:
    """The archive's own pages as they lie in a folder that nobody touched: marks of its files, and of each page a digest of all it shows."""

    folder: Path
    marks: Marks
    digests: Mapping[str, str]


def marks_of(out: Path, apart: Collection[str] = ()) -> Marks:
    """Size, times and inode of every file of a published folder, folders themselves by name; of folders `apart` only the name."""
    return dict(_marks(str(out), "", frozenset(apart)))


def _marks(folder: str, name: str, apart: frozenset[str] = frozenset()) -> Iterator[tuple[str, tuple[int, int, int, int]]]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.is_dir(follow_symlinks=False):
                yield f"{name}{entry.name}/", (0, 0, 0, 0)
                if entry.name not in apart:
                    yield from _marks(entry.path, f"{name}{entry.name}/")
            else:
                state = entry.stat(follow_symlinks=False)
                yield f"{name}{entry.name}", (state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino)


def untouched(marks: Marks, out: Path, apart: Collection[str] = ()) -> bool:
    """Whether a folder holds what was laid out there and nothing else, by the file system's word."""
    try:
        return marks_of(out, apart) == marks
    except OSError:
        return False


def same_files(names: Iterable[str], before: Marks, now: Marks) -> bool:
    """Whether files taken over are what they were: a link, made or removed, changes neither size nor time."""
    return all(name in now and now[name][:2] == before[name][:2] for name in names)


# ------------------------------------------------------------ where notes are kept


def usual_cache() -> Path | None:
    """Where things are kept unless told otherwise (XDG Base Directory Specification 0.8); None where there is no home."""
    named = os.environ.get("XDG_CACHE_HOME", "")
    try:
        return (Path(named) if Path(named).is_absolute() else Path.home() / ".cache") / "dossier"
    except RuntimeError:
        return None


def note_of(cache: Path, out: Path) -> Path:
    """The note of what was published at `out`."""
    return cache / "published" / f"{_digest(os.fsencode(out.absolute()))}.json"


def note_within(cache: Path, out: Path, slug: str) -> Path:
    """The note of one dossier of the archive at `out`."""
    return note_of(cache, out).with_suffix("") / f"{_digest(os.fsencode(slug))}.json"


def _digest(name: bytes) -> str:
    return hashlib.sha256(name).hexdigest()[:32]


def _tidy(folder: Path) -> None:
    kept = sorted(folder.glob("*.json"), key=lambda path: path.stat().st_mtime)
    for path in kept[:-MOST_KEPT]:
        path.unlink(missing_ok=True)
        shutil.rmtree(path.with_suffix(""), ignore_errors=True)


def keep_only(cache: Path, out: Path, slugs: Iterable[str]) -> None:
    """Forget the dossiers of an archive that are no longer in it."""
    kept = {note_within(cache, out, slug).name for slug in slugs}
    with contextlib.suppress(OSError):
        for path in note_of(cache, out).with_suffix("").glob("*.json"):
            if path.name not in kept:
                path.unlink(missing_ok=True)


# ------------------------------------------------------------ notes as kept on the disc


def remember(note: Path, laid: Laid | LaidArchive) -> None:
    """Write down what was laid out; a cache that cannot be written to is done without."""
    with contextlib.suppress(OSError):
        for folder in (note.parent.parent, note.parent):
            folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=note.stem, suffix=".part", dir=note.parent)
        try:
            with os.fdopen(handle, "w", encoding="utf-8", errors="surrogateescape") as aside:
                aside.write(as_text(laid))
            Path(name).replace(note)
        finally:
            Path(name).unlink(missing_ok=True)
        if note.parent.name == "published":
            _tidy(note.parent)


def recall(note: Path) -> Laid | None:
    """What was laid out last of one dossier, or None where nothing is known or the note is damaged."""
    try:
        data = _data(note)
        return Laid(tuple(data["of"]), tuple(map(str, data["warnings"])), _read_marks(data), _from_data(data["dossier"]), data["standing"])
    except _DAMAGED:
        return None


def recall_archive(note: Path) -> LaidArchive | None:
    """What was laid out last of an archive's own, or None where nothing is known or the note is damaged."""
    try:
        data = _data(note)
        return LaidArchive(tuple(data["of"]), str(data["entries"]), _read_marks(data), dict(data["pages"]))
    except _DAMAGED:
        return None


def as_text(laid: Laid | LaidArchive) -> str:
    """A note as JSON."""
    data: dict[str, Any] = {"of": laid.of, "marks": laid.marks}
    if isinstance(laid, LaidArchive):
        data |= {"entries": laid.entries, "pages": laid.pages}
    else:
        data |= {"warnings": laid.warnings, "standing": laid.standing, "dossier": _as_data(laid.dossier)}
    return json.dumps(data, separators=(",", ":"))


def _data(note: Path) -> Any:
    return json.loads(note.read_text(encoding="utf-8", errors="surrogateescape"))


def _read_marks(data: Mapping[str, Any]) -> Marks:
    return {name: tuple(mark) for name, mark in data["marks"].items()}


def _as_data(one: LaidDossier) -> dict[str, Any]:
    places = {name: [[p.at, p.length, p.photo, p.file, p.kind] for p in some] for name, some in one.places.items()}
    return {"photos": [asdict(photo) for photo in one.photos], "places": places}


def _from_data(data: Mapping[str, Any]) -> LaidDossier:
    photos = tuple(
        LaidPhoto(
            one["id"], one["file"],
            tuple(Mask(mask["kind"], tuple((x, y) for x, y in mask["points"])) for mask in one["masks"]),
            Rendition(tuple(PublishedFile(**file) for file in one["made"]["files"])),
        )
        for one in data["photos"]
    )  # fmt: skip
    return LaidDossier(photos, {name: tuple(Place(*place) for place in some) for name, some in data["places"].items()})
