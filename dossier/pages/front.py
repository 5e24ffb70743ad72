"""Front sheet: that this is a replica, the worst news first, then verdict counts, key figures, what is due, and where to read on."""

from __future__ import annotations

from collections import Counter

from dossier.model.edition import Edition
from dossier.model.forms.machine import Machine
from dossier.model.results import WORST_FIRST, Outcome, Verdict, Worked
from dossier.pages.page import Page, page
from dossier.pages.parts import pictures
from dossier.pages.parts.due import due_table, overdue
from dossier.pages.parts.left_out import left_out, none_of
from dossier.pages.parts.links import link, linked
from dossier.pages.parts.numbers import capital, counted, day, door, esc, figure_value, in_words, joined
from dossier.pages.parts.tables import Column, Row, Sheet, particulars, table
from dossier.pages.parts.verdicts import concession_of, declared_limits, readings_cell, unproven_words, verdict_words
from dossier.pages.parts.workings import title
from dossier.pages.specification import decimals_of

KEY_FIGURES = (
    "swept_volume", "headroom", "compression_ratio", "peak_power", "corrected_peak_power", "mass", "front_weight_share", "trail",
    "period_mass_share", "running_hours", "track_distance",
)  # fmt: skip
READERS = (
    ("Buyer’s expert", "Is it honest, what is old, what is wrong", ("differs", "parts", "snags", "custody", "evidence")),
    ("Owner in the paddock", "Pressures, jets, gearing, what is due", ("set-up", "drive-line", "care", "snags")),
    ("Workshop in five years", "What was fitted, how it was measured", ("parts", "work", "engine", "figures")),
    ("Scrutineer", "Capacity, brakes, wheels and their tests, tyres", ("engine", "work", "care", "specification")),
    ("Insurer, historian", "Photographs, sources, what was guessed", ("photographs", "evidence", "custody", "about")),
)
SHEET_NAMES = {
    "differs": "What differs", "parts": "Parts and origin", "snags": "Snags", "custody": "Custody", "evidence": "Evidence",
    "set-up": "Set-up sheet", "drive-line": "Drive line", "care": "Care and due dates", "work": "Work record", "engine": "Engine",
    "figures": "Figures", "specification": "Declared specification", "photographs": "Photographs", "about": "About this dossier",
}  # fmt: skip


@page("index", order=10)
def front(edition: Edition) -> Page | None:
    """The first sheet of every dossier."""
    machine = edition.build.machine
    sheet = Sheet()
    sheet.add(_opening(edition, machine))
    _worst(edition, sheet)
    _counts_and_figures(edition, sheet)
    _due(edition, sheet)
    _where_to_read(edition, sheet)
    return Page("index", "Front sheet", sheet.html, heading=machine.title, kind="front", sections=tuple(sheet.sections))


def _opening(edition: Edition, machine: Machine) -> str:
    moment = machine.reference
    number = f", number {moment.race_number}" if moment.race_number else ""
    fate = linked(edition, moment.original_fate)
    plate = machine.plate
    rows = [
        ("What it is", esc(machine.this_machine_is)),
        ("Not claimed", linked(edition, machine.not_claimed)),
        ("Copied moment", f"{esc(moment.machine)}, rider {esc(moment.rider)}{number}, {esc(moment.meeting)}, {day(moment.date)}"),
        ("The original", fate),
        ("Builder’s plate", f"{esc(plate.text)}, {esc(plate.where)}" if plate else ""),
        (
            "Road legal",
            f"{machine.use.road_legal.value}; {esc(joined(list(machine.use.intended)))}"
            if machine.use.intended
            else machine.use.road_legal.value,
        ),
        ("Not known", esc("; ".join(moment.not_known))),
    ]
    facts = particulars(rows)
    draft = _draft(edition)
    hero = pictures.photo(edition, machine.hero)
    picture = pictures.pointed(edition, hero, css="hero", sizes="(min-width: 64em) 40rem, 92vw", eager=True) if hero else ""
    said = f"<p>{esc(machine.statement)}</p>"
    return f'<div class="front-top wide"><div class="statement">{said}{draft}{facts}</div>{picture}</div>'


def _draft(edition: Edition) -> str:
    if not edition.draft:
        return ""
    return f'<p class="draft"><b>Draft.</b> Still missing: {esc(joined(list(edition.missing_records)))}.</p>'


def _worst(edition: Edition, sheet: Sheet) -> None:
    bad = [verdict for verdict in edition.verdicts if verdict.outcome not in (Outcome.CONFORMS, Outcome.WITHDRAWN)]
    bad.sort(key=lambda verdict: (WORST_FIRST.index(_as_shown(verdict)), not verdict.safety))
    sheet.section("What is not right, worst first", "what-is-not-right")
    items = {item.id: item for item in edition.build.specification.items}
    columns = [
        Column("Verdict", "c-verdict"), Column("Characteristic"), Column("As built", "c-found"), Column("What is said about it", "c-why"),
    ]  # fmt: skip
    rows = []
    for verdict in bad:
        item = items.get(verdict.item)
        if item is not None:
            places = decimals_of(item)
            declared = declared_limits(verdict, places) or (item.declared.text if item.declared else "value open")
            found = f'{readings_cell(edition, verdict, places)}<br><span class="quiet">declared {esc(declared)}</span>'
            what = link(edition, item.id, f"<b>{esc(item.id)}</b> {esc(item.title)}")
            rows.append(Row([verdict_words(verdict.outcome), what, found, _said(edition, verdict)]))
    count = len([verdict for verdict in edition.verdicts if verdict.raw is not Outcome.WITHDRAWN])
    if rows:
        caption = f"{capital(in_words(len(rows)))} of {in_words(count)} declared characteristics, at revision {edition.revision}"
        sheet.add(table(caption, columns, rows, css="worst"))
    else:
        sheet.say(
            f"All {in_words(count)} declared characteristics conform at revision {edition.revision}."
            if count
            else "Nothing is declared yet."
        )
    sheet.say(_in_one_sentence(edition), "after")


