"""Measurement logs as one audience may see them: whole kinds by their mark, and of those no row that names what is withheld."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence

from dossier.model.build import LogTable
from dossier.model.rows import Cell, Rows

BY_WHOM = ("by", "rider", "welder")
"""Fields and columns that name a person."""


def log_for(log: LogTable, hidden: Collection[str], person: Callable[[str], str], unnamed: Callable[[str], str]) -> LogTable:
    """The log without rows that name a record of `hidden`, persons as they are shown, and without the words of what was left out at reading."""
    spoken = [n for n, (name, _) in enumerate(log.columns) if _words(log, n)]
    rows = _rows(log.rows, spoken, hidden)
    if spoken:
        said = {n: person if log.columns[n][0] in BY_WHOM else unnamed for n in spoken}
        rows = tuple(tuple(_said(cell, said.get(n)) for n, cell in enumerate(row)) for row in rows)
    left_out = tuple((line, "") for line, _ in log.left_out)
    return LogTable(log.id, log.kind, log.title, log.columns, rows, left_out, log.belongs_to, audience=log.audience)


def _words(log: LogTable, column: int) -> bool:
    rows = log.rows
    if isinstance(rows, Rows):
        return isinstance(rows.columns[column], list)
    return any(isinstance(row[column], str) for row in rows)


def _rows(rows: Sequence[tuple[Cell, ...]], spoken: Sequence[int], hidden: Collection[str]) -> Sequence[tuple[Cell, ...]]:
    if not spoken or not hidden:
        return rows
    return tuple(row for row in rows if not any(row[n] in hidden for n in spoken))


def _said(cell: Cell, say: Callable[[str], str] | None) -> Cell:
    return say(cell) if say is not None and isinstance(cell, str) else cell
