"""Lap times: each lap as a dot, the median, and the laps that stand apart, kept and named."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.logs.chart import Chart, Cloud, Line, log_chart
from dossier.pages.parts.logs.drawn import drawn
from dossier.pages.parts.numbers import door, esc, lap_time, number
from dossier.pages.parts.tables import particulars

_LINES = (("Mean", "mean_logged_lap"), ("Median", "median_lap"), ("Spread", "lap_spread"), ("Mean over best", "mean_over_best_lap"))


@drawn("lap_times", "running", "Lap times")
def lap_times(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """Chart and particulars of the laps of one session."""
    out = []
    for log in logs:
        laps = list(zip(log.numbers("lap"), log.numbers("time"), strict=True))
        notes = log.words("note") if log.has("note") else [""] * len(laps)
        apart = edition.figure("lap_apart", log.belongs_to)
        limit = apart.value if apart is not None else None
        odd = [(lap, time, note) for (lap, time), note in zip(laps, notes, strict=True) if limit is not None and time > limit]
        best = min(laps, key=lambda one: one[1])
        rows = [("Best", f"{lap_time(best[1])} on lap {best[0]:.0f}")]
        rows += [(title, door(edition.figure(name, log.belongs_to))) for title, name in _LINES if edition.figure(name, log.belongs_to)]
        named = ", ".join(f"lap {lap:.0f}, {lap_time(time)}" + (f" ({esc(note)})" if note else "") for lap, time, note in odd)
        rows += [("Laps that stand apart", f"{named}: slower than {door(apart)}")] if named else []
        out += [plot_figure(_drawn(edition, log, laps), "Each dot is a lap; the stroke is the median."), particulars(rows)]
    return out


def _drawn(edition: Edition, log: LogTable, laps: list[tuple[float, float]]) -> str:
    median = edition.figure("median_lap", log.belongs_to)
    first, last = laps[0][0], laps[-1][0]
    lines = [Line(((first, median.value), (last, median.value)), "lim", "median")] if median is not None and median.value is not None else []
    said = f"{len(laps)} laps, best {number(min(time for _, time in laps), 1)} s" + (f", median {median.value:.1f} s" if lines and median else "")
    chart = Chart(f"Lap times of {log.belongs_to}", "lap", "lap time, s", tuple(lines), (Cloud(tuple(laps), "f", True),), f"{said}.", 200)
    return log_chart(chart, stamp(edition), f"laps-{log.belongs_to}")
