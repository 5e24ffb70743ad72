"""evidence.yaml: sources, readings taken from photographs, conflicts, assumptions, and the order in which sources win."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dossier.model.audience import Owner, Public
from dossier.model.fields import Amount, Day, Id, YesNo
from dossier.model.forms.record import Record

EvidenceKind = Literal[
    "photograph", "period race report", "period technical article", "maker's paper", "drawing", "workshop notebook",
    "entry or homologation paper", "surviving part", "film", "recollection", "workshop manual", "later book", "modern hearsay",
]  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Evidence(Record):
    """A source: what it is, the day it shows, of what it speaks, and how far it is to be believed (the open A–F, 1–6 scheme)."""

    id: Public[Id]
    kind: Public[EvidenceKind]
    title: Public[str]
    shows: Public[Day | None] = None
    """The day that it shows or speaks of."""
    dated: Public[Day | None] = None
    """The day of the source itself, where it differs."""
    subject: Public[Literal["this machine", "sister machine", "type", "general practice"]]
    reliability: Public[Literal["A", "B", "C", "D", "E", "F"]]
    credibility: Public[Literal["1", "2", "3", "4", "5", "6"]]
    derived_from: Public[str | None] = None
    says: Public[str]
    where_kept: Owner[str | None] = None
    photo: Public[str | None] = None
    credit: Public[str | None] = None
    licence: Public[str | None] = None
    may_be_published: Public[YesNo] = True


@dataclass(frozen=True, kw_only=True)
class PhotoReading(Record):
    """A dimension read off a photograph: method, scale, and how good it is."""

    photo: Owner[str | None] = None
    evidence: Owner[str | None] = None
    what: Owner[str | None] = None
    method: Owner[str | None] = None
    scale: Owner[str | None] = None
    reading: Owner[Amount | None] = None


@dataclass(frozen=True, kw_only=True)
class Conflict(Record):
    """Two sources that disagree: open, or resolved with the reasoning."""

    id: Public[Id]
    item: Public[str]
    between: Public[tuple[str, ...]]
    what: Public[str]
    status: Public[Literal["open", "resolved"]]
    resolution: Public[str | None] = None
    by: Public[str | None] = None
    date: Public[Day | None] = None
    would_change: Public[str | None] = None
    """What would change our mind."""
    meanwhile: Public[str | None] = None
    """What was built meanwhile."""


@dataclass(frozen=True, kw_only=True)
class Assumption(Record):
    """What was assumed where no evidence exists."""

    id: Public[Id]
    item: Public[str | None] = None
    assumed: Public[str]
    why: Public[str]
    reversible: Public[YesNo | None] = None


@dataclass(frozen=True, kw_only=True)
class EvidenceFile(Record):
    """evidence.yaml as a whole."""

    evidence: Public[tuple[Evidence, ...]] = ()
    photo_readings: Owner[tuple[PhotoReading, ...]] = ()
    conflicts: Public[tuple[Conflict, ...]] = ()
    assumptions: Public[tuple[Assumption, ...]] = ()
    resolution_order: Public[tuple[str, ...]] = ()
