"""Evidence across builds: one source used in several dossiers, and what rests on it in each."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence

from dossier.model.entry import Entry, Head, SourceEntry, having, heads_of
from dossier.pages.archive.many_rows import Long, on_sheets
from dossier.pages.archive.over_all import over_all
from dossier.pages.archive.ways import dated, quiet, sorted_by, way, withheld
from dossier.pages.page import Page
from dossier.pages.parts.numbers import capital, counted, esc, in_words
from dossier.pages.parts.tables import Column, Row

NAMED = 40
"""Dossiers named in one row; a source that more use goes on in further rows."""
Used = tuple[Head, SourceEntry]
SAME = (
    "Sources are taken as one where kind and title are written alike, capitals and blanks apart; one source under two titles is not found. A source "
    "used in several dossiers is still one source: what it has wrong is wrong in all of them."
)


@over_all("evidence-across", order=60)
def evidence_across(entries: Sequence[Entry]) -> list[Page]:
    """Sources that two dossiers or more name, then all others; none without a source."""
    found: defaultdict[tuple[str, str], list[Used]] = defaultdict(list)
    for entry in having(entries, "sources"):
        for one in entry.sources:
            found[one.kind, " ".join(one.title.casefold().split())].append((entry.head, one))
    uses = sorted(found.values(), key=lambda used: (-_dossiers(used), used[0][1].title.casefold()))
    shared = [row for used in uses if _dossiers(used) > 1 for row in _rows(used)]
    alone = [row for used in uses if _dossiers(used) == 1 for row in _rows(used)]
    count = sum(_dossiers(used) > 1 for used in uses)
    columns = [Column("Source"), Column("Shows", "c-dec"), Column("Dossiers", "num"), Column("Used in", "c-why", "Used")]
    tables = [
        Long("In several dossiers", f"{capital(counted(count, 'source'))} used in more than one dossier", columns, shared, "across"),
        Long("In one dossier", f"{capital(counted(len(uses) - count, 'source'))} used in one dossier alone", columns, alone, "across"),
    ]
    said = f"{capital(counted(count, 'source')) if count else 'No source'} of {in_words(len(uses))} used in more than one dossier."
    foreword = f"{said} {SAME} {withheld(heads_of(entries), 'evidence')}".strip()
    lead = "One source used in several dossiers, and what rests on it in each."
    return on_sheets("evidence-across", "Evidence across builds", lead, tables, foreword)


def _dossiers(used: Sequence[Used]) -> int:
    return len({entry.slug for entry, _ in used})


def _rows(used: Sequence[Used]) -> list[Row]:
    first = used[0][1]
    rows = []
    for n in range(0, len(used), NAMED):
        title = f"{esc(first.title)}<br>{quiet(esc(capital(first.kind)) + (' (continued)' if n else ''))}"
        uses = "<br>".join(_use(entry, one) for entry, one in used[n : n + NAMED])
        rows.append(Row([title, dated(first.shows), sorted_by(_dossiers(used), str(_dossiers(used))), uses]))
    return rows


def _use(entry: Head, one: SourceEntry) -> str:
    items = ", ".join(way(entry, "specification", item, f'<span class="nw">{esc(item)}</span>') for item in one.items)
    conflicts = ", ".join(way(entry, "evidence", conflict, f'<span class="nw">{esc(conflict)}</span>') for conflict in one.conflicts)
    words = [
        f"items {items}" if items else "",
        f"in conflict {conflicts}" if conflicts else "",
        "" if items or conflicts else "not used for an item",
    ]
    believed = f", believed {esc(one.believed)}" if one.believed else ""
    source = way(entry, "evidence", one.id, f'<span class="nw">{esc(entry.build_no)}</span> {esc(one.id)}')
    return f"{source}{believed}: {'; '.join(filter(None, words))}"
