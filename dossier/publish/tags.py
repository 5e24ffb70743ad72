"""The tags of our own HTML, read strictly: what is not plainly one tag of the narrow grammar below is said to be none.

A browser takes for a tag whatever a less-than sign begins; so every such sign is looked at, and a page on which one begins anything else
is refused. That is stricter than a browser, and several times as fast as a parser that must make sense of everything.
"""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from functools import lru_cache

# HTML Living Standard, 13.1.2 "Elements": these have no end tag.
VOID = frozenset(["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"])
# Anything that a less-than sign begins, up to the first > outside of quotes; the sign alone where none comes.
_ANY = re.compile(r"""<[^<>"']*(?:(?:"[^"]*"|'[^']*')[^<>"']*)*>|<""")
# HTML Living Standard, 13.1.2: a name, attributes with a value in quotes or none, and perhaps a slash.
_NAME = r"[A-Za-z][A-Za-z0-9:-]*"
_ATTRIBUTE = rf"""\s+({_NAME})(?:=(?:"([^"]*)"|'([^']*)'))?"""
_EACH = re.compile(_ATTRIBUTE)
_OPENING = re.compile(rf"<({_NAME})((?:{_ATTRIBUTE})*)\s*(/?)>")
_CLOSING = re.compile(rf"</({_NAME})\s*>")


class Kind(Enum):
    """What a tag does: opens an element, closes one, does both, or is none at all."""

    OPENS = "opens"
    CLOSES = "closes"
    BOTH = "both"
    NONE = "none"


@dataclass(frozen=True, slots=True)
class Tag:
    """A tag as written: its kind, its name in small letters, its attributes with their values unescaped.

    `step` is how much deeper it leads: 1 where an element begins, -1 where one ends, 0 where neither.
    """

    text: str
    kind: Kind
    name: str = ""
    attributes: tuple[tuple[str, str], ...] = ()
    step: int = 0


def tags_of(body: str) -> Iterator[tuple[int, Tag]]:
    """Every tag of a page's HTML with its place; also whatever else a less-than sign begins, as a tag of no kind."""
    for found in _ANY.finditer(body):
        yield found.start(), tag_of(found[0])


@lru_cache(maxsize=1024)
def tag_of(text: str) -> Tag:
    """One tag. Pages repeat their tags over and over, so that most of them are read once."""
    if closing := _CLOSING.fullmatch(text):
        return Tag(text, Kind.CLOSES, name := closing[1].lower(), step=-(name not in VOID))
    opening = _OPENING.fullmatch(text)
    if opening is None:
        return Tag(text, Kind.NONE)
    given = tuple((one[1].lower(), html.unescape(one[2] or one[3] or "")) for one in _EACH.finditer(opening[2]))
    name, alone = opening[1].lower(), bool(opening[6])
    return Tag(text, Kind.BOTH if alone else Kind.OPENS, name, given, int(not alone and name not in VOID))
