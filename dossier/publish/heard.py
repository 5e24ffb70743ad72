"""What of a page the search is to hear: its parser makes its way through every tag, most of which say nothing to it."""

from __future__ import annotations

from dossier.publish.tags import VOID, Kind, Tag, tags_of

_APART = "data-search-exclude"
_HEADINGS = frozenset(["h1", "h2", "h3", "h4", "h5", "h6"])
_DRAWN = frozenset({"svg", "math"})
"""A drawing's ticks, and a formula's signs one by one: nobody types them."""
# HTML Living Standard, 3.2.5.2.5 "Phrasing content" and 4.9 "Tabular data": of these none holds a heading on a sheet, and none
# ends a section. Those that the search shows as they are, <code>, <sub> and <sup>, are not among them.
_SILENT = frozenset([
    "a", "abbr", "b", "bdi", "br", "button", "cite", "data", "del", "dfn", "em", "i", "img", "input", "ins", "kbd", "label", "mark", "q", "s",
    "samp", "small", "span", "strong", "time", "u", "var", "wbr", "table", "caption", "colgroup", "col", "thead", "tbody", "tfoot", "tr", "th",
    "td",
])  # fmt: skip


def heard(body: str) -> str:
    """The HTML of a page without what is kept from the search, and without tags that make no difference to it."""
    pieces, done, within = [], 0, 0
    for at, tag in tags_of(body):
        end = at + len(tag.text)
        if within:
            within += _deeper(tag)
            done = end
        elif _kept_apart(tag):
            pieces.append(body[done:at])
            within, done = _deeper(tag), end
        elif tag.name in _SILENT:
            pieces.append(body[done:at])
            done = end
    return "".join([*pieces, body[done:]])


def _deeper(tag: Tag) -> int:
    if tag.name in VOID:
        return 0
    return {Kind.OPENS: 1, Kind.CLOSES: -1}.get(tag.kind, 0)


def _kept_apart(tag: Tag) -> bool:
    """Whether it opens what the search is not to hear. A heading so marked speaks of all that follows it, which is the parser's to know."""
    return (
        tag.kind is Kind.OPENS and tag.name not in _HEADINGS and (tag.name in _DRAWN or any(name == _APART for name, _ in tag.attributes))
    )
