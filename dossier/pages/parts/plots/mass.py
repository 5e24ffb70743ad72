"""Mass waterfall: from the parts as received to the parts as finished, step by step, each step a cause."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.pages.parts.plots.lettering import fit, plain, signed
from dossier.pages.parts.plots.pen import Board, Field, Form, Stamp, something, ticks, two_drawings

KEY = "Solid: mass taken off. Hatched: mass put on. Open outlines: the whole, before and after."
KEY_CUT = "The axis is cut, so that the steps can be seen; the two wholes are not to scale with one another."


@dataclass(frozen=True)
class MassStep:
    """One cause and the change it made, in grams (negative: taken off)."""

    cause: str
    grams: float


@dataclass(frozen=True)
class MassWaterfall:
    """The whole before, in grams, the steps in order, and how the two wholes are called."""

    before: float
    steps: tuple[MassStep, ...]
    before_name: str = "As received"
    after_name: str = "In the ledger"
    title: str = "Mass ledger by cause"

    @property
    def levels(self) -> list[float]:
        """Grams before, and after each step."""
        out = [self.before]
        for step in self.steps:
            out.append(out[-1] + step.grams)
        return out

    @property
    def cut(self) -> float:
        """Where the axis begins, kg: nought, or higher when the steps would be too small to see."""
        low, high = min(self.levels) / 1000, max(self.levels) / 1000
        if high <= 0 or low < 0.6 * high:
            return 0.0
        room = max(high - low, 0.02 * high)
        return max([v for v in ticks(low - 0.45 * room, high, 6) if v <= low - 0.25 * room], default=0.0)


def mass_waterfall(waterfall: MassWaterfall, stamp: Stamp, prefix: str = "mass") -> str:
    """The waterfall as two SVG drawings; axis in kg, steps in grams."""
    something(waterfall.steps, "steps")
    return two_drawings(lambda form: draw_mass(waterfall, stamp, form), prefix, waterfall.title, _said(waterfall))


def _said(w: MassWaterfall) -> str:
    steps = ", ".join(f"{step.cause} {signed(step.grams)}" for step in w.steps)
    axis = f" The axis starts at {plain(w.cut)} kg." if w.cut else ""
    return f"From {plain(w.before)} g ({w.before_name}) to {plain(w.levels[-1])} g ({w.after_name}): {steps}.{axis}"


def draw_mass(w: MassWaterfall, stamp: Stamp, form: Form) -> Board:
    """One drawing of the waterfall."""
    wide = not form.narrow
    left, top, bottom = (40, 36, 322) if wide else (34, 40, 302)
    board = Board(form, bottom + (58 if wide else 76), stamp, "grams above each bar")
    levels = ticks(w.cut, max(w.levels) / 1000, 6 if wide else 4)
    columns = len(w.steps) + 2
    field = board.field(left, top, form.width, bottom, (0, columns), (w.cut, levels[-1]))
    field.strokes("grid", *([(0, v), (columns, v)] for v in levels))
    for value in levels:
        field.letters(0, value, plain(value, 0 if all(v == int(v) for v in levels) else 1), "t-num", "end", dx=-8, dy=4.5)
    board.write(0, 12, f"kg, axis from {plain(w.cut)}" if w.cut else "kg")
    half = 0.36
    _whole(field, 0.5, half, w.before, w.cut)
    for n, (step, start) in enumerate(zip(w.steps, w.levels, strict=False)):
        _step(field, n + 1.5, half, start / 1000, step.grams)
    _whole(field, columns - 0.5, half, w.levels[-1], w.cut)
    field.strokes("axis", [(0, w.cut), (columns, w.cut)])
    field.strokes("axis", *([(n + 0.5 + half, g / 1000), (n + 1.5 - half, g / 1000)] for n, g in enumerate(w.levels)))
    _names(field, [w.before_name, *(step.cause for step in w.steps), w.after_name], form)
    return board


def _whole(field: Field, middle: float, half: float, grams: float, cut: float) -> None:
    left, right, top = middle - half, middle + half, grams / 1000
    field.strokes("tot", [(left, cut), (left, top), (right, top), (right, cut)])
    field.letters(middle, top, plain(grams), "t-num strong", "middle", dy=-8)
    if not cut:
        return
    for edge in (left, right):
        x, y = field.at(edge, cut)
        field.board.sheet.strokes("brk", *([(x - 5, y - up), (x + 5, y - up - 8)] for up in (7, 12)))


def _step(field: Field, middle: float, half: float, start: float, grams: float) -> None:
    end = start + grams / 1000
    kind, fill = ("loss", "") if grams <= 0 else ("gain", "hatch")
    field.box_at(kind, (middle - half, start), (middle + half, end), fill)
    field.letters(middle, max(start, end), signed(grams), "t-num strong", "middle", dy=-8)


def _names(field: Field, names: list[str], form: Form) -> None:
    """Names below the columns; every second one lower where neighbours would touch."""
    room = (field.box[2] - field.box[0]) / len(names) - 6
    tight = any(form.width_of(name) > room for name in names)
    for n, name in enumerate(names):
        words = fit(name, 2 * room if tight else room, form.label)
        half = form.width_of(words) / 2
        x = max(half, min(field.at(n + 0.5, 0)[0], form.width - half))
        field.board.write(x, field.box[3] + 18 + (17 if tight and n % 2 else 0), words, "t-lab", "middle")
