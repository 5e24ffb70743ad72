"""workshop.yaml, above the builds: the workshop, its instruments with their calibration, its people, its house rules."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dossier.model.audience import Owner, Public, Workshop
from dossier.model.fields import Amount, Day, Id, Length
from dossier.model.forms.record import Record


@dataclass(frozen=True, kw_only=True)
class Calibration(Record):
    """One calibration of an instrument: `result` is how it was found, before anything was set right; what was done then, `done` says."""

    on: Public[Day]
    result: Public[Literal["passed", "failed"]]
    found: Public[str | None] = None
    done: Public[str | None] = None
    certificate: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Instrument(Record):
    """An instrument: `u` is the expanded uncertainty (k = 2) of the workshop's method with it, not of its scale alone.

    `calibrated` is the day of the last calibration that it passed; earlier ones, and those it failed, stand in `calibrations`.
    """

    id: Public[Id]
    name: Public[str]
    type: Public[str | None] = None
    range: Public[str | None] = None
    u: Public[Amount]
    resolution: Public[Amount | None] = None
    calibrated: Public[Day | None] = None
    next_calibration: Public[Day | None] = None
    calibrations: Public[tuple[Calibration, ...]] = ()
    zero_check: Owner[str | None] = None
    certificate: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Person(Record):
    """A person by initials; the name is for the workshop unless it is released."""

    id: Public[Id]
    shown_as: Public[str]
    name: Workshop[str | None] = None
    role: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class SideBySide(Record):
    """A group of builds that the archive lays side by side: its name, and the names of their folders."""

    name: Public[str]
    builds: Public[tuple[str, ...]]


@dataclass(frozen=True, kw_only=True)
class HouseRules(Record):
    """Limits that are the workshop's own."""

    decision_rule: Public[Literal["guard band", "simple acceptance"]] = "guard band"
    liner_wall_least: Public[Length | None] = None
    tolerance_source: Public[str | None] = None
    evidence_order: Public[tuple[str, ...]] = ()


@dataclass(frozen=True, kw_only=True)
class WorkshopFile(Record):
    """workshop.yaml as a whole."""

    form: Public[Literal["1"]]
    name: Public[str]
    address: Workshop[str | None] = None
    contact: Owner[str | None] = None
    instruments: Public[tuple[Instrument, ...]] = ()
    people: Public[tuple[Person, ...]] = ()
    house_rules: Public[HouseRules | None] = None
    side_by_side: Public[tuple[SideBySide, ...]] = ()
    """Groups for the archive; machines that copy the same machine are a group without being named here."""
