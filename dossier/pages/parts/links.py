"""Where an id leads: to the sheet and row that speak of it, if this edition has them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache
from typing import Any

from dossier.model.edition import Edition
from dossier.pages.parts.numbers import esc

_ID = re.compile(r"\b[A-Z]{1,4}-?[0-9]{1,4}\b")


@lru_cache(maxsize=4)
def _addresses(edition: ByIdentity) -> dict[str, str]:
    build = edition.edition.build
    evidence, parts, work, running = build.evidence, build.parts, build.work, build.running
    places: dict[str, Iterable[Any]] = {
        "specification": build.specification.items,
        "differs": build.specification.concessions,
        "evidence": (*evidence.evidence, *evidence.conflicts, *evidence.assumptions),
        "parts": (*parts.parts, *parts.interchange, *parts.matched_sets),
        "work": (*work.operations, *build.workshop.instruments),
        "running": (*running.dyno, *running.sessions),
        "snags": (*running.snags, *parts.rejected),
        "care": build.life.lifed,
        "photographs": build.photos.photos,
        "custody": (one for one in build.custody.papers if one.id),
    }
    return {one.id: f"{sheet}.html#{one.id}" for sheet, records in places.items() for one in records}


class ByIdentity:
    """Wraps an edition so that a cache may hold what was found in it, by identity."""

    def __init__(self, edition: Edition) -> None:
        self.edition = edition

    def __hash__(self) -> int:
        return id(self.edition)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, ByIdentity) and other.edition is self.edition


def href(edition: Edition, id: str) -> str:
    """The address of what bears that id, or an empty string."""
    return _addresses(ByIdentity(edition)).get(id, "")


def link(edition: Edition, id: str, text: str = "") -> str:
    """A link to what bears that id; plain text where this edition does not have it. `text` is HTML."""
    address = href(edition, id)
    shown = text or f'<span class="nw">{esc(id)}</span>'
    return f'<a href="{esc(address)}">{shown}</a>' if address else shown


def linked(edition: Edition, text: str | None) -> str:
    """Somebody's words made safe, each id in them that this edition knows turned into a link."""
    if not text:
        return ""
    out, at = [], 0
    for found in _ID.finditer(text):
        out.append(esc(text[at : found.start()]))
        out.append(link(edition, found[0]) if href(edition, found[0]) else esc(found[0]))
        at = found.end()
    return "".join([*out, esc(text[at:])])


def ids(edition: Edition, many: tuple[str, ...]) -> str:
    """Several ids as links, with commas."""
    return ", ".join(link(edition, one) for one in many)
