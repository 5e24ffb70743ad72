"""The rows of a log to columns: whole runs of rows at once where they are clean, one by one where they are not; nothing is guessed."""

from __future__ import annotations

import csv
import datetime
import re
from array import array
from collections.abc import Callable, Sequence

from dossier.model import notation
from dossier.model.notation import Unreadable
from dossier.model.rows import Column as Cells
from dossier.model.rows import Rows
from dossier.model.units import UNITS
from dossier.read.logs.header import Head, Header, cells_of, folded, starts_of
from dossier.read.logs.kind import Column

RUN = 4000
"""So many rows are taken at once."""
_NUMBER = r"-?(?:0|[1-9][0-9]{0,11})(?:\.[0-9]{1,12})?"
_PLAIN = re.compile(_NUMBER)
_FULL, _GAPPED = re.compile(rf"(?:{_NUMBER}\n)*"), re.compile(rf"(?:(?:{_NUMBER})?\n)*")
_CLOCK = re.compile(r"(?:([0-9]{4}-[0-9]{2}-[0-9]{2})[ T])?([0-2]?[0-9]):([0-5][0-9]):([0-5][0-9](?:\.[0-9]{1,9})?)")
_MINUTES = re.compile(r"([0-9]{1,3}):([0-5][0-9](?:\.[0-9]{1,6})?)")
_COMMA, _POINT = re.compile(r"[-+]?[0-9]+,[0-9]+"), re.compile(r"[-+]?[0-9]+\.[0-9]+")
_SURE = re.compile(r"[-+]?(?:[0-9]+,(?:[0-9]{1,2}|[0-9]{4,})|0,[0-9]+|[0-9]{4,},[0-9]+)")
"""A number whose comma cannot part thousands."""

Leave = Callable[[str, int, int, str, str], None]
"""Leaves a row out: code, line, column (both from 0), reason, advice."""


