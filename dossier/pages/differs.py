"""What differs: every characteristic that is not as declared, with the agreement laid over it and what it would take to undo."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.specification import Concession
from dossier.model.results import WORST_FIRST, Outcome, Verdict
from dossier.pages.page import Page, page
from dossier.pages.parts import pictures
from dossier.pages.parts.cautions import caution
from dossier.pages.parts.left_out import left_out
from dossier.pages.parts.links import link, linked
from dossier.pages.parts.numbers import capital, counted, day, door, esc, figure_value, in_words, joined
from dossier.pages.parts.tables import Column, Row, Sheet, particulars, table
from dossier.pages.parts.verdicts import declared_limits, readings_cell, unproven_words, verdict_words
from dossier.pages.parts.workings import title
from dossier.pages.specification import decimals_of


@page("differs", order=20)
def differs(edition: Edition) -> Page | None:
    """Deviations by outcome, then the agreements in full, then what-if blocks; none where all conforms."""
    apart = [one for one in edition.verdicts if one.outcome not in (Outcome.CONFORMS, Outcome.WITHDRAWN)]
    concessions = edition.build.specification.concessions
    if not apart and not concessions and not edition.what_if:
        return None
    sheet = Sheet()
    for outcome in WORST_FIRST:
        some = [one for one in apart if one.outcome is outcome]
        if some:
            sheet.section(capital(outcome.value))
            sheet.add(_table(edition, outcome, some))
    if concessions:
        sheet.section("Agreements in full")
        sheet.say("An agreement is laid over a verdict and never takes its place. It holds within its limit and lapses beyond it.")
        for one in concessions:
            sheet.add(_agreement(edition, one))
    _what_if(edition, sheet)
    hidden = left_out(edition, "items")
    if hidden:
        sheet.say(f"Declared characteristics {hidden}.", "after")
    lead = f"{capital(counted(len(apart), 'characteristic'))} not shown to be as declared, worst first, and who agreed to what."
    return Page("differs", "What differs", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _table(edition: Edition, outcome: Outcome, some: list[Verdict]) -> str:
    items = {item.id: item for item in edition.build.specification.items}
    columns = [
        Column("No.", "c-no"),
        Column("Characteristic"),
        Column("Declared", "c-dec"),
        Column("As built", "c-built"),
        Column("What is said about it", "c-why", "Said"),
    ]
    rows = []
    for verdict in sorted(some, key=lambda one: not one.safety):
        item = items.get(verdict.item)
        if item is None:
            continue
        places = decimals_of(item)
        declared = item.declared.text if item.declared else "open"
        limits = declared_limits(verdict, places)
        shown = esc(declared) + (f'<br><span class="quiet">{limits}</span>' if limits else "")
        said = linked(edition, verdict.says)
        if verdict.safety and not verdict.says.startswith("Safety"):
            said = f"<b>Safety item.</b> {said}"
        if item.plan:
            said += f"<br>Planned: {linked(edition, item.plan)}"
        said += unproven_words(edition, verdict)
        if verdict.lapsed:
            said += f"<br><b>Agreement lapsed:</b> {linked(edition, verdict.lapsed)}"
        rows.append(Row([link(edition, item.id), esc(item.title), shown, readings_cell(edition, verdict, places), said]))
    return table(f"{capital(counted(len(rows), 'characteristic'))}: {outcome.value}", columns, rows, css="spec differs")


def _agreement(edition: Edition, one: Concession) -> str:
    verdict = edition.verdict(one.item)
    raw = f"{verdict_words(verdict.raw)}" if verdict else ""
    rows = [
        ("On", f"{link(edition, one.item)}{' ' + raw if raw else ''}"),
        ("Reason", linked(edition, one.reason)),
        ("Holds while", linked(edition, one.limit)),
        ("Agreed by", esc(joined(list(one.agreed_by))) + (f", asked for by {esc(one.asked_by)}" if one.asked_by else "")),
        ("Date, revision", f"{day(one.date)}, revision {esc(one.revision)}"),
        ("Can it be undone", ("yes" if one.reversible else "no") + (f": {linked(edition, one.undo)}" if one.undo else "")),
        ("Safety item", ("yes; " + (linked(edition, one.opinion) or "no opinion on file")) if one.safety else "no"),
    ]
    if verdict is not None and verdict.concession != one.id:
        rows.append(("State", f"<b>does not hold</b>: {linked(edition, verdict.lapsed) or 'nothing to lay it over'}"))
    shown = particulars(rows)
    photo = "".join(pictures.figure(edition, found) for found in pictures.photos_of(edition, one.item)[:1])
    brake = caution("drum brakes") if one.safety and "brake" in (verdict.title.lower() if verdict else "") else ""
    words = f'<section class="agreement" id="{esc(one.id)}"><h3>{esc(one.id)} {esc(capital(one.kind))}</h3>{shown}{brake}</section>'
    return f'<div class="two wide">{words}<section>{photo}</section></div>' if photo else words


def _what_if(edition: Edition, sheet: Sheet) -> None:
    blocks = {one.id: one for one in edition.build.measurements.what_if}
    for id, changed in edition.what_if:
        block = blocks.get(id)
        if block is None or not changed:
            continue
        sheet.section(f"What if: {block.title}", f"what-if-{id.lower()}")
        if block.why:
            sheet.say(f"{capital(linked(edition, block.why.rstrip('.')))}.")
        columns = [Column("Figure"), Column("As built", "num"), Column("With this", "num"), Column("Look again", "c-why")]
        rows = []
        for one in changed:
            now = next((figure for figure in edition.worked if figure.id == one.id and figure.role is one.role), None)
            warned = "; ".join(warning.text for warning in one.warnings)
            rows.append(Row([esc(title(one)), door(now), figure_value(one), esc(warned)]))
        caption = f"{capital(in_words(len(rows)))} figures change. Nothing declared is touched"
        sheet.add(table(caption, columns, rows, css="whatif"))
