"""Dates: nothing happens before its cause, custody has no overlap and no unexplained gap, revisions follow each other."""

from __future__ import annotations

import datetime
from collections.abc import Iterator
from itertools import pairwise

from dossier.model.forms.custody import Holder
from dossier.model.forms.life import Tyre
from dossier.model.forms.record import Record
from dossier.model.problems import Problem
from dossier.read.checks.ids import records_at
from dossier.read.checks.subject import Subject
from dossier.read.checks.tyres import week_of

ORDER: tuple[tuple[str, str, str, str, str], ...] = (
    ("running", "snags", "found", "fixed", "fixed {late} before it was found on {early}"),
    ("running", "snags", "found", "verified", "verified {late} before it was found on {early}"),
    ("running", "snags", "fixed", "verified", "verified {late} before it was fixed on {early}"),
    ("parts", "parts", "ordered", "arrived", "arrived {late} before it was ordered on {early}"),
    ("work", "operations", "date", "next_due", "next due {late}, before it was done on {early}"),
    ("work", "torque_log", "date", "rechecked", "rechecked {late} before it was tightened on {early}"),
    ("life", "lifed", "since", "last_done", "last done {late}, before it was fitted on {early}"),
    ("custody", "custody", "since", "until", "ends {late}, before it begins on {early}"),
    ("workshop", "instruments", "calibrated", "next_calibration", "next calibration {late}, before the last one on {early}"),
)
"""File, list, the earlier field, the later field, and what to say of the later one when it is not later."""


def date_faults(subject: Subject) -> Iterator[Problem]:
    """Dates that contradict each other."""
    for file, path, early, late, says in ORDER:
        for record in records_at(getattr(subject.build, file), path):
            first, second = getattr(record, early), getattr(record, late)
            if first and second and second < first:
                yield _order(subject, record, late, says.format(early=first, late=second))
    yield from _snags(subject)
    yield from _before_the_moment(subject)
    yield from _after_the_revision(subject)
    yield from _concessions(subject)
    yield from _machine(subject)
    yield from _tyres(subject)
    yield from _custody(subject)
    yield from _revisions(subject)


def _order(subject: Subject, record: Record, field: str, message: str) -> Problem:
    return Problem("date-order", message, subject.at(record, field), "one of the two dates is wrong", field)


def _snags(subject: Subject) -> Iterator[Problem]:
    running = subject.build.running
    days = {one.id: one.date for one in running.sessions} | {one.id: one.date for one in running.dyno}
    for snag in running.snags:
        seen = days.get(snag.where or "")
        if snag.found and seen and snag.found < seen:
            yield _order(subject, snag, "found", f"found {snag.found}, before {snag.where} took place on {seen}")
        proof = days.get(snag.verified_on or "")
        if snag.verified and proof and snag.verified < proof:
            yield _order(subject, snag, "verified", f"verified {snag.verified}, before {snag.verified_on} took place on {proof}")
        for day in snag.reopened:
            if snag.fixed and day < snag.fixed:
                yield _order(subject, snag, "reopened", f"came back on {day}, before it was fixed on {snag.fixed}")


HAPPENED: tuple[tuple[str, str, str, str], ...] = (
    ("running", "run_log", "date", "the engine ran"), ("running", "sessions", "date", "it was tested"),
    ("running", "dyno", "date", "it was on the dynamometer"), ("running", "snags", "found", "a snag was found"),
    ("work", "operations", "date", "work was done"), ("work", "torque_log", "date", "a joint was tightened"),
    ("measurements", "as_built", "on", "it was measured"), ("custody", "custody", "since", "somebody held it"),
    ("custody", "revisions", "date", "a revision was issued"), ("specification", "concessions", "date", "it was agreed on"),
)  # fmt: skip
"""What can only happen to the replica: file, list, field of the day, and what is said of it."""


def _before_the_moment(subject: Subject) -> Iterator[Problem]:
    """Nothing happens to a replica before the day that it copies."""
    moment = subject.build.machine.reference.date
    for file, path, field, says in HAPPENED:
        for record in records_at(getattr(subject.build, file), path):
            day = getattr(record, field)
            if day is not None and day < moment:
                yield _order(subject, record, field, f"{says} on {day}, before the day it copies, {moment}")


def _after_the_revision(subject: Subject) -> Iterator[Problem]:
    """The dossier bears the day of its latest revision, and must not tell of later ones."""
    latest = max(subject.build.custody.revisions, key=lambda one: one.date, default=None)
    if latest is None:
        return
    later = [
        (day, says)
        for file, path, field, says in HAPPENED
        for record in records_at(getattr(subject.build, file), path)
        if (day := getattr(record, field)) is not None and day > latest.date
    ]
    if later:
        day, says = max(later)
        count = "one record is" if len(later) == 1 else f"{len(later)} records are"
        message = f"{count} later than the last revision, {latest.rev} of {latest.date}: {says} on {day}"
        yield Problem("after-revision", message, subject.at(latest, "date"), "list a revision that takes them in, or mend the dates", "date")


def _concessions(subject: Subject) -> Iterator[Problem]:
    issued = {revision.rev: revision.date for revision in subject.build.custody.revisions}
    for concession in subject.build.specification.concessions:
        day = issued.get(concession.revision)
        if day and day > concession.date:
            message = f"agreed on {concession.date}, before revision {concession.revision} was issued on {day}"
            yield _order(subject, concession, "date", message)


def _machine(subject: Subject) -> Iterator[Problem]:
    machine = subject.build.machine
    if machine.completed < machine.reference.date.year:
        message = f"completed in {machine.completed}, before the day it copies in {machine.reference.date.year}"
        yield _order(subject, machine, "completed", message)


def _tyres(subject: Subject) -> Iterator[Problem]:
    for tyre in subject.build.life.tyres:
        made = _made(tyre)
        if made and tyre.fitted and tyre.fitted < made:
            yield _order(subject, tyre, "fitted", f"fitted {tyre.fitted}, before the tyre was made in the week of {made}")


def _made(tyre: Tyre) -> datetime.date | None:
    return week_of(tyre.dot) if tyre.dot else None


def _custody(subject: Subject) -> Iterator[Problem]:
    links = sorted(subject.build.custody.custody, key=lambda link: (link.since, link.until or datetime.date.max))
    for before, after in pairwise(links):
        if before.until is None or after.since < before.until:
            yield _overlap(subject, before, after)
        elif after.since > before.until and not after.gap:
            message = f"nobody is named between {before.until} and {after.since}"
            yield Problem("custody-gap", message, subject.at(after, "since"), "write gap: and why, or mend the dates", "since")


def _overlap(subject: Subject, before: Holder, after: Holder) -> Problem:
    end = f"until {before.until}" if before.until else "without an end"
    message = f"begins {after.since}, while {before.shown_as} holds the machine {end}"
    return Problem("custody-overlap", message, subject.at(after, "since"), "one day ends a link and begins the next", "since")


def _revisions(subject: Subject) -> Iterator[Problem]:
    for before, after in pairwise(subject.build.custody.revisions):
        if after.date < before.date:
            message = f"revision {after.rev} of {after.date} stands after {before.rev} of {before.date}"
            yield Problem("revision-order", message, subject.at(after, "date"), "list revisions from first to newest", "date")
