"""What is due as an iCalendar file (RFC 5545): one event a day for each limit that has one, the same bytes each time."""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Iterator, Sequence

from dossier.model.entry import DueEntry, Entry, Head, heads_of
from dossier.pages.archive.due_soon import as_of, dated_limits, description, summary

_OCTETS = 75
"""RFC 5545, 3.1: no line is longer, its break left out."""


def due_calendar(entries: Sequence[Entry]) -> bytes:
    """The calendar; empty where no limit has a day. DTSTAMP is the archive's own day, since no clock goes into what is published."""
    limits = list(dated_limits(entries))
    if not limits:
        return b""
    stamp = as_of(heads_of(entries))
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//dossier//due over all builds//EN", "CALSCALE:GREGORIAN", "METHOD:PUBLISH"]
    for entry, one, day in limits:
        lines += _event(entry, one, day, stamp)
    return "".join(f"{folded}\r\n" for line in [*lines, "END:VCALENDAR"] for folded in [_folded(line)]).encode()


def _event(entry: Head, one: DueEntry, day: datetime.date, stamp: datetime.date) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{_uid(entry, one)}"
    yield f"DTSTAMP:{stamp:%Y%m%d}T000000Z"
    yield f"DTSTART;VALUE=DATE:{day:%Y%m%d}"
    yield f"DTEND;VALUE=DATE:{day + datetime.timedelta(days=1):%Y%m%d}"  # not inclusive (RFC 5545, 3.6.1)
    yield f"SUMMARY:{_text(summary(entry, one))}"
    yield f"DESCRIPTION:{_text(description(entry, one))}"
    yield "TRANSP:TRANSPARENT"
    yield "END:VEVENT"


def _uid(entry: Head, one: DueEntry) -> str:
    """The same for the same limit of the same machine, so that a later calendar moves the event and does not double it."""
    named = "\n".join((entry.workshop, entry.slug, one.sheet, one.id))
    return f"{hashlib.sha256(named.encode()).hexdigest()[:32]}@dossier.invalid"


def _text(text: str) -> str:
    """A value of type TEXT (RFC 5545, 3.3.11); control characters, which no text may hold, become blanks."""
    plain = "".join(
        letter if letter >= " " and letter != "\x7f" else "\n" if letter == "\n" else " " for letter in text.replace("\r\n", "\n")
    )
    return plain.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")


def _folded(line: str) -> str:
    """A line broken so that no piece has more than 75 octets, and no letter is broken (RFC 5545, 3.1)."""
    pieces, piece, size = [], "", 0
    for letter in line:
        octets = len(letter.encode())
        if size + octets > _OCTETS:
            pieces.append(piece)
            piece, size = " ", 1
        piece, size = piece + letter, size + octets
    return "\r\n".join([*pieces, piece])
