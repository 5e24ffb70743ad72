"""How wide the columns of a table are on paper: room by what stands in them, never narrower than the longest word."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.pages.parts.plots.lettering import width_of

_MM = 25.4 / 72
_PAD = 2.2
"""Millimetres between the letters of two columns."""
_LONGEST = 62.0
"""Millimetres of one line beyond which a cell asks for no more room."""
_STRONG = 1.09
"""A part that words in half-bold take more than plain ones, and the page's own roundings."""

Cell = Sequence[str]
"""What of a cell may not be broken: its words, in lines; a line that must stay whole is one string with no-break blanks in it."""


def widths(rows: Sequence[Sequence[Cell]], room: float, size: float, fixed: Sequence[float] = ()) -> tuple[list[float], float]:
    """Widths of the columns in mm that fill at most `room`, and how much too narrow `room` is for the words (nought where it is not).

    `size` is that of the letters in points, `fixed` the least width of each column in mm (for what is drawn in it).
    """
    count = max(map(len, rows), default=0)
    least, wanted, whole = [0.0] * count, [0.0] * count, [0.0] * count
    for row in rows:
        for n, cell in enumerate(row):
            for line in cell:
                long = _wide(line, size)
                whole[n], wanted[n] = max(whole[n], long), max(wanted[n], min(long, _LONGEST))
                least[n] = max([least[n], *(_wide(word, size) for word in line.split(" "))])
    least = [max(one, given) + _PAD for one, given in zip(least, fixed or [0.0] * count, strict=True)]
    wanted = [max(one + _PAD, low) for one, low in zip(wanted, least, strict=True)]
    short = sum(least) - room
    if short > 0:
        return [one * room / sum(least) for one in least], short
    if sum(wanted) > room:
        return _shared(least, wanted, room), 0.0
    return _shared(wanted, [max(one + _PAD, low) for one, low in zip(whole, wanted, strict=True)], room), 0.0


def _shared(least: Sequence[float], wanted: Sequence[float], room: float) -> list[float]:
    """To each column its least, and of what is left over as large a part as it wants more; never more than it wants."""
    slack, more = room - sum(least), [one - low for one, low in zip(wanted, least, strict=True)]
    part = min(1.0, slack / sum(more)) if sum(more) else 0.0
    return [low + part * one for low, one in zip(least, more, strict=True)]


def _wide(words: str, size: float) -> float:
    return width_of(words, size) * _STRONG * _MM
