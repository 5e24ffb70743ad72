"""Made pictures kept from one publish to the next: a folder that may be deleted at any time, is bounded, and is never
trusted unchecked."""

from __future__ import annotations

import contextlib
import hashlib
import json
import os
import tempfile
import time
import zipfile
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import Protocol

from dossier.model.picture import PublishedFile
from dossier.publish.pictures.put import is_there, put

MOST_BYTES = 4_000_000_000
"""Size to which the cache is cut back after a publish that added to it: about 6,000 photographs."""

_LEFT_OVER_S = 3600
_FRESH_S = 3600
_LIST = "files.json"
_FIXED = (1980, 1, 1, 0, 0, 0)

_DAMAGED = (OSError, zipfile.BadZipFile, KeyError, TypeError, ValueError, EOFError, NotImplementedError, RuntimeError)


class Kept(Protocol):
    """A published file together with its bytes."""

    @property
    def file(self) -> PublishedFile:
        """What is stated of the file."""

    @property
    def data(self) -> bytes:
        """Its bytes."""


class PictureCache:
    """One uncompressed zip file for each recipe name, written aside and put in place in one step.

    A kill leaves at most a file of another ending, swept later; two publishers at once put the same content in the
    same place. Whatever cannot be
    read, or does not have the checksum it states, is a miss. Nothing here raises at a full disk or a missing right:
    the pictures are then made again.
    """

    def __init__(self, folder: Path, most_bytes: int = MOST_BYTES) -> None:
        """`folder` is made at the first keeping, readable by its owner only, for it holds pictures without masks
        too."""
        self.folder = folder
        self.most_bytes = most_bytes

    def fetch(self, recipe: str, into: Path) -> tuple[PublishedFile, ...] | None:
        """Write the files kept under a recipe name into a folder and say what they are, or None when there are none.

        What is there already is left; what is written is checked against its SHA-256 first. OSError when `into` cannot
        be written.
        """
        path = self._path(recipe)
        try:
            with zipfile.ZipFile(path) as kept:
                files = tuple(PublishedFile(**entry) for entry in json.loads(kept.read(_LIST)))
                wanted = [(file, kept.read(file.name)) for file in files if not is_there(file, into)]
        except FileNotFoundError:
            return None
        except _DAMAGED:
            files, wanted = (), []
        if not files or any(hashlib.sha256(data).hexdigest() != file.sha256 for file, data in wanted):
            with contextlib.suppress(OSError):
                path.unlink()
            return None
        for file, data in wanted:
            put(file, data, into)
        self._touch(path)
        return files

    def has(self, recipe: str) -> bool:
        """Whether something is kept under a recipe name, sound or not."""
        return self._path(recipe).is_file()

    def keep(self, recipe: str, made: Sequence[Kept]) -> None:
        """Put files under a recipe name, replacing what was there."""
        path = self._path(recipe)
        with contextlib.suppress(OSError):
            path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            handle, name = tempfile.mkstemp(suffix=".part", dir=path.parent)
            aside = Path(name)
            try:
                with os.fdopen(handle, "wb") as out, zipfile.ZipFile(out, "w", zipfile.ZIP_STORED) as kept:
                    kept.writestr(zipfile.ZipInfo(_LIST, _FIXED), json.dumps([asdict(one.file) for one in made]))
                    for one in made:
                        kept.writestr(zipfile.ZipInfo(one.file.name, _FIXED), one.data)
                aside.replace(path)
            except BaseException:
                with contextlib.suppress(OSError):
                    aside.unlink()
                raise

    def tidy(self) -> None:
        """Sweep what killed publishers left and, when the cache is above its size, remove what was longest unused
        until it is a tenth below."""
        now = time.time()
        entries: list[tuple[float, int, Path]] = []
        for path in self.folder.glob("*/*"):
            with contextlib.suppress(OSError):
                state = path.stat()
                if path.suffix == ".zip":
                    entries.append((state.st_mtime, state.st_size, path))
                elif path.suffix == ".part" and now - state.st_mtime > _LEFT_OVER_S:
                    path.unlink()
        total = sum(size for _, size, _ in entries)
        if total <= self.most_bytes:
            return
        for _, size, path in sorted(entries):
            if total <= self.most_bytes * 0.9:
                return
            with contextlib.suppress(OSError):
                path.unlink()
            total -= size

    def _path(self, recipe: str) -> Path:
        return self.folder / recipe[:2] / f"{recipe}.zip"

    def _touch(self, path: Path) -> None:
        """Note the use, so that what is used is removed last; once an hour is enough."""
        with contextlib.suppress(OSError):
            if time.time() - path.stat().st_mtime > _FRESH_S:
                os.utime(path)
