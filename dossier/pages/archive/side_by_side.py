"""Side by side: machines that copy one machine, or that the workshop grouped, item by item and figure by figure; is the difference real?"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from dossier.model.entry import Entry, FigureEntry, Head, ItemEntry, Taken, heads_of
from dossier.model.units import UNITS
from dossier.pages.archive.difference import Real, difference
from dossier.pages.archive.many_rows import unsearched
from dossier.pages.archive.over_all import over_all
from dossier.pages.archive.ways import quiet, sorted_by, way
from dossier.pages.page import Page
from dossier.pages.parts.numbers import capital, counted, esc, in_words, number, plus_minus, rounded_up, shown_unit, unit_text
from dossier.pages.parts.tables import Column, Row, Sheet, table
from dossier.pages.parts.verdicts import verdict_words

ACROSS = 8
"""Machines in one table: the first of the group, and up to seven others, each against the first."""
SLUG = "side-by-side"
NOTE = (
    "Each machine is laid beside the first of its group. A difference is called real when it is larger than its expanded uncertainty (k = 2), the "
    "rule by which laboratories compare their results (normalized error, ISO 13528). The two uncertainties are added in squares only where both "
    "numbers say with what they were taken and no instrument is common to both. Readings with the same instrument are not independent, and of "
    "readings that name none nobody knows: there the uncertainties are added plainly, which is the most they can come to (JCGM 100:2008, 5.2.2). "
    "So a difference called real is real on either footing; one called not shown may still be there. Of a hundred lines without any difference "
    "about five are called real by chance."
)


Member = tuple[int, Head]
"""A machine by its number in the archive, and what it is."""


@dataclass(frozen=True)
class Group:
    """Machines laid side by side: why, and which."""

    name: str
    why: str
    members: tuple[Member, ...]


@dataclass(frozen=True)
class Cell:
    """One machine's number on one line: the number, its unit and decimals, its verdict in words (HTML) where it is an item, and where it leads."""

    taken: Taken
    unit: str
    decimals: int
    verdict: str
    sheet: str
    id: str


Line = tuple[str, str]
"""What the machines are matched by, and which of several: a quantity's or figure's name with its label."""


@over_all(SLUG, order=20)
def side_by_side(entries: Sequence[Entry]) -> Iterator[Page]:
    """An overview of the groups, and a sheet for every eight machines of each; none where no two machines belong together."""
    groups = list(groups_of(heads_of(entries)))
    if not groups:
        return
    sheet = Sheet()
    sheet.section("Groups")
    columns = [Column("Group"), Column("Why together", "c-why", "Why"), Column("Machines", "c-why"), Column("Compared", "c-why")]
    rows = []
    to_make: list[tuple[Group, tuple[Member, ...], int]] = []
    for group in groups:
        tables = list(_tables(group.members))
        words = ["side by side"] if len(tables) == 1 else [f"part {n + 1}" for n in range(len(tables))]
        links = ", ".join(f'<a href="{SLUG}-{len(to_make) + n + 1}.html">{word}</a>' for n, word in enumerate(words))
        to_make += [(group, members, n + 1) for n, members in enumerate(tables)]
        count = sorted_by(len(group.members), counted(len(group.members), "machine"))
        some = ", ".join(way(one) for _, one in group.members[:ACROSS]) + (" and more" if len(group.members) > ACROSS else "")
        rows.append(Row([esc(group.name), esc(group.why), f"{count}: {some}", links]))
    caption = f"{capital(counted(len(groups), 'group'))} of machines"
    sheet.add(unsearched(table(caption, columns, rows, css="groups sift")))
    sheet.section("When a difference is real", "real")
    sheet.say(NOTE)
    lead = "Machines that copy the same machine, or that the workshop laid side by side: is the difference real?"
    yield Page(SLUG, "Side by side", sheet.html, lead=lead, sections=tuple(sheet.sections))
    for n, (group, members, part) in enumerate(to_make):
        yield _sheet(group, [entries[at] for at, _ in members], n + 1, part)


def groups_of(heads: Sequence[Head]) -> Iterator[Group]:
    """Groups of two machines or more: by the machine they copy, then as named by the workshop."""
    copied: dict[str, list[Member]] = {}
    named: dict[str, list[Member]] = {}
    for at, one in enumerate(heads):
        copied.setdefault(" ".join(one.copies.machine.casefold().split()), []).append((at, one))
        for name in one.groups:
            named.setdefault(name, []).append((at, one))
    for members in copied.values():
        if len(members) > 1:
            yield Group(members[0][1].copies.machine, "all copy this machine", tuple(members))
    for name, members in named.items():
        if len(members) > 1:
            yield Group(name, "named by the workshop", tuple(members))


def _tables(members: Sequence[Member]) -> Iterator[tuple[Member, ...]]:
    first, others = members[0], members[1:]
    for n in range(0, len(others), ACROSS - 1):
        yield (first, *others[n : n + ACROSS - 1])


