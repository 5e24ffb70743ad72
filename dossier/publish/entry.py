"""archive-entry.json: what the archive must know of a published build, taken from its edition, written and read back."""

from __future__ import annotations

import datetime
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import fields
from functools import cache

from pydantic import TypeAdapter, ValidationError
from pydantic_core import from_json

from dossier.model.audience import Audience
from dossier.model.edition import Edition
from dossier.model.entry import (
    FORM,
    TAGS,
    UNKNOWN,
    CalibrationEntry,
    DueEntry,
    Entry,
    FigureEntry,
    Head,
    InstrumentEntry,
    ItemEntry,
    Moment,
    OpenEntry,
    PartEntry,
    ReadingEntry,
    RefusedEntry,
    RestsOn,
    SourceEntry,
    SpareEntry,
    Taken,
)
from dossier.model.forms.specification import Item
from dossier.model.forms.workshop import Instrument
from dossier.model.results import Judged, Verdict, Worked
from dossier.pages.parts.due import left_of, used_shares
from dossier.pages.parts.numbers import whole_u
from dossier.pages.specification import decimals_of

NAME = "archive-entry.json"
COMPARED = frozenset({"cylinder", "valve", "gear", "wheel", "plane", "side"})
"""Axes of figures that mean the same on any machine; of a part, a session or a run no other build has its like."""
_DIGITS = 9
_HEAD = frozenset(field.name for field in fields(Head))
_ROLES = {"declared": "declared", "donor": "donor", "as_built": "as built", "noted": "noted"}

Reads = dict[str, set[datetime.date | None]]
"""Instruments by id, each with the days on which it was read; UNKNOWN for readings that name none."""


class EntryError(ValueError):
    """A file is no archive entry that this program can read."""


def to_bytes(entry: Entry) -> bytes:
    """The entry as JSON (UTF-8): the same bytes for the same entry."""
    return _adapter().dump_json(entry, exclude_defaults=True) + b"\n"


def from_bytes(data: bytes, names: Collection[str] | None = None) -> Entry:
    """The entry that `to_bytes` wrote; with its head and the fields named where `names` is given, which takes a fraction of the time.

    EntryError where it is none, or of another form.
    """
    try:
        given = from_json(data)
        if isinstance(given, dict) and names is not None:
            given = {name: value for name, value in given.items() if name in _HEAD or name in names}
        entry = _adapter().validate_python(given)
    except ValidationError as fault:
        raise EntryError(f"not an archive entry: {fault.errors()[0]['msg']}") from fault
    except ValueError as fault:
        raise EntryError(f"not an archive entry: {fault}") from fault
    if entry.form != FORM:
        raise EntryError(f"an archive entry of form {entry.form}, and this program reads form {FORM}")
    return entry


@cache
def _adapter() -> TypeAdapter[Entry]:
    return TypeAdapter(Entry)


def entry_of(edition: Edition, sheets: Sequence[tuple[str, str]] = ()) -> Entry:
    """What the archive must know of an edition; `sheets` are slug and title of its pages."""
    build, machine = edition.build, edition.build.machine
    moment = machine.reference
    behind = _Behind(edition)
    return Entry(
        form=FORM, audience=edition.audience.word, slug=build.slug, title=machine.title, short=machine.short, build_no=machine.build_no,
        statement=machine.statement, what_it_is=machine.this_machine_is, builder=machine.builder, workshop=build.workshop.name,
        completed=machine.completed, copies=Moment(moment.machine, moment.rider, moment.meeting, moment.date), revision=edition.revision,
        revised=edition.revised, draft=edition.draft, class_=_class(edition), notice=machine.notice or "",
        groups=tuple(one.name for one in build.workshop.side_by_side if build.slug in one.builds), open=tuple(_open(edition)),
        items=tuple(_items(edition, behind)), figures=tuple(_figures(edition, behind)), parts=tuple(_parts(edition)),
        refused=tuple(_refused(edition)), spares=tuple(_spares(edition)),
        instruments=tuple(_instruments(edition, behind)), due=tuple(_due(edition)), sources=tuple(_sources(edition)),
        withheld=tuple(sorted(edition.left_out.items())), sheets=tuple(sheets),
    )  # fmt: skip


def _class(edition: Edition) -> str:
    machine = edition.build.machine
    rule = f"{machine.class_rule.club}, to {machine.class_rule.limit}" if machine.class_rule else ""
    return "; ".join(dict.fromkeys(filter(None, [machine.use.class_or_club, rule])))


