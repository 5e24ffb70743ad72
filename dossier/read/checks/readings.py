"""Readings: given once, in a unit that fits, no rounder than the instrument, by an instrument in calibration."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.model.forms.measurements import Entry
from dossier.model.forms.specification import Item
from dossier.model.problems import Place, Problem
from dossier.model.quantity import Quantity
from dossier.model.units import UNITS
from dossier.read.checks.ids import records_at
from dossier.read.checks.subject import Subject

LISTS = ("declared", "donor", "as_built", "noted")
SLIPS = (
    ("in", "mm"), ("cu in", "cc"), ("lbf·ft", "N·m"), ("kgf·m", "N·m"), ("kgf", "N"), ("lbf", "N"), ("lb", "kg"), ("psi", "bar"),
    ("mph", "km/h"), ("m", "mm"), ("kg", "g"),
)  # fmt: skip
"""Pairs of units that are taken for each other."""
CLOSE = 0.02
"""How near to a pair's factor a ratio must be to look like a slip (our choice)."""
ROUNDER = 2
"""A last digit worth more than so many steps of the instrument is too round (our choice: half steps are often not written)."""
ROUNDER_CONVERTED = 10
"""The same where the reading was written in another unit than the instrument's."""


def reading_faults(subject: Subject) -> Iterator[Problem]:
    """What is odd about measured values."""
    items = {name: item for item in subject.build.specification.items for name in (item.quantity, item.id) if name}
    for name in LISTS:
        entries: tuple[Entry, ...] = getattr(subject.build.measurements, name)
        yield from _twice(subject, entries)
        for entry in entries:
            yield from _units_agree(subject, entry, items.get(entry.what))
            if name in ("declared", "as_built") and (item := items.get(entry.what)):
                yield from _slip(subject, entry, item)
    for block in subject.build.measurements.what_if:
        yield from _twice(subject, block.instead)
        for entry in block.instead:
            yield from _units_agree(subject, entry, None)
    yield from _instruments(subject)
    yield from _identical(subject, subject.build.measurements.as_built)


def _place(subject: Subject, entry: Entry) -> Place:
    for field in ("value", "readings", "timing"):
        if (place := subject.at(entry, field)) != entry.written:
            return place
    return entry.written


def _twice(subject: Subject, entries: tuple[Entry, ...]) -> Iterator[Problem]:
    first: dict[tuple[object, ...], Entry] = {}
    for entry in entries:
        key = (entry.what, entry.tags)
        if before := first.get(key):
            of = ", ".join(tag for _, tag in entry.tags)
            message = f"{entry.what}{f' ({of})' if of else ''} is given already in line {before.written.line}"
            instead = "put the readings in one entry, or tell them apart by state: or run:"
            yield Problem("entry-twice", message, subject.at(entry, "what"), instead, "what")
        first.setdefault(key, entry)


def _units_agree(subject: Subject, entry: Entry, item: Item | None) -> Iterator[Problem]:
    """Readings of one entry, their uncertainty and the declared item are of one kind."""
    quantities = entry.quantities
    if not quantities:
        return
    kind = quantities[0].kind
    for index, one in enumerate(quantities):
        if one.kind != kind:
            place = subject.at(entry, "readings", index)
            yield Problem(
                "dimension-wrong", f"{one} is a {one.kind}, the first reading a {kind}", place, "write all in one unit", "readings"
            )
    if entry.u is not None and entry.lacks_unit:
        message = f"{quantities[0]} has no unit, and its uncertainty is {entry.u}"
        yield Problem("unit-missing", message, _place(subject, entry), f"write its unit too, such as {quantities[0]} {entry.u.unit.sign}", "value")
    elif entry.u is not None and entry.u.kind != kind and entry.u.unit.sign != "%":
        instead = f"write it in {quantities[0].unit.sign or 'no unit'}, or in %"
        yield Problem(
            "dimension-wrong", f"the uncertainty {entry.u} is a {entry.u.kind}, the value a {kind}", subject.at(entry, "u"), instead, "u"
        )
    wanted = _kind_of(item)
    if item and wanted and kind != wanted:
        message = f"{quantities[0]} is a {kind}, and {item.id} declares a {wanted}"
        yield Problem("dimension-wrong", message, _place(subject, entry), "write it in a unit of that kind", "value")


