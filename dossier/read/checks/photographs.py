"""Photographs and stampings: captions that say something, pairs in order, and no number that a stranger could copy."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from pathlib import PurePosixPath

from dossier.model.audience import Audience
from dossier.model.forms.machine import Stamping
from dossier.model.forms.photos import Photo
from dossier.model.problems import Problem
from dossier.read.checks.subject import Subject


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
    yield from _pairs(subject, photos)
    yield from _stampings(subject, photos)


def _day(photo: Photo) -> datetime.date | None:
    taken = photo.facts.taken if photo.facts else None
    return photo.date or (taken.date() if taken else None)


def _pairs(subject: Subject, photos: tuple[Photo, ...]) -> Iterator[Problem]:
    before = {photo.pair: photo for photo in photos if photo.side == "before" and photo.pair}
    for after in photos:
        first = before.get(after.pair) if after.pair and after.side == "after" else None
        early, late = _day(first) if first else None, _day(after)
        if first and early and late and late < early:
            message = f"{after.id}, after, was taken {late}; {first.id}, before, on {early}"
            yield Problem("before-after-order", message, subject.at(after, "side"), "swap the sides, or mend the date", "side")


def _stampings(subject: Subject, photos: tuple[Photo, ...]) -> Iterator[Problem]:
    machine = subject.build.machine
    own = {stamping.photo for stamping in machine.stampings if stamping.found_or_made == "as made"}
    found = {stamping.photo for stamping in machine.stampings if stamping.found_or_made == "as found"}
    if machine.plate:
        own.add(machine.plate.photo)
    for photo in photos:
        shown = photo.seen_by == Audience.PUBLIC
        if shown and (photo.id in found or (photo.subject == "stampings" and photo.id not in own)):
            message = f"{photo.id} shows a stamped number to everybody"
            yield Problem("stamping-public", message, subject.at(photo, "seen_by"), "write seen_by: owner", "seen_by")
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
