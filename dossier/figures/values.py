"""What the records of a build say, as named values that figures can take in."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace

from dossier.figures.value import count, of_day, of_entry, of_quantity, of_readings, seen_by
from dossier.figures.values_of_items import values_of_items
from dossier.figures.values_of_life import values_of_life
from dossier.figures.values_of_logs import values_of_logs
from dossier.figures.values_of_papers import values_of_papers
from dossier.figures.values_of_parts import values_of_parts
from dossier.figures.values_of_running import values_of_running
from dossier.model.build import Build
from dossier.model.forms.measurements import Entry, Role
from dossier.model.forms.workshop import Instrument
from dossier.model.results import Value

ROLE_OF = {"declared": Role.DECLARED, "donor": Role.DONOR, "as_built": Role.AS_BUILT, "noted": Role.NOTED}
STANDS_AS_MEASURED = ("front_wheel_radius", "rear_wheel_radius")
"""Sizes that stood so when the steering geometry was measured: kept under a second name, so that another wheel shows what it changes."""


def values_of(build: Build, as_of: datetime.date | None = None) -> tuple[Value, ...]:
    """All named values that the build's records hold, each with its own variable of uncertainty.

    Ages and lives are counted to `as_of`, by default the day of the latest revision; with neither they are left out.
    """
    day = as_of or max((one.date for one in build.custody.revisions), default=None)
    written = (*_of_machine(build), *_of_measurements(build))
    running = tuple(values_of_running(build, day, written))
    return (
        *([of_day("day_of_record", day, title="Day of this record")] if day else []),
        *written, *_as_measured(written), *values_of_items(build), *values_of_parts(build), *running,
        *values_of_logs(build, day, (*written, *running)), *values_of_life(build, day), *values_of_papers(build),
    )  # fmt: skip


def instead_of(values: Iterable[Value], entries: Iterable[Entry], instruments: Sequence[Instrument] = ()) -> tuple[Value, ...]:
    """The values with those of `entries` in place of the as-built and noted ones of the same name and tags; for what-if questions."""
    known = {one.id: one for one in instruments}
    new = [of_entry(entry, Role.AS_BUILT, known.get(entry.with_ or "")) for entry in entries if entry.quantities]
    gone = {(one.name, one.tags) for one in new}
    kept = [one for one in values if one.role not in (Role.AS_BUILT, Role.NOTED) or (one.name, one.tags) not in gone]
    return (*kept, *new)


def _of_machine(build: Build) -> Iterator[Value]:
    machine = build.machine
    engine, rule = machine.engine, machine.class_rule
    yield count("cylinders", engine.cylinders, audience=seen_by("cylinders", machine, engine))
    yield count("strokes", int(engine.strokes), audience=seen_by("strokes", machine, engine))
    if rule is not None:
        yield of_quantity("class_limit", rule.limit, Role.NOTED, exact=True, source="class rule", audience=seen_by("limit", machine, rule))
        if rule.overbore_allowance is not None:
            audience = seen_by("overbore_allowance", machine, rule)
            yield of_quantity("overbore_allowance", rule.overbore_allowance, Role.NOTED, exact=True, source="class rule", audience=audience)


def _of_measurements(build: Build) -> Iterator[Value]:
    instruments = {one.id: one for one in build.workshop.instruments}
    for key, role in ROLE_OF.items():
        for entry in getattr(build.measurements, key):
            if entry.quantities:
                yield of_entry(entry, role, instruments.get(entry.with_ or ""), build.measurements)
                yield from of_readings(entry, role, instruments.get(entry.with_ or ""), build.measurements)


def _as_measured(values: Iterable[Value]) -> Iterator[Value]:
    for one in values:
        if one.name in STANDS_AS_MEASURED and one.role is Role.AS_BUILT:
            yield replace(one, name=f"{one.name}_as_measured", title=f"{one.title}, as measured")
