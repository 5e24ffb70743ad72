"""Dyno curves: power and torque against engine speed for several runs, with the correction factor in words."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.pages.parts.plots.lettering import fit, plain
from dossier.pages.parts.plots.pen import Board, Field, Form, Point, Stamp, ticks, two_drawings

KEY = "Upper curves: power. Lower curves: torque. The ring marks the highest point of each run."
PULLS = "The curve is the mean of the pulls; the upright strokes reach from the least to the greatest of them."
_LINES = ("line", "dash", "line-2", "dots")


@dataclass(frozen=True)
class DynoPoint:
    """One point of a run: rev/min, N m, kW; of several pulls their mean, with the least and the greatest torque."""

    rpm: float
    torque: float
    power: float
    least: float | None = None
    most: float | None = None

    def span(self, power: bool) -> tuple[float, float]:
        """From the least to the greatest, as torque or as power."""
        low, high = (self.torque if side is None else side for side in (self.least, self.most))
        scale = self.power / self.torque if power and self.torque else 1.0
        return low * scale, high * scale


@dataclass(frozen=True)
class DynoRun:
    """One run: its name, its points, and a line on the correction factor and whether it is applied to the curve."""

    name: str
    points: tuple[DynoPoint, ...]
    factor: str = "no correction factor stated"


@dataclass(frozen=True)
class DynoChart:
    """Up to four runs, the one that counts first; `where` says at which shaft, such as `at the rear wheel`."""

    runs: tuple[DynoRun, ...]
    where: str = "at the rear wheel"
    title: str = "Power and torque"


def dyno_chart(chart: DynoChart, stamp: Stamp, prefix: str = "dyno") -> str:
    """The curves as two SVG drawings; kW and N m against rev/min."""
    if not 1 <= len(chart.runs) <= len(_LINES) or not all(run.points for run in chart.runs):
        raise ValueError("dyno curves need one to four runs with points")
    return two_drawings(lambda form: draw_dyno(chart, stamp, form), prefix, chart.title, _said(chart))


def _peak(run: DynoRun, power: bool) -> DynoPoint:
    return max(run.points, key=lambda p: p.power if power else p.torque)


def _said(chart: DynoChart) -> str:
    runs = []
    for run in chart.runs:
        best, pull = _peak(run, True), _peak(run, False)
        power = f"greatest power {plain(best.power, 1)} kW at {plain(best.rpm)} rev/min"
        torque = f"greatest torque {plain(pull.torque, 1)} N m at {plain(pull.rpm)} rev/min"
        runs.append(f"{run.name}: {power}, {torque}; {run.factor}.")
    return f"Measured {chart.where}. " + " ".join(runs)


def draw_dyno(chart: DynoChart, stamp: Stamp, form: Form) -> Board:
    """One drawing: power above, torque below, on one scale of engine speed."""
    wide = not form.narrow
    legend = 22 * len(chart.runs) if wide else 40 * len(chart.runs)
    left, right = (44, 970) if wide else (28, 318)
    top = legend + 34
    upper, lower = (250, 190) if wide else (200, 160)
    gap = 44
    board = Board(form, top + upper + gap + lower + 60, stamp, "" if form.narrow else chart.where)
    rpms = [p.rpm for run in chart.runs for p in run.points]
    marks = [v for v in ticks(min(rpms), max(rpms), 10 if wide else 4) if v <= max(rpms)]
    scale = (marks[0], max(max(rpms), marks[0] + 1))
    _legend(board, chart, form)
    for power, y0, high in ((True, top, upper), (False, top + upper + gap, lower)):
        values = [side for run in chart.runs for p in run.points for side in p.span(power)]
        levels = ticks(min(values) * 0.97, max(values) * 1.06, 6 if power else 4)
        field = board.field(left, y0, right, y0 + high, scale, (levels[0], levels[-1]))
        _frame(
            field,
            marks,
            scale[1],
            levels,
            f"power, kW{' ' + chart.where if form.narrow else ''}" if power else "torque, N m",
        )
        _curves(field, chart, power, form)
    for value in marks:
        field.letters(value, levels[0], plain(value), "t-num", "middle", dy=19)
    board.write(right, board.height - 22, "engine speed, rev/min", "t-lab", "end")
    return board


def _legend(board: Board, chart: DynoChart, form: Form) -> None:
    y = 14.0
    for kind, run in zip(_LINES, chart.runs, strict=False):
        board.sheet.strokes(kind, [(0, y - 5), (40, y - 5)])
        board.write(50, y, run.name, "t-lab strong")
        if form.narrow:
            y += 18
            board.write(50, y, fit(run.factor, 290, form.label), "t-lab quiet")
        else:
            start = 50 + form.width_of(run.name, "t-lab strong") + 12
            board.write(start, y, fit(run.factor, 990 - start, form.label), "t-lab quiet")
        y += 22


def _frame(field: Field, marks: list[float], end: float, levels: list[float], name: str) -> None:
    field.strokes("grid", *([(marks[0], v), (end, v)] for v in levels), *([(v, levels[0]), (v, levels[-1])] for v in marks))
    field.strokes("axis", [(marks[0], levels[-1]), (marks[0], levels[0]), (end, levels[0])])
    digits = 0 if all(v == int(v) for v in levels) else 1
    for value in levels:
        field.letters(marks[0], value, plain(value, digits), "t-num", "end", dx=-7, dy=4.5)
    field.board.write(0, field.box[1] - 14, name)


def _curves(field: Field, chart: DynoChart, power: bool, form: Form) -> None:
    peaks: list[tuple[Point, str, bool]] = []
    for kind, run in reversed(list(zip(_LINES, chart.runs, strict=False))):
        field.strokes(kind, [(p.rpm, p.power if power else p.torque) for p in run.points])
        spans = [(p.rpm, *p.span(power)) for p in run.points if p.least is not None]
        if spans:
            field.strokes("u", *([(rpm, low), (rpm, high)] for rpm, low, high in spans))
        peak = _peak(run, power)
        value = peak.power if power else peak.torque
        peaks.append(
            (
                (peak.rpm, value),
                f"{plain(value, 1)} {'kW' if power else 'N m'} at {plain(peak.rpm)}",
                run is chart.runs[0],
            )
        )
    taken: list[float] = []
    for (rpm, value), words, first in sorted(peaks, key=lambda p: -p[0][1]):
        field.dots("o" if first else "hub", [(rpm, value)], 4)
        if form.narrow and not first:
            continue
        x, y = field.at(rpm, value)
        above = not any(abs(y - 10 - other) < 17 for other in taken) and first
        base = y - 10 if above else y + 22
        while any(abs(base - other) < 17 for other in taken):
            base += 4
        taken.append(base)
        anchor = "end" if x + form.width_of(words, "t-num strong") / 2 > field.box[2] else "middle"
        at = field.box[2] if anchor == "end" else x
        field.board.write(at, base, words, "t-num strong" if first else "t-num", anchor)
