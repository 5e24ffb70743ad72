"""Looks over the HTML of the pages before it is staged: whole, harmless, asking no other host, and every link leading somewhere."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from html.parser import HTMLParser
from urllib.parse import unquote, urlsplit

# HTML Living Standard, 13.1.2 "Elements": these have no end tag.
_VOID = frozenset(["area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"])
_FOREIGN = frozenset({"svg", "math"})
# What would run, restyle the frame, or bring another document in.
_REFUSED = frozenset(["base", "body", "embed", "form", "frame", "head", "html", "iframe", "link", "meta", "object", "script", "style"])
_FETCHED = frozenset({"src", "srcset", "poster", "data", "background", "xlink:href"})
# A style, and the SVG attributes that may hold url(…): a pattern of the same drawing, url(#…), is the only thing to be asked for.
_STYLED = frozenset(["style", "fill", "stroke", "filter", "mask", "clip-path", "marker-start", "marker-mid", "marker-end"])
_ASKING = re.compile(r"""url\s*\((?!\s*["']?#)|image(-set)?\s*\(|@import|\\""", re.IGNORECASE)
_FRAME_IDS = frozenset({"sheet"})


@dataclass(frozen=True)
class Markup:
    """What one page's HTML holds: faults in words, the ids it offers, the addresses it refers to."""

    faults: tuple[str, ...]
    ids: frozenset[str]
    addresses: tuple[str, ...]


@dataclass
class _Reader(HTMLParser):
    faults: list[str] = field(default_factory=list)
    ids: set[str] = field(default_factory=set)
    addresses: list[str] = field(default_factory=list)
    open: list[tuple[str, int]] = field(default_factory=list)

    def __post_init__(self) -> None:
        HTMLParser.__init__(self)

    def fault(self, words: str) -> None:
        self.faults.append(f"line {self.getpos()[0]}: {words}")

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.look(tag, attrs)
        if tag not in _VOID:
            self.open.append((tag, self.getpos()[0]))

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.look(tag, attrs)
        if tag not in _VOID and tag not in _FOREIGN and not any(name in _FOREIGN for name, _ in self.open):
            self.fault(f"<{tag}/> does not close itself in HTML; write <{tag}></{tag}>")

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open[-1][0] != tag:
            last = f"<{self.open[-1][0]}> of line {self.open[-1][1]} is still open" if self.open else "nothing is open"
            self.fault(f"</{tag}> comes where {last}")
        if tag in (name for name, _ in self.open):
            while self.open.pop()[0] != tag:
                pass

    def handle_comment(self, data: str) -> None:
        self.fault(f"comment {data[:30]!r}: it would be published with the sheet")

    def handle_decl(self, decl: str) -> None:
        self.fault(f"<!{decl[:30]}> has no place in a sheet")

    def handle_pi(self, data: str) -> None:
        self.fault(f"<?{data[:30]}> has no place in a sheet")

    def unknown_decl(self, data: str) -> None:
        self.fault(f"<![{data[:30]}> has no place in a sheet")

    def look(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag in _REFUSED:
            self.fault(f"<{tag}> has no place in a sheet")
        for name, given in attrs:
            value = given or ""
            if name.startswith("on"):
                self.fault(f"{name} on <{tag}>: sheets carry no scripts")
            elif name == "id":
                if value in self.ids:
                    self.fault(f"id {value!r} twice on one page")
                self.ids.add(value)
            elif name in _FETCHED or name == "href":
                self.refer(tag, name, value)
            elif name in _STYLED and _ASKING.search(value):
                self.fault(f"{name} on <{tag}> asks for a file")

    def refer(self, tag: str, name: str, value: str) -> None:
        for address in _addresses(name, value):
            scheme, host = urlsplit(address)[:2]
            if scheme or host:
                followed = tag == "a" and name == "href" and scheme in {"http", "https", "mailto", ""}
                if not followed:
                    self.fault(f"{name}={address!r} on <{tag}> leaves the site")
            else:
                self.addresses.append(address)


def _addresses(name: str, value: str) -> Iterator[str]:
    if name != "srcset":
        yield value.strip()
        return
    for candidate in value.split(","):
        if candidate.strip():
            yield candidate.split()[0]


def look_over(html: str) -> Markup:
    """Read one page's body and tell its faults, ids and addresses; the empty tuple of faults means it may be staged."""
    reader = _Reader()
    reader.feed(html)
    reader.close()
    unclosed = [f"line {line}: <{tag}> is never closed" for tag, line in reader.open]
    return Markup(tuple(reader.faults + unclosed), frozenset(reader.ids), tuple(reader.addresses))


def dead_links(pages: Mapping[str, Markup], files: Collection[str]) -> tuple[str, ...]:
    """Every address that leads nowhere, as `slug: address, why`; `pages` by slug, `files` the names copied beside them."""
    return tuple(
        f"{slug}: {address}, {why}"
        for slug, page in pages.items()
        for address in page.addresses
        if (why := _why_dead(slug, address, pages, files))
    )


def _why_dead(slug: str, address: str, pages: Mapping[str, Markup], files: Collection[str]) -> str:
    path, fragment = unquote(urlsplit(address).path), unquote(urlsplit(address).fragment)
    if path in files:
        return ""
    target = path.removesuffix(".html") if path else slug
    if target not in pages or (path and not path.endswith(".html")):
        return "no such page or file"
    if fragment and fragment not in pages[target].ids | _FRAME_IDS:
        return "no such place on that page"
    return ""
