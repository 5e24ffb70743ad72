"""What an archive must know of one published build, and no more: made from an edition, so that it holds nothing its audience may not see."""

from __future__ import annotations

import datetime
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields
from functools import cached_property
from typing import NamedTuple

from dossier.model.results import Outcome, tags_id

FORM = 1
"""Version of the entry's form; raised whenever a reader of the older form would misread it."""
UNKNOWN = "?"
"""Stands among instruments where some reading does not say with what it was taken."""

TAGS = " · "
"""Between the tags of a figure in its label."""


@dataclass(frozen=True)
class Moment:
    """What the machine copies: machine, rider, meeting, day."""

    machine: str
    rider: str
    meeting: str
    date: datetime.date


class Taken(NamedTuple):
    """One number of one build: `label` says of which of several, `u` is expanded (k = 2): None where not stated whole, 0 where exact.

    `instruments` are all those it rests on, UNKNOWN among them where that cannot be told in full. `words` stand where there is no number.
    A plain tuple, since an entry holds hundreds.
    """

    label: str = ""
    value: float | None = None
    u: float | None = None
    instruments: tuple[str, ...] = ()
    words: str = ""


@dataclass(frozen=True)
class ItemEntry:
    """A declared item: what was declared, the verdict and the agreement laid over it, and the readings in `unit`."""

    id: str
    title: str
    declared: str
    raw: Outcome
    unit: str = ""
    decimals: int = 0
    concession: str = ""
    safety: bool = False
    quantity: str = ""
    readings: tuple[Taken, ...] = ()

    @property
    def outcome(self) -> Outcome:
        """The verdict with any agreement laid over."""
        return Outcome.BY_AGREEMENT if self.concession else self.raw


@dataclass(frozen=True)
class FigureEntry:
    """An as-built figure of one name, its values each under the tags they bear, with TAGS between."""

    name: str
    title: str
    unit: str
    decimals: int
    subject: str
    values: tuple[Taken, ...]

    def id(self, one: Taken) -> str:
        """Id of one of its values on the build's own sheet of figures."""
        return tags_id(self.name, tuple(("", tag) for tag in one.label.split(TAGS) if tag))


@dataclass(frozen=True)
class PartEntry:
    """A part as fitted; the supplier's name where this audience may know it."""

    id: str
    name: str
    group: str
    origin: str
    supplier: str = ""


@dataclass(frozen=True)
class RefusedEntry:
    """A part that was bought and refused, or cost work before it could be used."""

    id: str
    name: str
    found: str
    outcome: str
    supplier: str = ""


@dataclass(frozen=True)
class SpareEntry:
    """A spare that goes with the machine."""

    what: str
    condition: str = ""
    fits: str = ""


@dataclass(frozen=True)
class CalibrationEntry:
    """One calibration: its day, whether the instrument passed as it was found, and what was found."""

    date: datetime.date
    passed: bool
    found: str = ""


@dataclass(frozen=True)
class ReadingEntry:
    """A reading taken with an instrument: of what, in which role, its value as written, on which day if that is known."""

    what: str
    role: str
    value: str = ""
    on: datetime.date | None = None


@dataclass(frozen=True)
class RestsOn:
    """That the verdict on an item rests on readings of an instrument, taken on these days; None where undated."""

    item: str
    days: tuple[datetime.date | None, ...]


@dataclass(frozen=True)
class InstrumentEntry:
    """An instrument that was used on the build: its calibrations as they are known now, its readings, and the verdicts that rest on it."""

    id: str
    name: str
    u: str
    next_calibration: datetime.date | None = None
    calibrations: tuple[CalibrationEntry, ...] = ()
    readings: tuple[ReadingEntry, ...] = ()
    verdicts: tuple[RestsOn, ...] = ()


@dataclass(frozen=True)
class DueEntry:
    """A part of limited life, or a test to be done again: whose limit, per cent used, what is left, and the day it is due where it has one."""

    id: str
    what: str
    whose: str = ""
    action: str = ""
    used: float | None = None
    left: float | None = None
    left_unit: str = ""
    left_decimals: int = 0
    until: datetime.date | None = None
    sheet: str = "care"
    """The sheet of the build that speaks of it."""


@dataclass(frozen=True)
class SourceEntry:
    """A source: what it is, how far it is believed, and the items and conflicts that rest on it."""

    id: str
    title: str
    kind: str
    shows: datetime.date | None = None
    believed: str = ""
    items: tuple[str, ...] = ()
    conflicts: tuple[str, ...] = ()


@dataclass(frozen=True)
class OpenEntry:
    """Something still open: a snag, a conflict of evidence, a missing record."""

    kind: str
    id: str
    what: str


@dataclass(frozen=True)
class Head:
    """What a published build is, without what it has: so little that an archive may hold it of every build.

    `audience` is the word for who may read it: entries of two audiences are never mixed.
    """

    form: int
    audience: str
    slug: str
    title: str
    short: str
    build_no: str
    statement: str
    what_it_is: str
    builder: str
    workshop: str
    completed: int
    copies: Moment
    revision: str
    revised: datetime.date
    draft: bool = False
    class_: str = ""
    notice: str = ""
    groups: tuple[str, ...] = ()
    """Names of the groups in which it is laid side by side with others."""
    withheld: tuple[tuple[str, int], ...] = ()
    """Whole records that this edition does not show, by kind: nobody is told there is none."""
    sheets: tuple[tuple[str, str], ...] = ()
    """Slug and title of each sheet of the build."""


@dataclass(frozen=True)
class Entry(Head):
    """One published build as the archive knows it. Whoever holds many of them in memory holds their heads."""

    open: tuple[OpenEntry, ...] = ()
    items: tuple[ItemEntry, ...] = ()
    figures: tuple[FigureEntry, ...] = ()
    parts: tuple[PartEntry, ...] = ()
    refused: tuple[RefusedEntry, ...] = ()
    """For the workshop alone: over many builds they speak of suppliers."""
    spares: tuple[SpareEntry, ...] = ()
    instruments: tuple[InstrumentEntry, ...] = ()
    due: tuple[DueEntry, ...] = ()
    sources: tuple[SourceEntry, ...] = ()

    @cached_property
    def head(self) -> Head:
        """What the build is, to be held when the entry goes."""
        return Head(**{field.name: getattr(self, field.name) for field in fields(Head)})

    @property
    def counts(self) -> Counter[Outcome]:
        """How many items have each verdict."""
        return Counter(item.outcome for item in self.items)


class Entries(Sequence[Entry]):
    """Entries that are had one at a time, wherever they lie: only their heads are held."""

    heads: Sequence[Head]

    def having(self, *names: str) -> Iterator[Entry]:
        """Each entry with these of its fields and its head; the others may be empty, which spares reading them."""
        raise NotImplementedError


def heads_of(entries: Sequence[Entry]) -> Sequence[Head]:
    """What each build is."""
    return entries.heads if isinstance(entries, Entries) else [one.head for one in entries]


def having(entries: Sequence[Entry], *names: str) -> Iterator[Entry]:
    """Each entry with its head and at least these of its fields: as much as a page over all builds needs of them, one at a time."""
    return entries.having(*names) if isinstance(entries, Entries) else iter(entries)