def _open(edition: Edition) -> Iterator[OpenEntry]:
    build = edition.build
    yield from (OpenEntry("snag", one.id, one.symptom) for one in build.running.snags if one.open)
    yield from (OpenEntry("conflict", one.id, one.what) for one in build.evidence.conflicts if one.status == "open")
    yield from (OpenEntry("record", "", one) for one in edition.missing_records)


class _Behind:
    """Finds the readings that a verdict or figure of an edition rests on, through as many figures as there are between."""

    def __init__(self, edition: Edition) -> None:
        self.figures = {(one.role, one.id): one for one in edition.worked}
        self.entries = edition.build.measurements.as_built
        self.known: dict[int, Reads] = {}

    def figure(self, one: Worked) -> Reads:
        """What a figure rests on; a reading that is exact, a count, needs no instrument."""
        if id(one) not in self.known:
            found: Reads = {}
            self.known[id(one)] = found
            for value in (value for used in one.inputs for value in used.values):
                inner = self.figures.get((value.role, value.of)) if value.of else None
                if inner is not None:
                    _merge(found, self.figure(inner))
                elif value.of or value.u != 0:
                    found.setdefault(value.with_ or UNKNOWN, set()).add(value.on)
        return self.known[id(one)]

    def judged(self, item: Item, one: Judged) -> Reads:
        """What one reading of an item rests on: its own entry, or the figure it was worked out by."""
        worked = next((found for (role, id), found in self.figures.items() if id == one.figure and role.value == "as built"), None)
        if worked is not None:
            return self.figure(worked)
        names = {item.id, item.quantity or item.id}
        entries = [entry for entry in self.entries if entry.what in names and " ".join(tag for _, tag in entry.tags) == one.label]
        found: Reads = {}
        for entry in entries:
            if entry.with_ or entry.quantities:
                found.setdefault(entry.with_ or UNKNOWN, set()).add(entry.on)
        return found if entries or one.value is None else {UNKNOWN: {None}}


def _merge(into: Reads, more: Mapping[str, Iterable[datetime.date | None]]) -> None:
    for name, days in more.items():
        into.setdefault(name, set()).update(days)


def _number(value: float | None) -> float | None:
    """As many digits as any page prints, and fewer bytes."""
    return None if value is None else float(f"{value:.{_DIGITS}g}")


def _items(edition: Edition, behind: _Behind) -> Iterator[ItemEntry]:
    for item in edition.build.specification.items:
        verdict = edition.verdict(item.id)
        if verdict is not None:
            places = max(
                [decimals_of(item), *(one.decimals for one in edition.worked if one.id in {judged.figure for judged in verdict.judged})]
            )
            yield ItemEntry(
                item.id, item.title, item.declared.text if item.declared else "", verdict.raw, verdict.unit, places, verdict.concession,
                item.safety, item.quantity or "", tuple(_taken(item, one, behind) for one in verdict.judged if _is_reading(verdict, one)),
            )  # fmt: skip


def _is_reading(verdict: Verdict, one: Judged) -> bool:
    return one.value is not None or (bool(one.words) and verdict.raw.value != "not yet measured")


def _taken(item: Item, one: Judged, behind: _Behind) -> Taken:
    if one.value is None:
        return Taken(one.label, words=one.words)
    return Taken(one.label, _number(one.value), _number(one.u), tuple(sorted(behind.judged(item, one))))


def _figures(edition: Edition, behind: _Behind) -> Iterator[FigureEntry]:
    names = dict.fromkeys(one.name for one in edition.worked)
    for name in names:
        some = [one for one in edition.figures(name) if one.value is not None and COMPARED.issuperset(axis for axis, _ in one.tags)]
        if some:
            values = tuple(
                Taken(TAGS.join(tag for _, tag in one.tags), _number(one.value), _number(whole_u(one)), tuple(sorted(behind.figure(one))))
                for one in some
            )
            yield FigureEntry(name, some[0].title, some[0].unit, some[0].decimals, some[0].subject, values)


def _parts(edition: Edition) -> Iterator[PartEntry]:
    names = _suppliers(edition)
    for one in edition.build.parts.parts:
        yield PartEntry(one.id, one.name, one.group, one.origin, names.get(one.supplier or "", ""))


