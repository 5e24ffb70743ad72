"""The print edition: every page of an edition and every plot as one PDF made for paper, with cover, statement, contents and indexes."""

from __future__ import annotations

import re
import tempfile
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from dossier.model.edition import Edition
from dossier.pages.page import Page, write_pages
from dossier.pages.parts import pictures
from dossier.pages.parts.numbers import day
from dossier.pages.parts.plots.paper import Inks
from dossier.publish.dossier import epoch_of
from dossier.publish.print_edition.matter import Matter
from dossier.publish.print_edition.plates import Plate, make_plates
from dossier.publish.print_edition.press import press
from dossier.publish.print_edition.words import Places
from dossier.publish.template import template_folder

_SHEETS = Path(__file__).with_name("sheets")
_ID = re.compile(r'\bid="([^"]*)"')
_TAG = re.compile(r"<[^>]*>")
_NUMBER = re.compile(r"[A-Z]{1,4}-?[0-9]{1,4}")

Node = dict[str, Any]


def print_edition(edition: Edition, source: Path, cache: Path | None = None, progress: Callable[[int, int], None] | None = None) -> bytes:
    """The edition as a PDF of size A4 (210 × 297 mm). `source` is the build folder the photographs lie in, `cache` where made ones are kept.

    PictureChangedError when a photograph is not what was read; UnsetError and PressError are faults of the program.
    """
    with tempfile.TemporaryDirectory(prefix="dossier-print-") as aside:
        into = Path(aside) / "plates"
        into.mkdir()
        renditions, plates = make_plates(edition, source, into, cache, progress)
        shown = replace(edition, renditions=renditions)
        text = "\n".join((_SHEETS / f"{name}.typ").read_text("utf-8") for name in ("words", "blocks", "workings", "edition"))
        return press(text, laid_out(shown, plates), epoch_of(edition), into)


def laid_out(edition: Edition, plates: dict[str, Plate]) -> Node:
    """All that the sheets are set from; `edition` has the renditions made for paper."""
    machine = edition.build.machine
    pages = write_pages(edition)
    css, inks = (template_folder() / "assets" / "plots.css").read_text("utf-8"), Inks(machine.livery.day, plain="Archivo")
    places = Places(frozenset(_places(pages)))
    sheets = [_sheet(one, Matter(one.slug, places, plates, css, inks)) for one in pages]
    there = set(_there(sheets))
    _settle(sheets, there)
    draft = ", DRAFT" if edition.draft else ""
    revision = f"revision {edition.revision}, {day(edition.revised)}"
    return {
        "title": machine.title, "short": machine.short, "builder": machine.builder, "build": machine.build_no, "draft": edition.draft,
        "language": (machine.languages[0] if machine.languages else "en")[:2], "livery": machine.livery.day, "notice": machine.notice or "",
        "audience": f"{edition.audience.word.capitalize()} edition", "revision": edition.revision, "revised": day(edition.revised),
        "is": machine.this_machine_is, "statement": machine.statement, "missing": list(edition.missing_records),
        "foot": f"{machine.build_no}. {edition.audience.word.capitalize()} edition{draft}, {revision}",
        "hero": _hero(edition, plates), "sheets": sheets, "figures": _figures(sheets),
        "numbers": [one for one in _numbers(pages) if one[1] in there], "withheld": sum(edition.withheld.values()),
    }  # fmt: skip


def _sheet(page: Page, matter: Matter) -> Node:
    return {
        "at": f"{page.slug}#",
        "title": page.title,
        "heading": page.heading,
        "lead": page.lead,
        "kind": page.kind,
        "in": matter.body(page.html),
    }


def _hero(edition: Edition, plates: dict[str, Plate]) -> Node | None:
    one = pictures.photo(edition, edition.build.machine.hero)
    if one is None:
        return None
    plate = plates[edition.renditions[one.id].large.name]
    return {"file": f"/{plate.files[max(plate.files)]}", "shape": plate.width / plate.height, "alt": one.alt or one.shows}


def _places(pages: Sequence[Page]) -> Iterator[str]:
    for page in pages:
        yield f"{page.slug}#"
        yield from (f"{page.slug}#{id}" for id in _ID.findall(page.html))


def _settle(node: Any, there: set[str]) -> None:
    """Turn every link to a place that the sheets do not have into its words."""
    if isinstance(node, dict):
        if node.get("k") == "to" and node["to"] not in there:
            node["k"] = "plain"
        for one in node.values():
            _settle(one, there)
    elif isinstance(node, list):
        for one in node:
            _settle(one, there)


def _there(node: Any) -> Iterator[str]:
    """The places that the sheets have."""
    if isinstance(node, dict):
        if isinstance(node.get("at"), str) and node["at"]:
            yield node["at"]
        for one in node.values():
            yield from _there(one)
    elif isinstance(node, list):
        for one in node:
            yield from _there(one)


def _figures(sheets: Sequence[Node]) -> list[list[str]]:
    """For the index: the title of each worked figure and its place, by title."""
    workings = [node for sheet in sheets for node in sheet["in"] if node["k"] == "working" and node["at"]]
    return sorted([_title(node["heading"]["in"]), node["at"]] for node in workings)


def _title(words: Sequence[Any]) -> str:
    """The words of a heading without the symbol behind them."""
    return "".join(one if isinstance(one, str) else "" if one["k"] == "symbol" else _title(one["in"]) for one in words).strip()


def _numbers(pages: Sequence[Page]) -> list[list[str]]:
    """For the index: each number of an item, part, reading or paper that a sheet shows, and its place; in order of letters, then of digits."""
    shown = {page.slug: set(_NUMBER.findall(_TAG.sub(" ", page.html))) for page in pages}
    found = {
        id: f"{page.slug}#{id}"
        for page in reversed(pages)
        for id in _ID.findall(page.html)
        if _NUMBER.fullmatch(id) and (id in shown[page.slug] or page.slug == "photographs")
    }
    return [[id, found[id]] for id in sorted(found, key=_by_number)]


def _by_number(id: str) -> tuple[str, int]:
    letters = id.rstrip("0123456789")
    return letters, int(id.removeprefix(letters))
