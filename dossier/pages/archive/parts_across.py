"""Parts across builds: which machine has a part fitted or as a spare, and, for the workshop, whose parts were refused and why."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

from dossier.model.entry import Entry, Head, PartEntry, RefusedEntry, SpareEntry, having, heads_of
from dossier.pages.archive.many_rows import Long, on_sheets
from dossier.pages.archive.over_all import over_all
from dossier.pages.archive.ways import quiet, sorted_by, way, withheld
from dossier.pages.page import Page
from dossier.pages.parts.numbers import capital, counted, esc, in_words
from dossier.pages.parts.tables import Column, Row

NAMED = 40
"""Machines named in one row; a part that more have goes on in further rows."""
_NO_SUPPLIER = "supplier not recorded"


@dataclass
class _Found:
    """Every part of every build, each with what the build is."""

    parts: list[tuple[Head, PartEntry]] = field(default_factory=list)
    refused: list[tuple[Head, RefusedEntry]] = field(default_factory=list)
    spares: list[tuple[Head, SpareEntry]] = field(default_factory=list)


@over_all("parts-across", order=30)
def parts_across(entries: Sequence[Entry]) -> list[Page]:
    """Who has which part, and what was refused; none without a part."""
    found = _Found()
    for entry in having(entries, "parts", "refused", "spares"):
        found.parts += [(entry.head, one) for one in entry.parts]
        found.refused += [(entry.head, one) for one in entry.refused]
        found.spares += [(entry.head, one) for one in entry.spares]
    tables = [*_suppliers(found), *_refused(found), *_who_has(found, withheld(heads_of(entries), "parts", "spares"))]
    lead = "Which machine has a part like it, fitted or as a spare."
    if found.refused:
        lead = "Whose parts were refused and why; and which machine has a part like it, fitted or as a spare."
    return on_sheets("parts-across", "Parts across builds", lead, tables)


def _suppliers(found: _Found) -> list[Long]:
    """Each supplier's parts, fitted and refused; only where this archive may know names."""
    fitted = Counter(part.supplier for _, part in found.parts if part.supplier)
    refused: defaultdict[str, list[tuple[Head, RefusedEntry]]] = defaultdict(list)
    for head, gone in found.refused:
        refused[gone.supplier or _NO_SUPPLIER].append((head, gone))
    names = sorted({*fitted, *refused}, key=lambda name: (-len(refused[name]), name.casefold()))
    rows = [_supplier(name, fitted[name], refused[name]) for name in names]
    columns = [Column("Supplier"), Column("Fitted", "num"), Column("Refused", "num"), Column("What was refused, and why", "c-why", "Why")]
    caption = "Parts of each supplier that are fitted, and parts that were refused or cost work first; the most refused stand first"
    beneath = (
        "For the workshop alone. So few parts prove nothing about a supplier; each refusal stands in its own dossier with what was found."
    )
    return [Long("Suppliers", caption, columns, rows, "suppliers", beneath)] if rows else []


def _supplier(name: str, fitted: int, refused: Sequence[tuple[Head, RefusedEntry]]) -> Row:
    why: defaultdict[tuple[str, str], list[str]] = defaultdict(list)
    for head, gone in refused:
        why[gone.name, gone.found].append(way(head, "snags", gone.id))
    shown = [f"{esc(capital(part))}: {esc(found)} {_some(where)}" for (part, found), where in list(why.items())[:NAMED]]
    more = [f"and {in_words(len(why) - NAMED)} kinds more, listed below"] if len(why) > NAMED else []
    return Row([esc(name), str(fitted), str(len(refused)), "<br>".join([*shown, *more]) or "nothing"])


def _some(where: Sequence[str]) -> str:
    return ", ".join(where[:NAMED]) + (f" and {in_words(len(where) - NAMED)} more" if len(where) > NAMED else "")


def _refused(found: _Found) -> list[Long]:
    rows = [_gone(head, gone) for head, gone in found.refused]
    columns = [
        Column("Part"), Column("Machine", "c-no"), Column("Supplier", "c-why"), Column("Found", "c-why"),
        Column("What became of it", "c-why", "Then"),
    ]  # fmt: skip
    caption = f"{capital(counted(len(rows), 'part'))} bought and refused, or that cost work first"
    return [Long("Refused", caption, columns, rows, "refused")] if rows else []


def _gone(head: Head, one: RefusedEntry) -> Row:
    part = f"{esc(capital(one.name))} {quiet(esc(one.id))}"
    return Row([part, way(head, "snags", one.id), esc(one.supplier or _NO_SUPPLIER), esc(one.found), esc(one.outcome)])


def _who_has(found: _Found, beneath: str) -> list[Long]:
    fitted: defaultdict[str, list[tuple[Head, PartEntry]]] = defaultdict(list)
    spares: defaultdict[str, list[str]] = defaultdict(list)
    names: dict[str, str] = {}
    for head, part in found.parts:
        names.setdefault(_key(part.name), part.name)
        fitted[_key(part.name)].append((head, part))
    for head, spare in found.spares:
        names.setdefault(_key(spare.what), spare.what)
        condition = f" {quiet(esc(spare.condition))}" if spare.condition else ""
        spares[_key(spare.what)].append(way(head, "parts") + condition)
    rows = [row for key in sorted(names) for row in _part(names[key], fitted[key], spares[key])]
    columns = [
        Column("Part"), Column("Group", "c-why"), Column("Machines", "num"), Column("Fitted to", "c-why", "Fitted"),
        Column("Spare with", "c-why", "Spare"),
    ]  # fmt: skip
    caption = (
        f"{capital(counted(len(names), 'part'))} by name; parts of one name are alike by their name alone, measure before exchanging them"
    )
    return [Long("Who has one", caption, columns, rows, "who-has", beneath)] if rows else []


def _part(name: str, fitted: Sequence[tuple[Head, PartEntry]], spares: Sequence[str]) -> Iterable[Row]:
    groups = ", ".join(dict.fromkeys(part.group for _, part in fitted))
    machines = len({head.slug for head, _ in fitted})
    for n in range(0, max(len(fitted), len(spares), 1), NAMED):
        some = _by_origin(fitted[n : n + NAMED])
        title = esc(capital(name)) + (quiet(" (continued)") if n else "")
        yield Row([title, esc(groups), sorted_by(machines, str(machines)), some or "none", ", ".join(spares[n : n + NAMED]) or "none"])


def _by_origin(fitted: Sequence[tuple[Head, PartEntry]]) -> str:
    """Machines under the origin class that the part has there."""
    by: defaultdict[str, list[str]] = defaultdict(list)
    for head, part in fitted:
        by[part.origin].append(way(head, "parts", part.id))
    return "<br>".join(f"{', '.join(some)} {quiet(esc(origin))}" for origin, some in by.items())


def _key(name: str) -> str:
    return " ".join(name.casefold().split())
