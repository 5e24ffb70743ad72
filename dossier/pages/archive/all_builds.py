"""All builds: what each machine is, the moment it copies, its verdicts, and what is open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from dossier.model.entry import Entry
from dossier.model.results import WORST_FIRST
from dossier.pages.archive.over_all import over_all
from dossier.pages.page import Page
from dossier.pages.parts.numbers import capital, counted, day, esc, in_words, joined
from dossier.pages.parts.tables import Column, Row, Sheet, table
from dossier.pages.parts.verdicts import verdict_words

NOUNS = {"snag": "snag", "conflict": "conflict of evidence", "record": "missing record"}
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
    rows = [
        Row(
            [_number(one), _machine(one), _moment(one), esc(one.class_) or "none stated", str(one.completed), _verdicts(one), _open(one)],
            one.slug,
        )
        for one in entries
    ]
    sheet.add(table(f"{capital(counted(len(entries), 'dossier'))}, each a set of sheets of its own", columns, rows, css="builds"))
    sheet.say("Every machine listed here is a replica. Each dossier opens with its statement and its worst news.", "after")
    lead = f"{capital(counted(len(entries), 'machine'))} built as replicas, each with its dossier."
    return [Page("index", "All builds", sheet.html, heading=f"Archive of {owner_of(entries)}", lead=lead, sections=tuple(sheet.sections))]


def owner_of(entries: Sequence[Entry]) -> str:
    """Whose archive it is: the workshops of its builds."""
    return joined(list(dict.fromkeys(one.workshop for one in entries))) or "the workshop"


def _number(one: Entry) -> str:
    return f'<a href="{esc(one.slug)}/index.html"><span class="nw">{esc(one.build_no)}</span></a>'


def _machine(one: Entry) -> str:
    draft = " <b>Draft.</b>" if one.draft else ""
    return (
        f'<a href="{esc(one.slug)}/index.html">{esc(one.title)}</a>{draft}<br>'
        f'<span class="quiet">{esc(one.statement)} Revision {esc(one.revision)}, {day(one.revised)}</span>'
    )


def _moment(one: Entry) -> str:
    return f"{esc(one.copies.machine)}, {esc(one.copies.rider)}<br><span class='quiet'>{esc(one.copies.meeting)}, {day(one.copies.date)}</span>"


def _verdicts(one: Entry) -> str:
    counts = one.counts
    lines = [f"{verdict_words(outcome)} <b>{counts[outcome]}</b>" for outcome in WORST_FIRST if counts[outcome]]
    return "<br>".join([*lines, f'<span class="quiet">of {len(one.items)}</span>']) if lines else "nothing declared"


def _open(one: Entry) -> str:
    counts = Counter(NOUNS[still.kind] for still in one.open)
    return esc(", ".join(counted(count, noun, _MANY.get(noun, "")) for noun, count in counts.items())) or in_words(0)
