"""What a build folder says, as one frozen value."""

from __future__ import annotations

import math
from array import array
from collections.abc import Sequence
from dataclasses import dataclass, field

from dossier.model.audience import Audience
from dossier.model.forms.custody import Custody
from dossier.model.forms.evidence import EvidenceFile
from dossier.model.forms.life import Life
from dossier.model.forms.machine import Machine
from dossier.model.forms.measurements import Measurements
from dossier.model.forms.parts import Parts
from dossier.model.forms.photos import Photos
from dossier.model.forms.running import Running
from dossier.model.forms.specification import Specification
from dossier.model.forms.work import Work
from dossier.model.forms.workshop import WorkshopFile
from dossier.model.rows import Cell, column_of


@dataclass(frozen=True)
class LogTable:
    """A measurement log as read: its kind, its columns with units, rows as floats or words, and each row left out with the reason.

    `rows` read like tuples; a log from a file keeps them column by column. `said` tells, a sentence each, what had to be
    found out to read the file. `audience` is the kind's own: the widest that may see the rows.
    """

    id: str
    kind: str
    title: str
    columns: tuple[tuple[str, str], ...]
    rows: Sequence[tuple[Cell, ...]]
    left_out: tuple[tuple[int, str], ...] = ()
    belongs_to: str = ""
    said: tuple[str, ...] = ()
    audience: Audience = Audience.WORKSHOP
    file: str = ""
    """Name of its file in logs/; empty where it is not known."""

    def has(self, *names: str) -> bool:
        """Whether all these columns are there."""
        return set(names) <= {name for name, _ in self.columns}

    def unit(self, name: str) -> str:
        """The unit sign of a column. KeyError when there is no such column."""
        return dict(self.columns)[name]

    def numbers(self, name: str) -> array[float]:
        """A column of numbers in the unit it was written in, blank cells as NaN. KeyError when there is no such column."""
        column = self._column(name)
        if isinstance(column, array):
            return column
        return array("d", (one if isinstance(one, float) else math.nan for one in column))

    def words(self, name: str) -> list[str]:
        """A column of words, blank cells as empty. KeyError when there is no such column."""
        return ["" if one is None else str(one) for one in self._column(name)]

    def _column(self, name: str) -> Sequence[Cell]:
        at = next((n for n, (column, _) in enumerate(self.columns) if column == name), None)
        if at is None:
            raise KeyError(name)
        return column_of(self.rows, at)


@dataclass(frozen=True)
class Note:
    """Free text in Markdown: the stem of its file name, its first heading, its text. `audience` as its first line says, else workshop."""

    id: str
    title: str
    text: str
    audience: str = "workshop"


@dataclass(frozen=True)
class Build:
    """A build folder and the workshop file above it, as read."""

    slug: str
    machine: Machine
    workshop: WorkshopFile
    specification: Specification = field(default_factory=Specification)
    evidence: EvidenceFile = field(default_factory=EvidenceFile)
    measurements: Measurements = field(default_factory=Measurements)
    parts: Parts = field(default_factory=Parts)
    work: Work = field(default_factory=Work)
    running: Running = field(default_factory=Running)
    life: Life = field(default_factory=Life)
    custody: Custody = field(default_factory=Custody)
    photos: Photos = field(default_factory=Photos)
    logs: tuple[LogTable, ...] = ()
    notes: tuple[Note, ...] = ()
