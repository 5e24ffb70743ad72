"""Values that cannot be: sizes of nothing, air colder than cold, hours run backwards, limits that leave out what they belong to."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields

from dossier.model.forms.measurements import Entry
from dossier.model.forms.record import Record
from dossier.model.forms.specification import Item
from dossier.model.problems import Problem, did_you_mean
from dossier.model.quantity import Quantity
from dossier.read.checks.ids import records_at
from dossier.read.checks.subject import Subject

LISTS = ("declared", "donor", "as_built", "noted", "what_if.instead")
ABOVE_NOUGHT = re.compile(r"bore|stroke|rod_length|wheelbase|mass|\w*(_diameter|_radius|_circumference|_mass|_volume|_teeth|_pitch|_rate)")
"""Quantities that nothing has none or less of."""
_NEVER_BELOW = ("time", "mass", "volume", "speed", "rotation speed")
"""Kinds of quantity that are never below nought, wherever they are written."""
SHEETS = ("running", "measurements", "parts", "work", "life")


def impossible_faults(subject: Subject) -> Iterator[Problem]:
    """Values that no machine can have, and names of cylinders that it has not."""
    yield from _engine(subject)
    for name in LISTS:
        for entry in records_at(subject.build.measurements, name):
            if isinstance(entry, Entry):
                yield from _entry(subject, entry)
    for sheet in SHEETS:
        for record in _records(getattr(subject.build, sheet)):
            yield from _quantities(subject, record)
    for item in subject.build.specification.items:
        yield from _limits(subject, item)


def _engine(subject: Subject) -> Iterator[Problem]:
    engine = subject.build.machine.engine
    if engine.cylinders < 1:
        yield Problem("value-impossible", "an engine has a cylinder at least", subject.at(engine, "cylinders"), "write how many", "cylinders")
    elif engine.cylinder_names and len(engine.cylinder_names) != engine.cylinders:
        message = f"{len(engine.cylinder_names)} cylinders are named, and there are {engine.cylinders}"
        yield Problem("value-impossible", message, subject.at(engine, "cylinder_names"), "name each once", "cylinder_names")


def _entry(subject: Subject, entry: Entry) -> Iterator[Problem]:
    names = subject.build.machine.engine.cylinder_names
    if entry.cylinder is not None and names and entry.cylinder not in names:
        advice = did_you_mean(entry.cylinder, names, f"known: {', '.join(names)}")
        yield Problem("id-unknown", f"there is no cylinder {entry.cylinder!r}", subject.at(entry, "cylinder"), advice, "cylinder")
    if ABOVE_NOUGHT.fullmatch(entry.what) and any(one.number <= 0 for one in entry.quantities):
        place = subject.at(entry, "value" if entry.value is not None else "readings")
        yield Problem("value-impossible", f"{entry.what} of {entry.quantities[0]} cannot be", place, "look at the sign and the digits", "value")
    if entry.u is not None and entry.u.number <= 0:
        advice = "write how far off it may be, or leave it out: the instrument's own is taken"
        yield Problem("value-impossible", "nothing is measured with an uncertainty of nought", subject.at(entry, "u"), advice, "u")


def _quantities(subject: Subject, record: Record) -> Iterator[Problem]:
    for field in fields(record):
        value = getattr(record, field.name)
        for n, one in enumerate(value if isinstance(value, tuple) else (value,)):
            if not isinstance(one, Quantity):
                continue
            place = subject.at(record, field.name, n if isinstance(value, tuple) else None)
            if one.kind == "temperature" and one.si < 0:
                yield Problem("value-impossible", f"{one} is below absolute zero", place, "look at the sign and the unit", field.name)
            elif one.kind in _NEVER_BELOW and one.number < 0 and not isinstance(record, Entry):
                yield Problem("value-impossible", f"{one} is below nought", place, "look at the sign", field.name)


def _limits(subject: Subject, item: Item) -> Iterator[Problem]:
    nominal = item.declared.nominal if item.declared else None
    limits = item.limits
    if nominal is None or limits is None or nominal.kind != limits.unit.kind:
        return
    low, high = limits.si
    slack = 1e-9 * abs(nominal.si)
    if (low is not None and nominal.si < low - slack) or (high is not None and nominal.si > high + slack):
        message = f"{nominal} is declared, and lies outside its own limits, {limits.text}"
        yield Problem("limits-apart", message, subject.at(item, "limits"), "look at the digits and the units of both", "limits")


def _records(sheet: Record) -> Iterator[Record]:
    """A sheet and every record within it."""
    yield sheet
    for field in fields(sheet):
        value = getattr(sheet, field.name)
        for one in value if isinstance(value, tuple) else (value,):
            if isinstance(one, Record):
                yield from _records(one)
