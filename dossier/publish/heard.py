"""What of a page the search is to hear: its parser makes its way through every tag, most of which say nothing to it."""

from __future__ import annotations

import re

from dossier.publish.tags import Tag, tags_of

_APART = " data-search-exclude"
_HEADINGS = frozenset(["h1", "h2", "h3", "h4", "h5", "h6"])
_SHOWN = frozenset(["code", "li", "ol", "p", "pre", "sub", "sup", "ul"])
"""Tags that the search shows as they are."""
_DRAWN = re.compile(r"<(math|svg)\b.*?</\1>", re.DOTALL)
"""A drawing's ticks, and a formula's signs one by one: nobody types them. One within another leaves an end too many, and all is heard."""

_PHRASE = re.compile(r"</?(?:a|abbr|b|bdi|cite|data|dfn|em|i|mark|q|s|samp|small|span|strong|time|u|var|wbr)\b")
"""Tags that stand within a word or beside it, as in <b>66</b>.02."""
_BLANKS = re.compile(r"\s{2,}")

Span = tuple[int, int]


def heard(body: str) -> str:
    """The HTML of a page without what is kept from the search, and without tags that make no difference to it.

    A section of the search begins at a heading and ends with the element that the heading stands in: so an element without a heading
    may go but for its words. The outermost stays, so that a page of drawings alone is found by its title.
    """
    whole, body = body, _DRAWN.sub("", body)
    silent: list[Span] = []
    open: list[tuple[str, Span]] = []
    to_heading = 0  # so many of the open elements, from the outermost, hold a heading
    skipped, within = 0, 0
    for at, tag in tags_of(body):
        end = at + len(tag.text)
        if within:
            within += tag.step
            if not within:
                silent.append((skipped, end))
        elif tag.step < 0:
            if not open or open[-1][0] != tag.name:
                return whole
            name, opened = open.pop()
            if open and len(open) >= to_heading and name not in _SHOWN:
                silent += [opened, (at, end)]
            to_heading = min(to_heading, len(open))
        elif tag.step == 0:
            silent.append((at, end))
        elif _kept_apart(tag):
            skipped, within = at, 1
        else:
            open.append((tag.name, (at, end)))
            if tag.name in _HEADINGS:
                to_heading = len(open)
    words = _without(body, sorted(silent))
    return words if "<pre" in words else _BLANKS.sub(" ", words)


def _without(body: str, spans: list[Span]) -> str:
    """The body without the spans; where another than a phrase's tag stood, or one phrase ended and the next began, a blank keeps words apart."""
    pieces, done, closed = [], 0, False
    for begin, end in spans:
        pieces.append(body[done:begin])
        if not _PHRASE.match(body, begin) or (begin == done and closed and body[begin + 1] != "/"):
            pieces.append(" ")
        done, closed = end, body.startswith("</", begin)
    return "".join([*pieces, body[done:]])


def _kept_apart(tag: Tag) -> bool:
    """Whether it opens what the search is not to hear. A heading so marked speaks of all that follows it, which is the parser's to know."""
    return tag.name not in _HEADINGS and _APART in tag.text
