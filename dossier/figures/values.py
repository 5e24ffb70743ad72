"""What the records of a build say, as named values that figures can take in."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal

from dossier.model.audience import Audience
from dossier.model.build import Build
from dossier.model.forms.measurements import Entry, Role
from dossier.model.forms.workshop import Instrument
from dossier.model.quantity import Quantity, from_si, mean, variable
from dossier.model.results import Tags, Value

ROLE_OF = {"declared": Role.DECLARED, "donor": Role.DONOR, "as_built": Role.AS_BUILT, "noted": Role.NOTED}


def title_of(name: str, tags: Tags) -> str:
    """A name and its tags as a person would say them: `Bore, left`."""
    return ", ".join([name.replace("_", " ").capitalize(), *(tag for _, tag in tags)])


def values_of(build: Build) -> tuple[Value, ...]:
    """All named values that the build's records hold, each with its own variable of uncertainty."""
    return (*_of_machine(build), *_of_items(build), *_of_measurements(build))


def _of_machine(build: Build) -> Iterator[Value]:
    engine, rule = build.machine.engine, build.machine.class_rule
    yield count("cylinders", engine.cylinders)
    if rule is not None:
        yield of_quantity("class_limit", rule.limit, Role.NOTED, exact=True, source="class rule")
        if rule.overbore_allowance is not None:
            yield of_quantity("overbore_allowance", rule.overbore_allowance, Role.NOTED, exact=True, source="class rule")


def _of_items(build: Build) -> Iterator[Value]:
    for item in build.specification.items:
        if item.quantity and item.declared is not None and item.declared.nominal is not None and item.withdrawn is None:
            yield of_quantity(item.quantity, item.declared.nominal, Role.DECLARED, source=item.id, exact=True)


def _of_measurements(build: Build) -> Iterator[Value]:
    instruments = {one.id: one for one in build.workshop.instruments}
    for key, role in ROLE_OF.items():
        for entry in getattr(build.measurements, key):
            if entry.quantities:
                yield of_entry(entry, role, instruments.get(entry.with_ or ""))


def of_entry(entry: Entry, role: Role, instrument: Instrument | None) -> Value:
    """The value of an entry: its readings' mean, with the uncertainty stated or else the instrument's.

    The mean of readings taken at several places keeps the uncertainty of one reading: the places differ, the gauge does not.
    """
    readings = entry.quantities
    unit = readings[0].unit
    u = uncertainty_of(entry, instrument)
    best = mean([reading.si for reading in readings])
    title = title_of(entry.what, entry.tags)
    return Value(
        name=entry.what, tags=entry.tags, role=role, number=variable(best, None if u is None else u * unit.scale, title), unit=unit.sign,
        shown=from_si(best, unit), u=u, decimals=max(reading.decimals for reading in readings), title=title, by=entry.by or "",
        with_=entry.with_ or "", on=entry.on, where=entry.where or entry.method or "", count=entry.n or len(readings),
        assumed=entry.assumed or "", photo=entry.photo or "", audience=entry.audience or Audience.PUBLIC,
    )  # fmt: skip


def uncertainty_of(entry: Entry, instrument: Instrument | None) -> float | None:
    """Expanded uncertainty (k = 2) of an entry in its own unit: beside the value, in `u`, or the instrument's; None when nobody says."""
    first = entry.quantities[0]
    if first.u is not None:
        return float(first.u)
    stated = entry.u or (instrument.u if instrument is not None else None)
    if stated is None:
        return None
    if stated.unit.sign == "%" and first.unit.sign != "%":
        return abs(float(first.number)) * float(stated.number) / 100
    if stated.unit.dimension != first.unit.dimension:
        return None
    return stated.si / first.unit.scale if not stated.unit.offset else float(stated.number)


def of_quantity(
    name: str, quantity: Quantity, role: Role, tags: Tags = (), source: str = "", exact: bool = False, audience: Audience = Audience.PUBLIC
) -> Value:
    """A value from a quantity written in some other record; `exact` when it is a rule or a nominal and not a measurement."""
    title = title_of(name, tags)
    u = 0.0 if exact and quantity.u is None else None if quantity.u is None else float(quantity.u)
    return Value(
        name=name, tags=tags, role=role, number=variable(quantity.si, quantity.u_si, title), unit=quantity.unit.sign,
        shown=float(quantity.number), u=u, decimals=quantity.decimals, title=title, source=source, audience=audience,
    )  # fmt: skip


def count(
    name: str,
    number: int | float | Decimal,
    role: Role = Role.NOTED,
    tags: Tags = (),
    source: str = "",
    audience: Audience = Audience.PUBLIC,
) -> Value:
    """An exact number: a count of cylinders, teeth, laps, parts."""
    value = float(number)
    return Value(
        name=name, tags=tags, role=role, number=value, unit="", shown=value, u=0.0, decimals=0 if value.is_integer() else 3,
        title=title_of(name, tags), source=source, audience=audience,
    )  # fmt: skip
