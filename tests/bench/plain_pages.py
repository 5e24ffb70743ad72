"""A published sheet as somebody would have written it by hand: its words, tables and photographs as plain Markdown."""

from __future__ import annotations

import re
from html.parser import HTMLParser

_VOID = {"img", "br", "hr", "col", "wbr", "input", "source"}
_SKIPPED = {"svg", "script", "style", "button", "dialog"}
_BREAKS = {"p", "div", "li", "ul", "ol", "figure", "figcaption", "section", "dl", "dt", "dd", "details", "summary", "blockquote", "caption"}
_HEADINGS = {"h2": "##", "h3": "###", "h4": "####"}


class _Plain(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.out: list[str] = []
        self.skip = 0
        self.rows: list[list[str]] | None = None
        self.cell: list[str] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        given = {name: value or "" for name, value in attrs}
        if tag in _SKIPPED or self.skip:
            self.skip += tag not in _VOID
        elif tag == "table":
            self.rows = []
        elif tag == "tr" and self.rows is not None:
            self.rows.append([])
        elif tag in ("td", "th"):
            self.cell = []
        elif tag == "img":
            self.say(f"![{given.get('alt', '')}]({given.get('src', '')})")
        elif tag in _HEADINGS:
            self.say(f"\n\n{_HEADINGS[tag]} ")
        elif tag == "br" or tag in _BREAKS:
            self.say(" " if self.cell is not None else "\n\n" + ("- " if tag == "li" else ""))

    def handle_endtag(self, tag: str) -> None:
        if self.skip:
            self.skip -= tag not in _VOID
        elif tag in ("td", "th") and self.rows and self.cell is not None:
            self.rows[-1].append(" ".join("".join(self.cell).split()))
            self.cell = None
        elif tag == "table" and self.rows is not None:
            rows, self.rows = [row for row in self.rows if row], None
            self.say("\n\n" + _table(rows) + "\n\n")
        elif tag in _HEADINGS or tag in _BREAKS:
            self.say(" " if self.cell is not None else "\n\n")

    def handle_data(self, data: str) -> None:
        if not self.skip and (self.rows is None or self.cell is not None):
            self.say(re.sub(r"([\\`*_{}\[\]<>#|])", r"\\\1", re.sub(r"\s+", " ", data)))

    def say(self, text: str) -> None:
        (self.out if self.cell is None else self.cell).append(text)


def _table(rows: list[list[str]]) -> str:
    if not rows:
        return ""
    width = max(map(len, rows))
    lines = ["| " + " | ".join([*row, *[""] * (width - len(row))]) + " |" for row in rows]
    return "\n".join([lines[0], "|" + " --- |" * width, *lines[1:]])


def plain(body: str) -> str:
    """The body of a published sheet, given as HTML, as Markdown."""
    reader = _Plain()
    reader.feed(body)
    return re.sub(r"[ \t]*\n[ \t]*\n\s*", "\n\n", "".join(reader.out)).strip() + "\n"
