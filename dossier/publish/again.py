"""Publishes once more when nothing differs but the pixels of some photographs: those are made, the pages name the new files."""

from __future__ import annotations

import os
import shutil
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from dossier.model.picture import FileMark, Rendition
from dossier.publish.blanks import like, refilled
from dossier.publish.exchange import MARK, published_whole
from dossier.publish.laid import Laid, LaidDossier, marks_of
from dossier.publish.pictures.make import make_renditions
from dossier.publish.pictures.recipe import PictureRequest

FOLDER = "photographs"
"""Folder of a dossier in which the pictures lie; the pages say the same, and importing them takes longer than all this."""


@dataclass(frozen=True)
class Fresh:
    """A photograph whose file changed: where its original lies, and its SHA-256 and mark at reading."""

    source: Path
    sha256: str
    mark: FileMark | None


class NotAgain(Exception):
    """This cannot be had by new pictures alone: the whole must be published."""


def publish_again(laid: Laid, fresh: Mapping[tuple[str, str], Fresh], out: Path, cache: Path | None) -> Laid:
    """Publish what was laid out at `out`, which must be untouched, with some photographs anew; `fresh` by dossier folder and id.

    Raises NotAgain where the new pictures do not fit the places of the old, or `out` was changed meanwhile: then the whole is to
    be published.
    """
    if not any((one.folder, photo.id) in fresh for one in laid.dossiers for photo in one.photos):
        return laid
    dossiers = []
    with published_whole(out) as making:
        for one in laid.dossiers:
            numbers = {number: fresh[one.folder, photo.id] for number, photo in enumerate(one.photos) if (one.folder, photo.id) in fresh}
            dossiers.append(_renewed(one, numbers, out, making, cache) if numbers else one)
        taken = _taken_over(laid, dossiers, set(marks_of(making)))
        _take_over(taken, laid, out, making)
    marks = marks_of(out)
    # a link changes the time of an entry and nothing else
    if any((marks[name][:2], marks[name][3]) != (laid.marks[name][:2], laid.marks[name][3]) for name in taken):
        raise NotAgain("a published file was changed meanwhile")
    return replace(laid, marks=marks, dossiers=tuple(dossiers))


def _renewed(one: LaidDossier, numbers: Mapping[int, Fresh], out: Path, making: Path, cache: Path | None) -> LaidDossier:
    made = _made(one, numbers, making / one.folder / FOLDER, cache)
    places = dict(one.places)
    for name, some in one.places.items():
        if any(place.photo in made for place in some):
            page, moved = refilled((out / one.folder / name).read_bytes(), some, made)
            places[name] = tuple(moved)
            _write(making / one.folder / name, page)
    photos = tuple(replace(photo, made=made[number]) if number in made else photo for number, photo in enumerate(one.photos))
    return LaidDossier(one.folder, photos, places)


def _made(one: LaidDossier, numbers: Mapping[int, Fresh], into: Path, cache: Path | None) -> dict[int, Rendition]:
    requests = [
        PictureRequest(str(number), source.source, source.sha256, source.mark, one.photos[number].masks)
        for number, source in numbers.items()
    ]
    run = make_renditions(requests, into, cache)
    made = {int(key): rendition for key, rendition in run.renditions.items()}
    if run.faults or any(not like(rendition, one.photos[number].made) for number, rendition in made.items()):
        raise NotAgain("a picture of another shape")
    return made


def _taken_over(laid: Laid, dossiers: Iterable[LaidDossier], anew: set[str]) -> list[str]:
    """Files that stay as they are: all but those written anew, pictures no longer shown, and the mark that every publish writes."""
    gone = _pictures(laid.dossiers) - _pictures(dossiers)
    return [name for name in laid.marks if not name.endswith("/") and name != MARK and name not in anew and name not in gone]


def _pictures(dossiers: Iterable[LaidDossier]) -> set[str]:
    return {f"{one.folder}/{FOLDER}/{file.name}".lstrip("/") for one in dossiers for photo in one.photos for file in photo.made.files}


def _take_over(taken: Iterable[str], laid: Laid, out: Path, making: Path) -> None:
    """Files by link, which is as good as a copy here: both folders are ours, and the older of them goes in a moment."""
    for name in laid.marks:
        if name.endswith("/"):
            (making / name).mkdir(parents=True, exist_ok=True)
            (making / name).chmod(0o755)
    for name in taken:
        try:
            os.link(out / name, making / name)
        except OSError:  # no links on this disk
            shutil.copyfile(out / name, making / name)
            (making / name).chmod(0o644)


def _write(path: Path, data: bytes) -> None:
    path.parent.mkdir(mode=0o755, parents=True, exist_ok=True)
    path.write_bytes(data)
    path.chmod(0o644)
