"""Care and due dates: lifed parts, tyres, and the cautions that go with them."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.life import Lifed
from dossier.pages.page import Page, page
from dossier.pages.parts.cautions import cautions_for
from dossier.pages.parts.due import due_table, overdue
from dossier.pages.parts.left_out import none_of
from dossier.pages.parts.links import linked
from dossier.pages.parts.numbers import day, door, esc, joined, written
from dossier.pages.parts.tables import Column, Row, Sheet, table


@page("care", order=150)
def care(edition: Edition) -> Page | None:
    """What wears out and when; none without a lifed part, a tyre or a fluid."""
    life, work = edition.build.life, edition.build.work
    if not (life.lifed or life.tyres or work.fluids):
        return None
    sheet = Sheet()
    late = overdue(edition)
    sheet.say(f"Past due on {day(edition.revised)}: <b>{esc(joined(late)) or none_of(edition, 'lifed', 'nothing')}</b>.", "tally")
    due = due_table(edition)
    if due:
        sheet.section("Due")
        sheet.add(due)
    if life.lifed:
        sheet.section("Limits and whose they are", "limits")
        columns = [
            Column("Part"),
            Column("Limit", "c-dec"),
            Column("Whose limit", "c-why", "Whose"),
            Column("Since", "c-dec"),
            Column("At the limit", "c-why"),
        ]
        rows = [
            Row([esc(one.part), _limit(one), esc(one.whose_limit), _since(one), linked(edition, one.action)], id=one.id)
            for one in life.lifed
        ]
        sheet.add(table("Parts of limited life", columns, rows, css="lifed"))
    _tyres(edition, sheet)
    if work.fluids:
        sheet.section("Fluids")
        columns = [Column("Where"), Column("What", "c-why"), Column("Amount", "num"), Column("Not mixed with", "c-why")]
        rows = [
            Row([esc(one.where), esc(one.what), written(one.amount) if one.amount else "", esc(one.not_mixed_with or "")])
            for one in work.fluids
        ]
        sheet.add(table("What is in the machine", columns, rows))
    sheet.section("Cautions")
    sheet.add(cautions_for("care"))
    return Page(
        "care", "Care and due dates", sheet.html, lead="What wears out, by whose limit, and when it is due.", sections=tuple(sheet.sections)
    )


def _limit(one: Lifed) -> str:
    limits = [written(limit) for limit in (one.limit_hours, one.limit_laps, one.limit_distance, one.limit_years) if limit is not None]
    limits += [f"{one.limit_starts} starts"] if one.limit_starts is not None else []
    return " or ".join(limits) or "none said"


def _since(one: Lifed) -> str:
    if one.since is not None:
        return day(one.since)
    return "the tyre’s date code" if one.tyre else "not recorded"


def _tyres(edition: Edition, sheet: Sheet) -> None:
    tyres = edition.build.life.tyres
    if not tyres:
        return
    sheet.section("Tyres")
    columns = [
        Column("Wheel"),
        Column("Size and marking", "c-why", "Size"),
        Column("Date code", "c-dec"),
        Column("Age", "num"),
        Column("Cold", "num"),
        Column("Hot", "num"),
    ]
    rows = []
    for one in tyres:
        age = edition.figure("tyre_age", one.wheel)
        marking = " ".join(filter(None, [one.size, one.marking]))
        code = esc(one.dot) if one.dot else "<b>undated: display only</b>"
        cold, hot = (written(pressure) if pressure else "" for pressure in (one.pressure_cold, one.pressure_hot))
        rows.append(Row([one.wheel.capitalize(), esc(marking), code, door(age) if age else "not known", cold, hot]))
    sheet.add(table(f"Tyres as fitted; ages counted to {day(edition.revised)}", columns, rows, css="tyres"))
