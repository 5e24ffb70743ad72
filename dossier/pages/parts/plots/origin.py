"""Origin bars: shares of each class by number of parts, by mass, by declared items, in one order."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.pages.parts.plots.lettering import fit, plain, spread_apart
from dossier.pages.parts.plots.pen import Board, Field, Form, Stamp, something, two_drawings

KEY = "Each bar is the whole, 100 per cent; the numbers below it are the classes in the list."
# From old metal to unknown, from solid to empty.
_FILLS = (
    ("loss", ""),
    ("gain", "dense"),
    ("gain", "cross"),
    ("gain", "hatch"),
    ("gain", "level"),
    ("gain", "points"),
    ("open", ""),
)


@dataclass(frozen=True)
class OriginBar:
    """One bar: how it was counted, and the share of each class in per cent, in the order of the classes."""

    name: str
    shares: tuple[float, ...]


@dataclass(frozen=True)
class OriginBars:
    """At most seven classes, the last one (unknown) being drawn empty, and the bars."""

    classes: tuple[str, ...]
    bars: tuple[OriginBar, ...]
    title: str = "Origin of the parts"


def origin_bars(origin: OriginBars, stamp: Stamp, prefix: str = "origin") -> str:
    """The bars as two SVG drawings; per cent."""
    if len(origin.classes) > len(_FILLS) or any(len(bar.shares) != len(origin.classes) for bar in origin.bars):
        raise ValueError("an origin bar needs one share for each of at most seven classes")
    something(origin.bars, "bars")
    return two_drawings(lambda form: draw_origin(origin, stamp, form), prefix, origin.title, _said(origin))


def _said(origin: OriginBars) -> str:
    bars = [
        f"{bar.name}: " + ", ".join(f"{name} {plain(share, 1)}" for name, share in zip(origin.classes, bar.shares, strict=True))
        for bar in origin.bars
    ]
    return "Shares in per cent. " + ". ".join(bars) + "."


def _fill(n: int, count: int) -> tuple[str, str]:
    return _FILLS[-1] if n == count - 1 else _FILLS[n]


def draw_origin(origin: OriginBars, stamp: Stamp, form: Form) -> Board:
    """One drawing of the bars and their list of classes."""
    wide = not form.narrow
    pitch, first = (76, 30) if wide else (98, 42)
    bottom = first + pitch * len(origin.bars)
    columns = 2 if wide else 1
    rows = -(-len(origin.classes) // columns)
    board = Board(form, bottom + 26 * rows + 42, stamp, "per cent")
    field = board.field(170 if wide else 1, first, 999 if wide else 339, bottom, (0, 100))
    for n, bar in enumerate(origin.bars):
        _bar(field, bar, first + pitch * n, form)
    for n, name in enumerate(origin.classes):
        column, row = divmod(n, rows)
        x, y = (170 + 415 * column if wide else 0), bottom + 4 + 26 * row
        kind, fill = _fill(n, len(origin.classes))
        board.sheet.box_at(kind, (x + 1, y), (x + 29, y + 15), fill)
        none = all(bar.shares[n] <= 0 for bar in origin.bars)
        board.write(x + 38, y + 12.5, str(n + 1), "t-num quiet")
        board.write(x + 54, y + 12.5, fit(name + (": none" if none else ""), 350 if wide else 286, form.label), "t-lab")
    return board


def _bar(field: Field, bar: OriginBar, top: float, form: Form) -> None:
    board, high = field.board, 26
    board.write(0, top + (18 if not form.narrow else -24), bar.name, "t-lab strong")
    total = sum(max(share, 0.0) for share in bar.shares) or 1.0
    at, middles, kept = 0.0, [], []
    for n, share in enumerate(bar.shares):
        if share > 0:
            end = at + 100 * share / total
            kind, fill = _fill(n, len(bar.shares))
            field.box_at(kind, (at, top), (end, top + high), fill)
            middles.append(field.at((at + end) / 2, top)[0])
            kept.append(n)
            at = end
    if not kept:
        field.box_at("open", (0, top), (100, top + high))
        field.letters(50, top + 18, "nothing recorded", "t-lab quiet", "middle")
    words = [plain(bar.shares[n], 1) for n in kept]
    sizes = [form.width_of(word, "t-num strong") + 7 for word in words]
    places = spread_apart(middles, sizes, field.box[0] + (sizes[0] / 2 if sizes else 0), field.box[2] - (sizes[-1] / 2 if sizes else 0))
    below = spread_apart(middles, [13.0] * len(kept), field.box[0] + 5, field.box[2] - 5)
    for n, word, x, middle, under in zip(kept, words, places, middles, below, strict=True):
        if abs(x - middle) > 4:
            board.sheet.strokes("lead", [(x, top - 5), (middle, top)])
        board.write(x, top - 7, word, "t-num strong", "middle")
        board.write(under, top + high + 16, str(n + 1), "t-num quiet", "middle")