class Body:
    """The rows of a log under a header that is understood; `decimal` is its decimal mark."""

    def __init__(self, header: Header, lines: list[str], decimal: str, leave: Leave) -> None:
        self.header, self.lines, self.decimal, self.leave = header, lines, decimal, leave
        self.columns: list[Cells] = [[] if head.column.kind in ("words", "date") else array("d") for head in header.heads]
        self.line_of = array("L")
        """For each row, the line it stands in, from 0."""
        self.again = 0
        """How many rows repeat the header."""
        self._first_day: datetime.date | None = None
        self._above = tuple(folded(cell) for cell in header.cells)

    def read(self) -> Rows:
        """All rows that can be read."""
        for start in range(self.header.body, len(self.lines), RUN):
            numbers = [n for n in range(start, min(start + RUN, len(self.lines))) if self.lines[n].strip(" \t,;|")]
            if not self._at_once(numbers):
                for n in numbers:
                    self._one(n)
        return Rows(self.columns, len(self.line_of))

    def _at_once(self, numbers: Sequence[int]) -> bool:
        """Take a run of rows in at once; False, and nothing taken, where any of them needs a closer look."""
        if not numbers or any(head.column.kind == "date" for head in self.header.heads):
            return not numbers
        try:
            rows = list(csv.reader([self.lines[n] for n in numbers], delimiter=self.header.mark, skipinitialspace=True))
        except csv.Error:
            return False
        if len(rows) != len(numbers) or len({len(row) for row in rows}) > 1:
            return False
        across = list(zip(*rows, strict=True))
        if len(across) < self.header.width or any(any(column) for column in across[self.header.width :]):
            return False
        found: list[Cells] = []
        for head in self.header.heads:
            column = self._whole(head.column, across[head.at])
            if column is None:
                return False
            found.append(column)
        for mine, more in zip(self.columns, found, strict=True):
            mine.extend(more)  # type: ignore[arg-type]
        self.line_of.extend(numbers)
        return True

    def _whole(self, column: Column, cells: Sequence[str]) -> Cells | None:
        if column.kind == "words":
            stripped = [cell.strip() or None for cell in cells]
            return stripped if not column.choices and (column.blank or all(stripped)) else None
        joined = "\n".join(cells) + "\n"
        if self.decimal == ",":
            if "." in joined:
                return None
            joined = joined.replace(",", ".")
        if _FULL.fullmatch(joined):
            return array("d", map(float, joined.split()))
        if column.blank and _GAPPED.fullmatch(joined):
            return array("d", (float(cell) if cell else float("nan") for cell in joined[:-1].split("\n")))
        return None

    def _one(self, n: int) -> None:
        """Take one row in, or leave it out."""
        cells = cells_of(self.lines[n], self.header.mark)
        while len(cells) > self.header.width and not cells[-1]:
            cells.pop()
        if self._is_header(cells):
            self.again += 1
            self.leave("log-header-again", n, 0, "it is the header again", "")
            return
        if len(cells) != self.header.width:
            self.leave("log-row", n, 0, f"{len(cells)} cells, and the header has {self.header.width}", "")
            return
        row: list[float | str | None] = []
        for head in self.header.heads:
            try:
                row.append(self._value(cells[head.at], head))
            except Unreadable as fault:
                self.leave("log-number", n, starts_of(self.lines[n], self.header.mark)[head.at], fault.message, fault.instead)
                return
        for column, cell in zip(self.columns, row, strict=True):
            column.append(float("nan") if cell is None and isinstance(column, array) else cell)  # type: ignore[arg-type]
        self.line_of.append(n)

    def _is_header(self, cells: Sequence[str]) -> bool:
        if not self._above:
            return False
        said = tuple(folded(cell) for cell in cells[: len(self._above)])
        return said == self._above or bool(self.header.units and tuple(cells[: len(self.header.units)]) == self.header.units)

    def _value(self, text: str, head: Head) -> float | str | None:
        """A cell's text as its column wants it; None where it is blank. Raises Unreadable."""
        column = head.column
        if not text:
            if column.blank:
                return None
            raise Unreadable("log-number", f"{column.title.lower()} is empty")
        if column.kind == "words":
            return _word(text, column)
        if column.kind == "date":
            return notation.day(text).isoformat()
        if column.kind == "time" and ":" in text:
            return self._clock(text, head.unit)
        if self.decimal == ",":
            text = _pointed(text)
        # The plain case first and alone: a log may have a million rows.
        return float(text) if _PLAIN.fullmatch(text) else float(notation.number(text))

    def _clock(self, text: str, unit: str) -> float:
        """Minutes and seconds, or a time of day counted from the midnight before the first row; in the column's unit."""
        text = text.replace(",", ".") if self.decimal == "," else text
        if found := _CLOCK.fullmatch(text):
            days = 0
            if found[1]:
                day = notation.day(found[1])
                self._first_day = self._first_day or day
                days = (day - self._first_day).days
            seconds = days * 86_400.0 + int(found[2]) * 3600 + int(found[3]) * 60 + float(found[4])
        elif found := _MINUTES.fullmatch(text):
            seconds = int(found[1]) * 60 + float(found[2])
        else:
            raise Unreadable("log-number", f"{text!r} is no time", "write seconds, m:ss.s or hh:mm:ss")
        return seconds / UNITS[unit].scale


def _word(text: str, column: Column) -> str:
    if not column.choices:
        return text
    if (word := text.casefold()) in column.choices:
        return word
    raise Unreadable("log-number", f"{text!r} is no {column.title.lower()} known here", f"write one of: {'; '.join(column.choices)}")


def _pointed(text: str) -> str:
    if "." in text:
        raise Unreadable("log-number", f"{text!r} has a point, and this log has decimal commas", "write one number in one way")
    return text.replace(",", ".")


def decimal_mark(header: Header, lines: Sequence[str]) -> tuple[str, str]:
    """The decimal mark of a log's numbers, and a cell that shows it: `.`, `,`, or empty where it cannot be told (then the cell says why).

    A comma is a decimal mark where cells are not parted by commas, none of the numbers has a point, and at least one of
    them cannot be thousands.
    """
    ats = [head.at for head in header.heads if head.column.kind not in ("words", "date")]
    commas: list[str] = []
    wide = rows = 0
    for line in lines[header.body : header.body + 5000]:
        if not line.strip(" \t,;|"):
            continue
        cells = cells_of(line, header.mark)
        rows += 1
        wide += len([cell for cell in cells if cell]) > header.width
        texts = [cells[at] for at in ats if at < len(cells)]
        if any(_POINT.fullmatch(text) for text in texts):
            return ".", ""
        commas += [text for text in texts if _COMMA.fullmatch(text)]
    if header.mark == "," and rows and wide == rows:
        return "", f"{header.width} columns, and more cells than that in every row"
    if not commas:
        return ".", ""
    sure = next((text for text in commas if _SURE.fullmatch(text)), "")
    return (",", sure) if sure and header.mark != "," else ("", commas[0])
