"""specification.yaml: numbered characteristics as declared, and the concessions laid over them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dossier.model.audience import Owner, Public
from dossier.model.fields import Allowed, Amount, Day, Id, Said, YesNo
from dossier.model.forms.record import Record

Kind = Literal["numeric", "choice", "presence", "count", "finish", "material", "behaviour"]


@dataclass(frozen=True, kw_only=True)
class Change(Record):
    """An earlier state of an item: what it said until the revision that changed it."""

    rev: Public[str]
    was: Public[str]
    why: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Item(Record):
    """One declared characteristic. Its as-built values stand in measurements.yaml under its `quantity` or its id."""

    id: Public[Id]
    group: Public[str | None] = None
    title: Public[str]
    kind: Public[Kind]
    quantity: Public[str | None] = None
    """Name of the quantity or figure it declares, such as `bore` or `swept_volume`."""
    declared: Public[Said | None] = None
    limits: Public[Allowed | None] = None
    options: Public[tuple[str, ...]] = ()
    basis: Public[str | None] = None
    """Where the tolerance comes from: drawing, survivor measured, wear limit, fit, class rule, agreed, general class, none."""
    evidence: Public[tuple[str, ...]] = ()
    evidence_uncertainty: Public[Amount | None] = None
    assumption: Public[str | None] = None
    conflict: Public[str | None] = None
    safety: Public[YesNo] = False
    weight: Public[Literal["defining", "visible", "hidden"] | None] = None
    rule: Public[Literal["guard band", "simple acceptance"] | None] = None
    """Absent: the house rule of the workshop, and where there is none the guard band."""
    criterion: Public[str | None] = None
    plan: Public[str | None] = None
    """What is planned where it does not conform, or what would decide it."""
    withdrawn: Public[str | None] = None
    """Revision in which the item was withdrawn."""
    history: Public[tuple[Change, ...]] = ()
    photo: Public[str | None] = None
    note: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Concession(Record):
    """Agreement, after making, to a deviation: laid over the raw verdict, never in its place."""

    id: Public[Id]
    item: Public[str]
    kind: Public[Literal["concession", "deviation permit"]] = "concession"
    limit: Public[str]
    """The limit within which it holds, in words."""
    holds: Public[Allowed | None] = None
    """The same limit as a number, where there is one; beyond it the concession lapses."""
    holds_for: Public[str | None] = None
    """Name of the quantity that `holds` speaks of, where it is not the item's own."""
    reason: Public[str]
    asked_by: Public[str | None] = None
    agreed_by: Public[tuple[str, ...]]
    date: Public[Day]
    revision: Public[str]
    reversible: Public[YesNo]
    undo: Public[str | None] = None
    safety: Public[YesNo] = False
    opinion: Public[str | None] = None
    """A competent person's written opinion, needed for a safety item."""
    signature: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Specification(Record):
    """specification.yaml as a whole."""

    items: Public[tuple[Item, ...]] = ()
    concessions: Public[tuple[Concession, ...]] = ()
