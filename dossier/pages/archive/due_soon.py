"""Due soon: parts of limited life and tests to be done again over all machines; the same as a calendar."""

from __future__ import annotations

import datetime
from collections.abc import Iterator, Sequence

from dossier.model.entry import DueEntry, Entry, Head, having, heads_of
from dossier.pages.archive.many_rows import Long, on_sheets
from dossier.pages.archive.over_all import over_all
from dossier.pages.archive.ways import dated, quiet, sorted_by, way, withheld
from dossier.pages.page import Page
from dossier.pages.parts.marks import share_bar
from dossier.pages.parts.numbers import capital, counted, day, esc, number
from dossier.pages.parts.tables import Column, Row

SOON = 80.0
"""Per cent of a limit from which a part is called soon due (common practice, no source), as in each dossier."""
WITHIN = 365
"""Days before a due day from which it is called soon due (common practice, no source)."""
CALENDAR = "due.ics"
Pair = tuple[Head, DueEntry]


@over_all("due-soon", order=50)
def due_soon(entries: Sequence[Entry]) -> list[Page]:
    """What is past due, what is soon due, what cannot be told; none without a limited life."""
    heads = heads_of(entries)
    pairs = [(entry.head, one) for entry in having(entries, "due") for one in entry.due]
    if not pairs:
        return []
    today = as_of(heads)
    late = [pair for pair in pairs if is_late(pair[1], today)]
    soon = [pair for pair in pairs if pair not in late and is_soon(pair[1], today)]
    open_ = [pair for pair in pairs if pair[1].used is None and pair[1].until is None]
    rest = len(pairs) - len(late) - len(soon) - len(open_)
    tables = [_long("Past due", "past-due", late, today), _long("Soon due", "soon", soon, today), _untold(open_)]
    if not any(one.rows for one in tables):
        tables = [_long("Later", "later", pairs, today)]
        rest = 0
    lead = "Parts of limited life and tests to be done again, over all machines."
    return on_sheets("due-soon", "Due soon", lead, tables, _foreword(heads, pairs, len(late), rest))


def as_of(entries: Sequence[Head]) -> datetime.date:
    """The day on which the archive stands: that of its latest revision."""
    return max(one.revised for one in entries)


def is_late(one: DueEntry, today: datetime.date) -> bool:
    """Past its limit when its dossier was written, or past its day since."""
    return (one.used or 0.0) >= 100 or (one.until is not None and one.until < today)


def is_soon(one: DueEntry, today: datetime.date) -> bool:
    """From SOON per cent of the limit on, or within WITHIN days of the day."""
    return (one.used or 0.0) >= SOON or (one.until is not None and (one.until - today).days <= WITHIN)


def _foreword(heads: Sequence[Head], pairs: Sequence[Pair], late: int, rest: int) -> str:
    said = f"Past due on {day(as_of(heads))}: <b>{counted(late, 'limit') if late else 'nothing'}</b>. "
    later = f"{capital(counted(rest, 'limit'))} {'is' if rest == 1 else 'are'} further off and stand in their dossiers. " if rest else ""
    calendar = ""
    if any(one.until for _, one in pairs):
        calendar = (
            f'Every limit that has a day, the later ones too, is in <a href="{CALENDAR}">a calendar file</a> (iCalendar); '
            "limits by hours, laps or distance have none."
        )
    return f"{said}{later}{calendar} {withheld(heads, 'lifed')} {RULE}".strip()


RULE = (
    f"Soon due is what has used {SOON:.0f} per cent of its limit, or comes within a year (common practice, no source). "
    "Limits are each workshop’s own, at its own use; hours and laps are counted to the date of each dossier."
)


def _long(title: str, name: str, pairs: Sequence[Pair], today: datetime.date) -> Long:
    columns = [
        Column("Part"), Column("Machine", "c-no"), Column("Used", "num"), Column("Share", "c-bar"), Column("What is left", "c-due", "Left"),
        Column("Due on", "c-dec"), Column("Then", "c-why"), Column("Counted to", "c-dec", "Counted"),
    ]  # fmt: skip
    ordered = sorted(pairs, key=lambda pair: (-(pair[1].used or 0.0), pair[1].until or datetime.date.max, pair[0].slug))
    caption = f"{capital(counted(len(pairs), 'limit'))}, the most used first"
    return Long(title, caption, columns, [_row(entry, one, today) for entry, one in ordered], f"due-over-all {name}")


def _row(entry: Head, one: DueEntry, today: datetime.date) -> Row:
    used = sorted_by(f"{one.used:.3f}", f'<span class="nw">{number(one.used, 1)} %</span>') if one.used is not None else "not counted"
    bar = share_bar(one.used, words=f"{one.used:.0f} per cent used") if one.used is not None else ""
    since = quiet("has passed since") if one.until and one.until < today and (one.used or 0.0) < 100 else ""
    until = dated(one.until) + (f"<br>{since}" if since else "") if one.until else sorted_by("9999", quiet("no day"))
    then = "; ".join(filter(None, [esc(one.action), f"limit: {esc(one.whose)}" if one.whose else ""]))
    what = way(entry, one.sheet, one.id, esc(capital(one.what)))
    return Row([what, way(entry), used, bar, _left(one), until, then, dated(entry.revised)])


def _left(one: DueEntry) -> str:
    if one.left is None:
        return ""
    shown = f"{number(abs(one.left), one.left_decimals)} {esc(one.left_unit)}"
    return sorted_by(one.left, f"<b>past due</b> by {shown}" if one.left < 0 else f"{shown} left")


def _untold(pairs: Sequence[Pair]) -> Long:
    columns = [Column("Part"), Column("Machine", "c-no"), Column("Then", "c-why")]
    rows = [Row([way(entry, one.sheet, one.id, esc(capital(one.what))), way(entry), esc(one.action)]) for entry, one in pairs]
    caption = f"{capital(counted(len(rows), 'limit'))} of which nobody wrote down when the count began, or what was used"
    return Long("Cannot be told", caption, columns, rows)


def dated_limits(entries: Sequence[Entry]) -> Iterator[tuple[Head, DueEntry, datetime.date]]:
    """Every limit that has a day, with it, in the order of the days."""
    found = [(entry.head, one, one.until) for entry in having(entries, "due") for one in entry.due if one.until is not None]
    yield from sorted(found, key=lambda each: (each[2], each[0].slug, each[1].id))


def summary(entry: Head, one: DueEntry) -> str:
    """A limit as a calendar names it, in plain words."""
    return f"{entry.build_no}: {one.what} due"


def description(entry: Head, one: DueEntry) -> str:
    """What a calendar says of a limit: the machine, that it is a replica, whose limit, and how it was counted."""
    parts = [
        entry.title,
        f"limit: {one.whose}" if one.whose else "",
        one.action,
        f"counted to {day(entry.revised)}, revision {entry.revision}",
    ]
    return (
        "; ".join(filter(None, parts)) + ". A replica. The dossier itself has the record; what is due sooner by hours or laps stands there."
    )
