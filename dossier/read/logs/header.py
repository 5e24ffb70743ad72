"""The header of a log: where it stands, which columns it names by title, alias or mapping, and in which units."""

from __future__ import annotations

import csv
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from dossier.model.forms.logs import LogWording
from dossier.model.problems import did_you_mean, near
from dossier.model.units import UNITS, signs_of
from dossier.read.logs.kind import Column, LogKind

SEPARATORS = {"semicolon": ";", "tab": "\t", "comma": ",", "bar": "|"}
SEARCHED = 200
"""So many lines are searched for the header."""

_BRACKETED = re.compile(r"(?P<title>[^\[\]()]*?)\s*(?:\[(?P<unit>[^\[\]]*)\]|\((?P<round>[^()]*)\))?")
_LEFT_OUT = "-"

Fault = Callable[[str, str, int, int, str], None]
"""Tells a fault: code, message, line and column (both from 0), advice."""


@dataclass(frozen=True)
class Head:
    """A column that is read: what it is, its unit sign, its place among the cells of a row."""

    column: Column
    unit: str
    at: int


@dataclass(frozen=True)
class Header:
    """The header as understood. `line` is where it stands (from 0; -1: nowhere), `body` the first line below it (and below its units)."""

    heads: tuple[Head, ...]
    width: int
    mark: str
    line: int
    body: int
    cells: tuple[str, ...] = ()
    units: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()


def cells_of(line: str, mark: str) -> list[str]:
    """The cells of one line, blanks round them taken off."""
    try:
        return [cell.strip() for cell in next(csv.reader([line], delimiter=mark, skipinitialspace=True), [])]
    except csv.Error:
        return [cell.strip() for cell in line.split(mark)]


def starts_of(line: str, mark: str) -> list[int]:
    """The column in which each cell of a line begins (from 0)."""
    out, at = [], 0
    for text in cells_of(line, mark):
        start = line.find(text, at) if text else at
        start = at if start < 0 else start
        out.append(start)
        after = line.find(mark, start + len(text))
        at = after + 1 if after >= 0 else len(line)
    return out


def find_header(lines: Sequence[str], kind: LogKind, wording: LogWording | None, fault: Fault) -> Header | None:
    """The header of a log whose lines are not all blank; None where it cannot be understood, with every fault told."""
    named = _Named(kind, wording)
    marks = [SEPARATORS[wording.separator]] if wording and wording.separator else list(SEPARATORS.values())
    if wording and wording.header is False:
        return _without_header(lines, named, marks, fault)
    filled = [n for n, line in enumerate(lines[: SEARCHED + 100]) if line.strip(" \t,;|")][:SEARCHED]
    if wording and wording.header_line is not None:
        filled = [min(wording.header_line - 1, len(lines) - 1)]
    best = max(filled, key=lambda n: (max(named.score(cells_of(lines[n], mark)) for mark in marks), -n))
    mark = max(marks, key=lambda one: (named.score(cells_of(lines[best], one)), lines[best].count(one)))
    return _understood(lines, best, mark, named, fault)


class _Named:
    """The titles by which a log's columns may be called: those of its kind, and those of the mapping."""

    def __init__(self, kind: LogKind, wording: LogWording | None) -> None:
        self.kind = kind
        self.columns: dict[str, Column] = {}
        for column in kind.columns:
            for title in (column.title, column.name, *column.aliases):
                self.columns.setdefault(folded(title), column)
        self.mapped: dict[str, tuple[str, str]] = {}
        for line in wording.columns if wording else ():
            theirs, _, ours = line.partition("=")
            self.mapped[folded(theirs)] = (theirs.strip(), ours.strip())

    def said(self, cell: str) -> str:
        """The cell as the mapping has it, or as it stands."""
        title, _ = _parted(cell)
        for key in (folded(cell), folded(title)):
            if key in self.mapped:
                return self.mapped[key][1]
        return cell

    def find(self, cell: str) -> tuple[Column | None, str | None]:
        """Column and unit text of a header's cell; no column where nothing is called so, `-` as unit where it is to be left out."""
        said = self.said(cell)
        if said == _LEFT_OUT:
            return None, _LEFT_OUT
        title, unit = _parted(said)
        column = self.columns.get(folded(title))
        words = title.split()
        if column is None and unit is None and len(words) > 1:
            column, unit = self.columns.get(folded(" ".join(words[:-1]))), words[-1]
            if column is None or unit_sign(unit, column.kind) is None:
                return None, None
        if column is not None and unit is None and words and unit_sign(words[-1], column.kind):
            unit = words[-1]
        return column, unit

    def score(self, cells: Sequence[str]) -> int:
        """How many different columns these cells name, those that are needed counting most."""
        found = {column.name: column for cell in cells if (column := self.find(cell)[0])}
        return sum(100 if column.needed else 1 for column in found.values())


def folded(title: str) -> str:
    """A title without case, blanks, hyphens and the like, by which titles are compared."""
    return re.sub(r"[\W_]+", "", title.casefold())


def unit_sign(text: str, kind: str) -> str | None:
    """The sign of the unit written so, in whatever case where only one unit of that kind can be meant; None when there is none."""
    text = text.strip()
    if text in UNITS and UNITS[text].kind == kind:
        return UNITS[text].sign
    signs = {unit.sign for spelling, unit in UNITS.items() if unit.kind == kind and spelling and spelling.casefold() == text.casefold()}
    return signs.pop() if len(signs) == 1 else None


