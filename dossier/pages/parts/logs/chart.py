"""A chart of what a log holds: lines and clouds of readings against one another, with its axes named, in the pen of all plots."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from dossier.pages.parts.plots.lettering import fit, plain, spread
from dossier.pages.parts.plots.pen import Board, Field, Form, Point, Stamp, something, ticks, two_drawings

MOST = 600
"""No cloud on a page has more readings than this: a longer log is thinned evenly."""


@dataclass(frozen=True)
class Line:
    """A line through points; `kind` is a stroke of the plots' style sheet; `name` stands at its end where there is one."""

    points: tuple[Point, ...]
    kind: str = "line"
    name: str = ""


@dataclass(frozen=True)
class Cloud:
    """Readings drawn each as a small upright tick (`rings` false) or as dots; thinned where there are too many."""

    points: tuple[Point, ...]
    kind: str = "line"
    rings: bool = False


@dataclass(frozen=True)
class Chart:
    """A chart: its title, what stands on its two axes, its lines and clouds, and in words what it says."""

    title: str
    across: str
    up: str
    lines: tuple[Line, ...] = ()
    clouds: tuple[Cloud, ...] = ()
    says: str = ""
    height: int = 300


def thinned(points: Sequence[Point], most: int = MOST) -> tuple[Point, ...]:
    """Evenly every so many points, the first and the last among them."""
    if len(points) <= most:
        return tuple(points)
    return tuple(points[round(n * (len(points) - 1) / (most - 1))] for n in range(most))


def log_chart(chart: Chart, stamp: Stamp, prefix: str) -> str:
    """The chart as two SVG drawings. ValueError where there is nothing in it."""
    something([*chart.lines, *chart.clouds], "readings")
    return two_drawings(lambda form: draw_chart(chart, stamp, form), prefix, chart.title, chart.says or chart.title)


def draw_chart(chart: Chart, stamp: Stamp, form: Form) -> Board:
    """One drawing of the chart."""
    wide = not form.narrow
    names = any(line.name for line in chart.lines)
    left, right = (64, 920 if names else 976) if wide else (44, 284 if names else 322)
    top, bottom = 34, 34 + (chart.height if wide else chart.height * 3 // 4)
    board = Board(form, bottom + 62, stamp)
    points = [point for line in chart.lines for point in line.points] + [point for cloud in chart.clouds for point in cloud.points]
    xs, ys = ([point[axis] for point in points] for axis in (0, 1))
    across, up = ticks(min(xs), max(xs), 10 if wide else 4), ticks(min(ys), max(ys), 6 if wide else 5)
    field = board.field(left, top, right, bottom, (across[0], across[-1]), (up[0], up[-1]))
    _axes(field, across, up)
    board.write(0, top - 16, chart.up)
    board.write(field.box[2], bottom + 38, chart.across, "t-lab", "end")
    for cloud in chart.clouds:
        _cloud(field, cloud, (up[-1] - up[0]) / (bottom - top))
    for line in chart.lines:
        field.strokes(line.kind, thinned(line.points))
    _names(field, [line for line in chart.lines if line.name], form)
    return board


def _axes(field: Field, across: Sequence[float], up: Sequence[float]) -> None:
    field.strokes("grid", *([(v, up[0]), (v, up[-1])] for v in across), *([(across[0], v), (across[-1], v)] for v in up))
    field.strokes("axis", [(across[0], up[-1]), (across[0], up[0]), (across[-1], up[0])])
    for value in across:
        field.letters(value, up[0], plain(value, _digits(across)), "t-num", "middle", dy=19)
    for value in up:
        field.letters(across[0], value, plain(value, _digits(up)), "t-num", "end", dx=-7, dy=5)


def _digits(marks: Sequence[float]) -> int:
    return next((digits for digits in range(3) if all(abs(round(v, digits) - v) < 1e-9 for v in marks)), 3)


def _cloud(field: Field, cloud: Cloud, pixel: float) -> None:
    if cloud.rings:
        field.dots(cloud.kind, thinned(cloud.points, 80), 4)
        return
    field.strokes(cloud.kind, *([(x, y - 1.5 * pixel), (x, y + 1.5 * pixel)] for x, y in thinned(cloud.points)))


def _names(field: Field, lines: Sequence[Line], form: Form) -> None:
    """Names at the ends of their lines, moved apart where they would meet."""
    if not lines:
        return
    ends = [field.at(*line.points[-1]) for line in lines]
    size = form.label
    places = spread([y for _, y in ends], size + 2, field.box[1], field.box[3])
    for line, (x, _), y in zip(lines, ends, places, strict=True):
        room = form.width - x - 8
        field.board.write(x + 6, y + 5, fit(line.name, room, size), "t-lab")
