"""Custody: who held the machine, number-bearing parts, statements, papers, hours and revisions."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.custody import Holder
from dossier.pages.page import Page, page
from dossier.pages.parts import pictures
from dossier.pages.parts.cautions import cautions_for
from dossier.pages.parts.links import linked
from dossier.pages.parts.numbers import capital, counted, day, door, esc, written
from dossier.pages.parts.tables import Column, Row, Sheet, table


@page("custody", order=160)
def custody(edition: Edition) -> Page | None:
    """The chain of custody and what goes with it; none where nothing is recorded."""
    records, machine = edition.build.custody, edition.build.machine
    if not (records.custody or records.statements or records.revisions or machine.stampings):
        return None
    sheet = Sheet()
    if records.custody:
        sheet.section("Who held it", "holders")
        sheet.add(_holders(edition))
    _numbers(edition, sheet)
    if records.statements:
        sheet.section("Statements")
        for one in records.statements:
            name = f", {esc(one.name)}" if one.name else ""
            paper = f" ({linked(edition, one.paper)})" if one.paper else ""
            signed = f"{esc(capital(one.role))}{name}, signed {day(one.signed)}{paper}"
            sheet.add(f'<blockquote class="said"><p>{esc(one.text)}</p><footer>{signed}</footer></blockquote>')
    _papers(edition, sheet)
    _hours(edition, sheet)
    if records.revisions:
        sheet.section("Revisions")
        columns = [Column("Rev.", "c-no"), Column("Date", "c-dec"), Column("What changed", "c-why"), Column("Frozen", "c-why")]
        rows = [
            Row([esc(one.rev), day(one.date), linked(edition, one.what), esc(one.frozen or "")], id=f"rev-{one.rev}")
            for one in records.revisions
        ]
        sheet.add(table("Revisions of this dossier", columns, rows))
    sheet.section("Caution")
    sheet.add(cautions_for("custody"))
    lead = "Who has held the machine since it was begun, the numbers it bears, what was signed, and what changed in this file."
    return Page("custody", "Custody", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _holders(edition: Edition) -> str:
    chain = edition.build.custody.custody
    columns = [
        Column("From", "c-dec"),
        Column("To", "c-dec"),
        Column("Holder"),
        Column("As", "c-why"),
        Column("On what evidence", "c-why", "Evidence"),
    ]
    rows = []
    for before, one in zip((None, *chain), chain, strict=False):
        rows.append(
            Row(
                [
                    day(one.since),
                    day(one.until) if one.until else "today",
                    _holder(one),
                    esc(one.role),
                    linked(edition, one.evidence) + _gap(before, one),
                ]
            )
        )
    gaps = [figure for figure in edition.figures("custody_gap") if figure.value is not None]
    said = "; gaps between links: " + (", ".join(f"{figure.value:.0f} days" for figure in gaps if figure.value) or "none") if gaps else ""
    return table(f"{capital(counted(len(chain), 'holder'))}{said}", columns, rows, css="holders")


def _holder(one: Holder) -> str:
    name = f'<br><span class="quiet">{esc(one.holder)}</span>' if one.holder and one.holder != one.shown_as else ""
    return esc(capital(one.shown_as)) + name


def _gap(before: Holder | None, one: Holder) -> str:
    if before is None or before.until is None or before.until >= one.since:
        return ""
    return f"<br><b>gap of {(one.since - before.until).days} days</b>: {esc(one.gap or 'not explained')}"


def _numbers(edition: Edition, sheet: Sheet) -> None:
    machine = edition.build.machine
    if not (machine.stampings or machine.plate):
        return
    sheet.section("Numbers on the machine", "numbers")
    columns = [
        Column("Part"),
        Column("Number", "c-dec"),
        Column("How it came", "c-why"),
        Column("Genuine", "c-why"),
        Column("Restamped", "c-why"),
        Column("Remark", "c-why"),
    ]
    rows = []
    for one in machine.stampings:
        number = esc(one.number or one.masked or "withheld")
        answers = [answer.value if answer else "not said" for answer in (one.genuine, one.restamped)]
        rows.append(Row([esc(one.part), f'<span class="nw">{number}</span>', esc(one.found_or_made), *answers, linked(edition, one.note)]))
    if machine.plate:
        mark = f"; {machine.plate.permanent_mark}" if machine.plate.permanent_mark else ""
        rows.append(Row(["Builder’s plate", esc(machine.plate.text), "as made", "builder’s own", "no", esc(machine.plate.where + mark)]))
    sheet.add(table("Number-bearing parts. In public the numbers of others are masked", columns, rows, css="stampings"))
    photos = [pictures.photo(edition, one.photo) for one in machine.stampings]
    shown = "".join(pictures.figure(edition, photo) for photo in photos if photo)
    sheet.add(f'<div class="three wide">{shown}</div>' if shown else "")


def _papers(edition: Edition, sheet: Sheet) -> None:
    papers = edition.build.custody.papers
    if not papers:
        return
    sheet.section("Papers")
    columns = [
        Column("No.", "c-no"),
        Column("Kind", "c-why"),
        Column("Title"),
        Column("Date", "c-dec"),
        Column("Pages", "num"),
        Column("Original or copy", "c-why"),
    ]
    rows = [
        Row(
            [esc(one.id or ""), esc(one.kind or ""), esc(one.title or ""), day(one.date), str(one.pages or ""), esc(one.original or "")],
            id=one.id or "",
        )
        for one in papers
    ]
    sheet.add(table("Papers in the file", columns, rows))


def _hours(edition: Edition, sheet: Sheet) -> None:
    hours = edition.build.custody.hours
    if not hours:
        return
    sheet.section("Hours")
    costs = any(one.cost for one in hours)
    columns = [Column("Work"), Column("Planned", "num"), Column("Actual", "num"), *([Column("Cost", "num")] if costs else [])]
    rows = [
        Row(
            [
                esc(capital(one.group or "")),
                *(written(h) if h else "" for h in (one.planned, one.actual)),
                *([esc(one.cost or "")] if costs else []),
            ]
        )
        for one in hours
    ]
    planned, actual = edition.figure("total_hours_planned"), edition.figure("total_hours_worked")
    foot = ["In all", door(planned), door(actual), *([""] if costs else [])] if planned and actual else []
    sheet.add(table("Hours by group, planned and actual", columns, rows, kind="plain", css="hours", foot=foot))
