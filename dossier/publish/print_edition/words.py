"""The words of a page as nodes for the sheet: bold, links, verdicts and bars, with the blanks between them put right."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from typing import Any
from urllib.parse import unquote, urlsplit

from dossier.publish.print_edition.equation import equation
from dossier.publish.print_edition.marked import Tree, UnsetError, words_of

Node = dict[str, Any]
Words = list[str | Node]

_PLAIN = {"b": "b", "strong": "b", "i": "i", "em": "i", "sub": "sub", "sup": "sup", "small": "small", "code": "code"}
_SPANS = {"nw": "nw", "quiet": "quiet", "sn": "b", "pid": "b", "again": "again", "fig-id": "symbol", "aside-v": "aside"}
"""What becomes of a span by its class; one of another class is its words alone."""
_FLOWING = frozenset({"div", "p", "li"})
"""Blocks that may stand within words, in a cell for instance: each begins a new line."""


@dataclass
class Places:
    """Where links may lead: the places of all sheets, and which of them are in fact led to. A place is `sheet#id`, a sheet `sheet#`."""

    known: frozenset[str] = frozenset()
    wanted: set[str] = field(default_factory=set)

    def target(self, sheet: str, address: str) -> str:
        """The place an address on `sheet` leads to, or nothing where paper has no such place."""
        parts = urlsplit(address)
        path, fragment = unquote(parts.path), unquote(parts.fragment)
        if parts.scheme or parts.netloc or (path and not path.endswith(".html")):
            return ""
        place = f"{path.removesuffix('.html') or sheet}#{fragment}"
        return place if place in self.known else ""


class Speller:
    """Turns the words of one sheet into nodes."""

    def __init__(self, sheet: str, places: Places) -> None:
        self.sheet, self.places = sheet, places

    def words(self, tree: Tree) -> Words:
        """The nodes of some words. UnsetError at a block that cannot stand among words."""
        return tidy(self._nodes(tree))

    def _nodes(self, tree: Tree) -> Words:
        out: Words = []
        for one in tree:
            out += [one] if isinstance(one, str) else self._element(one)
        return out

    def _element(self, one: Node) -> Words:
        tag, inside = one["tag"], one["inside"]
        if tag in _PLAIN:
            return [{"k": _PLAIN[tag], "in": self._nodes(inside)}]
        match tag:
            case "br":
                return [{"k": "br"}]
            case "a":
                return [self._link(one)]
            case "span":
                return self._span(one)
            case "math":
                return [{"k": "math", **equation(one)}]
        if tag in _FLOWING:
            return [{"k": "br"}, *self._nodes(inside), {"k": "br"}]
        raise UnsetError(f"<{tag}> cannot be set among words")

    def _span(self, one: Node) -> Words:
        classes = one["of"].get("class", "").split()
        if "verdict" in classes or "over" in classes:
            outcome = next((name[2:] for name in classes if name.startswith("v-")), "agreed")  # what is laid over a verdict is an agreement
            # the mark says again, for the eye, what the words beside it say; the sheet draws it anew
            inside = [part for part in one["inside"] if isinstance(part, str) or part["tag"] != "svg"]
            made: Node = {"k": "verdict", "of": outcome, "in": self._nodes(inside)}
            return [made] if "verdict" in classes else [{"k": "br"}, made, {"k": "br"}]
        if "life" in classes:
            width = re.search(r"width:([\d.]+)%", str(one["inside"]))
            return [{"k": "bar", "of": float(width[1]) / 100 if width else 0.0}]
        kind = next((_SPANS[name] for name in classes if name in _SPANS), "")
        inside = self._nodes(one["inside"])
        if not kind:
            return inside
        before: Words = [{"k": "br"}] if kind == "aside" else []
        return [*before, {"k": kind, "in": inside}]

    def _link(self, one: Node) -> Node:
        address, inside = one["of"].get("href", ""), self._nodes(one["inside"])
        place = self.places.target(self.sheet, address)
        if place:
            self.places.wanted.add(place)
            return {"k": "to", "to": place, "page": self._said(place), "in": inside}
        if urlsplit(address).scheme in ("http", "https", "mailto"):
            own = words_of(one["inside"]) == address
            return {"k": "out", "to": address, "in": inside if own else [*inside, f" ({address})"]}
        return {"k": "plain", "in": inside}

    def _said(self, place: str) -> str:
        """How the page of a place is said behind a link: `door` behind a number, `sheet` behind the name of a sheet, or not at all."""
        sheet, _, id = place.partition("#")
        if sheet == self.sheet:
            return ""
        return "sheet" if not id else "door" if sheet == "figures" else ""


def tidy(words: Words) -> Words:
    """Words without blanks at either end, without two blanks in a row, without a break at either end."""
    state = [True]
    out = _squeezed(words, state)
    while out and (out[-1] == {"k": "br"} or (isinstance(out[-1], str) and not out[-1].strip())):
        out.pop()
    if out and isinstance(out[-1], str):
        out[-1] = out[-1].rstrip()
    return out


def _squeezed(words: Words, blank: list[bool]) -> Words:
    """`blank[0]` says whether what stands before is a blank or a beginning."""
    out: Words = []
    for one in words:
        if isinstance(one, str):
            text = re.sub(r"[ \n\t\r]+", " ", one)
            text = text.lstrip(" ") if blank[0] else text
            if text:
                blank[0] = text.endswith(" ")
                out.append(text)
        elif one["k"] == "br":
            if out and isinstance(out[-1], str):
                out[-1] = out[-1].rstrip()
            if out and out[-1] != {"k": "br"}:
                out.append(one)
            blank[0] = True
        elif "in" in one:
            one = {**one, "in": _squeezed(one["in"], blank)}
            if one["in"]:
                out.append(one)
        else:
            blank[0] = False
            out.append(one)
    return out


def lines_of(words: Words) -> list[str]:
    """The words in lines as a column must hold them: what may not be broken has no-break blanks."""
    lines = [""]
    _spell(words, lines, whole=False)
    return [line.strip(" ") for line in lines if line.strip(" ")]


def _spell(words: Words, lines: list[str], whole: bool) -> None:
    for one in words:
        if isinstance(one, str):
            lines[-1] += one.replace(" ", "\u00a0") if whole else one
        elif one["k"] == "br":
            lines.append("")
        elif "in" in one:
            lines[-1] += "\u00a0" * 12 if one["k"] == "verdict" else ""
            _spell(one["in"], lines, whole or one["k"] in ("nw", "symbol"))
            lines[-1] += {"door": "\u00a0›000", "sheet": " (p.\u00a0000)"}.get(one.get("page", ""), "")