def _parted(cell: str) -> tuple[str, str | None]:
    found = _BRACKETED.fullmatch(cell)
    if not found:
        return cell, None
    unit = found["unit"] if found["unit"] is not None else found["round"]
    return found["title"], unit


def _without_header(lines: Sequence[str], named: _Named, marks: Sequence[str], fault: Fault) -> Header | None:
    first = next(n for n, line in enumerate(lines) if line.strip(" \t,;|"))
    mark = max(marks, key=lambda one: len(cells_of(lines[first], one)))
    width = len(cells_of(lines[first], mark))
    numbered = [str(n + 1) if str(n + 1) in named.mapped else "" for n in range(width)]
    heads = _heads([named.said(one) if one else _LEFT_OUT for one in numbered], named, first, [0] * width, (), fault)
    return None if heads is None else Header(heads, width, mark, -1, first)


def _understood(lines: Sequence[str], n: int, mark: str, named: _Named, fault: Fault) -> Header | None:
    cells = cells_of(lines[n], mark)
    while cells and not cells[-1]:
        cells.pop()
    after = next((m for m in range(n + 1, min(len(lines), n + 50)) if lines[m].strip(" \t,;|")), len(lines))
    units = _units_below(cells_of(lines[after], mark), cells, named) if after < len(lines) else ()
    if stray := [
        theirs for key, (theirs, _) in named.mapped.items() if key not in {folded(c) for c in (*cells, *(_parted(c)[0] for c in cells))}
    ]:
        for theirs in stray:
            fault("log-mapping", f"logs.yaml speaks of a column {theirs!r}, which this log has not", n, 0, did_you_mean(theirs, cells))
        return None
    heads = _heads(cells, named, n, starts_of(lines[n], mark), units, fault)
    if heads is None:
        return None
    read = {head.at for head in heads}
    unread = tuple(cell for at, cell in enumerate(cells) if at not in read and cell and named.find(cell)[1] != _LEFT_OUT)
    return Header(heads, len(cells), mark, n, after + 1 if units else n + 1, tuple(cells), tuple(units), unread)


def _units_below(below: Sequence[str], cells: Sequence[str], named: _Named) -> tuple[str, ...]:
    """The row beneath a header where it holds nothing but units, as many as there are titles; otherwise nothing."""
    bare = [re.sub(r"^[\[(]|[\])]$", "", cell) for cell in below[: len(cells)]]
    fits = 0
    for title, unit in zip(cells, bare, strict=False):
        column, _ = named.find(title)
        if column is not None and unit and unit_sign(unit, column.kind):
            fits += 1
        elif unit and unit != _LEFT_OUT and unit not in UNITS and (column is not None or re.fullmatch(r"[-+0-9.,]+", unit)):
            return ()
    return tuple(bare) if fits else ()


def _heads(
    cells: Sequence[str], named: _Named, n: int, starts: Sequence[int], units: Sequence[str], fault: Fault
) -> tuple[Head, ...] | None:
    heads: list[Head] = []
    faults = 0
    unknown: list[tuple[int, str]] = []
    for at, cell in enumerate(cells):
        column, text = named.find(cell)
        if column is None:
            unknown += [(at, cell)] if text != _LEFT_OUT and cell else []
            continue
        if other := next((head for head in heads if head.column is column), None):
            instead = f"say which in logs.yaml: columns: ['{cells[other.at]} = -'] leaves the first one out"
            fault("log-header", f"the column {column.title!r} stands twice", n, starts[at], instead)
            faults += 1
            continue
        sign = _unit(column, text if text is not None or at >= len(units) else units[at], cell, n, starts[at], fault)
        faults += sign is None
        heads.append(Head(column, sign or "", at))
    there = {head.column for head in heads}
    missing = [column for column in named.kind.columns if column.needed and column not in there]
    faults += _missing(named.kind, missing, unknown, n, starts, fault)
    return None if faults else tuple(heads)


def _missing(
    kind: LogKind, missing: Sequence[Column], unknown: Sequence[tuple[int, str]], n: int, starts: Sequence[int], fault: Fault
) -> int:
    """Tells the needed columns that were not found, each at the unknown title that is nearest to it."""
    for column in missing:
        sign = (signs_of(column.kind) or [""])[0] if column.unit is None and column.kind not in ("words", "date") else ""
        wanted = f"{column.title} [{sign}]" if sign else column.title
        titles = [_parted(cell)[0] for _, cell in unknown]
        close = [one for name in (column.title, *column.aliases) for one in near(name, titles)][:1]
        at = starts[unknown[titles.index(close[0])][0]] if close else 0
        which = f"is {close[0]!r} it? " if close else ""
        instead = f"{which}write {wanted} in the header, or say in logs.yaml: columns: ['{close[0] if close else 'name there'} = {wanted}']"
        fault("log-header", f"the column {column.title!r} of a {kind.title.lower()} is missing", n, at, instead)
    return len(missing)


def _unit(column: Column, text: str | None, cell: str, n: int, at: int, fault: Fault) -> str | None:
    if column.kind in ("words", "date"):
        return ""
    if (text is None or text == "") and column.unit is not None:
        return column.unit
    signs = signs_of(column.kind)
    if text is None:
        fault("log-unit", f"the column {cell!r} does not say its unit", n, at, f"write {cell} [{(signs or ['1'])[0]}]")
        return None
    sign = unit_sign(text, column.kind)
    if sign is None:
        fault("log-unit", f"{text!r} is not a unit of {column.kind}", n, at, did_you_mean(text, signs, f"units here: {', '.join(signs)}"))
    return sign