def _as_shown(verdict: Verdict) -> Outcome:
    """A safety item that cannot be decided is listed like one that does not conform."""
    return Outcome.FAILS if verdict.safety and verdict.outcome is Outcome.UNDECIDED else verdict.outcome


def _said(edition: Edition, verdict: Verdict) -> str:
    safety = "<b>Safety item.</b> " if verdict.safety and not verdict.says.startswith("Safety") else ""
    concession = concession_of(edition, verdict)
    if concession is None:
        return safety + linked(edition, verdict.says)
    safety = "<b>Safety item.</b> " if verdict.safety else ""
    undone = "Can be undone." if concession.reversible else "Cannot be undone."
    undone += unproven_words(edition, verdict)
    return f"{safety}{link(edition, concession.id)}, {day(concession.date)}: {linked(edition, concession.limit)}. {undone}"


def _in_one_sentence(edition: Edition) -> str:
    snags = edition.build.running.snags
    still = [snag for snag in snags if snag.open]
    closed = len(snags) - len(still)
    open_words = ", ".join(link(edition, snag.id) for snag in still) or none_of(edition, "snags")
    sentences = [
        f"Open snags: <b>{open_words}</b>" + (f'; <a href="snags.html">{counted(closed, "snag")} found and closed</a>' if closed else "")
    ]
    late = overdue(edition)
    sentences.append(f"Past due on {day(edition.revised)}: <b>{esc(joined(late)) or none_of(edition, 'lifed', 'nothing')}</b>")
    open_conflicts = [one for one in edition.build.evidence.conflicts if one.status == "open"]
    if open_conflicts:
        sentences.append(f"Evidence still in conflict: {', '.join(link(edition, one.id) for one in open_conflicts)}")
    coverage = edition.figure("ledger_coverage")
    if coverage is not None and coverage.value is not None:
        sentences.append(
            f'Parts in the mass ledger make up {door(coverage)} of the weighed machine; <a href="mass.html">the rest is not itemised</a>'
        )
    return ". ".join(sentences) + "."


def _counts_and_figures(edition: Edition, sheet: Sheet) -> None:
    if not edition.verdicts:
        return
    counts = Counter(verdict.outcome for verdict in edition.verdicts)
    columns = [Column("Verdict", "c-verdict"), Column("Items", "num")]
    rows = []
    for outcome in WORST_FIRST:
        first = next((verdict for verdict in edition.verdicts if verdict.outcome is outcome), None)
        if first is not None:
            address = f"specification.html#{first.item}"
            rows.append(Row([f'<a href="{esc(address)}">{verdict_words(outcome)}</a>', str(counts[outcome])]))
    hidden = left_out(edition, "items")
    caption = f"{capital(in_words(len(edition.verdicts)))} declared characteristics judged against revision {edition.revision}"
    caption += f"; {hidden}" if hidden else ""
    left = sheet.heading("Verdicts") + table(
        caption, columns, rows, kind="plain", css="counts", foot=["In all", str(len(edition.verdicts))]
    )
    right = _key_figures(edition, sheet)
    sheet.add(f'<div class="two wide"><section>{left}</section><section>{right}</section></div>' if right else left)


def _key_figures(edition: Edition, sheet: Sheet) -> str:
    shown: list[Worked] = []
    for name in KEY_FIGURES:
        shown += [one for one in edition.figures(name) if one.value is not None][-4:]
    if not shown:
        return ""
    rows = [Row([esc(title(one) + _taken_at(edition, one)), door(one, figure_value(one))]) for one in shown]
    columns = [Column("Figure"), Column("Value", "num")]
    return sheet.heading("Key figures") + table("Each figure leads to its working", columns, rows, kind="plain", css="keyfig")


def _taken_at(edition: Edition, one: Worked) -> str:
    """Where on the machine a power was taken: at the wheel it is another number than at the crankshaft."""
    run = dict(one.tags).get("run")
    return next((f", at the {found.at}" for found in edition.build.running.dyno if found.id == run), "")


def _due(edition: Edition, sheet: Sheet) -> None:
    due = due_table(edition, limit=6)
    if due:
        sheet.section("What is due")
        sheet.add(due)


def _where_to_read(edition: Edition, sheet: Sheet) -> None:
    columns = [Column("Reader"), Column("Looks for", "c-why"), Column("Sheets", "c-sheets")]
    rows = []
    for reader, looks, sheets in READERS:
        ways = ", ".join(f'<a href="{slug}.html">{SHEET_NAMES[slug]}</a>' for slug in sheets if slug in edition.sheets)
        if ways:
            rows.append(Row([esc(reader), esc(looks), ways]))
    if rows:
        sheet.section("Where to read on")
        sheet.add(table("Readers and their sheets in order", columns, rows, css="paths"))