def _kind_of(item: Item | None) -> str:
    if item is None or item.kind != "numeric":
        return ""
    if item.declared and item.declared.nominal:
        return item.declared.nominal.kind
    return item.limits.unit.kind if item.limits else ""


def _slip(subject: Subject, entry: Entry, item: Item) -> Iterator[Problem]:
    nominal = item.declared.nominal if item.declared else None
    if item.kind != "numeric" or nominal is None or not nominal.si:
        return
    for one in entry.quantities[:1]:
        if one.kind == nominal.kind and one.si and (slip := _looks_like(one.si / nominal.si, one.kind)):
            message = f"{one} is about {slip[2]:.4g} times {'more' if slip[3] else 'less'} than the {nominal} that {item.id} declares"
            instead = f"was it read in {slip[0]} or in {slip[1]}?"
            yield Problem("unit-odd", message, _place(subject, entry), instead, "value")


def _looks_like(ratio: float, kind: str) -> tuple[str, str, float, bool] | None:
    for one, other in SLIPS:
        if UNITS[one].kind != kind:
            continue
        factor = UNITS[one].scale / UNITS[other].scale
        for up in (True, False):
            if abs(ratio / (factor if up else 1 / factor) - 1) < CLOSE:
                return one, other, max(factor, 1 / factor), up == (factor > 1)
    return None


def _instruments(subject: Subject) -> Iterator[Problem]:
    instruments = {one.id: one for one in subject.build.workshop.instruments}
    for path in (*LISTS, "what_if.instead"):
        for entry in records_at(subject.build.measurements, path):
            if not isinstance(entry, Entry) or not (instrument := instruments.get(entry.with_ or "")):
                continue
            due = instrument.next_calibration
            if entry.on and due and entry.on > due:
                message = f"{instrument.id} was due for calibration on {due}, and this was read on {entry.on}"
                yield Problem("calibration-lapsed", message, subject.at(entry, "on"), "measure again, or enter the new calibration", "on")
            for index, one in enumerate(entry.quantities):
                if _too_round(one, instrument.resolution):
                    message = f"{one} is rounder than {instrument.id} reads ({instrument.resolution})"
                    place = subject.at(entry, "readings", index) if entry.readings else _place(subject, entry)
                    yield Problem("reading-coarser", message, place, "write all digits that were read, noughts too", "value")


def _too_round(one: Quantity, resolution: Quantity | None) -> bool:
    if resolution is None or resolution.kind != one.kind or "/" in one.text:
        return False
    last = one.unit.scale * 10.0**-one.decimals
    allowed = ROUNDER if one.unit == resolution.unit else ROUNDER_CONVERTED
    return last > allowed * abs(float(resolution.number)) * resolution.unit.scale * (1 + 1e-9)


def _identical(subject: Subject, entries: tuple[Entry, ...]) -> Iterator[Problem]:
    """Entries of one quantity that differ in their cylinder only and agree in every digit."""
    seen: dict[tuple[object, ...], Entry] = {}
    for entry in entries:
        quantities = entry.quantities
        digits = sum(len(one.number.as_tuple().digits) for one in quantities)
        if entry.cylinder is None or digits < 4:
            continue
        others = tuple(tag for tag in entry.tags if tag[0] != "cylinder")
        key = (entry.what, others, tuple((one.number.as_tuple(), one.unit.sign) for one in quantities))
        if before := seen.get(key):
            message = f"{entry.what} {entry.cylinder} and {before.cylinder} agree to the last digit"
            yield Problem("readings-identical", message, _place(subject, entry), "look whether one was copied from the other", "value")
        seen.setdefault(key, entry)
