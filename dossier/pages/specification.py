"""Declared specification: every numbered characteristic, how closely it was declared, on what evidence, and the verdict."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.specification import Item
from dossier.model.results import Outcome, Verdict
from dossier.pages.page import Page, page
from dossier.pages.parts.deviation import deviation_figure
from dossier.pages.parts.links import ids, linked
from dossier.pages.parts.numbers import capital, day, esc, in_words, limits_text, places, written
from dossier.pages.parts.tables import Column, Row, Sheet, table
from dossier.pages.parts.verdicts import readings_cell, verdict_cell

COLUMNS = (
    Column("No.", "c-no"), Column("Characteristic"), Column("Declared", "c-dec"), Column("Tolerance and its basis", "c-tol", "Tolerance"),
    Column("Evidence", "c-ev"), Column("As built, with U", "c-built", "As built"), Column("Verdict", "c-verdict"),
)  # fmt: skip


@page("specification", order=30)
def specification(edition: Edition) -> Page | None:
    """All declared items with their verdicts; none without items."""
    items = edition.build.specification.items
    if not items:
        return None
    sheet = Sheet()
    chart = deviation_figure(edition)
    if chart:
        sheet.section("Place in tolerance")
        sheet.add(chart)
    sheet.section(f"Characteristics {items[0].id} to {items[-1].id}", "characteristics")
    sheet.add(table(_caption(edition), COLUMNS, [_row(edition, item) for item in items], css="spec"))
    sheet.say(_rule_words(edition), "after")
    lead = (
        f"{capital(in_words(len(items)))} numbered characteristics: what was declared, how closely, on what evidence, "
        "what was measured, and the verdict."
    )
    return Page("specification", "Declared specification", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _caption(edition: Edition) -> str:
    frozen = next((one for one in edition.build.custody.revisions if one.frozen == "specification"), None)
    declared = f"Declared at revision {frozen.rev} (frozen {day(frozen.date)}), judged" if frozen else "Judged"
    over = "An agreement is laid over the raw verdict, never in its place."
    return f"{declared} at revision {edition.revision}. The worst reading decides. {over}"


def _rule_words(edition: Edition) -> str:
    rules = dict.fromkeys(
        (verdict.rule, verdict.source) for verdict in edition.verdicts if verdict.lower is not None or verdict.upper is not None
    )
    lines = [f"{esc(capital(rule))} <span class='quiet'>{esc(source)}</span>" for rule, source in rules]
    return "<b>Decision rule.</b> " + " ".join(lines) if lines else ""


def _row(edition: Edition, item: Item) -> Row:
    verdict = edition.verdict(item.id)
    decimals = decimals_of(item)
    safety = ' <span class="quiet">safety</span>' if item.safety else ""
    evidence = ids(edition, item.evidence)
    alone = verdict is not None and verdict.independent_sources == 1 and len(item.evidence) > 1
    one_source = '<br><span class="quiet">its sources are one and the same</span>' if alone else ""
    built = readings_cell(edition, verdict, decimals) if verdict else "–"
    cells = [
        item.id, f"{esc(item.title)}{safety}{one_source}", _declared(edition, item, verdict), _tolerance(item, verdict), evidence or "none",
        built, verdict_cell(edition, verdict) if verdict else "",
    ]  # fmt: skip
    return Row(cells, id=item.id, css=f"v-row-{verdict.outcome.value.replace(' ', '-')}" if verdict else "")


def decimals_of(item: Item) -> int:
    """Digits after the point in which an item is printed: those of its limits or its nominal."""
    limits = item.limits or (item.declared.limits if item.declared else None)
    found = [places(side) for side in (limits.lower, limits.upper) if side is not None] if limits else []
    if item.declared and item.declared.nominal:
        found.append(item.declared.nominal.decimals)
    return max(found, default=0)


def _declared(edition: Edition, item: Item, verdict: Verdict | None) -> str:
    if verdict is not None and verdict.raw is Outcome.CONFLICTING:
        return "open"
    if item.declared is None:
        return "–"
    if item.kind == "numeric" and item.declared.nominal is not None:
        return written(item.declared.nominal)
    return linked(edition, item.declared.text)


def _tolerance(item: Item, verdict: Verdict | None) -> str:
    limits = item.limits or (item.declared.limits if item.declared else None)
    if limits is not None:
        basis = f'<br><span class="quiet">{esc(item.basis)}</span>' if item.basis else ""
        return limits_text(limits) + basis
    if verdict is not None and verdict.raw is Outcome.CONFLICTING:
        return "open"
    return "none" if item.kind == "numeric" else "equal"
