"""How a build folder stood when it was last read: what the file system said of every file, and what was found in its photographs."""

from __future__ import annotations

import hashlib
import os
import time
from collections.abc import Collection, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from dossier.model.picture import FileMark, PhotoFacts
from dossier.read.builds import find_builds as find_builds
from dossier.read.likeness import groups

if TYPE_CHECKING:
    from dossier.model.forms.photos import Photo

_SETTLED_NS = 2_000_000_000
"""A file written to less than this before reading may be written to again within one tick of its clock (2 s on FAT)."""
_OF_ITS_PIXELS = ("sha256", "mark", "width", "height", "likeness")
"""Facts that no page prints as they are: sizes reach the pages with the pictures made, likeness as groups."""
_TIMES = ("taken", "taken_offset")

Marks = dict[str, tuple[int, int, int, int]]
"""For each file by its relative name: size, time of last change, time of last change of its entry, inode (times in ns)."""


@dataclass(frozen=True)
class PhotoRead:
    """One line of photos.yaml as it was read: its id, its file's name, and what was found in it."""

    id: str
    file: str
    facts: PhotoFacts


@dataclass(frozen=True)
class FreshPhoto:
    """A photograph whose file changed: its build, its file, where that lies, and its SHA-256 and mark as they are now."""

    build: str
    file: str
    source: Path
    sha256: str
    mark: FileMark


@dataclass(frozen=True)
class Standing:
    """The input files of a publish; `fresh` holds the SHA-256 of those written so lately that their mark alone proves nothing.

    `photos` are by the place of their build relative to the path published, empty for the path itself.
    """

    marks: Marks
    fresh: dict[str, str]
    photos: dict[str, tuple[PhotoRead, ...]]


def look(path: Path) -> Standing:
    """Every file below `path` and the workshop file above it, before they are read. Nothing is opened but what was just written."""
    now = time.time_ns()
    marks = dict(sorted(_marks(path)))
    fresh = {name: _digest(path / name) for name, mark in marks.items() if max(mark[1:3]) > now - _SETTLED_NS}
    return Standing(marks, fresh, {})


def _settled(before: Standing, path: Path) -> Standing:
    """The same after all was read: what was fresh then and is the same still has, in most cases, come to rest meanwhile."""
    now = time.time_ns()
    at_rest = {
        name
        for name, digest in before.fresh.items()
        if max(before.marks[name][1:3]) <= now - _SETTLED_NS and digest == _digest(path / name) and _mark(path / name) == before.marks[name]
    }
    return replace(before, fresh={name: digest for name, digest in before.fresh.items() if name not in at_rest})


def changed(then: Standing, now: Standing, path: Path) -> tuple[str, ...] | None:
    """Names of the files whose content may differ from then; None where files came or went."""
    if then.marks.keys() != now.marks.keys():
        return None
    return tuple(
        name
        for name, mark in now.marks.items()
        if mark != then.marks[name] or (name in then.fresh and then.fresh[name] != (now.fresh.get(name) or _digest(path / name)))
    )


def read(standing: Standing, path: Path, builds: Mapping[Path, Iterable[Photo]]) -> Standing:
    """The standing once the builds at `path` are read: with what was found in every photograph."""
    found = {
        build.relative_to(path).as_posix().removeprefix("."): tuple(PhotoRead(one.id, one.file, one.facts) for one in photos if one.facts)
        for build, photos in builds.items()
    }
    return replace(_settled(standing, path), photos=found)


def fresh_photos(then: Standing, now: Standing, names: Iterable[str], path: Path) -> dict[str, FreshPhoto] | None:
    """Changed files by their names, if all of them are photographs that were read; None where anything else is among them."""
    of = {_name(build, one): (build, one.file) for build, photos in then.photos.items() for one in photos}
    if any(name not in of for name in names):
        return None
    sha256 = {name: now.fresh.get(name) or _digest(path / name) for name in names}
    return {name: FreshPhoto(*of[name], path / name, sha256[name], FileMark(*now.marks[name])) for name in names}


def looked_again(
    then: Standing, now: Standing, fresh: Mapping[str, FreshPhoto], path: Path, alike: bool, encoded: Collection[str]
) -> Standing | None:
    """`now` with what is found in changed photographs, if nothing differs but their pixels; None where anything else does.

    `alike` says whether it matters which photographs look nearly the same; of the files `encoded` pictures are made in any case, which
    shows whether they are sound. Then every record, figure, verdict, problem and word is as it was, and only the pictures themselves
    need be made anew.
    """
    from dossier.read.pictures import probe

    found = {name: probe(path / name, likeness=alike, decode=one.file not in encoded)[0] for name, one in fresh.items()}
    photos = dict(then.photos)
    for build in {one.build for one in fresh.values()}:
        listed = []
        for one in then.photos[build]:
            name = _name(build, one)
            facts = found.get(name, one.facts)
            if facts is None or (name in fresh and facts.sha256 != fresh[name].sha256) or not _alike_but_for_pixels(one.facts, facts):
                return None
            listed.append(replace(one, facts=facts))
        if alike and _grouped(listed) != _grouped(then.photos[build]):
            return None
        photos[build] = tuple(listed)
    return replace(now, photos=photos)


