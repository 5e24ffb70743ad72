"""Publishes once more what a publish before left: files taken over as they are, and pages that get new pictures and nothing else."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Protocol

from dossier.model.picture import FileMark, Rendition
from dossier.publish.blanks import like, refilled
from dossier.publish.exchange import MARK, published_whole
from dossier.publish.laid import Laid, LaidDossier, LaidPhoto, Marks, marks_of, same_files
from dossier.publish.pictures.make import Begun, make_renditions
from dossier.publish.pictures.make import begin as begin_picture
from dossier.publish.pictures.recipe import PictureRequest

FOLDER = "photographs"
"""Folder of a dossier in which the pictures lie; the pages say the same, and importing them takes longer than all this."""


class Fresh(Protocol):
    """A photograph whose file changed: its file, where the original lies, its SHA-256 and mark at reading."""

    @property
    def file(self) -> str:
        """Name of the file."""

    @property
    def source(self) -> Path:
        """Where it lies."""

    @property
    def sha256(self) -> str:
        """Of the file's bytes."""

    @property
    def mark(self) -> FileMark:
        """What the file system said of it."""


class NotAgain(Exception):
    """This cannot be had by new pictures alone: the whole must be published."""


def shows_any(laid: Laid, photos: Iterable[Fresh]) -> bool:
    """Whether any of the photographs is among those published."""
    return not {one.file for one in photos}.isdisjoint(photo.file for photo in laid.dossier.photos)


def begin(laid: Laid, photos: Iterable[Fresh], cache: Path | None) -> Begun | None:
    """Begin to make the first of the pictures that `renew` is going to want; None where none has to be made."""
    fresh = {photo.file: photo for photo in photos}
    number = next((number for number, photo in enumerate(laid.dossier.photos) if photo.file in fresh), None)
    return None if number is None else begin_picture(_request(laid.dossier, number, fresh), cache)


def publish_again(
    laid: Laid, photos: Iterable[Fresh], out: Path, cache: Path | None, sure: Callable[[], bool], begun: Begun | None = None
) -> Laid:
    """Publish what was laid out at `out`, which must be untouched, with some photographs anew; one may have been `begun`.

    `sure` is asked last before the step is taken. Raises NotAgain where it says no,
    the new pictures do not fit the places of the old, or `out` was changed meanwhile: then the whole is to be published.
    """
    fresh = list(photos)
    if not shows_any(laid, fresh):
        if not sure():
            raise NotAgain("another thing differs")
        return laid
    own = replace(laid, marks={name: mark for name, mark in laid.marks.items() if name != MARK})  # which every publish writes
    with published_whole(out) as making:
        dossier, taken = renew(own, fresh, out, making, cache, begun)
        if not sure():
            raise NotAgain("another thing differs")
    marks = marks_of(out)
    if not same_files(taken, laid.marks, marks):
        raise NotAgain("a published file was changed meanwhile")
    return replace(laid, marks=marks, dossier=dossier)


def renew(
    laid: Laid, photos: Iterable[Fresh], old: Path, into: Path, cache: Path | None, begun: Begun | None = None
) -> tuple[LaidDossier, list[str]]:
    """Make in `into` the dossier laid out in `old`, with some photographs anew; also which files it has in common with `old`.

    One picture may have been `begun`: while it is made, all is taken over that has nothing to do with the pictures.
    Raises NotAgain where the new pictures do not fit the places of the old.
    """
    one, fresh = laid.dossier, {photo.file: photo for photo in photos}
    anew = [number for number, photo in enumerate(one.photos) if photo.file in fresh]
    pages = {name for name, some in one.places.items() if any(place.photo in anew for place in some)}
    gone = _pictures(one.photos[number] for number in anew) - _pictures(photo for photo in one.photos if photo.file not in fresh)
    taken = take_over(laid.marks, old, into, lambda name: name not in pages and name not in gone)
    made = _made(one, [_request(one, number, fresh) for number in anew], into / FOLDER, cache, begun)
    places = dict(one.places)
    for name in pages:
        page, moved = refilled((old / name).read_bytes(), one.places[name], made)
        places[name] = tuple(moved)
        _write(into / name, page)
    renewed = tuple(replace(photo, made=made[number]) if number in made else photo for number, photo in enumerate(one.photos))
    return LaidDossier(renewed, places), taken


def _request(one: LaidDossier, number: int, fresh: Mapping[str, Fresh]) -> PictureRequest:
    photo = one.photos[number]
    source = fresh[photo.file]
    return PictureRequest(str(number), source.source, source.sha256, source.mark, photo.masks)


def _made(
    one: LaidDossier, requests: Sequence[PictureRequest], into: Path, cache: Path | None, begun: Begun | None
) -> dict[int, Rendition]:
    run = make_renditions(requests, into, cache, begun=begun)
    made = {int(key): rendition for key, rendition in run.renditions.items()}
    if run.faults or any(not like(rendition, one.photos[number].made) for number, rendition in made.items()):
        raise NotAgain("a picture of another shape")
    return made


def _pictures(photos: Iterable[LaidPhoto]) -> set[str]:
    return {f"{FOLDER}/{file.name}" for photo in photos for file in photo.made.files}


def take_over(marks: Marks, old: Path, into: Path, wanted: Callable[[str], bool] = lambda _: True) -> list[str]:
    """Have the marked files of `old` in `into` too, which may hold others already; the names of those taken over.

    By link, which is as good as a copy here: both folders are ours, and the older of them goes in a moment.
    """
    into.mkdir(exist_ok=True)
    into.chmod(0o755)
    for name in sorted(marks):
        if name.endswith("/"):
            (into / name).mkdir(exist_ok=True)
            (into / name).chmod(0o755)
    taken = [name for name in marks if not name.endswith("/") and wanted(name)]
    for name in taken:
        try:
            os.link(old / name, into / name)
        except FileExistsError:
            raise
        except OSError:  # no links on this disk
            shutil.copyfile(old / name, into / name)
            (into / name).chmod(0o644)
            os.utime(into / name, ns=(marks[name][1], marks[name][1]))
    return taken


def _write(path: Path, data: bytes) -> None:
    path.parent.mkdir(mode=0o755, parents=True, exist_ok=True)
    path.write_bytes(data)
    path.chmod(0o644)
