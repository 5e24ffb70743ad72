"""Pages written with blanks where names and sizes of pictures will stand, and the blanks filled in: so that a photograph
made anew costs neither pages nor site."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from dossier.model.picture import PublishedFile, Rendition

_KINDS = ("name", "height", "width", "tall", "size", "sha256")
"""What a blank stands for, by its last digit; a height above the width has one of its own, so that blanks compare as numbers do."""
_STATED = ("name", "height", "width", "size", "sha256")
"""What the words say of each file."""
_OF = {"name": "name", "height": "height", "width": "width", "tall": "height", "size": "size", "sha256": "sha256"}


@dataclass(frozen=True, slots=True)
class Place:
    """A place in a published file that states something of a picture: where it begins, how long it is, of which file, what."""

    at: int
    length: int
    photo: int
    file: int
    kind: int


def blanks_for(made: Sequence[Rendition], written: Callable[[Sequence[Rendition]], bytes]) -> tuple[str, list[Rendition], bytes]:
    """Blanks for all renditions, with the ten digits each begins with and all the words as `written` with them.

    The digits stand in those words nowhere but in the blanks, once in each.
    """
    count = sum(len(one.files) for one in made) * len(_STATED)
    for turn in range(1000):
        salt = str(10**9 + int(hashlib.sha256(b"%d" % turn).hexdigest(), 16) % (9 * 10**9))
        blanks = [blank(number, one, salt) for number, one in enumerate(made)]
        words = written(blanks)
        if words.count(salt.encode()) == count:
            return salt, blanks, words
    raise AssertionError("a thousand numbers of ten digits, and each of them in the text")


def blank(number: int, made: Rendition, salt: str) -> Rendition:
    """The rendition number `number` with a blank for each of its facts: as many files of the same codings, as high or as wide."""
    files = []
    for index, file in enumerate(made.files):
        code = {kind: f"{salt}{number:05}{index:02}{digit}" for digit, kind in enumerate(_KINDS)}
        ending = file.name.rpartition(".")[2]
        height = code["tall" if file.height > file.width else "height"]
        files.append(PublishedFile(f"{code['name']}.{ending}", int(code["width"]), int(height), int(code["size"]), code["sha256"]))
    return Rendition(tuple(files))


def like(one: Rendition, other: Rendition) -> bool:
    """Whether two renditions have the same blanks."""
    return _shape(one) == _shape(other)


def _shape(made: Rendition) -> list[tuple[str, bool]]:
    return [(file.name.rpartition(".")[2], file.height > file.width) for file in made.files]


def filled(page: bytes, salt: str, made: Sequence[Rendition]) -> tuple[bytes, list[Place]]:
    """A page with its blanks filled in, and where they were."""
    pieces, places, done, at = [], [], 0, 0
    for found in re.finditer(rb"%s(\d{5})(\d\d)(\d)" % salt.encode(), page):
        photo, file, kind = (int(digits) for digits in found.groups())
        value = _value(made[photo], file, kind)
        pieces += [page[done : found.start()], value]
        at += found.start() - done
        places.append(Place(at, len(value), photo, file, kind))
        at, done = at + len(value), found.end()
    return b"".join([*pieces, page[done:]]), places


def refilled(page: bytes, places: Sequence[Place], made: Mapping[int, Rendition]) -> tuple[bytes, list[Place]]:
    """A filled page with what it states of some photographs, by their numbers, stated anew."""
    pieces, moved, done, at = [], [], 0, 0
    for place in places:
        end = place.at + place.length
        value = _value(made[place.photo], place.file, place.kind) if place.photo in made else page[place.at : end]
        pieces += [page[done : place.at], value]
        at += place.at - done
        moved.append(Place(at, len(value), place.photo, place.file, place.kind))
        at, done = at + len(value), end
    return b"".join([*pieces, page[done:]]), moved


def _value(made: Rendition, file: int, kind: int) -> bytes:
    value = getattr(made.files[file], _OF[_KINDS[kind]])
    return str(value.partition(".")[0] if _KINDS[kind] == "name" else value).encode("ascii")
