"""life.yaml: parts with a limited life and the tyres, with whose limit it is and from when it counts."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dossier.model.audience import Owner, Public
from dossier.model.fields import Count, Day, Id, Length, Number, Pressure, Time
from dossier.model.forms.record import Record


@dataclass(frozen=True, kw_only=True)
class Lifed(Record):
    """A part whose life is limited by hours, laps, distance, starts or years; whose limit it is must be said."""

    id: Public[Id]
    part: Public[str]
    limit_hours: Public[Time | None] = None
    limit_laps: Public[Number | None] = None
    limit_distance: Public[Length | None] = None
    limit_starts: Public[Count | None] = None
    limit_years: Public[Time | None] = None
    whose_limit: Public[str]
    since: Public[Day | None] = None
    """Fitted, renewed or tested on; the count begins here. Tyres count from their date code."""
    at_hours: Public[Time | None] = None
    """Engine hours at `since`."""
    tyre: Public[Literal["front", "rear", "both"] | None] = None
    action: Public[str | None] = None
    last_done: Public[Day | None] = None


@dataclass(frozen=True, kw_only=True)
class Tyre(Record):
    """A tyre as fitted, with its date code (week and year; three digits mean before 2000, decade unknown)."""

    wheel: Public[Literal["front", "rear"]]
    size: Public[str]
    marking: Public[str | None] = None
    dot: Public[str | None] = None
    pressure_cold: Public[Pressure | None] = None
    pressure_hot: Public[Pressure | None] = None
    fitted: Public[Day | None] = None
    storage: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Wheel(Record):
    """A wheel: rim, spokes, truing, hub."""

    wheel: Public[Literal["front", "rear"]]
    rim: Public[str | None] = None
    spokes: Public[Count | None] = None
    lacing: Public[str | None] = None
    spoke_gauge: Public[str | None] = None
    spoke_tension: Public[str | None] = None
    offset: Public[Length | None] = None
    hub: Public[str | None] = None
    bearings: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Brake(Record):
    """A brake: type, lining and whether it may hold asbestos, wear limit, cables or hoses."""

    wheel: Public[Literal["front", "rear"]]
    type: Public[str]
    size: Public[Length | None] = None
    lining: Public[str | None] = None
    asbestos: Public[Literal["free", "contains", "unknown"]] = "unknown"
    edges: Public[str | None] = None
    arc: Public[str | None] = None
    wear_limit: Public[str | None] = None
    bedded: Public[Day | None] = None
    cable_or_hose: Public[Day | None] = None


@dataclass(frozen=True, kw_only=True)
class Life(Record):
    """life.yaml as a whole."""

    lifed: Public[tuple[Lifed, ...]] = ()
    tyres: Public[tuple[Tyre, ...]] = ()
    wheels: Public[tuple[Wheel, ...]] = ()
    brakes: Public[tuple[Brake, ...]] = ()
