"""Instruments: what was measured with each over all builds, and every verdict to be looked at again because its gauge later failed."""

from __future__ import annotations

import datetime
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dossier.model.calibration import Doubt, Found, doubt
from dossier.model.entry import UNKNOWN, CalibrationEntry, Entry, Head, InstrumentEntry, ItemEntry, RestsOn, having
from dossier.pages.archive.many_rows import Long, on_sheets
from dossier.pages.archive.over_all import over_all
from dossier.pages.archive.ways import dated, quiet, sorted_by, way
from dossier.pages.page import Page
from dossier.pages.parts.numbers import capital, counted, day, esc, in_words
from dossier.pages.parts.tables import Column, Row
from dossier.pages.parts.verdicts import verdict_words

RULE = (
    "An instrument that is found wrong at its calibration, before anything was set right, throws doubt on what was read with it since it last passed "
    "(ISO 9001:2015, 7.1.5.2 asks that this be looked into). So a reading is listed when a calibration on that day or after it failed and none was "
    "passed in between, when it was taken after a failure and before the instrument passed again, and when it is undated and the instrument ever "
    "failed. A reading listed here need not be wrong: what was found at calibration, set against the tolerance, decides."
)


@dataclass(frozen=True)
class Use:
    """One instrument of one workshop: as each build that used it knows it."""

    workshop: str
    id: str
    used: tuple[tuple[Head, InstrumentEntry], ...]

    @property
    def name(self) -> str:
        """Its name."""
        return self.used[0][1].name

    @property
    def calibrations(self) -> tuple[CalibrationEntry, ...]:
        """All that any of the builds knows, by day; a failure comes before what was passed on the same day."""
        return tuple(
            sorted({each for _, one in self.used for each in one.calibrations}, key=lambda each: (each.date, each.passed, each.found))
        )


def _found(calibrations: Sequence[CalibrationEntry]) -> list[Found]:
    return [(each.date, each.passed) for each in calibrations]


@over_all("instruments", order=40)
def instruments(entries: Sequence[Entry]) -> list[Page]:
    """Every instrument that was used; none where no reading names one."""
    uses = list(_uses(entries))
    doubtful, unnamed = _again(uses, entries)
    readings = [row for use in uses for row in _readings(use)]
    foreword = _foreword(uses, len(doubtful), unnamed)
    tables = [*_to_look_at(doubtful), *_read_again(readings), _all(uses)]
    lead = "Which readings rest on which gauge, and what to look at again where a gauge failed."
    return on_sheets("instruments", "Instruments", lead, tables, foreword)


def _uses(entries: Sequence[Entry]) -> Iterator[Use]:
    found: dict[tuple[str, str], list[tuple[Head, InstrumentEntry]]] = {}
    for entry in having(entries, "instruments"):
        for one in entry.instruments:
            found.setdefault((entry.workshop, one.id), []).append((entry.head, one))
    for (workshop, id), used in found.items():
        yield Use(workshop, id, tuple(used))


def _foreword(uses: Sequence[Use], doubtful: int, unnamed: int) -> str:
    failed = [use for use in uses if any(not each.passed for each in use.calibrations)]
    first = f"<b>{capital(counted(doubtful, 'verdict'))} to be looked at again</b>" if doubtful else "No verdict is to be looked at again"
    first += f": {counted(len(failed), 'instrument')} failed calibration." if failed else "; no instrument is recorded as failed."
    if unnamed:
        rests = "verdict rests" if unnamed == 1 else "verdicts rest"
        first += f" {capital(in_words(unnamed))} {rests} in part on readings that do not say with what they were taken: of those nobody can tell."
    return first


def _to_look_at(rows: Sequence[Row]) -> list[Long]:
    columns = [
        Column("Verdict on"), Column("Machine", "c-no"), Column("Stands as", "c-verdict", "Verdict"), Column("Instrument", "c-why"),
        Column("Read on", "c-dec"), Column("Why", "c-why"),
    ]  # fmt: skip
    caption = f"{capital(counted(len(rows), 'verdict'))} to be looked at again"
    return [Long("To be looked at again", caption, columns, rows, "again", foreword=RULE)] if rows else []


