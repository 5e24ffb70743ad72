"""Ways from the archive into its dossiers, and the small print that several of its pages share."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from urllib.parse import quote

from dossier.model.entry import Head
from dossier.pages.parts.numbers import day, esc, in_words

QUIET = '<span class="quiet">{}</span>'


def way(entry: Head, sheet: str = "index", id: str = "", text: str = "") -> str:
    """A link to a place in a dossier, its build number as the words unless `text` (HTML) is given; plain words where it has no such sheet."""
    shown = text or f'<span class="nw">{esc(entry.build_no)}</span>'
    if sheet not in {slug for slug, _ in entry.sheets}:
        return shown
    return f'<a href="{address(entry, sheet)}{f"#{esc(id)}" if id else ""}">{shown}</a>'


def address(entry: Head, sheet: str) -> str:
    """The address of a sheet of a dossier from the archive's own: a folder may be called anything."""
    return f"{quote(entry.slug)}/{sheet}.html"


def sorted_by(value: object, shown: str) -> str:
    """A cell's words (HTML) with the value by which its column is put in order."""
    return f'<data value="{esc(value)}">{shown}</data>'


def dated(date: datetime.date | None, words: str = "undated") -> str:
    """A day as words that a column can be put in order by."""
    return sorted_by(date.isoformat(), f'<span class="nw">{day(date)}</span>') if date else sorted_by("9999", words)


def quiet(html: str) -> str:
    """HTML in the second voice."""
    return QUIET.format(html)


def withheld(entries: Sequence[Head], *kinds: str) -> str:
    """How many whole records of these kinds the editions do not show, as a sentence; empty where none is."""
    count = sum(number for entry in entries for kind, number in entry.withheld if kind in kinds)
    return f"{in_words(count).capitalize()} more {'is' if count == 1 else 'are'} withheld from this edition." if count else ""
