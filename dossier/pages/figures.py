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
from dossier.pages.parts.workings import behind, tag_words, worked_figure

ORDER = (
    "engine", "breathing", "valve train", "two-stroke", "motion", "balance", "power", "drive line", "chassis", "mass", "measurement",
    "provenance", "life",
)  # fmt: skip
MANY_NUMBERS = 12
LONG_INDEX = 16
MANY = 1
"""From more variants than this on, a figure is shown once in full and its others as lines of a table."""


@page("figures", order=170)
def figures(edition: Edition) -> Page | None:
    """Every worked figure that has a value, by subject; then those that could not be worked out, with the reason."""
    shown = [one for one in edition.worked if one.value is not None or one.no_verdict]
    if not shown:
        return None
    sheet = Sheet()
    subjects = sorted({one.subject for one in shown}, key=lambda word: (ORDER.index(word) if word in ORDER else 99, word))
    sheet.add(_index(shown, subjects))
    for subject in subjects:
        sheet.section(capital(subject), _anchor(subject))
        for group in _groups([one for one in shown if one.subject == subject]):
            sheet.add(*_group(edition, group))
    _missing(edition, sheet)
    lead = (
        "Each number in this dossier with its formula, the numbers put in, the readings behind them and who took them. "
        "Nobody has to believe a number."
    )
    return Page("figures", "Figures", sheet.html, lead=lead, sections=tuple(sheet.sections), kind="figures")


def _anchor(subject: str) -> str:
    return f"subject-{subject.replace(' ', '-')}"


def _index(shown: Sequence[Worked], subjects: Sequence[str]) -> str:
    """The titles of all figures by subject, each leading to the first of its name."""
    blocks = []
    for subject in subjects:
        groups = _groups([one for one in shown if one.subject == subject])
        lines = "".join(f'<li><a href="#{esc(_id(group[0]))}">{esc(group[0].title)}</a></li>' for group in groups)
        css = ' class="long"' if len(groups) > LONG_INDEX else ""
        blocks.append(f'<section{css}><p><a href="#{_anchor(subject)}">{esc(capital(subject))}</a></p><ul>{lines}</ul></section>')
    return f'<nav class="index" aria-label="Figures by subject">{"".join(blocks)}</nav>'


def _groups(shown: Sequence[Worked]) -> list[list[Worked]]:
    """Figures of one name together, those as built first."""
    groups: dict[str, list[Worked]] = {}
    for one in sorted(shown, key=lambda one: one.role is not Role.AS_BUILT):
        groups.setdefault(one.name, []).append(one)
    order = list(dict.fromkeys(one.name for one in shown))
    return [groups[name] for name in order]


def _id(one: Worked) -> str:
    return figure_href(one).partition("#")[2]


def _group(edition: Edition, group: list[Worked]) -> list[str]:
    built = [one for one in group if one.role is Role.AS_BUILT]
    full = built if 0 < len(built) <= MANY else group[:1]
    rest = [one for one in group if one not in full]
    shown = [worked_figure(edition, one, _id(one)) for one in full]
    if not rest:
        return shown
    columns = [Column("Of"), Column("The same with the numbers put in, and what stands behind them", "c-why", "Worked"), Column("Value", "num")]
    rows = [Row([_of(one), _put_in(one) + _behind(edition, one, full[0]), figure_value(one)], id=_id(one)) for one in rest]
    return [*shown, table(f"{group[0].title}, the others", columns, rows, css="variants")]


def _of(one: Worked) -> str:
    role = [] if one.role is Role.AS_BUILT else [one.role.value]
    return esc(capital(", ".join([*role, *(tag_words(axis, tag) for axis, tag in one.tags)])) or "Whole")


def _behind(edition: Edition, one: Worked, first: Worked) -> str:
    shown = behind(edition, one, first)
    return f'<br><span class="quiet">{shown}</span>' if shown else ""


def _put_in(one: Worked) -> str:
    if one.value is None:
        return esc(one.no_verdict)
    numbers = {used.symbol: [text.replace("-", "−") for text in used.printed] for used in one.inputs}
    count = sum(map(len, numbers.values()))
    return esc(formula.plain(one.formula, numbers)) if count <= MANY_NUMBERS else f"{count} values"


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
