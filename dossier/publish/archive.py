"""The archive over several builds: one light site whose page leads to the dossiers, each a site of its own."""

from __future__ import annotations

import tempfile
from collections import Counter
from collections.abc import Sequence
from pathlib import Path

from dossier.model.edition import Edition
from dossier.model.results import WORST_FIRST
from dossier.pages.page import Page
from dossier.pages.parts.numbers import capital, counted, day, esc, in_words
from dossier.pages.parts.tables import Column, Row, Sheet, table
from dossier.pages.parts.verdicts import verdict_words
from dossier.publish.dossier import build_pages, epoch_of
from dossier.publish.staging import SiteFacts


def publish_archive(editions: Sequence[Edition], out: Path) -> None:
    """Make the archive's own pages in `out` (empty or absent); each dossier is expected in a folder named by its slug."""
    with tempfile.TemporaryDirectory(prefix="dossier-") as aside:
        build_pages([all_builds(editions)], _facts(editions), {}, out, Path(aside))


def all_builds(editions: Sequence[Edition]) -> Page:
    """The page that lists every build: what it is, the moment it copies, verdicts, what is open."""
    sheet = Sheet()
    sheet.section("All builds")
    columns = [
        Column("Build", "c-no"),
        Column("Machine"),
        Column("Copied moment", "c-why"),
        Column("Verdicts", "c-verdict"),
        Column("Open", "c-why"),
    ]
    rows = [Row([_build(one), _machine(one), _moment(one), _verdicts(one), _open(one)], id=one.build.slug) for one in editions]
    sheet.add(table(f"{capital(counted(len(editions), 'dossier'))}, each a set of sheets of its own", columns, rows, css="builds"))
    sheet.say("Every machine listed here is a replica. Each dossier opens with its statement and its worst news.", "after")
    lead = f"{capital(counted(len(editions), 'machine'))} built as replicas, each with its dossier."
    return Page("index", "All builds", sheet.html, heading=f"Archive of {_workshop(editions)}", lead=lead, sections=tuple(sheet.sections))


def _workshop(editions: Sequence[Edition]) -> str:
    return editions[0].build.workshop.name if editions else "the workshop"


def _build(one: Edition) -> str:
    return f'<a href="{esc(one.build.slug)}/index.html"><span class="nw">{esc(one.build.machine.build_no)}</span></a>'


def _machine(one: Edition) -> str:
    machine = one.build.machine
    draft = " <b>Draft.</b>" if one.draft else ""
    return (
        f'<a href="{esc(one.build.slug)}/index.html">{esc(machine.title)}</a>{draft}<br>'
        f'<span class="quiet">{esc(capital(machine.this_machine_is))}. Revision {esc(one.revision)}, {day(one.revised)}</span>'
    )


def _moment(one: Edition) -> str:
    moment = one.build.machine.reference
    return f"{esc(moment.machine)}, {esc(moment.rider)}<br><span class='quiet'>{esc(moment.meeting)}, {day(moment.date)}</span>"


def _verdicts(one: Edition) -> str:
    counts = Counter(verdict.outcome for verdict in one.verdicts)
    lines = [f"{verdict_words(outcome)} <b>{counts[outcome]}</b>" for outcome in WORST_FIRST if counts[outcome]]
    return "<br>".join([*lines, f'<span class="quiet">of {len(one.verdicts)}</span>']) if lines else "nothing declared"


def _open(one: Edition) -> str:
    snags = sum(snag.open for snag in one.build.running.snags)
    conflicts = sum(conflict.status == "open" for conflict in one.build.evidence.conflicts)
    words = [counted(snags, "snag")] if snags else []
    words += [counted(conflicts, "conflict")] if conflicts else []
    return esc(", ".join(words)) or in_words(0)


def _facts(editions: Sequence[Edition]) -> SiteFacts:
    latest = max(editions, key=lambda one: one.revised)
    notices = dict.fromkeys(one.build.machine.notice for one in editions if one.build.machine.notice)
    return SiteFacts(
        title=f"Archive of {_workshop(editions)}", short="All builds", build="", builder=_workshop(editions),
        edition=latest.audience.word.capitalize(), revision="", revised=day(latest.revised), notice=" ".join(notices), epoch=epoch_of(latest),
    )  # fmt: skip
