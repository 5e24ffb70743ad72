"""custody.yaml: who held the machine, papers, hours and money, statements, revisions, releases and what was published."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dossier.model.audience import Owner, Public, Workshop
from dossier.model.fields import Count, Day, Id, Rung, Time
from dossier.model.forms.record import Record


@dataclass(frozen=True, kw_only=True)
class Holder(Record):
    """A link in the chain of custody. The name is for owner and workshop; the public reads the role."""

    since: Public[Day]
    until: Public[Day | None] = None
    holder: Owner[str | None] = None
    shown_as: Public[str]
    """How the holder is called in public, as in `first owner`."""
    role: Public[Literal["builder", "owner", "agent", "carrier", "display"]]
    evidence: Public[str | None] = None
    gap: Public[str | None] = None
    """Why there is a gap before this link, where there is one."""


@dataclass(frozen=True, kw_only=True)
class Paper(Record):
    """A paper in the file."""

    id: Owner[Id | None] = None
    kind: Owner[str | None] = None
    title: Owner[str | None] = None
    date: Owner[Day | None] = None
    pages: Owner[Count | None] = None
    original: Owner[Literal["original", "copy"] | None] = None
    file: Owner[str | None] = None
    sha256: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Hours(Record):
    """Hours of one group of work, planned and actual."""

    group: Owner[str | None] = None
    planned: Owner[Time | None] = None
    actual: Owner[Time | None] = None
    cost: Workshop[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Statement(Record):
    """What somebody signed; the ink is for owner and workshop."""

    role: Public[Literal["builder", "owner", "inspector", "seller", "buyer"]]
    text: Public[str]
    signed: Public[Day]
    name: Owner[str | None] = None
    paper: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Revision(Record):
    """A revision of the dossier; `frozen` names what was frozen at it."""

    rev: Public[Id]
    date: Public[Day]
    what: Public[str]
    by: Public[str | None] = None
    frozen: Public[Literal["specification", "handover", "sale"] | None] = None


@dataclass(frozen=True, kw_only=True)
class Release(Record):
    """Leave to show more than the form allows: which record, or which field of it (`P05.supplier`), to whom, by whom, when."""

    what: Workshop[str]
    to: Workshop[Rung]
    by: Workshop[str]
    on: Workshop[Day]
    why: Workshop[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Publication(Record):
    """What was published, to whom."""

    on: Workshop[Day]
    what: Workshop[str]
    to: Workshop[Rung]
    checksum: Workshop[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Custody(Record):
    """custody.yaml as a whole."""

    custody: Public[tuple[Holder, ...]] = ()
    papers: Owner[tuple[Paper, ...]] = ()
    hours: Owner[tuple[Hours, ...]] = ()
    statements: Public[tuple[Statement, ...]] = ()
    revisions: Public[tuple[Revision, ...]] = ()
    releases: Workshop[tuple[Release, ...]] = ()
    publications: Workshop[tuple[Publication, ...]] = ()