def _again(uses: Sequence[Use], entries: Sequence[Entry]) -> tuple[list[Row], int]:
    """Every verdict in doubt, by instrument; and how many rest on readings that do not say with what they were taken."""
    doubts: defaultdict[str, list[tuple[int, RestsOn, list[tuple[datetime.date | None, Doubt]]]]] = defaultdict(list)
    for n, use in enumerate(uses):
        calibrations = use.calibrations
        for head, one in use.used:
            doubts[head.slug] += [(n, rests, found) for rests in one.verdicts if (found := _doubts(rests, calibrations))]
    rows: list[tuple[int, Row]] = []
    unnamed = 0
    for entry in having(entries, "items"):
        unnamed += sum(any(UNKNOWN in one.instruments for one in item.readings) for item in entry.items)
        items = {item.id: item for item in entry.items}
        rows += [(n, _doubtful(entry, items[rests.item], uses[n], found)) for n, rests, found in doubts[entry.slug] if rests.item in items]
    return [row for _, row in sorted(rows, key=lambda pair: pair[0])], unnamed


def _doubtful(entry: Entry, item: ItemEntry, use: Use, found: Sequence[tuple[datetime.date | None, Doubt]]) -> Row:
    what = way(entry, "specification", item.id, f"<b>{esc(item.id)}</b> {esc(item.title)}")
    safety = "<br><b>Safety item</b>" if item.safety else ""
    days = "<br>".join(dated(on) for on, _ in found)
    why = "<br>".join(dict.fromkeys(_why(each) for _, each in found))
    return Row([what + safety, way(entry), verdict_words(item.outcome), _named(use, entry), days, why])


def _doubts(rests: RestsOn, calibrations: Sequence[CalibrationEntry]) -> list[tuple[datetime.date | None, Doubt]]:
    return [(on, found) for on in rests.days if (found := doubt(on, _found(calibrations)))]


def _why(one: Doubt) -> str:
    return f"{esc(one.why)}, {day(one.failed)}"


def _named(use: Use, entry: Head) -> str:
    return f"{way(entry, 'work', use.id, esc(use.id))} {esc(use.name)}"


def _read_again(rows: Sequence[Row]) -> list[Long]:
    columns = [
        Column("Reading"), Column("Machine", "c-no"), Column("Value", "c-dec"), Column("Instrument", "c-why"), Column("Read on", "c-dec"),
        Column("Why", "c-why"),
    ]  # fmt: skip
    caption = f"{capital(counted(len(rows), 'reading'))} taken with an instrument in doubt, whether or not a verdict rests on it"
    return [Long("Readings in doubt", caption, columns, rows, "again")] if rows else []


def _readings(use: Use) -> Iterator[Row]:
    for entry, one in use.used:
        for each in one.readings:
            found = doubt(each.on, _found(use.calibrations))
            if found:
                what = f"{esc(capital(each.what))} {quiet(esc(each.role))}"
                yield Row([what, way(entry), esc(each.value), _named(use, entry), dated(each.on), _why(found)])


def _all(uses: Sequence[Use]) -> Long:
    columns = [
        Column("No.", "c-no"), Column("Instrument"), Column("U, k = 2", "num"), Column("Calibrations", "c-why"), Column("Next", "c-dec"),
        Column("Readings", "num"), Column("Verdicts", "num"), Column("Machines", "c-why"),
    ]  # fmt: skip
    several = len({use.workshop for use in uses}) > 1
    caption = "Instruments that readings name; U is that of the workshop’s method with it. A verdict may rest on several"
    return Long("All instruments", caption, columns, [_instrument(use, several) for use in uses], "instruments")


def _instrument(use: Use, several: bool) -> Row:
    latest = max(use.used, key=lambda pair: pair[0].revised)[1]
    readings = sum(len(one.readings) for _, one in use.used)
    verdicts = sum(len(one.verdicts) for _, one in use.used)
    known = [_calibration(each) for each in use.calibrations]
    machines = ", ".join(way(entry, "work", use.id) for entry, _ in use.used[:40]) + (" and more" if len(use.used) > 40 else "")
    name = esc(use.name) + (f"<br>{quiet(esc(use.workshop))}" if several else "")
    following = dated(latest.next_calibration) if latest.next_calibration else "not recorded"
    u = f'<span class="nw">{esc(latest.u)}</span>'
    counts = [str(readings), str(verdicts), sorted_by(len(use.used), machines)]
    return Row([esc(use.id), name, u, "<br>".join(known) or "none recorded", following, *counts])


def _calibration(one: CalibrationEntry) -> str:
    result = "passed" if one.passed else "<b>failed</b>"
    return f"{day(one.date)}: {result}" + (f", {esc(one.found)}" if one.found else "")
