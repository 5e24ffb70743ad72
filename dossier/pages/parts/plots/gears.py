"""Gear chart: road speed against engine speed in every gear, with the drop at each change."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from dossier.pages.parts.plots.lettering import fit, plain, spread
from dossier.pages.parts.plots.pen import Board, Field, Form, Stamp, something, ticks, two_drawings

KEY = (
    "Each level stroke is a change made at the engine speed of greatest power; it ends, at the open ring, "
    "where the next gear picks up. "
    "Broken lines: the other final drive. No slip is taken into account."
)


@dataclass(frozen=True)
class GearLine:
    """One gear: its name and the road speed it gives, km/h for each rev/min."""

    name: str
    kmh_per_rpm: float


@dataclass(frozen=True)
class GearChart:
    """All gears, lowest first, and engine speeds in rev/min; `other` are lines on another final drive."""

    gears: tuple[GearLine, ...]
    limit_rpm: float
    power_rpm: float  # changes are drawn at this speed
    other: tuple[GearLine, ...] = ()
    title: str = "Gear chart"


def gear_chart(chart: GearChart, stamp: Stamp, prefix: str = "gear") -> str:
    """The chart as two SVG drawings; km/h against rev/min."""
    something(chart.gears, "gears")
    return two_drawings(lambda form: draw_gears(chart, stamp, form), prefix, chart.title, _said(chart))


def picks_up_at(chart: GearChart) -> list[float]:
    """Engine speed (rev/min) in the next gear right after each change made at `power_rpm`."""
    return [chart.power_rpm * low.kmh_per_rpm / high.kmh_per_rpm for low, high in pairwise(chart.gears)]


def _said(chart: GearChart) -> str:
    at = plain(chart.power_rpm)
    speeds = "; ".join(f"{g.name} {plain(g.kmh_per_rpm * chart.power_rpm, 1)}" for g in chart.gears)
    other = "; ".join(f"{g.name} {plain(g.kmh_per_rpm * chart.power_rpm, 1)}" for g in chart.other)
    return (
        f"Road speed against engine speed. Speeds in km/h at {at} rev/min: {speeds}. "
        + (f"On the other final drive: {other}. " if other else "")
        + f"Level strokes show the drop at each change. The limit is {plain(chart.limit_rpm)} rev/min."
    )


def draw_gears(chart: GearChart, stamp: Stamp, form: Form) -> Board:
    """One drawing of the chart."""
    wide = not form.narrow
    left, top, bottom = (54, 30, 462) if wide else (34, 44, 338)
    beside = [*(words for words, _ in _endings(chart, form)), *_below(chart, form)]
    right = form.width - 8 - max(form.width_of(words, "t-lab strong") for words in beside)
    board = Board(form, bottom + 60, stamp)
    highest = max(g.kmh_per_rpm for g in (*chart.gears, *chart.other)) * chart.limit_rpm
    levels = ticks(0, highest, 12 if wide else 6)
    low = 1000 * (min([0.4 * chart.limit_rpm, *(0.96 * rpm for rpm in picks_up_at(chart))]) // 1000)
    field = board.field(left, top, right, bottom, (low, chart.limit_rpm), (0, levels[-1]))
    _grid(field, low, levels, chart, form)
    for gear in (*chart.other, *chart.gears):
        kind = "line" if gear in chart.gears else "dash"
        field.strokes(kind, [(low, low * gear.kmh_per_rpm), (chart.limit_rpm, chart.limit_rpm * gear.kmh_per_rpm)])
    _drops(field, chart, form)
    _names(field, chart, form)
    return board


def _grid(field: Field, low: float, levels: list[float], chart: GearChart, form: Form) -> None:
    _, top, right, _ = field.box
    field.strokes("grid", *([(low, v), (chart.limit_rpm, v)] for v in levels))
    for value in levels:
        field.letters(low, value, plain(value), "t-num", "end", dx=-8, dy=4.5)
    marks = [v for v in ticks(low, chart.limit_rpm, 8 if not form.narrow else 4) if low <= v <= chart.limit_rpm]
    field.strokes("grid", *([(v, 0), (v, levels[-1])] for v in marks))
    for value in marks:
        field.letters(value, 0, plain(value), "t-num", "middle", dy=19)
    field.strokes("axis", [(low, levels[-1]), (low, 0), (chart.limit_rpm, 0), (chart.limit_rpm, levels[-1])])
    if chart.power_rpm < chart.limit_rpm:
        field.strokes("mark-line", [(chart.power_rpm, 0), (chart.power_rpm, levels[-1])])
    field.letters(chart.limit_rpm, 0, "engine speed, rev/min", "t-lab", "end", dy=36)
    sheet = field.board
    power, limit = f"greatest power {plain(chart.power_rpm)}", f"limit {plain(chart.limit_rpm)}"
    x = field.at(chart.power_rpm, 0)[0]
    sheet.write(x - 5, top - (8 if not form.narrow else 10), power, "t-lab", "end")
    if form.narrow:
        sheet.write(form.width, top - 28, limit, "t-lab", "end")
        sheet.write(0, 16, "km/h")
    else:
        sheet.write(right + 6, top - 8, limit)
        sheet.write(0, 18, "km/h")


def _drops(field: Field, chart: GearChart, form: Form) -> None:
    for gear, rpm in zip(chart.gears, picks_up_at(chart), strict=False):
        speed = gear.kmh_per_rpm * chart.power_rpm
        field.strokes("drop", [(chart.power_rpm, speed), (rpm, speed)])
        field.dots("o", [(rpm, speed)], 3.5)
        field.dots("f", [(chart.power_rpm, speed)], 3.5)
        if not form.narrow:
            field.letters(rpm, speed, plain(rpm), "t-num quiet", dx=7, dy=15)


def _endings(chart: GearChart, form: Form) -> list[tuple[str, float]]:
    """Words at the end of each line, own gears first, with the line's km/h for each rev/min."""
    unit = "" if form.narrow else " km/h"
    own = [(f"{g.name} {plain(g.kmh_per_rpm * chart.power_rpm)}{unit}", g.kmh_per_rpm) for g in chart.gears]
    return own + [
        (
            fit(g.name, form.width * 0.3, form.label) if form.narrow else f"{g.name} {plain(g.kmh_per_rpm * chart.power_rpm)}{unit}",
            g.kmh_per_rpm,
        )
        for g in chart.other
    ]


def _below(chart: GearChart, form: Form) -> list[str]:
    """At which engine speed the speeds hold, written below the lowest gear."""
    at = plain(chart.power_rpm)
    return ["km/h,", f"at {at}"] if form.narrow else [f"each at {at}"]


def _names(field: Field, chart: GearChart, form: Form) -> None:
    lines = _endings(chart, form)
    ends = [field.at(chart.limit_rpm, slope * chart.limit_rpm)[1] for _, slope in lines]
    places = spread(ends, 16.5, field.box[1] + 4, field.box[3] - 20)
    right = field.box[2]
    for n, ((words, _), end, y) in enumerate(zip(lines, ends, places, strict=True)):
        if abs(y - end) > 3:
            field.board.sheet.strokes("lead", [(right + 1, end), (right + 7, y)])
        field.board.write(right + 8, y + 5, words, "t-lab strong" if n < len(chart.gears) else "t-lab quiet")
    for n, words in enumerate(_below(chart, form)):
        field.board.write(right + 8, max(places) + 24 + 17 * n, words, "t-lab quiet")
