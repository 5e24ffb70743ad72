"""Life bars: how much of its life each lifed part has used, against its limit."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.pages.parts.plots.lettering import fit, plain
from dossier.pages.parts.plots.pen import Board, Field, Form, Stamp, something, two_drawings

KEY = "Solid: life used. Hatched: used beyond the limit. Dotted line: the point from which a warning is given."
_END = 130.0  # per cent at the right edge


@dataclass(frozen=True)
class LifeRow:
    """One lifed part: share used in per cent (None when it cannot be told), and a note such as `3.9 of 20 h`."""

    label: str
    used: float | None
    note: str = ""


@dataclass(frozen=True)
class LifeBars:
    """Parts in the order they are drawn; `warn` in per cent."""

    rows: tuple[LifeRow, ...]
    warn: float = 80.0
    title: str = "Life used"


def life_bars(bars: LifeBars, stamp: Stamp, prefix: str = "life") -> str:
    """The bars as two SVG drawings; per cent of the limit."""
    something(bars.rows, "lifed parts")
    return two_drawings(lambda form: draw_life(bars, stamp, form), prefix, bars.title, _said(bars))


def _said(bars: LifeBars) -> str:
    rows = []
    for row in bars.rows:
        used = "not known" if row.used is None else f"{_words(row.used)} per cent"
        rows.append(", ".join(words for words in (f"{row.label}: {used}", row.note) if words))
    return f"Share of its life that each part has used. {'; '.join(rows)}."


def _words(used: float) -> str:
    """The share in words; near the limit a tenth is shown, so that what is within it never reads as past it."""
    return plain(used, 1 if 99 <= used <= 101 else 0)


def draw_life(bars: LifeBars, stamp: Stamp, form: Form) -> Board:
    """One drawing of the bars."""
    wide = not form.narrow
    pitch, top = (34, 30) if wide else (52, 34)
    bottom = top + pitch * len(bars.rows) + 4
    board = Board(form, bottom + 60, stamp)
    field = board.field(250 if wide else 1, top, 720 if wide else 332, bottom, (0, _END))
    field.strokes("grid", *([(v, top), (v, bottom)] for v in (20, 40, 60)))
    field.strokes("mark-line", [(bars.warn, top), (bars.warn, bottom)])
    field.strokes("lim", [(100, top - 4), (100, bottom)])
    field.strokes("axis", [(0, top), (0, bottom)])
    for value in (0, 20, 40, 60, 80, 100):
        field.letters(value, bottom, plain(value), "t-num", "middle" if value or wide else "start", dy=18)
    field.letters(100, top, "limit", "t-lab", "middle", dy=-10)
    field.letters(_END, bottom, "life used, per cent of the limit", "t-lab", "end", dy=37)
    for n, row in enumerate(bars.rows):
        _row(field, row, top + pitch * n, form)
    return board


def _row(field: Field, row: LifeRow, top: float, form: Form) -> None:
    board, over = field.board, row.used is not None and row.used > 100
    middle = top + (18 if not form.narrow else 34)
    kind = "t-lab strong" if over else "t-lab"
    if form.narrow:
        room = form.width - form.width_of(row.note, "t-lab") - 10 if row.note else form.width
        board.write(6, top + 19, fit(row.label, max(room - 6, 90), form.label, over), kind)
        room = form.width - 16 - min(form.width_of(row.label, kind), max(room - 6, 90))
        board.write(form.width, top + 19, fit(row.note, room, form.label), "t-lab quiet", "end")
    else:
        board.write(0, middle + 5, fit(row.label, 238, form.label, over), kind)
        board.write(740, middle + 5, fit(row.note, 260, form.label), "t-lab quiet")
    if row.used is None:
        field.letters(0, middle, "not known", "t-lab quiet", dx=8, dy=5)
        return
    used = min(max(row.used, 0.0), _END)
    field.box_at("span", (0, middle - 7), (min(used, 100), middle + 7))
    if over:
        field.box_at("gain", (100, middle - 7), (used, middle + 7), "hatch")
    if row.used > _END:
        edge = field.box[2]
        board.sheet.shape("arrow", [(edge + 8, middle), (edge, middle - 5), (edge, middle + 5)])
    x, words = field.at(used, middle)[0], _words(row.used)
    inside = x + 8 + form.width_of(words, "t-num strong") > field.box[2]
    board.write(field.box[2] - 4 if inside else x + 8, middle + 5, words, "t-num strong", "end" if inside else "start")
