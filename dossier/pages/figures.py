"""Figures: each number in the dossier with its formula, the numbers put in, the readings behind it and who took them."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model import formula
from dossier.model.edition import Edition
from dossier.model.forms.measurements import Role
from dossier.model.results import Worked
from dossier.pages.page import Page, page
from dossier.pages.parts.numbers import capital, esc, figure_href, figure_value
from dossier.pages.parts.tables import Column, Row, Sheet, table
from dossier.pages.parts.workings import tag_words, worked_figure

ORDER = (
    "engine", "breathing", "valve train", "two-stroke", "motion", "balance", "power", "drive line", "chassis", "mass", "measurement",
    "provenance", "life",
)  # fmt: skip
MANY_NUMBERS = 12
"""With more numbers than this put in, a line says how many instead."""
MANY = 3
"""From more variants than this on, a figure is shown once in full and its others as lines of a table."""


@page("figures", order=170)
def figures(edition: Edition) -> Page | None:
    """Every worked figure that has a value, by subject; then those that could not be worked out, with the reason."""
    shown = [one for one in edition.worked if one.value is not None or one.no_verdict]
    if not shown:
        return None
    sheet = Sheet()
    sheet.say("Each line opens to its working.", "after on-screen")
    sheet.say("A line that reads “look again” lies outside the range usual for such a machine.", "after")
    for subject in sorted({one.subject for one in shown}, key=lambda word: (ORDER.index(word) if word in ORDER else 99, word)):
        sheet.section(capital(subject), f"subject-{subject.replace(' ', '-')}")
        for group in _groups([one for one in shown if one.subject == subject]):
            sheet.add(*_group(edition, group))
    _missing(edition, sheet)
    lead = (
        "Each number in this dossier with its formula, the numbers put in, the readings behind them and who took them. "
        "Nobody has to believe a number."
    )
    return Page("figures", "Figures", sheet.html, lead=lead, sections=tuple(sheet.sections), kind="figures")


def _groups(shown: Sequence[Worked]) -> list[list[Worked]]:
    """Figures of one name and role together; of one name, as built comes first."""
    names = list(dict.fromkeys(one.name for one in shown if one.role is Role.AS_BUILT))
    names += [name for name in dict.fromkeys(one.name for one in shown) if name not in names]
    roles = (Role.AS_BUILT, Role.DECLARED, Role.DONOR)
    groups = [[one for one in shown if one.name == name and one.role is role] for name in names for role in roles]
    return [group for group in groups if group]


def _id(one: Worked) -> str:
    return figure_href(one).partition("#")[2]


def _group(edition: Edition, group: list[Worked]) -> list[str]:
    if len(group) <= MANY:
        return [worked_figure(edition, one, _id(one)) for one in group]
    first, rest = group[0], group[1:]
    columns = [Column("Of"), Column("The same with the numbers put in", "c-why", "Worked"), Column("Value", "num")]
    rows = [Row([_of(one), _put_in(one), figure_value(one)], id=_id(one)) for one in rest]
    return [worked_figure(edition, first, _id(first), table(f"{first.title}, the others", columns, rows, css="variants"))]


def _of(one: Worked) -> str:
    return esc(capital(", ".join(tag_words(axis, tag) for axis, tag in one.tags)) or "Whole")


def _put_in(one: Worked) -> str:
    if one.value is None:
        return esc(one.no_verdict)
    count = sum(map(len, one.numbers.values()))
    return esc(formula.plain(one.formula, one.numbers)) if count <= MANY_NUMBERS else f"{count} numbers"


def _missing(edition: Edition, sheet: Sheet) -> None:
    absent = [one for one in edition.worked if one.missing and one.role.value == "as built"]
    if not absent:
        return
    sheet.section("Not worked out")
    columns = [Column("Figure"), Column("What nobody wrote down", "c-why", "Missing"), Column("Where it would stand", "c-why", "Sheet")]
    seen: dict[str, Row] = {}
    for one in absent:
        names = "; ".join(missing.title.lower() for missing in one.missing)
        files = ", ".join(dict.fromkeys(missing.file for missing in one.missing))
        seen.setdefault(one.name, Row([esc(one.title), esc(names), esc(files)], id=f"f-{one.id}"))
    sheet.add(table("Figures for which an input is missing. A blank is not recorded; it is never nought", columns, list(seen.values())))