def _sheet(group: Group, some: Sequence[Entry], number: int, part: int) -> Page:
    sheet = Sheet()
    columns = [Column("Characteristic"), *(Column(one.build_no, "c-side") for one in some)]
    items = [_items(one) for one in some]
    _add(sheet, "Declared characteristics", "characteristics", columns, some, items)
    figures = [_figures(one) for one in some]
    subjects = dict.fromkeys(subject for one in figures for subject in one)
    for subject in subjects:
        _add(sheet, capital(subject), "figures", columns, some, [one.get(subject, {}) for one in figures])
    if not sheet.sections:
        sheet.say("No characteristic or figure is known of two of these machines.")
    whole = len(some) == len(group.members)
    lead = capital(counted(len(some), "machine")) if whole else f"{capital(in_words(len(some)))} of {in_words(len(group.members))} machines"
    return Page(
        f"{SLUG}-{number}", f"{group.name}, side by side" + ("" if whole else f", part {part}"), sheet.html, under=SLUG,
        sections=tuple(sheet.sections), lead=f"{lead}: {', '.join(one.build_no for one in some)}. Each against the first.",
    )  # fmt: skip


def _add(
    sheet: Sheet, title: str, noun: str, columns: Sequence[Column], some: Sequence[Entry], cells: Sequence[dict[Line, tuple[str, Cell]]]
) -> None:
    lines: dict[Line, str] = {}
    for one in cells:
        for line, (name, _) in one.items():
            lines.setdefault(line, name)
    shared = {line: name for line, name in lines.items() if sum(line in one for one in cells) > 1}
    if not shared:
        return
    rows = []
    for line, name in shared.items():
        of_line = [found[1] if (found := one.get(line)) else None for one in cells]
        shown = [_cell(entry, cell, of_line[0] if n else None) for n, (entry, cell) in enumerate(zip(some, of_line, strict=True))]
        rows.append(Row([esc(name), *shown]))
    sheet.section(title)
    alone = len(lines) - len(shared)
    left = f"; {in_words(alone)} more known of one machine only" if alone else ""
    caption = f"{capital(in_words(len(rows)))} {noun} known of two machines or more{left}"
    sheet.add(unsearched(table(caption, columns, rows, kind="held", css="sift unsorted sides")))


def _items(entry: Entry) -> dict[Line, tuple[str, Cell]]:
    out: dict[Line, tuple[str, Cell]] = {}
    for item in entry.items:
        for one in item.readings or (Taken(),):
            line = (item.quantity or item.title.casefold(), one.label)
            out.setdefault(
                line, (_named(item.title, one.label), Cell(one, item.unit, item.decimals, _verdict(item), "specification", item.id))
            )
    return out


def _verdict(item: ItemEntry) -> str:
    return verdict_words(item.outcome)


def _figures(entry: Entry) -> dict[str, dict[Line, tuple[str, Cell]]]:
    """Figures by subject; those of items stand among the items."""
    declared = {item.quantity for item in entry.items if item.quantity and item.readings}
    out: dict[str, dict[Line, tuple[str, Cell]]] = {}
    for figure in entry.figures:
        if figure.name not in declared:
            for one in figure.values:
                found = (_named(figure.title, one.label), _figure_cell(figure, one))
                out.setdefault(figure.subject or "other figures", {})[figure.name, one.label] = found
    return out


def _figure_cell(figure: FigureEntry, one: Taken) -> Cell:
    return Cell(one, shown_unit(figure.unit), figure.decimals, "", "figures", f"f-{figure.id(one)}")


def _named(title: str, label: str) -> str:
    return f"{title}, {label}" if label else title


def _cell(entry: Head, cell: Cell | None, first: Cell | None) -> str:
    """A number with its uncertainty, its verdict, and how it stands to the first machine's."""
    if cell is None:
        return "–"
    one = cell.taken
    shown = plus_minus(one.value, one.u, cell.decimals, cell.unit) if one.value is not None else esc(one.words) or "no reading"
    words = [way(entry, cell.sheet, cell.id, shown)]
    if one.value is not None and one.u is None:
        words.append(quiet("no uncertainty stated"))
    if cell.verdict:
        words.append(cell.verdict)
    if first is not None and (beside := _beside(first, cell)):
        words.append(beside)
    return "<br>".join(words)


def _beside(first: Cell, other: Cell) -> str:
    ratio = _ratio(first.unit, other.unit)
    if ratio is None:
        return quiet("not in the same unit")
    if not (first.taken.value is not None or first.taken.words) or not (other.taken.value is not None or other.taken.words):
        return ""
    found = difference(first.taken, other.taken, ratio)
    if found is None:
        return ""
    if found.value is None or found.real is Real.SAME:
        return quiet(found.real.value)
    if found.real is Real.NO_U:
        return quiet(f"{_signed(found.value, first.decimals)}{unit_text(first.unit)}; {found.real.value}")
    if not found.u:
        return quiet(f"{_signed(found.value, first.decimals)}{unit_text(first.unit)}, both exact: ") + f"<b>{found.real.value}</b>"
    u, places = rounded_up(found.u, first.decimals)
    word = f"<b>{found.real.value}</b>" if found.real is Real.REAL else found.real.value
    how = " (independent)" if found.independent else ""
    return quiet(f'<span class="nw">{_signed(found.value, places)} ± {u}{unit_text(first.unit)}</span>{how}: ') + word


def _signed(value: float, places: int) -> str:
    shown = number(value, places)
    return shown if shown.startswith("−") or not any(digit in shown for digit in "123456789") else f"+{shown}"


def _ratio(first: str, other: str) -> float | None:
    """What carries a number in the second unit over into the first; None where there is no such factor."""
    if first == other:
        return 1.0
    mine, theirs = UNITS.get(first), UNITS.get(other)
    if mine is None or theirs is None or mine.kind != theirs.kind or mine.shift != theirs.shift:
        return None
    return theirs.scale / mine.scale
