"""Photographs and stampings: captions that say something, pairs in order, and no number that a stranger could copy."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from pathlib import PurePosixPath

from dossier.model.audience import Audience
from dossier.model.forms.machine import Stamping
from dossier.model.forms.photos import Masked, Photo
from dossier.model.picture import wrong_order
from dossier.model.problems import Problem
from dossier.model.quantity import Quantity
from dossier.read.checks.subject import Subject
from dossier.read.likeness import groups

_PLACES = "write x and y in per cent of the picture, from its upper left corner: 0 to 100"


def photograph_faults(subject: Subject) -> Iterator[Problem]:
    """What is wrong with captions, dates, pairs and stampings."""
    photos = subject.build.photos.photos
    for photo in photos:
        words = photo.shows.split()
        if len(words) < 2 or photo.shows.strip() in (photo.file, PurePosixPath(photo.file).stem):
            message = f"the caption {photo.shows!r} tells a stranger nothing"
            yield Problem("caption-thin", message, subject.at(photo, "shows"), "say what is seen, of which part, in which state", "shows")
        if photo.facts and not (_day(photo) or photo.date_said):
            message = f"neither camera nor caption dates {photo.id}"
            yield Problem("photo-undated", message, photo.written, "write date:, or date_said: and what is known", "date")
        yield from _areas(subject, photo)
    yield from _pairs(subject, photos)
    yield from _alike(photos)
    yield from _stampings(subject, photos)


def _day(photo: Photo) -> datetime.date | None:
    taken = photo.facts.taken if photo.facts else None
    return photo.date or (taken.date() if taken else None)


def _pairs(subject: Subject, photos: tuple[Photo, ...]) -> Iterator[Problem]:
    before = {photo.pair: photo for photo in photos if photo.side == "before" and photo.pair}
    for after in photos:
        first = before.get(after.pair) if after.pair and after.side == "after" else None
        early, late = _day(first) if first else None, _day(after)
        if first and early and late and _wrong(first, after):
            message = f"{after.id}, after, was taken {_moment(after)}; {first.id}, before, on {_moment(first)}"
            yield Problem("before-after-order", message, subject.at(after, "side"), "swap the sides, or mend the date", "side")


def _by_camera(photo: Photo) -> bool:
    return bool(photo.facts and photo.facts.taken and _day(photo) == photo.facts.taken.date())


def _wrong(before: Photo, after: Photo) -> bool:
    """Whether a pair's dates are in the wrong order: to the second where both are the cameras', by the day where one is corrected."""
    if _by_camera(before) and _by_camera(after) and before.facts and after.facts:
        return wrong_order(before.facts, after.facts)
    early, late = _day(before), _day(after)
    return bool(early and late and late < early)


def _moment(photo: Photo) -> str:
    if _by_camera(photo) and photo.facts and photo.facts.taken:
        return f"{photo.facts.taken:%Y-%m-%d %H:%M:%S}"
    return str(_day(photo))


def _alike(photos: tuple[Photo, ...]) -> Iterator[Problem]:
    """A burst of the camera published whole tires the reader; the two sides of a pair may well look alike."""
    by_id = {photo.id: photo for photo in photos if photo.facts}
    for group in groups({id: photo.facts for id, photo in by_id.items() if photo.facts}):
        of = [by_id[id] for id in group]
        if len(of) == 2 and of[0].pair and of[0].pair == of[1].pair:
            continue
        message = f"nearly the same picture: {', '.join(group)}"
        yield Problem("photos-alike", message, of[0].written, "keep the best of them, or say in the captions what differs", "file")


def _areas(subject: Subject, photo: Photo) -> Iterator[Problem]:
    """Masks and pins whose place on the photograph cannot be understood: the photograph would be withheld, the pin stand beside it."""
    for mask in photo.masks:
        if why := _area_fault(mask):
            yield Problem("place-on-photo", f"a mask of {photo.id}: {why}", mask.written, _PLACES, "masks")
    for pin in photo.pins:
        if not (_inside(pin.x) and _inside(pin.y)):
            yield Problem("place-on-photo", f"a pin of {photo.id} lies outside the picture", pin.written, _PLACES, "pins")


def _area_fault(mask: Masked) -> str:
    sides = (mask.left, mask.top, mask.right, mask.bottom)
    if mask.points and any(side is not None for side in sides):
        return "it is both a rectangle and a polygon"
    if mask.points:
        whole = len(mask.points) >= 6 and len(mask.points) % 2 == 0
        return "" if whole and all(map(_inside, mask.points)) else "a polygon has three corners or more, each x and y within 0 and 100"
    if any(side is None for side in sides):
        return "a rectangle has left, top, right and bottom"
    return "" if all(map(_inside, sides)) else "a side lies outside the picture"


def _inside(number: Quantity | None) -> bool:
    if number is None:
        return False
    per_cent = float(number.number) if number.unit.sign in ("", "%") else number.si * 100
    return 0 <= per_cent <= 100


def _stampings(subject: Subject, photos: tuple[Photo, ...]) -> Iterator[Problem]:
    machine = subject.build.machine
    own = {stamping.photo for stamping in machine.stampings if stamping.found_or_made == "as made"}
    found = {stamping.photo for stamping in machine.stampings if stamping.found_or_made == "as found"}
    if machine.plate:
        own.add(machine.plate.photo)
    for photo in photos:
        masked = any(mask.seen_by != Audience.PUBLIC for mask in photo.masks)
        shown = photo.seen_by == Audience.PUBLIC and not masked
        if shown and (photo.id in found or (photo.subject == "stampings" and photo.id not in own)):
            message = f"{photo.id} shows a stamped number to everybody"
            yield Problem("stamping-public", message, subject.at(photo, "seen_by"), "write seen_by: owner, or mask the number", "seen_by")
    for stamping in machine.stampings:
        yield from _mask(subject, stamping)


def _mask(subject: Subject, stamping: Stamping) -> Iterator[Problem]:
    if not stamping.number:
        return
    if not stamping.masked:
        instead = "write masked: with the prefix and dots, as in RX •• •••"
        if stamping.found_or_made == "as made":
            instead = f"the builder's own number may be shown: write masked: {stamping.number}"
        yield Problem("mask-missing", f"the number of the {stamping.part} has no masked form", stamping.written, instead, "masked")
    elif stamping.found_or_made == "as found" and _shows_end(stamping.number, stamping.masked):
        message = f"the masked form {stamping.masked!r} shows the last digits"
        yield Problem("mask-missing", message, subject.at(stamping, "masked"), "keep the prefix, put dots for the rest", "masked")


def _shows_end(number: str, masked: str) -> bool:
    """Whether the last sign of the number, or more than half of its digits, can be read in the masked form."""
    last = [sign for sign in number if sign.isalnum()][-1:]
    digits = sum(sign.isdigit() for sign in number)
    seen = sum(sign.isdigit() for sign in masked)
    return [sign for sign in masked if not sign.isspace()][-1:] == last or seen * 2 > digits > 0
