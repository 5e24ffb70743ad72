"""The body of a page as a tree that a sheet can be set from; a mark-up nobody has taught the press is refused, never dropped."""

from __future__ import annotations

from html.parser import HTMLParser
from typing import Any

SET = {"p", "h2", "dl", "div", "dt", "dd", "small", "ul", "li", "b", "i", "span", "a", "sub", "sup"}
"""Elements the press can set. Of a link its words are set; paper leads nowhere."""

Tree = list[Any]
"""Texts, and elements as {"tag", "inside"}."""


class UnsetError(ValueError):
    """Mark-up that the press cannot set; a fault of the program."""


def tree_of(html: str) -> Tree:
    """The tree of a page's body. UnsetError at an element that is not in SET, or one that is not closed."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    if len(reader.open) != 1:
        raise UnsetError(f"<{reader.open[-1]['tag']}> is not closed")
    return reader.open[0]["inside"]  # type: ignore[no-any-return]


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[dict[str, Any]] = [{"tag": "", "inside": []}]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in SET:
            raise UnsetError(f"<{tag}> cannot be set on paper")
        one: dict[str, Any] = {"tag": tag, "inside": []}
        self.open[-1]["inside"].append(one)
        self.open.append(one)

    def handle_endtag(self, tag: str) -> None:
        if self.open[-1]["tag"] != tag:
            raise UnsetError(f"</{tag}> closes <{self.open[-1]['tag']}>")
        self.open.pop()

    def handle_data(self, data: str) -> None:
        if data.strip() or self.open[-1]["tag"] not in ("", "dl", "div", "ul"):
            self.open[-1]["inside"].append(" ".join(data.split("\n")))
