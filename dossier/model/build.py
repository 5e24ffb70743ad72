"""What a build folder says, as one frozen value."""

from __future__ import annotations

from dataclasses import dataclass, field

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


@dataclass(frozen=True)
class LogTable:
    """A measurement log as read: its kind, its columns with units, rows as floats or words, and each row left out with the reason."""

    id: str
    kind: str
    title: str
    columns: tuple[tuple[str, str], ...]
    rows: tuple[tuple[float | str | None, ...], ...]
    left_out: tuple[tuple[int, str], ...] = ()
    belongs_to: str = ""


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
