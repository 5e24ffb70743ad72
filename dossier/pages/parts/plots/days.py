"""A scale of days that leaves out long stretches in which nothing happened, and says so with break strokes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from itertools import pairwise

from dossier.pages.parts.plots.pen import Board, Form

_MONTHS = (
    *("January", "February", "March", "April", "May", "June"),
    *("July", "August", "September", "October", "November", "December"),
)
_LONG_GAP = 370  # days without anything, from which the scale is cut
_STEPS = (1, 2, 3, 6, 12, 24, 60, 120, 240)  # months between marks


def day_words(day: date) -> str:
    """A date as the sheets print it: 11 June 1967."""
    return f"{day.day} {_MONTHS[day.month - 1]} {day.year}"


@dataclass(frozen=True)
class Stretch:
    """An unbroken part of the scale: first and last day (ordinals) and their pixels."""

    first: int
    last: int
    left: float
    right: float

    def at(self, ordinal: float) -> float:
        """The pixel of a day of this stretch."""
        if self.last == self.first:
            return (self.left + self.right) / 2
        return self.left + (self.right - self.left) * (ordinal - self.first) / (self.last - self.first)


class DayScale:
    """Days against pixels, in one or more stretches."""

    def __init__(self, days: Sequence[date], left: float, right: float, form: Form) -> None:
        """`days` are all that must be on the scale; `left` and `right` its pixels."""
        ordinals = sorted({day.toordinal() for day in days})
        if not ordinals:
            raise ValueError("a scale of days needs a day")
        groups = [[ordinals[0]]]
        for before, after in pairwise(ordinals):
            if after - before > _LONG_GAP:
                groups.append([])
            groups[-1].append(after)
        self.form = form
        self.gap = 26.0 if not form.narrow else 14.0
        self.stretches = self._laid_out([(group[0], group[-1]) for group in groups], left, right)

    def _laid_out(self, groups: list[tuple[int, int]], left: float, right: float) -> list[Stretch]:
        least = 44.0 if not self.form.narrow else 32.0
        room = right - left - self.gap * (len(groups) - 1)
        least = min(least, room / len(groups))
        spare, total = room - least * len(groups), sum(last - first for first, last in groups)
        at, out = left, []
        for first, last in groups:
            share = (last - first) / total if total else 1 / len(groups)
            out.append(Stretch(first, last, at, at + least + spare * share))
            at = out[-1].right + self.gap
        return out

    def at(self, day: date) -> float:
        """The pixel of a day; a day outside all stretches stands at the nearest end of one."""
        ordinal = day.toordinal()
        near = min(self.stretches, key=lambda s: max(s.first - ordinal, ordinal - s.last, 0))
        return near.at(min(max(ordinal, near.first), near.last))

    def marks(self) -> list[tuple[float, str, str]]:
        """Pixel, month and year of each mark; no month where only years are marked, no year where it repeats."""
        return [mark for stretch in self.stretches for mark in self._marks_of(stretch)]

    def _marks_of(self, stretch: Stretch) -> list[tuple[float, str, str]]:
        first, last = date.fromordinal(stretch.first), date.fromordinal(stretch.last)
        if first == last:
            return [((stretch.left + stretch.right) / 2, "", str(first.year))]
        months = (last.year - first.year) * 12 + last.month - first.month
        width = stretch.right - stretch.left
        step = next((s for s in _STEPS if months / s * (42 if s < 12 else 46) <= width), _STEPS[-1])
        out, shown = [], 0
        for month in range(first.year * 12 + first.month - 1, last.year * 12 + last.month):
            day = date(month // 12, month % 12 + 1, 1)
            if month % step == 0 and first <= day <= last:
                year = str(day.year) if day.year != shown else ""
                out.append((stretch.at(day.toordinal()), "" if step >= 12 else _MONTHS[day.month - 1][:3], year))
                shown = day.year
        return out or [((stretch.left + stretch.right) / 2, "", str(first.year))]

    def draw(self, board: Board, top: float, bottom: float) -> None:
        """The scale below `bottom`: marks with their words, break strokes where it is cut."""
        marks = self.marks()
        board.sheet.strokes("grid", *([(x, top), (x, bottom)] for x, _, _ in marks))
        board.sheet.strokes("axis", *([(s.left - 6, bottom), (s.right + 6, bottom)] for s in self.stretches))
        for x, month, year in marks:
            lines = [words for words in (month, year) if words]
            for n, words in enumerate(lines):
                board.write(x, bottom + 19 + 17 * n, words, "t-num", "middle")
        for before, after in pairwise(self.stretches):
            x = (before.right + after.left) / 2
            board.sheet.strokes("brk", *([(x + dx - 3, bottom + 5), (x + dx + 3, bottom - 5)] for dx in (-2.5, 2.5)))
