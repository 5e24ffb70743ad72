"""The body of a page as a tree that a sheet can be set from; a mark-up nobody has taught the press is refused, never dropped."""

from __future__ import annotations

from collections.abc import Set
from html import escape
from html.parser import HTMLParser
from typing import Any

SMALL = frozenset({"p", "h2", "dl", "div", "dt", "dd", "small", "ul", "li", "b", "i", "span", "a", "sub", "sup"})
"""Elements of the set-up sheet."""
FORMULAS = frozenset({"math", "mrow", "mi", "mn", "mo", "mtext", "mspace", "mfrac", "msub", "msup", "msqrt", "mover"})
WHOLE = SMALL | FORMULAS | {
    "h3", "h4", "h5", "h6", "section", "blockquote", "footer", "details", "summary", "figure", "figcaption", "img", "svg", "br", "hr", "ol",
    "table", "caption", "thead", "tbody", "tfoot", "tr", "th", "td", "em", "strong", "code", "pre",
}  # fmt: skip
"""Elements of all pages, and those that a note written as Markdown may hold."""

_DRAWN = frozenset({"title", "desc", "defs", "pattern", "g", "path", "rect", "circle", "text"})
"""Elements within a drawing: of small letters all, since a reader of HTML tells no capitals in an end tag."""
_VOID = frozenset({"img", "br", "hr"})
_HOLDERS = frozenset(
    {"", "dl", "div", "ul", "ol", "table", "thead", "tbody", "tfoot", "tr", "section", "figure", "details", "blockquote", "math", "mrow"}
)
"""Where blanks between elements are nothing."""

_FLOWING = frozenset({"b", "i", "span", "a", "sub", "sup", "small", "em", "strong", "code"})

Tree = list[Any]
"""Texts, and elements as {"tag", "inside"} with their attributes under "of"; a drawing has its own text under "drawn" instead."""


class UnsetError(ValueError):
    """Mark-up that the press cannot set; a fault of the program."""


def tree_of(html: str, known: Set[str] = SMALL) -> Tree:
    """The tree of a page's body. UnsetError at an element that is not among `known`, or one that is not closed."""
    reader = _Reader(known)
    reader.feed(html)
    reader.close()
    if len(reader.open) != 1:
        raise UnsetError(f"<{reader.open[-1]['tag']}> is not closed")
    return reader.open[0]["inside"]  # type: ignore[no-any-return]


def words_of(tree: Tree) -> str:
    """All words of a tree in one line."""
    return " ".join("".join(_words(tree)).split())


def _words(tree: Tree) -> list[str]:
    out: list[str] = []
    for one in tree:
        out += [one] if isinstance(one, str) else [" "] if one["tag"] in ("br", "svg") else _words(one["inside"])
    return out


class _Reader(HTMLParser):
    def __init__(self, known: Set[str]) -> None:
        super().__init__(convert_charrefs=True)
        self.known = known
        self.open: list[dict[str, Any]] = [{"tag": "", "inside": [], "of": {}}]
        self.drawing: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if self.drawing:
            self._draw(tag)
            return
        if tag not in self.known:
            raise UnsetError(f"<{tag}> cannot be set on paper")
        one: dict[str, Any] = {"tag": tag, "inside": [], "of": {name: value or "" for name, value in attrs}}
        self.open[-1]["inside"].append(one)
        if tag == "svg":
            self.drawing, one["drawn"] = ["svg"], self.get_starttag_text()
        if tag not in _VOID:
            self.open.append(one)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in _VOID:
            (self.drawing if self.drawing else self.open).pop()

    def handle_endtag(self, tag: str) -> None:
        last = self.drawing[-1] if self.drawing else self.open[-1]["tag"]
        if last != tag:
            raise UnsetError(f"</{tag}> closes <{last}>")
        if self.drawing:
            self.open[-1]["drawn"] += f"</{tag}>"
            self.drawing.pop()
        if not self.drawing:
            self.open.pop()

    def handle_data(self, data: str) -> None:
        if self.drawing:
            self.open[-1]["drawn"] += escape(data, quote=False)
        elif self.open[-1]["tag"] == "pre" or any(one["tag"] == "pre" for one in self.open):
            self.open[-1]["inside"].append(data)
        elif data.strip() or self.open[-1]["tag"] not in _HOLDERS or self._among_words():
            self.open[-1]["inside"].append(" ".join(data.split("\n")))

    def _among_words(self) -> bool:
        """Whether a blank here stands behind words, in a <div> that holds words."""
        before = self.open[-1]["inside"][-1:]
        return self.open[-1]["tag"] == "div" and bool(before) and (isinstance(before[0], str) or before[0]["tag"] in _FLOWING)

    def _draw(self, tag: str) -> None:
        if tag not in _DRAWN:
            raise UnsetError(f"<{tag}> in a drawing cannot be set on paper")
        self.open[-1]["drawn"] += self.get_starttag_text()
        self.drawing.append(tag)
