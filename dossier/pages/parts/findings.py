"""Tables of findings: one line a figure or reading, one column a cylinder, wheel or state, with what it is judged by."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from dossier.model.edition import Edition
from dossier.model.forms.measurements import Role
from dossier.model.results import Worked
from dossier.pages.parts.links import link
from dossier.pages.parts.measured import Reading, reading
from dossier.pages.parts.numbers import capital, door, esc
from dossier.pages.parts.tables import Column, Row, table
from dossier.pages.parts.verdicts import verdict_words
from dossier.pages.parts.workings import usual_words

COMMON = 3
"""From so many lines on, a remark they share is said once, below the table."""
NOTHING = '<span class="none">–</span>'
"""An empty cell: a dash, which a narrow screen leaves out with its label."""


@dataclass(frozen=True)
class Line:
    """A line of a table: the figure or quantity it shows, its title (default: the figure's), and tags it must bear besides the side's.

    `names` holds one name, or one for each side where the sides have names of their own.
    """

    names: tuple[str, ...]
    title: str = ""
    tags: tuple[str, ...] = ()


@dataclass(frozen=True)
class Side:
    """A column: its head, the tag its values bear (empty: none), and the role of the values. `shared`: an untagged value counts too."""

    head: str
    tag: str = ""
    role: str = "as built"
    shared: bool = False


def line(*names: str, title: str = "", tags: tuple[str, ...] = ()) -> Line:
    """A line by the name or names of its figures or quantities."""
    return Line(names, title, tags)


@dataclass(frozen=True)
class Cell:
    """What stands in one cell: a worked figure or a reading, and its HTML."""

    html: str
    figure: Worked | None = None
    reading: Reading | None = None
    shared: bool = False
    """Whether it bears no tag of the column, and so holds for every column."""


def cell(edition: Edition, name: str, tags: tuple[str, ...], role: str = "as built") -> Cell | None:
    """A figure of that name and those tags, else a reading of it, else nothing."""
    worked = edition.figure(name, *tags, role=role)
    if worked is not None and (worked.value is not None or worked.no_verdict):
        return Cell(door(worked), figure=worked)
    items = [item.id for item in edition.build.specification.items if item.quantity == name]
    found = next((one for known in (name, *items) if (one := reading(edition, known, tags, role)) is not None), None)
    return Cell(found.html, reading=found) if found is not None else None


def findings(edition: Edition, caption: str, lines: Iterable[Line], sides: Sequence[Side] = (Side("As built"),)) -> str:
    """The lines that have a value in any column, as a table; empty where none has. Columns that would be empty are left out."""
    rows = [(one, _cells(edition, one, sides)) for one in lines]
    rows = [(one, cells) for one, cells in rows if any(cells)]
    if not rows:
        return ""
    kept = [n for n in range(len(sides)) if any(cells[n] for _, cells in rows)]
    judged = [_judged(edition, one, [cell for cell in cells if cell]) for one, cells in rows]
    said = Counter(words for one, cells in rows for words in set(_remarks(cells)))
    common = [words for words, times in said.items() if times >= COMMON]
    columns = [Column("Quantity"), *(Column(sides[n].head, "num") for n in kept)]
    columns += [Column("Judged, or what is usual", "c-judged", "Judged")] if any(judged) else []
    out = []
    for (one, cells), words in zip(rows, judged, strict=True):
        out.append(Row([_title(one, cells, common), *_shown(cells, kept), *([words] if any(judged) else [])]))
    notes = "".join(f'<p class="beneath">{capital(words)}.</p>' for words in common)
    return table(caption, columns, out, css="findings") + notes


def photo_ids(edition: Edition, lines: Iterable[Line], sides: Sequence[Side] = (Side("As built"),)) -> list[str]:
    """Ids of the photographs that the readings of some lines, or the readings behind their figures, name."""
    found: dict[str, None] = {}
    built = [side for side in sides if side.role != "declared"]
    for shown_line in lines:
        for shown in filter(None, _cells(edition, shown_line, built)):
            used = shown.figure.inputs if shown.figure and shown.figure.role is not Role.DECLARED else ()
            behind = [value.photo for one in used for value in one.values if value.role is not Role.DECLARED]
            found.update(dict.fromkeys(filter(None, [*behind, shown.reading.photo if shown.reading else ""])))
    return list(found)


def _cells(edition: Edition, one: Line, sides: Sequence[Side]) -> list[Cell | None]:
    return [_of_side(edition, one, n, side) for n, side in enumerate(sides)]


def _of_side(edition: Edition, one: Line, n: int, side: Side) -> Cell | None:
    if len(one.names) > 1:
        return cell(edition, one.names[n], one.tags, side.role) if n < len(one.names) and one.names[n] else None
    tags = (*one.tags, side.tag) if side.tag else one.tags
    found = cell(edition, one.names[0], tags, side.role)
    if found is not None or not side.shared:
        return found
    whole = cell(edition, one.names[0], one.tags, side.role)
    return replace(whole, shared=True) if whole is not None else None


def _shown(cells: Sequence[Cell | None], kept: Sequence[int]) -> list[str]:
    """The cells as HTML; one value that holds for a second column too is not printed as if it had been taken twice."""
    out: list[str] = []
    for before, n in zip([None, *kept], kept, strict=False):
        found, left = cells[n], cells[before] if before is not None else None
        same = found is not None and left is not None and found.shared and left.shared
        out.append(("both together" if _of_both(found) else "the same") if same else found.html if found else NOTHING)
    return out


def _of_both(found: Cell | None) -> bool:
    """Whether a value was worked out of several, one of each column, so that it is no single column's own."""
    used = found.figure.inputs if found is not None and found.figure is not None else ()
    return any(len({value.tags for value in one.values}) > 1 for one in used)


def _remarks(cells: Sequence[Cell | None]) -> list[str]:
    """What the values cannot be read without, as HTML."""
    bases = [esc(found.figure.basis) for found in cells if found and found.figure and found.figure.basis]
    return list(dict.fromkeys([*bases, *(found.reading.remark for found in cells if found and found.reading and found.reading.remark)]))


def _title(one: Line, cells: Sequence[Cell | None], common: Sequence[str]) -> str:
    figure = next((found.figure for found in cells if found and found.figure), None)
    title = esc(one.title or (figure.title if figure else capital(one.names[0].replace("_", " "))))
    small = "; ".join(words for words in _remarks(cells) if words not in common)
    return title + (f'<br><span class="quiet">{small}</span>' if small else "")


def _judged(edition: Edition, one: Line, cells: Sequence[Cell]) -> str:
    """The verdict of the item that declares the quantity; else the usual range; and what the figure warns of."""
    items = [item for item in edition.build.specification.items if item.quantity and item.quantity in one.names and not one.tags]
    words = []
    for item in items:
        verdict = edition.verdict(item.id)
        if verdict is not None:
            over = f", by agreement {link(edition, verdict.concession)}" if verdict.concession else ""
            words.append(f"{verdict_words(verdict.raw)} {link(edition, item.id)}{over}")
    figures = [found.figure for found in cells if found.figure is not None]
    warned = dict.fromkeys(capital(warning.text) for figure in figures for warning in figure.warnings)
    usual = next((text for figure in figures if (text := usual_words(figure))), "")
    if not words and usual:
        words.append(f"{'usually' if usual.startswith('not') else 'usual'} {usual}")
    return "<br>".join([*words, *(f"<b>{esc(text)}</b>" for text in warned)])
