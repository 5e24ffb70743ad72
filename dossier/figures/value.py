"""How a value is made from a record: its number in SI with its own variable of uncertainty, who says so, and who may see it."""

from __future__ import annotations

import datetime
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from decimal import Decimal
from typing import Any

from dossier.figures.reading_uncertainty import made_of
from dossier.figures.reading_uncertainty import width_in as width_in
from dossier.model.audience import Audience, audiences_of
from dossier.model.forms.measurements import Entry, Role
from dossier.model.forms.record import Record
from dossier.model.forms.workshop import Instrument
from dossier.model.quantity import Quantity, from_si, mean, nominal, variable
from dossier.model.results import Tags, Value
from dossier.model.units import UNITS

FIRST_DAY = datetime.date(1900, 1, 1)
"""Dates go into figures as days since this one."""


def title_of(name: str, tags: Tags) -> str:
    """A name and its tags as a person would say them: `Bore, left`."""
    return ", ".join([name.replace("_", " ").capitalize(), *(tag for _, tag in tags)])


def seen_by(field: str, *records: Record) -> Audience:
    """The audience of a field of the last of `records`, narrowed by any of them; the first are what it stands in."""
    narrowed = [one.audience for one in records if one.audience is not None]
    form: Any = type(records[-1])
    return max([audiences_of(form)[field], *narrowed])


def of_entry(entry: Entry, role: Role, instrument: Instrument | None, *inside: Record) -> Value:
    """The value of an entry: its readings' mean, with the uncertainty stated or else the instrument's, and the spread of repeats.

    The mean of readings taken at several places keeps the uncertainty of one reading: the places differ, the gauge does not.
    """
    readings = entry.quantities
    unit = readings[0].unit
    made = made_of(entry, instrument)
    best = mean([reading.si for reading in readings])
    title = title_of(entry.what, entry.tags)
    number = variable(best, None if made.u is None else made.u * unit.scale, title, math.inf if made.dof is None else made.dof)
    return Value(
        name=entry.what, tags=entry.tags, role=role, number=number, unit=unit.sign, shown=from_si(best, unit), u=made.u, dof=made.dof,
        parts=made.parts, unstated=(f"the instrument for {title.lower()}",) if made.unstated else (),
        decimals=max(reading.decimals for reading in readings), title=title, by=entry.by or "",
        with_=entry.with_ or "", on=entry.on, where=entry.where or entry.method or "", count=entry.n or len(readings),
        assumed=entry.assumed or "", photo=entry.photo or "", audience=seen_by("value", *inside, entry),
    )  # fmt: skip


def of_readings(entry: Entry, role: Role, instrument: Instrument | None, *inside: Record) -> Iterator[Value]:
    """Each reading of an entry that has several places, as a value of its own: `bore` gives `bore_reading`, numbered along the axis `reading`."""
    if len(entry.readings) < 2 or entry.repeats:
        return
    whole = of_entry(entry, role, instrument, *inside)
    for n, reading in enumerate(entry.readings, start=1):
        title = f"{whole.title}, reading {n}"
        u = None if whole.u is None else whole.u * entry.readings[0].unit.scale
        yield replace(
            whole, name=f"{entry.what}_reading", tags=(*entry.tags, ("reading", str(n))), number=variable(reading.si, u, title), title=title,
            unit=reading.unit.sign, shown=float(reading.number), u=None if u is None else u / reading.unit.scale,
            decimals=reading.decimals, count=1,
        )  # fmt: skip


def uncertainty_of(entry: Entry, instrument: Instrument | None) -> float | None:
    """Expanded uncertainty (k = 2) of an entry in its own unit, all its parts combined; None when nobody says."""
    return made_of(entry, instrument).u


def of_quantity(
    name: str,
    quantity: Quantity,
    role: Role,
    tags: Tags = (),
    source: str = "",
    exact: bool = False,
    audience: Audience = Audience.PUBLIC,
    title: str = "",
    on: datetime.date | None = None,
    freedom: float | None = None,
) -> Value:
    """A value from a quantity written in some other record; `exact` when it is a rule or a nominal and not a measurement.

    `freedom`: degrees of freedom of its uncertainty, where they are finite.
    """
    title = title or title_of(name, tags)
    u = 0.0 if exact and quantity.u is None else None if quantity.u is None else float(quantity.u)
    return Value(
        name=name, tags=tags, role=role, number=variable(quantity.si, quantity.u_si, title, freedom or math.inf), unit=quantity.unit.sign,
        shown=float(quantity.number), u=u, decimals=quantity.decimals, title=title, source=source, audience=audience, on=on, dof=freedom,
    )  # fmt: skip


def with_uncertainty(value: Value, u: float) -> Value:
    """The value with an expanded uncertainty (coherent SI) of its own."""
    return replace(value, number=variable(nominal(value.number), u, value.title), u=u / UNITS[value.unit].scale)


def count(
    name: str,
    number: int | float | Decimal,
    role: Role = Role.NOTED,
    tags: Tags = (),
    source: str = "",
    audience: Audience = Audience.PUBLIC,
    title: str = "",
) -> Value:
    """An exact number: a count of cylinders, teeth, laps, parts."""
    value = float(number)
    return Value(
        name=name, tags=tags, role=role, number=value, unit="", shown=value, u=0.0, decimals=0 if value.is_integer() else 3,
        title=title or title_of(name, tags), source=source, audience=audience,
    )  # fmt: skip


def of_day(
    name: str, day: datetime.date, tags: Tags = (), source: str = "", audience: Audience = Audience.PUBLIC, title: str = ""
) -> Value:
    """A date, exact, as days since FIRST_DAY."""
    days = (day - FIRST_DAY).days
    return Value(
        name=name, tags=tags, role=Role.NOTED, number=days * UNITS["days"].scale, unit="days", shown=float(days), u=0.0, decimals=0,
        title=title or title_of(name, tags), on=day, source=source, audience=audience,
    )  # fmt: skip


def words(name: str, text: str, tags: Tags = (), source: str = "", audience: Audience = Audience.PUBLIC, title: str = "") -> Value:
    """Words that a figure takes in, such as a tyre's marking."""
    return Value(
        name=name, tags=tags, role=Role.NOTED, number=text, unit="", shown=0.0, u=0.0, decimals=0, title=title or title_of(name, tags),
        source=source, audience=audience,
    )  # fmt: skip


def bare(name: str, number: float, sign: str, tags: Tags, source: str, audience: Audience, title: str = "") -> Value:
    """A number read from a log or a table, in the unit `sign`, whose uncertainty nobody stated."""
    unit = UNITS[sign]
    title = title or title_of(name, tags)
    return Value(
        name=name, tags=tags, role=Role.AS_BUILT, number=number * unit.scale + float(unit.offset), unit=unit.sign, shown=number, u=None,
        decimals=decimals_of([number]), title=title, source=source, audience=audience,
    )  # fmt: skip


def decimals_of(numbers: Sequence[float]) -> int:
    """Digits after the point with which the numbers are written."""
    return max((len(f"{one:.6f}".rstrip("0").partition(".")[2]) for one in numbers), default=0)
