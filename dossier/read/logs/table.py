"""A CSV log to a table: header with units first, then rows; a row that cannot be read is left out, counted and listed with its reason."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from pathlib import PurePosixPath

from dossier.model import notation
from dossier.model.build import LogTable
from dossier.model.notation import Unreadable
from dossier.model.problems import Place, Problem, did_you_mean
from dossier.model.units import UNITS, signs_of
from dossier.read.files import Folder
from dossier.read.logs.kind import LOG_KINDS, Column, LogKind
from dossier.read.text import LINE_END, decoded

_NAME = re.compile(r"(?P<id>.+)\.(?P<kind>[A-Za-z0-9_]+)\.csv", re.IGNORECASE)
_HEAD = re.compile(r"(?P<title>[^\[\]]*?)\s*(?:\[(?P<unit>[^\[\]]*)\])?")
_PLAIN = re.compile(r"-?(?:0|[1-9][0-9]{0,11})(?:\.[0-9]{1,12})?")
LARGEST = 400_000_000
TOLD = 20
"""So many rows left out are told one by one; the rest only counted."""

Head = tuple[Column, str]
Cell = float | str | None


def read_log(folder: Folder, name: str) -> tuple[LogTable | None, list[Problem]]:
    """A log of the build folder as read, None where its name or header says too little; and all that is wrong with it."""
    file = PurePosixPath(name).name
    found = _NAME.fullmatch(file)
    if not found:
        return None, [Problem("log-name", f"{file!r} does not say record and kind", folder.place(name), "call it as in DY-1.dyno_run.csv")]
    if found["kind"] not in LOG_KINDS:
        instead = did_you_mean(found["kind"], LOG_KINDS.names(), f"kinds: {', '.join(LOG_KINDS.names())}")
        return None, [Problem("log-kind-unknown", f"there is no kind of log {found['kind']!r}", folder.place(name), instead)]
    data, problems = folder.bytes_of(name, largest=LARGEST)
    if data is None:
        return None, problems
    text, faults = decoded(data, folder.shown(name), LARGEST)
    problems += faults
    if text is None:
        return None, problems
    kind = LOG_KINDS[found["kind"]]
    table = _Table(kind, LINE_END.split(text), folder.shown(name))
    read = table.read()
    problems += table.problems
    if read is None:
        return None, problems
    rows, left_out, columns = read
    return LogTable(f"{found['id']}.{kind.name}", kind.name, kind.title, columns, rows, left_out, found["id"]), problems


class _Table:
    """One log on its way from lines to rows."""

    def __init__(self, kind: LogKind, lines: list[str], file: str) -> None:
        self.kind, self.lines, self.file = kind, lines, file
        self.problems: list[Problem] = []

    def read(self) -> tuple[tuple[tuple[Cell, ...], ...], tuple[tuple[int, str], ...], tuple[tuple[str, str], ...]] | None:
        """Rows, rows left out (line, reason) and columns (name, unit); None where the header cannot be read."""
        first = next((n for n, line in enumerate(self.lines) if line.strip(" \t,;")), None)
        if first is None:
            self._fault("log-empty", "there is nothing in this log", Place(self.file), "delete it, or put the rows in")
            return None
        mark = ";" if self.lines[first].count(";") > self.lines[first].count(",") else ","
        heads = self._heads(_without_tail(_cells(self.lines[first], mark), 1), first)
        if heads is None:
            return None
        rows: list[tuple[Cell, ...]] = []
        left_out: list[tuple[int, str]] = []
        for n, line in enumerate(self.lines[first + 1 :], start=first + 1):
            if not line.strip(" \t,;"):
                continue
            row = self._row(_cells(line, mark), heads, n, left_out)
            if row is not None:
                rows.append(row)
        if len(left_out) > TOLD:
            self._fault("log-row", f"{len(left_out)} rows were left out in all, of which {TOLD} are told here", Place(self.file))
        if not rows:
            self._fault("log-empty", "no row of this log could be read", Place(self.file), "put rows below the header")
        return tuple(rows), tuple(left_out), tuple((column.name, unit) for column, unit in heads)

    def _heads(self, cells: Sequence[tuple[int, str]], n: int) -> list[Head] | None:
        heads: list[Head] = []
        before = len(self.problems)
        for at, text in cells:
            if head := self._head(text, self._place(n, at)):
                if any(head[0].name == other.name for other, _ in heads):
                    self._fault("log-header", f"the column {head[0].title!r} stands twice", self._place(n, at), "keep one")
                heads.append(head)
        there = {column.name for column, _ in heads}
        for column in self.kind.columns:
            if column.needed and column.name not in there and len(self.problems) == before:
                unit = f" [{signs_of(column.kind)[0]}]" if column.unit is None and column.kind in signs_kinds() else ""
                self._fault("log-header", f"the column {column.title!r} is missing", self._place(n, 0), f"write {column.title}{unit}")
        return None if len(self.problems) > before else heads

    def _head(self, text: str, place: Place) -> Head | None:
        found = _HEAD.fullmatch(text)
        titles = {name.casefold(): column for column in self.kind.columns for name in (column.title, column.name, *column.aliases)}
        column = titles.get(found["title"].casefold()) if found else None
        if not found or column is None:
            known = [column.title for column in self.kind.columns]
            title = found["title"] if found else text
            instead = did_you_mean(title, known, f"columns: {', '.join(known)}")
            self._fault("log-header", f"a {self.kind.title.lower()} has no column {text!r}", place, instead)
            return None
        unit = found["unit"]
        if column.kind in ("words", "date"):
            return column, ""
        if unit is None and column.unit is not None:
            return column, column.unit
        if unit is None:
            instead = f"write {text} [{(signs_of(column.kind) or ['1'])[0]}]"
            self._fault("log-unit", f"the column {text!r} does not say its unit", place, instead)
            return None
        if unit not in UNITS or UNITS[unit].kind != column.kind:
            signs = signs_of(column.kind)
            instead = did_you_mean(unit, signs, f"units here: {', '.join(signs)}")
            self._fault("log-unit", f"{unit!r} is not a unit of {column.kind}", place, instead)
            return None
        return column, UNITS[unit].sign

    def _row(self, cells: Sequence[tuple[int, str]], heads: list[Head], n: int, left_out: list[tuple[int, str]]) -> tuple[Cell, ...] | None:
        cells = _without_tail(cells, len(heads))
        if len(cells) != len(heads):
            self._leave(left_out, "log-row", n, 0, f"{len(cells)} cells, and the header has {len(heads)}")
            return None
        row: list[Cell] = []
        for (at, text), (column, unit) in zip(cells, heads, strict=True):
            if not text and not column.blank:
                self._leave(left_out, "log-number", n, at, f"{column.title.lower()} is empty")
                return None
            try:
                row.append(_value(text, column, unit))
            except Unreadable as fault:
                self._leave(left_out, "log-number", n, at, fault.message, fault.instead)
                return None
        return tuple(row)

    def _leave(self, left_out: list[tuple[int, str]], code: str, n: int, at: int, reason: str, instead: str = "") -> None:
        left_out.append((n + 1, reason))
        if len(left_out) <= TOLD:
            self._fault(code, f"row left out: {reason}", self._place(n, at), instead)

    def _place(self, n: int, at: int) -> Place:
        return Place(self.file, n + 1, at + 1, self.lines[n][:400])

    def _fault(self, code: str, message: str, place: Place, instead: str = "") -> None:
        self.problems.append(Problem(code, message, place, instead))


def _value(text: str, column: Column, unit: str) -> Cell:
    """A cell's text as its column wants it; None where it is blank. Raises Unreadable."""
    if not text:
        return None
    if column.kind == "words":
        return text
    if column.kind == "date":
        return notation.day(text).isoformat()
    if column.kind == "time" and unit == "s" and ":" in text:
        return float(notation.quantity(text, "time").number)
    # The plain case first and alone: a log may have a million rows.
    return float(text) if _PLAIN.fullmatch(text) else float(notation.number(text))


def signs_kinds() -> set[str]:
    """Kinds of quantity that have a sign to write."""
    return {unit.kind for unit in UNITS.values() if unit.sign}


def _without_tail(cells: Sequence[tuple[int, str]], least: int) -> Sequence[tuple[int, str]]:
    """Cells without the empty ones at the end that spreadsheets leave, down to `least`."""
    end = len(cells)
    while end > least and not cells[end - 1][1]:
        end -= 1
    return cells[:end]


def _cells(line: str, mark: str) -> list[tuple[int, str]]:
    """The cells of a line, each with the column it begins in (from 0)."""
    try:
        texts = next(csv.reader([line], delimiter=mark, skipinitialspace=True), [])
    except csv.Error:
        texts = line.split(mark)
    out = []
    at = 0
    for text in texts:
        start = line.find(text, at) if text else at
        start = at if start < 0 else start
        out.append((start, text.strip()))
        after = line.find(mark, start + len(text))
        at = after + 1 if after >= 0 else len(line)
    return out
