"""Looks over the HTML of the pages before it is staged: whole, harmless, asking no other host, and every link leading somewhere."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from urllib.parse import unquote, urlsplit

from dossier.publish.tags import VOID, Kind, Tag, tag_of, tags_of

_FOREIGN = frozenset({"svg", "math"})
# What would run, restyle the frame, bring another document in, or change an address later (SVG 2 and SMIL: set, animate).
_REFUSED = frozenset([
    "animate", "animatemotion", "animatetransform", "applet", "audio", "base", "body", "button", "dialog", "embed", "fencedframe", "feimage",
    "foreignobject", "form", "frame", "frameset", "head", "html", "iframe", "link", "meta", "object", "portal", "script", "set", "slot", "style",
    "template", "video",
    # HTML Living Standard, 13.2.5: in these no tag is a tag
    "noembed", "noframes", "noscript", "plaintext", "textarea", "xmp",
])  # fmt: skip
_FETCHED = frozenset({"src", "srcset", "poster", "data", "background", "xlink:href"})
# Attributes that ask for something by themselves, or change what an element is.
_REFUSED_ATTRIBUTES = frozenset([
    "action", "archive", "attributionsrc", "classid", "code", "codebase", "formaction", "imagesrcset", "is", "longdesc", "manifest", "ping",
    "profile", "shadowrootmode", "srcdoc", "usemap",
])  # fmt: skip
# Attributes that hold a reader's words; any other may hold a style, in which a pattern of the same drawing, url(#…), is all to be asked for.
_WORDS = frozenset(["abbr", "alt", "content", "datetime", "href", "id", "label", "lang", "name", "placeholder", "src", "srcset", "title", "value"])
_ASKING = re.compile(r"""url\s*\((?!\s*["']?#)|src\s*\(|image(-set)?\s*\(|@import|\\""", re.IGNORECASE)
_UNSEEN = re.compile(r"[\t\n\r]")
_FRAME_IDS = frozenset({"sheet"})


@dataclass(frozen=True)
class Markup:
    """What one page's HTML holds: faults in words, the ids it offers, the addresses it refers to."""

    faults: tuple[str, ...]
    ids: frozenset[str]
    addresses: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Read:
    """What one tag says by itself, wherever it stands."""

    faults: tuple[str, ...]
    id: str | None
    addresses: tuple[str, ...]


def look_over(html: str) -> Markup:
    """Read one page's body and tell its faults, ids and addresses; the empty tuple of faults means it may be staged."""
    reader = _Reader(html)
    for at, tag in tags_of(html):
        reader.take(at, tag)
    reader.end()
    return Markup(tuple(reader.faults), frozenset(reader.ids), tuple(reader.addresses))


@dataclass
class _Reader:
    html: str
    faults: list[str] = field(default_factory=list)
    ids: set[str] = field(default_factory=set)
    addresses: list[str] = field(default_factory=list)
    open: list[tuple[str, int]] = field(default_factory=list)

    def line(self, at: int) -> int:
        return self.html.count("\n", 0, at) + 1

    def fault(self, at: int, words: str) -> None:
        self.faults.append(f"line {self.line(at)}: {words}")

    def take(self, at: int, tag: Tag) -> None:
        if tag.kind is Kind.CLOSES:
            if self.open and self.open[-1][0] == tag.name:
                self.open.pop()
            else:
                self.closed_out_of_turn(at, tag.name)
            return
        read = _read(tag.text)
        for words in read.faults:
            self.fault(at, words)
        if read.id is not None:
            if read.id in self.ids:
                self.fault(at, f"id {read.id!r} twice on one page")
            self.ids.add(read.id)
        self.addresses += read.addresses
        if tag.name == "title" and not any(name == "svg" for name, _ in self.open):
            self.fault(at, "<title> has no place in a sheet")
        if tag.step:
            self.open.append((tag.name, at))
        elif tag.kind is Kind.BOTH and tag.name not in VOID | _FOREIGN and not any(name in _FOREIGN for name, _ in self.open):
            self.fault(at, f"<{tag.name}/> does not close itself in HTML; write <{tag.name}></{tag.name}>")

    def closed_out_of_turn(self, at: int, name: str) -> None:
        last = f"<{self.open[-1][0]}> of line {self.line(self.open[-1][1])} is still open" if self.open else "nothing is open"
        self.fault(at, f"</{name}> comes where {last}")
        if name in (one for one, _ in self.open):
            while self.open.pop()[0] != name:
                pass

    def end(self) -> None:
        for name, at in self.open:
            self.fault(at, f"<{name}> is never closed")


@lru_cache(maxsize=1024)
def _read(text: str) -> _Read:
    tag = tag_of(text)
    if tag.kind is Kind.NONE:
        return _Read((_no_tag(tag.text),), None, ())
    faults = [f"<{tag.name}> has no place in a sheet"] if tag.name in _REFUSED else []
    addresses: list[str] = []
    for name, value in tag.attributes:
        if name.startswith("on"):
            faults.append(f"{name} on <{tag.name}>: sheets carry no scripts")
        elif name in _FETCHED or name == "href":
            for address in _addresses(name, value):
                if _leaves(tag.name, name, address):
                    faults.append(f"{name}={address!r} on <{tag.name}> leaves the site")
                elif not any(_split(address)):
                    addresses.append(address)
        elif name in _REFUSED_ATTRIBUTES:
            faults.append(f"{name} on <{tag.name}> has no place in a sheet")
        elif name not in _WORDS and not name.startswith(("aria-", "data-")) and _ASKING.search(value):
            faults.append(f"{name} on <{tag.name}> asks for a file")
    return _Read(tuple(faults), next((value for name, value in tag.attributes if name == "id"), None), tuple(addresses))


def _no_tag(text: str) -> str:
    """What to say of something that begins as a tag does and is none."""
    if text.startswith("<!--"):
        return f"comment {text[:34]!r}: it would be published with the sheet"
    if text.startswith(("<!", "<?")):
        return f"{text[:34]} has no place in a sheet"
    return f"{text[:34]!r} is no tag; a less-than sign is written &lt;, a value in quotes"


def _split(address: str) -> tuple[str, str]:
    """Scheme and host of an address as a browser sees it: a backslash is a slash there (URL Standard, 4.4), and tabs and line ends are none."""
    try:
        scheme, host = urlsplit(_UNSEEN.sub("", address).replace("\\", "/"))[:2]
    except ValueError:
        return "unreadable", ""
    return scheme, host


def _leaves(tag: str, name: str, address: str) -> bool:
    """Whether an address leads off the site, save where a reader follows a link."""
    scheme, host = _split(address)
    followed = tag == "a" and name == "href" and scheme in {"http", "https", "mailto", ""}
    return bool(scheme or host) and not followed


def _addresses(name: str, value: str) -> Iterator[str]:
    if name != "srcset":
        yield value.strip()
        return
    for candidate in value.split(","):
        if candidate.strip():
            yield candidate.split()[0]


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
