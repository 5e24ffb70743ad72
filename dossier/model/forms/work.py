"""work.yaml: operations with their acceptance criteria, tests of old parts, finishes, fluids, and the torque log."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dossier.model.audience import Owner, Public
from dossier.model.fields import Allowed, Amount, Count, Day, Id, Volume, YesNo
from dossier.model.forms.record import Record

OperationKind = Literal[
    "machining", "lightening", "crack test", "hardness", "proof load", "balance", "heat treatment", "welding", "straightening",
    "protection", "paint", "plating", "assembly", "fit", "other",
]  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class Operation(Record):
    """Something done to a part, or a test of it. The acceptance criterion is stated apart from the test standard, which may give none."""

    id: Public[Id]
    part: Public[str | None] = None
    kind: Public[OperationKind]
    method: Public[str | None] = None
    what: Public[str | None] = None
    standard: Public[str | None] = None
    acceptance: Public[str | None] = None
    coating_removed: Public[YesNo | None] = None
    area: Public[str | None] = None
    load: Public[str | None] = None
    result: Public[str | None] = None
    does_not_show: Public[str | None] = None
    """What the test says nothing about."""
    by: Public[str | None] = None
    qualification: Owner[str | None] = None
    machine: Owner[str | None] = None
    drawing: Owner[str | None] = None
    from_to: Owner[str | None] = None
    datum: Owner[str | None] = None
    """From where a machined size was taken."""
    indications: Owner[str | None] = None
    """Map or list of what a crack test showed, and where."""
    layers: Public[str | None] = None
    reference_sample: Public[str | None] = None
    masking: Public[str | None] = None
    batch: Public[str | None] = None
    colour: Public[str | None] = None
    thickness: Public[Amount | None] = None
    certificate: Owner[str | None] = None
    next_due: Public[Day | None] = None
    date: Public[Day]
    hours: Owner[Amount | None] = None
    photo: Public[str | None] = None
    note: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Torque(Record):
    """A joint as it was tightened on this build: a record, not an instruction."""

    joint: Public[str]
    thread: Public[str]
    strength_class: Public[str | None] = None
    count: Public[Count]
    method: Public[Literal["torque", "angle", "stretch"]] = "torque"
    steps: Public[tuple[Amount, ...]] = ()
    final: Public[Amount | None] = None
    stretch: Public[tuple[Amount, ...]] = ()
    wanted: Public[Allowed | None] = None
    lubricant: Public[str | None] = None
    order: Public[str | None] = None
    wrench: Public[str | None] = None
    locking: Public[str | None] = None
    reused: Public[Count | None] = None
    date: Public[Day]
    rechecked: Public[Day | None] = None
    by: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Secured(Record):
    """A plug, filler, filter or bolt and how it is secured."""

    what: Public[str]
    how: Public[Literal["wired", "pinned", "tabbed", "compound", "lock nut", "none"]]
    note: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class SafetyMap(Record):
    """What a scrutineer looks for beside the wire: catch tank, kill switch, throttle, steering stops."""

    catch_tank: Public[Volume | None] = None
    kill_switch: Public[str | None] = None
    throttle_snaps_shut: Public[YesNo | None] = None
    steering_stops: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Fluid(Record):
    """A fluid or gas in the machine."""

    where: Public[str]
    what: Public[str]
    amount: Public[Amount | None] = None
    not_mixed_with: Public[str | None] = None
    mix: Public[Amount | None] = None
    """Premix ratio, fuel to oil, as in `20 : 1`."""


@dataclass(frozen=True, kw_only=True)
class Work(Record):
    """work.yaml as a whole."""

    operations: Public[tuple[Operation, ...]] = ()
    torque_log: Public[tuple[Torque, ...]] = ()
    secured: Public[tuple[Secured, ...]] = ()
    safety_map: Public[SafetyMap | None] = None
    fluids: Public[tuple[Fluid, ...]] = ()
