"""Tables as the trade's paper has them: heavy rule below, hairlines, numbers right; folded or held where the screen is narrow."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from dossier.pages.parts.numbers import esc


@dataclass(frozen=True)
class Column:
    """A column: its head, the class of its cells (`num` for numbers), and the short label shown where rows fold."""

    head: str
    css: str = "c-item"
    label: str = ""


@dataclass(frozen=True)
class Row:
    """A row: one HTML string a column, an id that can be linked to, a class, and where it leads the eye."""

    cells: Sequence[str]
    id: str = ""
    css: str = ""


Kind = Literal["fold", "held", "plain"]


def table(
    caption: str, columns: Sequence[Column], rows: Sequence[Row], kind: Kind = "fold", css: str = "", foot: Sequence[str] = ()
) -> str:
    """A table as HTML on one line. `caption` is plain text; the first column holds row heads.

    `fold`: rows become label and value pairs on a narrow screen. `held`: the first column stays while the rest is moved. `plain`: neither.
    """
    classes = " ".join(filter(None, ["ledger held" if kind == "held" else kind, css]))
    body = "".join(_row(columns, row, five=kind != "plain" and (n + 1) % 5 == 0) for n, row in enumerate(rows))
    bottom = f'<tfoot role="rowgroup"><tr role="row">{_cells(columns, foot)}</tr></tfoot>' if foot else ""
    text = (
        f'<table class="{classes}" role="table"><caption>{esc(_full_stop(caption))} </caption>'
        f'<thead role="rowgroup"><tr role="row">{_heads(columns)}</tr></thead><tbody role="rowgroup">{body}</tbody>{bottom}</table>'
    )
    return f'<div class="scroll" tabindex="0" role="region" aria-label="{esc(caption)}">{text}</div>' if kind == "held" else text


def particulars(rows: Sequence[tuple[str, str]]) -> str:
    """Names with their facts (HTML) as a list of particulars; rows without a fact are left out."""
    return '<dl class="particulars">' + "".join(f"<div><dt>{name}</dt><dd>{fact}</dd></div>" for name, fact in rows if fact) + "</dl>"


def _heads(columns: Sequence[Column]) -> str:
    return " ".join(f'<th scope="col" class="{column.css}" role="columnheader">{esc(column.head)}</th>' for column in columns) + " "


def _row(columns: Sequence[Column], row: Row, five: bool) -> str:
    css = " ".join(filter(None, [row.css, "five" if five else ""]))
    marks = (f' id="{esc(row.id)}"' if row.id else "") + (f' class="{css}"' if css else "")
    return f'<tr role="row"{marks}>{_cells(columns, row.cells)}</tr>'


def _cells(columns: Sequence[Column], cells: Sequence[str]) -> str:
    out = []
    for n, (column, cell) in enumerate(zip(columns, cells, strict=True)):
        label = f' data-l="{esc(column.label or column.head)}"'
        if n == 0:
            out.append(f'<th scope="row" role="rowheader" class="{column.css}"{label}>{cell}</th>')
        else:
            out.append(f'<td role="cell" class="{column.css}"{label}><div>{cell}</div></td>')
    return " ".join(out) + " "


def _full_stop(caption: str) -> str:
    return caption if caption.endswith((".", "!", "?")) else caption + "."


def anchor(text: str) -> str:
    """An id for a heading made from its words."""
    return re.sub(r"[^a-z0-9]+", "-", text.lower()).strip("-") or "section"


class Sheet:
    """Collects the body of one page: sections with their ids, paragraphs and tables, in order."""

    def __init__(self) -> None:
        self.blocks: list[str] = []
        self.sections: list[tuple[str, str]] = []

    def section(self, title: str, id: str = "") -> None:
        """Begin a second-level section; `title` is plain text."""
        self.blocks.append(self.heading(title, id))

    def heading(self, title: str, id: str = "") -> str:
        """A second-level heading as HTML, noted among the sections, to be placed by the caller."""
        name = id or anchor(title)
        self.sections.append((name, title))
        return f'<h2 id="{esc(name)}">{esc(title)}</h2>'

    def add(self, *blocks: str) -> None:
        """Add HTML blocks; empty ones are left out."""
        self.blocks.extend(block for block in blocks if block)

    def say(self, text: str, css: str = "") -> None:
        """Add a paragraph of HTML text."""
        self.blocks.append(f'<p class="{css}">{text}</p>' if css else f"<p>{text}</p>")

    @property
    def html(self) -> str:
        """The body."""
        return "\n".join(self.blocks)
