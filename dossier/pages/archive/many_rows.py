"""A table over all builds, on as many sheets as it takes: no sheet grows without end."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from dossier.pages.page import Page
from dossier.pages.parts.numbers import esc
from dossier.pages.parts.tables import Column, Row, Sheet, table

MOST = 250_000
"""Letters of HTML on one sheet; a table goes on over the page beyond that."""


@dataclass(frozen=True)
class Long:
    """A table of any length: the section it stands in, its caption and columns, its rows, and the words beneath (HTML)."""

    section: str
    caption: str
    columns: Sequence[Column]
    rows: Sequence[Row]
    css: str = ""
    beneath: str = ""
    foreword: str = ""


@dataclass
class Laid:
    """What stands on one sheet."""

    sheet: Sheet = field(default_factory=Sheet)
    size: int = 0


def on_sheets(slug: str, title: str, lead: str, tables: Sequence[Long], foreword: str = "", most: int = MOST) -> list[Page]:
    """The tables one after another on a sheet `slug` and, where they are long, on sheets that continue it; none without a row."""
    laid = [Laid()]
    if foreword:
        laid[0].sheet.say(foreword, "tally")
    for one in tables:
        for n, rows in enumerate(_portions(one.rows, most)):
            size = sum(map(_size, rows))
            if laid[-1].size and laid[-1].size + size > most:
                laid.append(Laid())
            _lay(laid[-1].sheet, one, rows, n)
            laid[-1].size += size
    if not any(one.rows for one in tables):
        return []
    slugs = [slug if n == 0 else f"{slug}-{n + 1}" for n in range(len(laid))]
    return [
        Page(name, title if n == 0 else f"{title}, continued ({n + 1})", _turn(slugs, n) + one.sheet.html, lead=lead if n == 0 else "",
             sections=tuple(one.sheet.sections), under=slug if n else "")
        for n, (name, one) in enumerate(zip(slugs, laid, strict=True))
    ]  # fmt: skip


def unsearched(html: str) -> str:
    """HTML that is kept out of the list that is searched, where the dossiers have entries of their own; it holds no other section."""
    return f'<section data-search-exclude="">{html}</section>'


def _lay(sheet: Sheet, one: Long, rows: Sequence[Row], n: int) -> None:
    if n == 0 or not sheet.sections:
        sheet.section(one.section + (", continued" if n else ""))
    if n == 0 and one.foreword:
        sheet.say(one.foreword)
    sheet.add(unsearched(table(one.caption, one.columns, rows, css=f"{one.css} sift".strip())))
    if one.beneath:
        sheet.say(one.beneath, "beneath")


def _portions(rows: Sequence[Row], most: int) -> Iterator[Sequence[Row]]:
    some: list[Row] = []
    size = 0
    for row in rows:
        if some and size + _size(row) > most:
            yield some
            some, size = [], 0
        some.append(row)
        size += _size(row)
    if some:
        yield some


def _size(row: Row) -> int:
    return sum(map(len, row.cells)) + 40 * len(row.cells)


def _turn(slugs: Sequence[str], here: int) -> str:
    if len(slugs) == 1:
        return ""
    names = [
        f'<b aria-current="page">{n + 1}</b>' if n == here else f'<a href="{esc(slug)}.html">{n + 1}</a>' for n, slug in enumerate(slugs)
    ]
    return f'<nav class="parts-of" aria-label="Parts of this sheet"><p>Part {" ".join(names)}</p></nav>\n'
