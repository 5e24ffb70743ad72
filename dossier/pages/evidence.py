"""Evidence: the sources, how far each is to be believed and how far from the day, what conflicts, and what was assumed."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.evidence import Conflict, Evidence
from dossier.pages.page import Page, page
from dossier.pages.parts import pictures
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.links import ids, link, linked
from dossier.pages.parts.numbers import capital, counted, day, door, esc, joined
from dossier.pages.parts.tables import Column, Row, Sheet, particulars, table

RELIABILITY = {
    "A": "completely reliable", "B": "usually reliable", "C": "fairly reliable", "D": "not usually reliable", "E": "unreliable",
    "F": "reliability cannot be judged",
}  # fmt: skip
CREDIBILITY = {
    "1": "confirmed by other sources", "2": "probably true", "3": "possibly true", "4": "doubtful", "5": "improbable",
    "6": "truth cannot be judged",
}  # fmt: skip
SUBJECT = {
    "this machine": "this machine", "sister machine": "a sister machine", "type": "the model in general", "general practice": "general practice",
}  # fmt: skip
PLOTTED = {"this machine": "this", "sister machine": "sister", "type": "type", "general practice": "type"}


@page("evidence", order=40)
def evidence(edition: Edition) -> Page | None:
    """Sources, conflicts, assumptions; none without a source."""
    records = edition.build.evidence
    if not records.evidence:
        return None
    sheet = Sheet()
    _timeline(edition, sheet)
    if records.conflicts:
        sheet.section("Where sources disagree", "conflicts")
        for conflict in sorted(records.conflicts, key=lambda one: one.status != "open"):
            sheet.add(_conflict(edition, conflict))
    sheet.section("Sources")
    sheet.add(_sources(edition))
    sheet.say(_scheme(), "quiet")
    _independence(edition, sheet)
    _assumptions(edition, sheet)
    order = records.resolution_order or (edition.build.workshop.house_rules.evidence_order if edition.build.workshop.house_rules else ())
    if order:
        sheet.section("Which source wins", "order")
        sheet.say(
            "In this order, the source nearest to the day first within a rank (common practice, no source): " + esc("; ".join(order)) + "."
        )
    _scans(edition, sheet)
    lead = f"{capital(counted(len(records.evidence), 'source'))}: what each shows, of what it speaks, how far from the day, and what it was used for."
    return Page("evidence", "Evidence", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _assumptions(edition: Edition, sheet: Sheet) -> None:
    records = edition.build.evidence.assumptions
    if not records:
        return
    sheet.section("Assumed, for want of evidence", "assumptions")
    columns = [Column("No.", "c-no"), Column("Assumed"), Column("Why", "c-why"), Column("Item", "c-ev"), Column("Can be undone", "c-why", "Undone")]
    rows = [
        Row([esc(one.id), linked(edition, one.assumed), linked(edition, one.why), link(edition, one.item or ""), _yes(one.reversible)], one.id)
        for one in records
    ]
    sheet.add(table("What was assumed where no evidence exists", columns, rows))


def _yes(value: bool | None) -> str:
    return "" if value is None else "yes" if value else "no"


def _timeline(edition: Edition, sheet: Sheet) -> None:
    from dossier.pages.parts.plots.evidence import EvidenceTimeline, Source, evidence_timeline

    dated = [one for one in edition.build.evidence.evidence if one.shows is not None]
    if len(dated) < 2:
        return
    moment = edition.build.machine.reference.date
    sources = tuple(Source(one.id, one.title, one.shows, PLOTTED[one.subject]) for one in dated)  # type: ignore[arg-type]
    sheet.section("Distance from the day", "distance")
    drawings = evidence_timeline(EvidenceTimeline(sources, moment), stamp(edition))
    sheet.add(
        plot_figure(drawings, f"Each source by the day it shows, against the day copied, {day(moment)}. Undated sources are left out.")
    )


def _conflict(edition: Edition, one: Conflict) -> str:
    state = f"resolved {day(one.date)}" + (f" by {esc(one.by)}" if one.by else "") if one.status == "resolved" else "<b>open</b>"
    rows = [
        ("Between", ids(edition, one.between)),
        ("Item", link(edition, one.item)),
        ("Resolution", linked(edition, one.resolution)),
        ("Built meanwhile", linked(edition, one.meanwhile)),
        ("Would change it", linked(edition, one.would_change)),
    ]
    shown = particulars(rows)
    return (
        f'<section class="conflict" id="{esc(one.id)}"><h3>{esc(one.id)} {linked(edition, one.what)}</h3>'
        f'<p class="state">{capital(state) if state.startswith("r") else state}</p>{shown}</section>'
    )


def _sources(edition: Edition) -> str:
    used = {id for item in edition.build.specification.items for id in item.evidence}
    columns = [
        Column("No.", "c-no"),
        Column("Source"),
        Column("What it says", "c-why", "Says"),
        Column("Shows", "c-dec"),
        Column("Days from the day", "num", "Distance"),
        Column("Believed", "c-why"),
        Column("Used for", "c-ev"),
    ]
    rows = [_source(edition, one, one.id in used) for one in edition.build.evidence.evidence]
    return table("Each source, its reliability (A to F) and the credibility of what it says (1 to 6)", columns, rows, css="sources")


def _source(edition: Edition, one: Evidence, used: bool) -> Row:
    items = [item.id for item in edition.build.specification.items if one.id in item.evidence]
    conflicts = [conflict.id for conflict in edition.build.evidence.conflicts if one.id in conflict.between]
    use = ids(edition, (*items, *conflicts)) or '<span class="quiet">not used</span>'
    distance = edition.figure("evidence_distance", one.id)
    copied = f'<br><span class="quiet">copied from {link(edition, one.derived_from)}</span>' if one.derived_from else ""
    what = f'{esc(one.title)}<br><span class="quiet">{esc(capital(one.kind))}; speaks of {SUBJECT[one.subject]}</span>{copied}'
    words = f"{RELIABILITY[one.reliability]}; {CREDIBILITY[one.credibility]}"
    believed = f'<span class="nw">{one.reliability}{one.credibility}</span><br><span class="quiet">{words}</span>'
    return Row(
        [one.id, what, f"“{linked(edition, one.says)}”", day(one.shows), door(distance) if distance else "", believed, use], id=one.id
    )


def _scheme() -> str:
    return (
        "Reliability of the source and credibility of what it says are two things. The letters and figures are those of an open published scheme "
        "(the Admiralty code, as described at en.wikipedia.org/wiki/Admiralty_code); the words stand beside them."
    )


def _independence(edition: Edition, sheet: Sheet) -> None:
    one_source = [verdict.item for verdict in edition.verdicts if verdict.independent_sources == 1]
    unused = [
        one.id for one in edition.build.evidence.evidence if not any(one.id in item.evidence for item in edition.build.specification.items)
    ]
    in_conflict = {id for conflict in edition.build.evidence.conflicts for id in conflict.between}
    unused = [id for id in unused if id not in in_conflict]
    sentences = []
    if one_source:
        sentences.append(f"{capital(counted(len(one_source), 'item'))} of {len(edition.verdicts)} rest on one independent source alone")
    if unused:
        sentences.append(f"Not used for any item: {joined([link(edition, id) for id in unused])}")
    if sentences:
        sheet.say(". ".join(sentences) + ". Two papers that copy one sheet are one source.", "after")


def _scans(edition: Edition, sheet: Sheet) -> None:
    found = [photo for one in edition.build.evidence.evidence for photo in pictures.photos_of(edition, one.id)]
    unique = list({photo.id: photo for photo in found}.values())
    if unique:
        sheet.section("Scans and prints", "scans")
        sheet.add('<div class="three wide">' + "".join(pictures.figure(edition, photo) for photo in unique) + "</div>")
