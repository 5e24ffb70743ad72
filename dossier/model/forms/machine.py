"""machine.yaml: what this machine is, the moment it copies, its builder's marks, and what it may be used for."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dossier.model.audience import Owner, Public, Workshop
from dossier.model.fields import Colour, Count, Day, Id, Length, Volume, YesNo, YesNoUnknown
from dossier.model.forms.record import Record

WhatItIs = Literal[
    "reproduction by another builder, called a replica in the trade",
    "replica by the original maker",
]
"""The closed field without which nothing is published. The international historic-vehicle federation's code calls a copy by
somebody else a reproduction and keeps replica for one by the original maker (seen in a Czech edition only); the trade
says replica for both."""


@dataclass(frozen=True, kw_only=True)
class Reference(Record):
    """The moment that is copied: machine, rider, meeting, day."""

    machine: Public[str]
    rider: Public[str]
    meeting: Public[str]
    date: Public[Day]
    race_number: Public[Count | None] = None
    original_fate: Public[str | None] = None
    fate_evidence: Public[tuple[str, ...]] = ()
    not_known: Public[tuple[str, ...]] = ()


@dataclass(frozen=True, kw_only=True)
class Plate(Record):
    """The builder's plate and permanent mark."""

    text: Public[str]
    where: Public[str]
    permanent_mark: Public[str | None] = None
    photo: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Stamping(Record):
    """A number-bearing part. `number` is for owner and workshop; `masked` is what the public sees."""

    part: Public[str]
    number: Owner[str | None] = None
    masked: Public[str | None] = None
    found_or_made: Public[Literal["as found", "as made"]] = "as found"
    genuine: Public[YesNoUnknown | None] = None
    restamped: Public[YesNoUnknown | None] = None
    whose: Owner[str | None] = None
    photo: Owner[str | None] = None
    note: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Use(Record):
    """What the machine is meant for and what the law and a club make of it."""

    intended: Public[tuple[str, ...]] = ()
    road_legal: Public[YesNoUnknown]
    registration: Owner[str | None] = None
    class_or_club: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class ClassRule(Record):
    """The class limit as data, with the club's own overbore rule, and the day the rule book was looked at."""

    club: Public[str]
    limit: Public[Volume]
    overbore_allowance: Public[Length | None] = None
    rule_book: Public[str | None] = None
    checked: Public[Day]


@dataclass(frozen=True, kw_only=True)
class Rival(Record):
    """Another machine with the same claim, survivor or copy."""

    what: Owner[str | None] = None
    known: Owner[str | None] = None


@dataclass(frozen=True, kw_only=True)
class EngineKind(Record):
    """Strokes and cylinders: they decide which figures apply."""

    strokes: Public[Literal["2", "4"]]
    cylinders: Public[Count]
    layout: Public[str | None] = None
    cylinder_names: Public[tuple[str, ...]] = ()


@dataclass(frozen=True, kw_only=True)
class Livery(Record):
    """The one accent colour: a value for day and one for night, both readable on their paper."""

    day: Public[Colour]
    night: Public[Colour]


@dataclass(frozen=True, kw_only=True)
class Machine(Record):
    """machine.yaml as a whole."""

    form: Public[Literal["1"]]
    this_machine_is: Public[WhatItIs]
    title: Public[str]
    """(Builder) replica of (maker, model, year), completed (year)."""
    short: Public[str]
    statement: Public[str]
    not_claimed: Public[str | None] = None
    languages: Public[tuple[str, ...]] = ("en",)
    builder: Public[str]
    build_no: Public[Id]
    completed: Public[Count]
    """Year of completion: the machine's date, never the period's."""
    reference: Public[Reference]
    plate: Public[Plate | None] = None
    stampings: Public[tuple[Stamping, ...]] = ()
    use: Public[Use]
    class_rule: Public[ClassRule | None] = None
    rivals: Owner[tuple[Rival, ...]] = ()
    engine: Public[EngineKind]
    livery: Public[Livery]
    hero: Public[str | None] = None
    """Id of the photograph on the front sheet."""
    notice: Public[str | None] = None
    """A line for the foot of every page, such as that the data are invented."""
    storage: Workshop[str | None] = None
    made_up: Public[YesNo] = False