def _refused(edition: Edition) -> Iterator[RefusedEntry]:
    # each dossier may say what was refused; the sum over many builds would be a judgement on a supplier, and is the workshop's alone
    if edition.audience is not Audience.WORKSHOP:
        return
    names = _suppliers(edition)
    for one in edition.build.parts.rejected:
        yield RefusedEntry(one.id, one.name, one.found, one.outcome, names.get(one.supplier or "", ""))


def _spares(edition: Edition) -> Iterator[SpareEntry]:
    for one in edition.build.parts.spares:
        if one.what:
            yield SpareEntry(one.what, one.condition or "", one.fits or "")


def _suppliers(edition: Edition) -> dict[str, str]:
    """Names by code. A code is one build's own, so that it says nothing beside another's."""
    return {one.id: one.name for one in edition.build.parts.suppliers if one.id and one.name}


def _instruments(edition: Edition, behind: _Behind) -> Iterator[InstrumentEntry]:
    rests = list(_rests(edition, behind))
    titles = {item.id: item.title for item in edition.build.specification.items}
    for one in edition.build.workshop.instruments:
        readings = tuple(_readings(edition, one.id, titles))
        verdicts = tuple(RestsOn(item, _days(reads[one.id])) for item, reads in rests if one.id in reads)
        if readings or verdicts:
            yield InstrumentEntry(one.id, one.name, str(one.u), one.next_calibration, _calibrations(one), readings, verdicts)


def _rests(edition: Edition, behind: _Behind) -> Iterator[tuple[str, Reads]]:
    for item in edition.build.specification.items:
        verdict = edition.verdict(item.id)
        reads: Reads = {}
        for judged in verdict.judged if verdict is not None else ():
            _merge(reads, behind.judged(item, judged))
        yield item.id, reads


def _days(days: Iterable[datetime.date | None]) -> tuple[datetime.date | None, ...]:
    known = list(days)
    return (*sorted(day for day in known if day is not None), *([None] if None in known else []))


def _readings(edition: Edition, instrument: str, titles: Mapping[str, str]) -> Iterator[ReadingEntry]:
    for group, role in _ROLES.items():
        for one in getattr(edition.build.measurements, group):
            if one.with_ == instrument:
                what = " ".join([titles.get(one.what, one.what.replace("_", " ")), *(tag for _, tag in one.tags)])
                value = ", ".join(str(quantity) for quantity in one.quantities) or one.timing or one.found or ""
                yield ReadingEntry(what, role, value, one.on)
    for joint in edition.build.work.torque_log:
        if joint.wrench == instrument:
            yield ReadingEntry(joint.joint, "tightened", str(joint.final or ""), joint.date)


def _calibrations(one: Instrument) -> tuple[CalibrationEntry, ...]:
    """All known calibrations by day; one that is only dated was passed, and what failed and passed on one day failed first."""
    known = [CalibrationEntry(each.on, each.result == "passed", each.found or "") for each in one.calibrations]
    if one.calibrated and not any(each.date == one.calibrated and each.passed for each in known):
        known.append(CalibrationEntry(one.calibrated, True))
    return tuple(sorted(known, key=lambda each: (each.date, each.passed)))


def _due(edition: Edition) -> Iterator[DueEntry]:
    shares = {dict(one.tags).get("life", ""): one for one in used_shares(edition)}
    for lifed in edition.build.life.lifed:
        used = shares.get(lifed.id)
        left = left_of(edition, used) if used else None
        days = edition.figure("life_left_in_days", lifed.id)
        until = edition.revised + datetime.timedelta(days=round(days.value)) if days is not None and days.value is not None else None
        yield DueEntry(
            lifed.id, lifed.part, lifed.whose_limit, lifed.action or "", _number(used.value) if used else None,
            _number(left.value) if left else None, left.unit if left else "", left.decimals if left else 0, until,
        )  # fmt: skip
    for one in edition.build.work.operations:
        if one.next_due is not None:
            what = f"{one.kind}{f' of {one.part}' if one.part else ''}"
            yield DueEntry(one.id, what, action="to be done again", until=one.next_due, sheet="work")


def _sources(edition: Edition) -> Iterator[SourceEntry]:
    items, conflicts = edition.build.specification.items, edition.build.evidence.conflicts
    for one in edition.build.evidence.evidence:
        yield SourceEntry(
            one.id, one.title, one.kind, one.shows, f"{one.reliability}{one.credibility}",
            tuple(item.id for item in items if one.id in item.evidence),
            tuple(conflict.id for conflict in conflicts if one.id in conflict.between),
        )  # fmt: skip
