"""Near-duplicates, such as one burst of the camera, found by a perceptual hash and grouped."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, NamedTuple

from dossier.model.picture import PhotoFacts

if TYPE_CHECKING:
    from PIL import Image

MOST_DISTANCE = 5
"""Bits of 64 that may differ in a group when a date is missing; unlike pictures of one machine differed in 12 and more."""

MOST_DISTANCE_IN_BURST = 11
"""The same for pictures whose dates make a burst: nine in ten taken again with the camera moved by 2 % stay within it."""

BURST = timedelta(minutes=10)
"""Pictures dated further apart are no burst, however alike; nor then is a before/after pair from one tripod."""


def likeness(picture: Image.Image) -> str:
    """The perceptual hash of a picture as seen (64 bits, 16 hexadecimal digits).

    The gradient hash: on photographs of one machine it told bursts from other pictures about as well as the library's
    cosine hash, and it does without a library of mathematics that takes half a publish to import.
    """
    import imagehash

    return str(imagehash.dhash(picture))


def groups(photos: Mapping[str, PhotoFacts]) -> tuple[tuple[str, ...], ...]:
    """Keys of the pictures that are nearly the same, in groups of two or more, in the order given.

    Every two pictures of a group are alike, not only neighbours, so that a long walk round a machine does not end as
    one group.
    """
    gathered: list[list[_Seen]] = []
    near: dict[int, list[int]] = {}
    for key, photo in photos.items():
        if not photo.likeness:
            continue
        seen = _Seen(key, int(photo.likeness, 16), photo.taken)
        home = next(
            (number for number in _candidates(seen, gathered, near) if all(_alike(seen, other) for other in gathered[number])), None
        )
        if home is None:
            home = len(gathered)
            gathered.append([])
        gathered[home].append(seen)
        if home not in (places := near.setdefault(_bucket(seen.taken), [])):
            places.append(home)
    return tuple(tuple(seen.key for seen in group) for group in gathered if len(group) > 1)


class _Seen(NamedTuple):
    """One picture: its key, its hash as a number, its date."""

    key: str
    bits: int
    taken: datetime | None


_UNDATED = -1


def _bucket(taken: datetime | None) -> int:
    """The stretch of time, as long as a burst at most, that a date falls into."""
    return _UNDATED if taken is None else (taken - datetime.min) // BURST


def _candidates(seen: _Seen, gathered: list[list[_Seen]], near: Mapping[int, list[int]]) -> Iterable[int]:
    """Numbers of the groups worth comparing, in order: of thousands of dated pictures only those of the same minutes."""
    if seen.taken is None:
        return range(len(gathered))
    at = _bucket(seen.taken)
    return sorted({number for bucket in (at - 1, at, at + 1, _UNDATED) for number in near.get(bucket, ())})


def _alike(one: _Seen, other: _Seen) -> bool:
    """Whether two pictures look the same and may be of one moment."""
    distance = (one.bits ^ other.bits).bit_count()
    if one.taken is None or other.taken is None:
        return distance <= MOST_DISTANCE
    return distance <= MOST_DISTANCE_IN_BURST and abs(one.taken - other.taken) <= BURST
