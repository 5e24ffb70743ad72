"""Slip bars: the engine speed that the wheel accounts for against the engine speed in the log."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.pages.parts.plots.lettering import fit, plain
from dossier.pages.parts.plots.pen import Board, Field, Form, Stamp, something, ticks, two_drawings

KEY = "Stroke: the engine speed that the wheel speed accounts for. Dot: the engine speed in the log. Hatched: what was lost between them."


@dataclass(frozen=True)
class SlipRow:
    """One reading from a log: what it is, in which circumstances, engine speeds in rev/min, slip in per cent."""

    label: str
    note: str
    expected_rpm: float
    logged_rpm: float
    slip: float


@dataclass(frozen=True)
class SlipBars:
    """Readings in the order they are drawn, usually before and after."""

    rows: tuple[SlipRow, ...]
    title: str = "Engine speed the wheel accounts for, and engine speed logged"


def slip_bars(bars: SlipBars, stamp: Stamp, prefix: str = "slip") -> str:
    """The bars as two SVG drawings; rev/min."""
    something(bars.rows, "readings")
    return two_drawings(lambda form: draw_slip(bars, stamp, form), prefix, bars.title, _said(bars))


def _said(bars: SlipBars) -> str:
    return " ".join(
        f"{row.label}: {plain(row.expected_rpm)} expected, {plain(row.logged_rpm)} logged, slip {plain(row.slip, 2)} per cent."
        for row in bars.rows
    )


def draw_slip(bars: SlipBars, stamp: Stamp, form: Form) -> Board:
    """One drawing of the bars."""
    wide = not form.narrow
    pitch, top = (74, 8) if wide else (104, 8)
    bottom = top + pitch * len(bars.rows) + 8
    board = Board(form, bottom + 60 if wide else bottom + 62, stamp)
    values = [v for row in bars.rows for v in (row.expected_rpm, row.logged_rpm)]
    marks = ticks(min(values) - 50, max(values) + 50, 5 if wide else 3)
    field = board.field(218 if wide else 18, top, 976 if wide else 322, bottom, (marks[0], marks[-1]))
    field.strokes("grid", *([(v, top), (v, bottom)] for v in marks))
    for value in marks:
        field.letters(value, bottom, plain(value), "t-num", "middle", dy=18)
    board.write(field.box[2] + 10, bottom + 37, "engine speed, rev/min", "t-lab", "end")
    for n, row in enumerate(bars.rows):
        _row(field, row, top + pitch * n, form)
    return board


def _row(field: Field, row: SlipRow, top: float, form: Form) -> None:
    board = field.board
    if form.narrow:
        middle = top + 58
        board.write(0, top + 16, fit(row.label, 150, form.label, True), "t-lab strong")
        start = form.width_of(row.label, "t-lab strong") + 8
        board.write(start, top + 16, fit(row.note, form.width - start, form.label), "t-lab quiet")
    else:
        middle = top + 36
        board.write(0, middle, fit(row.label, 200, form.label, True), "t-lab strong")
        board.write(0, middle + 18, fit(row.note, 200, form.label), "t-lab quiet")
    low, high = sorted((row.expected_rpm, row.logged_rpm))
    field.box_at("gain", (low, middle - 9), (high, middle + 9), "hatch")
    field.strokes("lim", [(row.expected_rpm, middle - 16), (row.expected_rpm, middle + 16)])
    field.dots("f", [(row.logged_rpm, middle)], 5)
    outer = row.expected_rpm <= row.logged_rpm
    room = field.at(row.expected_rpm, middle)[0] - form.width_of(plain(row.expected_rpm), "t-num") > (0 if form.narrow else 210)
    side = "end" if outer and room else "start"
    field.letters(
        row.expected_rpm,
        middle - 16,
        plain(row.expected_rpm),
        "t-num",
        side,
        dx=-6 if side == "end" else 6,
        dy=0 if side == "end" else -4,
    )
    dx = 10 if outer else -10
    field.letters(row.logged_rpm, middle, plain(row.logged_rpm), "t-num strong", "start" if outer else "end", dx=dx, dy=5)
    field.letters((low + high) / 2, middle, f"slip {plain(row.slip, 2)} %", "t-lab strong", "middle", dy=30)
