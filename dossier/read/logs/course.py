"""What can be odd about rows that were read: a clock that jumps back, gaps, single spikes, readings given twice, sizes that cannot be."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from dossier.model.build import LogTable
from dossier.read.logs.kind import Faults, Oddity

if TYPE_CHECKING:
    import numpy

GAP = 5.0
"""A step of time longer than so many usual ones, and than a second and a half, is a gap. Our own choice, no source."""
SPIKE = 12.0
"""A reading so many times the usual roughness away from its neighbours stands alone. Our own choice, no source."""


def clock(table: LogTable) -> Iterator[Oddity]:
    """Jumps back and gaps of the column `time`."""
    import numpy as np

    if not table.has("time") or len(table.rows) < 3:
        return
    time = np.asarray(table.numbers("time"))
    step = np.diff(time)
    forward = step[step > 0]
    if not len(forward):
        yield Oddity("log-clock", "time stands still in this log", 0, "look at the column of the time, and at its unit")
        return
    back = np.flatnonzero(step < 0)
    if len(back):
        row = int(back[0]) + 1
        times = "once" if len(back) == 1 else f"{len(back)} times, first here"
        yield Oddity("log-clock", f"the clock jumps back {times}: {time[row - 1]:g} is followed by {time[row]:g}", row)
    usual = float(np.median(forward))
    unit = table.unit("time")
    least = {"s": 1.5, "ms": 1500.0, "min": 0.025, "h": 1.5 / 3600}.get(unit, 0.0)
    gaps = np.flatnonzero(step > max(GAP * usual, least))
    if len(gaps):
        row = int(gaps[0]) + 1
        longest = float(step[gaps].max())
        words = "one gap" if len(gaps) == 1 else f"{len(gaps)} gaps, the first here"
        yield Oddity("log-gap", f"{words}; rows are {usual:g} {unit} apart, and the longest gap is {longest:g} {unit}", row)


def spikes(*names: str) -> Faults:
    """Looks for single readings of these columns that stand far off those before and after them."""

    def look(table: LogTable) -> Iterator[Oddity]:
        import numpy as np

        for name in names:
            if not table.has(name) or len(table.rows) < 20:
                continue
            alone = np.flatnonzero(alone_in(np.asarray(table.numbers(name))))
            if len(alone):
                row = int(alone[0])
                value = table.numbers(name)[row]
                words = "one reading" if len(alone) == 1 else f"{len(alone)} readings, the first here,"
                stands = "stands" if len(alone) == 1 else "stand"
                yield Oddity("log-spike", f"{words} of {name} {stands} alone: {value:g} {table.unit(name)}".rstrip(), row)

    return look


def alone_in(values: numpy.ndarray) -> numpy.ndarray:
    """For each value whether it stands alone: far off both its neighbours, to one side, while these are near each other."""
    import numpy as np

    out = np.zeros(len(values), dtype=bool)
    if len(values) < 3:
        return out
    before, here, after = values[:-2], values[1:-1], values[2:]
    off = np.minimum(np.abs(here - before), np.abs(here - after))
    rough = np.abs(values[1:] - values[:-1])
    rough = rough[np.isfinite(rough)]
    if not len(rough):
        return out
    top = float(np.nanpercentile(np.abs(values), 95)) or 1.0
    usual = max(float(np.median(rough)), float(np.percentile(rough, 90)) / 2, top / 500)
    one_side = np.sign(here - before) == np.sign(here - after)
    out[1:-1] = one_side & (off > SPIKE * usual) & (off > 0.15 * top) & (np.abs(after - before) < off / 3)
    return out


def once(*names: str) -> Faults:
    """Looks for rows that speak of the same thing: those that agree in all these columns."""

    def look(table: LogTable) -> Iterator[Oddity]:
        known = [name for name in names if table.has(name)]
        if not known:
            return
        columns = [
            table.words(name) if table.unit(name) == "" and not _numeric(table, name) else list(table.numbers(name)) for name in known
        ]
        seen: set[tuple[object, ...]] = set()
        again = []
        for row, key in enumerate(zip(*columns, strict=True)):
            again += [(row, key)] if key in seen else []
            seen.add(key)
        if again:
            row, key = again[0]
            said = ", ".join(f"{one:g}" if isinstance(one, float) else str(one) for one in key)
            more = f", and {len(again) - 1} more readings" if len(again) > 1 else ""
            yield Oddity("log-twice", f"the reading for {said} is given twice{more}", row, "keep one of the two rows")

    return look


def _numeric(table: LogTable, name: str) -> bool:
    return any(one == one for one in table.numbers(name)[:50])


def above(least: float, *names: str) -> Faults:
    """Looks for readings that are not above `least`, in the unit they were written in."""

    def look(table: LogTable) -> Iterator[Oddity]:
        for name in names:
            if not table.has(name):
                continue
            for row, value in enumerate(table.numbers(name)):
                if value <= least:
                    said = f"{name} of {value:g} {table.unit(name)}".rstrip()
                    yield Oddity("log-value", f"{said} cannot be", row, "a slip of the pen, or the wrong unit in the header?")
                    break

    return look


def within(least: float, most: float, unit: str, *names: str) -> Faults:
    """Looks for readings outside a range given in `unit`, of columns that were written in that unit; the first of each is named, all counted."""

    def look(table: LogTable) -> Iterator[Oddity]:
        for name in names:
            if not table.has(name) or table.unit(name) != unit:
                continue
            outside = [(row, value) for row, value in enumerate(table.numbers(name)) if value < least or value > most]
            if outside:
                row, value = outside[0]
                said = f"{name} of {value:g} {unit}".rstrip() + (f", and {len(outside) - 1} more," if len(outside) > 1 else "")
                yield Oddity("log-value", f"{said} lies outside {least:g} to {most:g} {unit}".rstrip(), row)

    return look


def near_middle(share: float, name: str) -> Faults:
    """Looks for readings of one size that stand further from the middle one than a share of it: a lost digit, or another unit."""

    def look(table: LogTable) -> Iterator[Oddity]:
        import numpy as np

        values = np.asarray(table.numbers(name)) if table.has(name) and len(table.rows) > 2 else np.empty(0)
        middle = float(np.nanmedian(values)) if len(values) else 0.0
        for row in np.flatnonzero(np.abs(values - middle) > share * abs(middle)):
            said = f"{name} of {values[row]:g} {table.unit(name)} is far from the others, near {middle:g}"
            yield Oddity("log-value", said, int(row), "a lost digit, or another unit?")

    return look
