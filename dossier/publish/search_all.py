"""Lets the archive's search find the sheets of its dossiers: one entry for each sheet that names things, with the words by which it is looked for."""

from __future__ import annotations

import html
import itertools
import json
from collections.abc import Iterable, Iterator, Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import Any

from dossier.model.entry import Entry, having
from dossier.pages.archive.ways import address

INDEX, SCRIPT = Path("search", "search_index.json"), Path("search", "search_index.js")
_BEFORE = "var __index = "
"""How the script that is loaded from a disc begins; the rest of it is the index."""
_NAMED = ("items", "sources", "parts", "spares", "open", "refused", "due", "instruments")
"""Fields of an entry whose names are searched for."""


def search_all(entries: Sequence[Entry], site: Path) -> None:
    """Add the dossiers' sheets to the search index of the archive's built `site`, in both its files, one after another."""
    index = json.loads((site / INDEX).read_text(encoding="utf-8"))
    docs = itertools.chain(index.pop("docs"), (doc for entry in having(entries, *_NAMED) for doc in found_of(entry)))
    with ExitStack() as files:
        both = [files.enter_context((site / INDEX).open("w", encoding="utf-8", newline="\n"))]
        if (site / SCRIPT).exists():
            both.append(files.enter_context((site / SCRIPT).open("w", encoding="utf-8", newline="\n")))
            both[-1].write(_BEFORE)
        pieces = (f"{',' if n else ''}{_json(doc)}" for n, doc in enumerate(docs))
        for piece in itertools.chain([_json(index)[:-1], ',"docs":['], pieces, ["]}"]):
            for file in both:
                file.write(piece)


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def found_of(entry: Entry) -> Iterator[dict[str, Any]]:
    """One entry for each sheet of a dossier: its address, its title with the build's number, and what stands on it by name.

    The whole text of every dossier would make the list as large as the dossiers; names lead to the sheet, whose own search finds the place.
    """
    titles = dict(entry.sheets)
    for slug, words in _words(entry).items():
        text = " ".join(dict.fromkeys(filter(None, words)))
        if slug not in titles or not text:
            continue
        title = f"{entry.build_no}: {entry.short if slug == 'index' else titles[slug]}"
        yield {"location": address(entry, slug), "title": html.escape(title, quote=False), "text": html.escape(text, quote=False)}


def _words(entry: Entry) -> dict[str, Iterable[str]]:
    moment = entry.copies
    return {
        "index": (entry.title, entry.builder, moment.machine, moment.rider, moment.meeting, moment.date.isoformat(), entry.class_),
        "specification": (text for item in entry.items for text in (item.id, item.title, item.declared)),
        "evidence": (text for source in entry.sources for text in (source.id, source.title)),
        "parts": (*(part.name for part in entry.parts), *(spare.what for spare in entry.spares)),
        "snags": (*(one.what for one in entry.open if one.kind == "snag"), *(one.name for one in entry.refused)),
        "care": (one.what for one in entry.due if one.sheet == "care"),
        "work": (*(one.name for one in entry.instruments), *(one.what for one in entry.due if one.sheet == "work")),
    }
