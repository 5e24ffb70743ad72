"""parts.yaml: what is fitted and where it came from, what was refused, what fits what, and what was bought from whom."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dossier.model.audience import Owner, Public, Workshop
from dossier.model.fields import Allowed, Amount, Count, Day, Id, Mass, YesNo
from dossier.model.forms.record import Record

Origin = Literal[
    "genuine, from the reference machine", "genuine, from another machine", "period accessory", "reproduction",
    "newly made in house", "modern substitute", "unknown",
]  # fmt: skip
ORIGINS: tuple[str, ...] = Origin.__args__  # type: ignore[attr-defined]
"""Origin classes in the order in which they are always shown."""
Before = Literal["same part as received", "donor's part replaced", "nothing"]


@dataclass(frozen=True, kw_only=True)
class Rework(Record):
    """An operation on a part, with what it took off."""

    what: Public[str]
    on: Public[Day | None] = None
    hours: Owner[Amount | None] = None
    removed_where: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class GoodsIn(Record):
    """Check on arrival."""

    condition: Owner[str | None] = None
    checked: Owner[str | None] = None
    readings: Owner[tuple[Amount, ...]] = ()
    photo: Owner[str | None] = None
    outcome: Owner[Literal["use", "rework", "repair", "return", "scrap", "display only"] | None] = None


@dataclass(frozen=True, kw_only=True)
class Material(Record):
    """Material and process papers."""

    certificate: Owner[str | None] = None
    batch: Owner[str | None] = None
    hardness: Owner[str | None] = None
    heat_treatment: Owner[str | None] = None
    welder: Owner[str | None] = None
    plating: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Part(Record):
    """A part as fitted. `before` and `after` are masses; `before_is` says what was weighed before."""

    id: Public[Id]
    group: Public[str]
    name: Public[str]
    count: Public[Count] = 1
    origin: Public[Origin]
    basis: Public[str | None] = None
    """On what the origin class rests."""
    makers_mark: Public[str | None] = None
    material: Public[str | None] = None
    donor: Public[str | None] = None
    location: Public[str | None] = None
    matched_set: Public[str | None] = None
    before: Public[Mass | None] = None
    after: Public[Mass | None] = None
    before_is: Public[Before | None] = None
    meets: Public[tuple[str, ...]] = ()
    """Declared items that this part fulfils."""
    rework: Public[tuple[Rework, ...]] = ()
    hours: Owner[Amount | None] = None
    goods_in: Owner[GoodsIn | None] = None
    papers: Owner[Material | None] = None
    supplier: Owner[str | None] = None
    """The supplier's code; the name stands in `suppliers`, for the workshop."""
    price: Workshop[str | None] = None
    invoice: Workshop[str | None] = None
    ordered: Workshop[Day | None] = None
    arrived: Workshop[Day | None] = None
    note: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Rejected(Record):
    """A part that was bought and refused, or that cost work before it could be used."""

    id: Public[Id]
    name: Public[str]
    origin: Public[Origin]
    found: Public[str]
    when: Public[str | None] = None
    outcome: Public[str]
    replaced_by: Public[str | None] = None
    hours_lost: Owner[Amount | None] = None
    supplier: Owner[str | None] = None
    """The supplier's code; the name stands in `suppliers`, for the workshop."""
    price: Workshop[str | None] = None
    photo: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Interchange(Record):
    """What a holder accepts and refuses, and how that was checked."""

    id: Public[Id]
    holder: Public[str]
    accepts: Public[str]
    refuses: Public[str | None] = None
    why: Public[str | None] = None
    checked: Public[str | None] = None
    reading: Public[Amount | None] = None
    allowed: Public[Allowed | None] = None
    fits: Public[YesNo | None] = None
    """What was found, where it was checked without a number."""


@dataclass(frozen=True, kw_only=True)
class MatchedSet(Record):
    """Parts that belong together."""

    id: Public[Id]
    parts: Public[tuple[str, ...]]
    what: Public[str]
    complete: Public[YesNo]


@dataclass(frozen=True, kw_only=True)
class Spare(Record):
    """A spare handed over."""

    what: Owner[str | None] = None
    condition: Owner[str | None] = None
    fits: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Supplier(Record):
    """A supplier by code; the name is for the workshop."""

    id: Workshop[Id | None] = None
    name: Workshop[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Parts(Record):
    """parts.yaml as a whole."""

    parts: Public[tuple[Part, ...]] = ()
    rejected: Public[tuple[Rejected, ...]] = ()
    interchange: Public[tuple[Interchange, ...]] = ()
    matched_sets: Public[tuple[MatchedSet, ...]] = ()
    spares: Owner[tuple[Spare, ...]] = ()
    suppliers: Workshop[tuple[Supplier, ...]] = ()
