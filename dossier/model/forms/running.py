"""running.yaml: engine hours, dynamometer runs, test days, set-up, snags, damage and storage."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dossier.model.audience import Owner, Public
from dossier.model.fields import Amount, Count, Day, Id, Length, Number, Pressure, RotationSpeed, Temperature, Time, YesNo
from dossier.model.forms.record import Record


@dataclass(frozen=True, kw_only=True)
class Run(Record):
    """A line of the run log: engine hours."""

    date: Public[Day]
    what: Public[str]
    hours: Public[Time]
    checks: Owner[str | None] = None
    found: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Dyno(Record):
    """A dynamometer run with its conditions; the curve stands in a CSV log, named in `log`."""

    id: Public[Id]
    date: Public[Day]
    at: Public[Literal["rear wheel", "gearbox sprocket", "crankshaft"]]
    machine: Public[str | None] = None
    gear: Public[str | None] = None
    air: Public[Temperature | None] = None
    pressure: Public[Pressure | None] = None
    vapour: Public[Pressure | None] = None
    jets: Public[tuple[str, ...]] = ()
    fuel: Public[str | None] = None
    log: Public[str | None] = None
    note: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Session(Record):
    """A day or stint on a track: conditions, settings, what was found."""

    id: Public[Id]
    date: Public[Day]
    place: Public[str]
    lap: Public[Length | None] = None
    laps: Public[Count | None] = None
    best: Public[Time | None] = None
    mean: Public[Time | None] = None
    air: Public[Temperature | None] = None
    track_temperature: Public[Temperature | None] = None
    pressure: Public[Pressure | None] = None
    track: Public[str | None] = None
    wind: Public[str | None] = None
    tyres_cold: Public[tuple[Pressure, ...]] = ()
    """Front, rear."""
    tyres_hot: Public[tuple[Pressure, ...]] = ()
    final: Public[str | None] = None
    main_jets: Public[tuple[str, ...]] = ()
    pilot_jets: Owner[tuple[str, ...]] = ()
    needle: Owner[str | None] = None
    needle_notch: Owner[Count | None] = None
    plugs: Public[str | None] = None
    plug: Owner[str | None] = None
    """Plug by its make and range code."""
    plug_gap: Owner[Length | None] = None
    ignition: Owner[str | None] = None
    """Type, advance, curve, points gap or dwell, as set that day."""
    choke: Owner[Length | None] = None
    slide: Owner[str | None] = None
    needle_jet: Owner[str | None] = None
    float_height: Owner[Length | None] = None
    air_correction: Owner[str | None] = None
    fuel: Owner[str | None] = None
    humidity: Public[Number | None] = None
    oil: Owner[str | None] = None
    fuel_used: Public[Amount | None] = None
    max_rpm: Public[RotationSpeed | None] = None
    rider: Owner[str | None] = None
    rider_says: Public[str | None] = None
    incidents: Owner[str | None] = None
    logs: Public[tuple[str, ...]] = ()
    photo: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Setting(Record):
    """A line of the set-up sheet that is not in a session: what, and how it stands."""

    what: Public[str]
    value: Public[str]
    note: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Snag(Record):
    """Something that turned up: the rider's words, the cause, the cure, and by what it was verified. Open until verified."""

    id: Public[Id]
    found: Public[Day | None] = None
    where: Public[str | None] = None
    symptom: Public[str]
    effect: Public[Literal["safety", "major", "minor", "cosmetic"] | None] = None
    cause: Public[str | None] = None
    cause_is: Public[Literal["found", "suspected"]] = "found"
    action: Public[str | None] = None
    parts: Public[tuple[str, ...]] = ()
    fixed: Public[Day | None] = None
    verified: Public[Day | None] = None
    verified_by: Public[str | None] = None
    verified_on: Public[str | None] = None
    """Id of the session or run that proved it."""
    reopened: Public[tuple[Day, ...]] = ()
    concession: Public[str | None] = None
    photo: Public[str | None] = None

    @property
    def open(self) -> bool:
        """Open until verified, and again once it came back after that."""
        return self.verified is None or any(day > self.verified for day in self.reopened)


@dataclass(frozen=True, kw_only=True)
class Damage(Record):
    """Damage or a crash."""

    date: Public[Day]
    summary: Public[str]
    hit: Owner[str | None] = None
    inspected: Owner[str | None] = None
    replaced: Owner[tuple[str, ...]] = ()


@dataclass(frozen=True, kw_only=True)
class Storage(Record):
    """How the machine was laid up."""

    since: Owner[Day | None] = None
    drained: Owner[YesNo | None] = None
    fogged: Owner[YesNo | None] = None
    turned_over: Owner[str | None] = None
    battery: Owner[str | None] = None
    humidity: Owner[Number | None] = None


@dataclass(frozen=True, kw_only=True)
class Running(Record):
    """running.yaml as a whole."""

    run_log: Public[tuple[Run, ...]] = ()
    dyno: Public[tuple[Dyno, ...]] = ()
    sessions: Public[tuple[Session, ...]] = ()
    settings: Public[tuple[Setting, ...]] = ()
    snags: Public[tuple[Snag, ...]] = ()
    damage: Public[tuple[Damage, ...]] = ()
    storage: Owner[tuple[Storage, ...]] = ()
    rev_limit_note: Public[str | None] = None
    sound_test: Public[str | None] = None
    fuel_per_lap: Public[Amount | None] = None
