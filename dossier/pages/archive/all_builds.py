"""All builds: what each machine is, the moment it copies, its verdicts, and what is open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from urllib.parse import quote

from dossier.model.entry import Entry, Head, having, heads_of
from dossier.model.results import WORST_FIRST
from dossier.pages.archive.many_rows import unsearched
from dossier.pages.archive.over_all import over_all
from dossier.pages.archive.ways import sorted_by, way
from dossier.pages.page import Page
from dossier.pages.parts.numbers import capital, counted, day, esc, in_words, joined
from dossier.pages.parts.tables import Column, Row, Sheet, table
from dossier.pages.parts.verdicts import verdict_words

NOUNS = {"snag": "snag", "conflict": "conflict of evidence", "record": "missing record"}
MOST_MARKED = 100
"""Machines up to which each verdict has its mark: of a thousand they would be half of the sheet."""
_MANY = {"conflict of evidence": "conflicts of evidence"}


@over_all("index", order=10)
def all_builds(entries: Sequence[Entry]) -> list[Page]:
    """The first sheet of an archive."""
    sheet = Sheet()
    sheet.section("All builds")
    columns = [
        Column("Build", "c-no"), Column("Machine"), Column("Copied moment", "c-why"), Column("Class", "c-why"), Column("Completed", "num"),
        Column("Verdicts", "c-verdict"), Column("Open", "c-why"),
    ]  # fmt: skip
    rows = [Row(_cells(one, marked=len(entries) <= MOST_MARKED), f"build-{quote(one.slug)}") for one in having(entries, "items", "open")]
    caption = f"{capital(counted(len(entries), 'dossier'))}, each a set of sheets of its own"
    sheet.add(unsearched(table(caption, columns, rows, css="builds sift")))
    sheet.say("Every machine listed here is a replica. Each dossier opens with its statement and its worst news.", "after")
    lead = f"{capital(counted(len(entries), 'machine'))} built as replicas, each with its dossier."
    heading = f"Archive of {owner_of(heads_of(entries))}"
    return [Page("index", "All builds", sheet.html, heading=heading, lead=lead, sections=tuple(sheet.sections))]


def _cells(one: Entry, marked: bool) -> list[str]:
    class_ = esc(one.class_) or "none stated"
    return [_number(one), _machine(one), _moment(one), class_, str(one.completed), _verdicts(one, marked), _open(one)]


def owner_of(entries: Sequence[Head]) -> str:
    """Whose archive it is: the workshops of its builds."""
    return joined(list(dict.fromkeys(one.workshop for one in entries))) or "the workshop"


def _number(one: Entry) -> str:
    return way(one)


def _machine(one: Entry) -> str:
    draft = " <b>Draft.</b>" if one.draft else ""
    return (
        f"{way(one, text=esc(one.title))}{draft}<br>"
        f'<span class="quiet">{esc(one.statement)} Revision {esc(one.revision)}, {day(one.revised)}</span>'
    )


def _moment(one: Entry) -> str:
    moment = one.copies
    shown = f"{esc(moment.machine)}, {esc(moment.rider)}<br><span class='quiet'>{esc(moment.meeting)}, {day(moment.date)}</span>"
    return sorted_by(moment.date.isoformat(), shown)


def _verdicts(one: Entry, marked: bool) -> str:
    counts = one.counts
    words = {outcome: verdict_words(outcome) if marked else esc(capital(outcome.value)) for outcome in counts}
    lines = [f"{words[outcome]} <b>{counts[outcome]}</b>" for outcome in WORST_FIRST if counts[outcome]]
    if not lines:
        return sorted_by("", "nothing declared")
    # put in order, the machines with the most bad verdicts come first when the worst is asked for
    worst = " ".join(f"{counts[outcome]:04d}" for outcome in WORST_FIRST)
    return sorted_by(worst, "<br>".join([*lines, f'<span class="quiet">of {len(one.items)}</span>']))


def _open(one: Entry) -> str:
    counts = Counter(NOUNS[still.kind] for still in one.open)
    hidden = sum(count for kind, count in one.withheld if kind in ("snags", "conflicts"))
    words = [counted(count, noun, _MANY.get(noun, "")) for noun, count in counts.items()] or ["none shown" if hidden else in_words(0)]
    return sorted_by(len(one.open), esc(", ".join(words)) + (f"; {in_words(hidden)} withheld" if hidden else ""))
