"""Rows of a log kept column by column: numbers as plain arrays of floats, words as lists, so that a million rows stay small."""

from __future__ import annotations

import math
from array import array
from collections.abc import Iterator, Sequence
from typing import TypeAlias, overload

Cell = float | str | None
Column: TypeAlias = "array[float] | list[str | None]"
"""Numbers as an array of "d", a blank cell NaN; words as a list, a blank cell None."""


class Rows(Sequence[tuple[Cell, ...]]):
    """Rows of cells, read like a tuple of tuples; `columns` holds each column whole. Blank cells read as None."""

    __slots__ = ("_length", "columns")

    def __init__(self, columns: Sequence[Column], length: int) -> None:
        """`columns` must each have `length` cells. ValueError when one has not."""
        if any(len(column) != length for column in columns):
            raise ValueError("the columns of a log differ in length")
        self.columns = tuple(columns)
        self._length = length

    def __len__(self) -> int:
        return self._length

    @overload
    def __getitem__(self, at: int) -> tuple[Cell, ...]: ...
    @overload
    def __getitem__(self, at: slice) -> Rows: ...
    def __getitem__(self, at: int | slice) -> tuple[Cell, ...] | Rows:
        if isinstance(at, slice):
            return Rows([column[at] for column in self.columns], len(range(*at.indices(self._length))))
        if not -self._length <= at < self._length:
            raise IndexError("there is no such row")
        return tuple(_cell(column[at]) for column in self.columns)

    def __iter__(self) -> Iterator[tuple[Cell, ...]]:
        if not self.columns:
            return iter([()] * self._length)
        return (tuple(_cell(cell) for cell in row) for row in zip(*self.columns, strict=True))

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Sequence) or isinstance(other, str) or len(other) != self._length:
            return NotImplemented if not isinstance(other, Sequence) else False
        return all(mine == tuple(theirs) for mine, theirs in zip(self, other, strict=True))

    def __hash__(self) -> int:
        return hash(tuple(self)) if self._length < 1000 else hash((self._length, self[0], self[-1]))

    def __repr__(self) -> str:
        return f"Rows({self._length} rows of {len(self.columns)} columns)"


def _cell(cell: float | str | None) -> Cell:
    return None if isinstance(cell, float) and math.isnan(cell) else cell


def column_of(rows: Sequence[tuple[Cell, ...]], at: int) -> Sequence[Cell]:
    """One column of rows, blank number cells as None where the rows are tuples and as NaN where they are kept by column."""
    return rows.columns[at] if isinstance(rows, Rows) else [row[at] for row in rows]
