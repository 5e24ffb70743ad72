"""photos.yaml: for each photograph what it shows, to what it belongs, when and by whom, who may see it, and what is masked."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dossier.model.audience import Public, Workshop
from dossier.model.fields import Day, Id, Number, Rung
from dossier.model.forms.record import Record
from dossier.model.picture import PhotoFacts


@dataclass(frozen=True, kw_only=True)
class Masked(Record):
    """A rectangle (`from_`, `to`) or polygon (`points`) in per cent of the picture as seen, destroyed for the audiences below `seen_by`."""

    why: Workshop[str | None] = None
    left: Workshop[Number | None] = None
    top: Workshop[Number | None] = None
    right: Workshop[Number | None] = None
    bottom: Workshop[Number | None] = None
    points: Workshop[tuple[Number, ...]] = ()
    """x, y, x, y … of a polygon."""
    seen_by: Workshop[Rung | None] = None
    """Who may see what lies beneath; nobody when absent."""


@dataclass(frozen=True, kw_only=True)
class Pin(Record):
    """A numbered characteristic on the picture, x and y in per cent; leads to a declared item or figure."""

    x: Public[Number]
    y: Public[Number]
    to: Public[str]


@dataclass(frozen=True, kw_only=True)
class Photo(Record):
    """One photograph. Its file name is for the workshop alone."""

    id: Public[Id]
    file: Workshop[str] = ""
    shows: Public[str]
    """The caption."""
    alt: Public[str | None] = None
    belongs_to: Public[tuple[str, ...]] = ()
    """Ids of parts, operations, sessions, evidence, snags, items."""
    subject: Public[Literal["the original", "the build", "the finished machine", "on track", "stampings", "papers"]] = "the build"
    pair: Public[str | None] = None
    """Name of a before/after pair."""
    side: Public[Literal["before", "after"] | None] = None
    date: Public[Day | None] = None
    """Corrects the camera's date; absent, the camera's is taken."""
    date_said: Public[str | None] = None
    by: Public[str | None] = None
    credit: Public[str | None] = None
    licence: Public[str | None] = None
    seen_by: Public[Rung]
    """Lowest audience that may see it."""
    masks: Workshop[tuple[Masked, ...]] = ()
    pins: Public[tuple[Pin, ...]] = ()
    facts: Workshop[PhotoFacts | None] = None
    """What reading found in the file; never written by hand."""


@dataclass(frozen=True, kw_only=True)
class Photos(Record):
    """photos.yaml as a whole."""

    photos: Public[tuple[Photo, ...]] = ()
