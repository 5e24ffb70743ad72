"""All picture files of a folder read at once, and what was found kept, so that an unchanged file is not even opened."""

from __future__ import annotations

import contextlib
import os
import tempfile
import time
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import cache
from importlib import import_module, metadata
from pathlib import Path

from pydantic import TypeAdapter

from dossier.model.picture import FileMark, PhotoFacts
from dossier.model.picture_faults import PhotoFault

Probed = tuple[PhotoFacts | None, list[PhotoFault]]

PROBE = 2
"""Raise by one whenever the same file would give other facts or faults."""

MOST_INDEXES = 5000
"""Folders whose index is kept, the longest unwritten going first."""

_SETTLED_NS = 2_000_000_000
"""A file written to less than this ago may be written to again within the same tick of its clock (2 s on FAT)."""


@dataclass(frozen=True, slots=True)
class Known:
    """What was found of a file that bore this mark."""

    mark: FileMark
    facts: PhotoFacts | None
    faults: tuple[PhotoFault, ...]


@dataclass(frozen=True, slots=True)
class Index:
    """The whole index: the versions it was made with, and a row for each file by its path."""

    made_with: str
    files: dict[str, Known]


def probe_all(paths: Iterable[Path], index: Path | None = None) -> dict[Path, Probed]:
    """Facts and faults of many files, on all cores; `index` is a file, made if absent, that may be deleted at any time.

    It holds a row for each path of this call and no other, so it is bounded by the folder. Never raises at a user's
    file, nor at an index that is damaged or cannot be written.
    """
    wanted = sorted(set(paths))
    known = _load(index)
    marks = {path: _mark(path) for path in wanted}
    fresh: dict[Path, Probed] = {}
    unknown: list[Path] = []
    for path in wanted:
        row = known.get(_name(path))
        if row is not None and row.mark == marks[path]:
            fresh[path] = (row.facts, list(row.faults))
        else:
            unknown.append(path)
    if unknown:
        # Imported here: when all is known, the picture library is not needed.
        from dossier.read.pictures import probe

        with ThreadPoolExecutor(max_workers=_cores()) as pool:
            # Its import takes longer than decoding a photograph, and can go on beside it.
            pool.submit(import_module, "imagehash")
            fresh.update(zip(unknown, pool.map(probe, unknown), strict=True))
    if index is not None and (unknown or len(known) != len(wanted)):
        _save(index, fresh, marks)
    return {path: fresh[path] for path in wanted}


def _name(path: Path) -> str:
    """The path as text that JSON can hold, even where its bytes are not UTF-8."""
    return os.fsencode(path).decode("utf-8", "backslashreplace")


def _mark(path: Path) -> FileMark | None:
    """The file's mark, or None when it is not there."""
    try:
        state = path.stat()
    except (OSError, ValueError):
        return None
    return FileMark(state.st_size, state.st_mtime_ns, state.st_ctime_ns, state.st_ino)


def _load(index: Path | None) -> dict[str, Known]:
    """The rows of an index made with the same libraries; none from any other, or from one that cannot be read."""
    if index is None:
        return {}
    try:
        read = TypeAdapter(Index).validate_json(index.read_bytes())
    except (OSError, ValueError):
        return {}
    return read.files if read.made_with == _made_with() else {}


def _save(index: Path, found: dict[Path, Probed], marks: dict[Path, FileMark | None]) -> None:
    """Write the index aside and put it in place in one step; rows only of files that have been still for a while."""
    now = time.time_ns()
    rows = {
        _name(path): Known(mark, facts, tuple(faults))
        for path, (facts, faults) in found.items()
        if (mark := marks[path]) is not None
        and max(mark.mtime_ns, mark.ctime_ns) < now - _SETTLED_NS
        and (facts is None or facts.mark == mark)
    }
    data = TypeAdapter(Index).dump_json(Index(_made_with(), rows))
    with contextlib.suppress(OSError):
        index.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        handle, name = tempfile.mkstemp(prefix=index.name, suffix=".part", dir=index.parent)
        try:
            with os.fdopen(handle, "wb") as out:
                out.write(data)
            Path(name).replace(index)
        finally:
            Path(name).unlink(missing_ok=True)
        _tidy(index.parent)


def _tidy(folder: Path) -> None:
    """Keep the indexes of the folders read last."""
    for old in sorted(folder.glob("*.json"), key=lambda path: path.stat().st_mtime)[:-MOST_INDEXES]:
        old.unlink(missing_ok=True)


@cache
def _made_with() -> str:
    """Versions of what reading depends on: another library may read what this one could not."""
    libraries = [f"{name} {metadata.version(name)}" for name in ("imagehash", "pillow", "pillow-heif")]
    return " ".join([f"probe {PROBE}", *libraries])


def _cores() -> int:
    """Cores this process may use."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1