def unchanged(then: Standing, now: Standing) -> Standing:
    """The standing after a look that found nothing changed: what has come to rest needs no further proof."""
    return replace(now, photos=then.photos)


def _name(build: str, photo: PhotoRead) -> str:
    return f"{build}/photos/{photo.file}".lstrip("/")


def _alike_but_for_pixels(one: PhotoFacts, other: PhotoFacts) -> bool:
    return all(getattr(one, field.name) == getattr(other, field.name) for field in fields(one) if field.name not in _OF_ITS_PIXELS)


def _grouped(photos: Iterable[PhotoRead]) -> tuple[tuple[str, ...], ...]:
    return groups({one.id: one.facts for one in photos})


# ------------------------------------------------------------ as kept on the disc


def as_data(standing: Standing) -> dict[str, Any]:
    """The standing as plain data for JSON."""
    photos = {build: [[one.id, one.file, _facts_data(one.facts)] for one in some] for build, some in standing.photos.items()}
    return {"marks": standing.marks, "fresh": standing.fresh, "photos": photos}


def from_data(data: Mapping[str, Any]) -> Standing:
    """What `as_data` made of a standing; KeyError, TypeError or ValueError at anything else."""
    photos = {build: tuple(PhotoRead(id, file, _facts(facts)) for id, file, facts in some) for build, some in data["photos"].items()}
    return Standing({name: tuple(mark) for name, mark in data["marks"].items()}, dict(data["fresh"]), photos)


def _facts_data(facts: PhotoFacts) -> dict[str, Any]:
    data: dict[str, Any] = {field.name: getattr(facts, field.name) for field in fields(facts) if field.name not in ("mark", *_TIMES)}
    data["mark"] = [facts.mark.size, facts.mark.mtime_ns, facts.mark.ctime_ns, facts.mark.inode] if facts.mark else None
    data["taken"] = facts.taken.isoformat() if facts.taken else None
    data["taken_offset"] = None if facts.taken_offset is None else facts.taken_offset.total_seconds()
    return data


def _facts(data: Mapping[str, Any]) -> PhotoFacts:
    given = dict(data)
    given["mark"] = FileMark(*given["mark"]) if given["mark"] else None
    given["taken"] = datetime.fromisoformat(given["taken"]) if given["taken"] else None
    given["taken_offset"] = None if given["taken_offset"] is None else timedelta(seconds=given["taken_offset"])
    given["noted"] = tuple(given["noted"])
    return PhotoFacts(**given)


# ------------------------------------------------------------ the files


def _marks(path: Path) -> Iterator[tuple[str, tuple[int, int, int, int]]]:
    # the workshop file stands above a build, whatever links lead there
    for above in {"../workshop.yaml", os.path.relpath(path.parent / "workshop.yaml", path)}:
        if mark := _mark(path / above):
            yield above, mark
    yield from _below(str(path), "", set())


def _below(folder: str, name: str, seen: set[tuple[int, int]]) -> Iterator[tuple[str, tuple[int, int, int, int]]]:
    """Files below a folder, hidden ones left out; linked folders too, each once."""
    try:
        state = Path(folder).stat()
        if (state.st_dev, state.st_ino) in seen:
            return
        seen.add((state.st_dev, state.st_ino))
        with os.scandir(folder) as entries:
            found = sorted((entry for entry in entries if _is_read(entry, name)), key=lambda entry: entry.name)
    except OSError:
        yield f"{name}/", (0, 0, 0, 0)
        return
    for entry in found:
        inner = f"{name}/{entry.name}" if name else entry.name
        try:
            if entry.is_dir():
                yield from _below(entry.path, inner, seen)
                continue
        except OSError:
            pass
        yield inner, _mark(Path(entry.path)) or (0, 0, 0, 0)


def _is_read(entry: os.DirEntry[str], name: str) -> bool:
    """Hidden files are never read; a hidden folder may yet be a build."""
    return not entry.name.startswith(".") or (not name and Path(entry.path, "machine.yaml").is_file())


def _mark(path: Path) -> tuple[int, int, int, int] | None:
    try:
        state = path.stat()
    except (OSError, ValueError):
        return None
    return state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino


def _digest(path: Path) -> str:
    try:
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""
