"""Near-duplicates, such as one burst of the camera, found by a perceptual hash and grouped."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import timedelta
from typing import TYPE_CHECKING

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
    gathered: list[list[str]] = []
    for key, photo in photos.items():
        if not photo.likeness:
            continue
        home = next((group for group in gathered if all(_alike(photo, photos[other]) for other in group)), None)
        if home is None:
            gathered.append([key])
        else:
            home.append(key)
    return tuple(tuple(group) for group in gathered if len(group) > 1)


def _alike(one: PhotoFacts, other: PhotoFacts) -> bool:
    """Whether two pictures look the same and may be of one moment."""
    distance = (int(one.likeness, 16) ^ int(other.likeness, 16)).bit_count()
    if one.taken is None or other.taken is None:
        return distance <= MOST_DISTANCE
    return distance <= MOST_DISTANCE_IN_BURST and abs(one.taken - other.taken) <= BURST
