"""The pen of all plots: a board on which Matplotlib draws, and the two drawings, wide and narrow, of each plot."""

from __future__ import annotations

import io
import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from html import escape
from typing import Any

from dossier.pages.parts.plots.lettering import width_of
from dossier.pages.parts.plots.spare import PATTERNS, letters, spare_drawing

Point = tuple[float, float]

# What a stroke, an area or a dot may be; each name is a class of assets/plots.css, where its weight and tone are set.
STROKES = frozenset(
    {
        "grid",
        "lim",
        "axis",
        "u",
        "line",
        "line-2",
        "drop",
        "dash",
        "dots",
        "mark-line",
        "lead",
        "brk",
        "tot",
        "thick",
        "thin",
        "what",
        "body",
    }
)
AREAS = frozenset({"band", "hat", "loss", "gain", "open", "span", "arrow", "tot"})
DOTS = frozenset({"f", "o", "k", "hub", "tiny"})
_MATPLOTLIB = {
    "svg.hashsalt": "dossier",
    "path.simplify": False,
    "path.sketch": None,
}


@dataclass(frozen=True)
class Stamp:
    """What stands at the lower left of every plot beside the word REPLICA."""

    build: str
    revision: str

    def words(self, note: str = "") -> str:
        """The line as printed; `note` is a short remark on units."""
        return " · ".join(part for part in ("REPLICA", self.build, f"revision {self.revision}", note) if part)


@dataclass(frozen=True)
class Form:
    """One of the two drawings of a plot: its width in pixels and its sizes of letters (labels, numbers)."""

    name: str
    width: float
    label: float
    number: float

    @property
    def narrow(self) -> bool:
        """True for the drawing that a telephone shows."""
        return self.name == "narrow"

    def size(self, kind: str) -> float:
        """Pixels of the letters of a text class."""
        return self.number if "t-num" in kind else self.label

    def width_of(self, words: str, kind: str = "t-lab") -> float:
        """Pixels that one line of `words` takes."""
        return width_of(words, self.size(kind), "strong" in kind)


WIDE = Form("wide", 1000, 15, 14.5)
NARROW = Form("narrow", 340, 14, 13.5)


@dataclass(frozen=True)
class TextBox:
    """The room one line of letters takes on the board, pixels, y downwards."""

    words: str
    left: float
    top: float
    right: float
    bottom: float


def _finite(points: Iterable[Point], what: str) -> list[Point]:
    kept = [(float(x), float(y)) for x, y in points]
    if not all(math.isfinite(x) and math.isfinite(y) for x, y in kept):
        raise ValueError(f"a plot was given a number that is not finite ({what})")
    return kept


def _apart(scale: Point) -> Point:
    """The ends of a scale, which has some room about it where it is of one value alone."""
    low, high = scale
    room = 0.0 if low != high else 0.05 * abs(low) or 0.05
    return low - room, high + room


class Field:
    """A rectangle of the board with its own scales; everything in it is said in its own units."""

    def __init__(self, board: Board, box: tuple[float, float, float, float], x: Point, y: Point) -> None:
        """`box` is left, top, right, bottom in pixels; `x` and `y` are the values at left and right, bottom and top."""
        from matplotlib.transforms import Affine2D

        _finite([box[:2], box[2:], x, y], "scale")
        x, y = _apart(x), _apart(y)
        self.board, self.box = board, box
        left, top, right, bottom = box
        wide, high = (right - left) / (x[1] - x[0]), (bottom - top) / (y[1] - y[0])
        self.place = Affine2D.from_values(wide, 0, 0, high, left - wide * x[0], board.height - bottom - high * y[0])

    def at(self, x: float, y: float) -> Point:
        """The pixel (x to the right, y downwards) of a point of this field."""
        px, py = self.place.transform((x, y))
        return float(px), self.board.height - float(py)

    def put(self, artist: Any) -> None:
        """Draw what stands in this field's units. It goes on the figure itself: axes would cost a third of a drawing, and none are shown."""
        artist.set_transform(self.place)
        self.board.figure.add_artist(artist)

    def strokes(self, kind: str, *lines: Sequence[Point]) -> None:
        """Draw open lines, each a sequence of points, as one element of class `kind`."""
        from matplotlib.lines import Line2D

        joined: list[Point] = []
        for line in lines:
            joined += [*_finite(line, kind), (math.nan, math.nan)]
        if joined:
            xs, ys = zip(*joined, strict=True)
            self.put(Line2D(xs, ys, clip_on=False, gid=self.board.mark("path", kind, STROKES)))

    def dots(self, kind: str, points: Sequence[Point], radius: float) -> None:
        """Draw circles of `radius` pixels at `points`."""
        from matplotlib.lines import Line2D

        for x, y in _finite(points, kind):
            gid = self.board.mark("dot", kind, DOTS, f"{radius:g}")
            self.put(Line2D([x], [y], marker="o", linestyle="none", markersize=2 * radius, clip_on=False, gid=gid))

    def box_at(self, kind: str, corner: Point, other: Point, fill: str = "") -> None:
        """Draw a rectangle between two corners; `fill` names a pattern."""
        from matplotlib.patches import Rectangle

        (x0, y0), (x1, y1) = _finite([corner, other], kind)
        gid = self.board.mark("rect", kind, AREAS, self.board.pattern(fill))
        self.put(Rectangle((x0, y0), x1 - x0, y1 - y0, clip_on=False, gid=gid))

    def shape(self, kind: str, points: Sequence[Point], fill: str = "") -> None:
        """Draw a closed shape through `points`."""
        from matplotlib.patches import Polygon

        gid = self.board.mark("path", kind, AREAS, self.board.pattern(fill))
        self.put(Polygon(_finite(points, kind), closed=True, clip_on=False, gid=gid))

    def arc(self, kind: str, centre: Point, radius: float, start: float, end: float) -> None:
        """Draw an arc clockwise from `start` to `end`, degrees from the top; both scales of the field must be equal."""
        from matplotlib.patches import PathPatch
        from matplotlib.path import Path
        from matplotlib.transforms import Affine2D

        _finite([centre, (radius, 0), (start, end)], kind)
        upright = 1 if self.at(0, 1)[1] < self.at(0, 0)[1] else -1
        curve = Path.arc(0, min(end - start, 360)).transformed(
            Affine2D().scale(1, -1).rotate_deg(90 - start).scale(radius, upright * radius).translate(*centre)
        )
        if end - start >= 360:
            curve = Path.circle(centre, radius)
        self.put(PathPatch(curve, fill=False, clip_on=False, gid=self.board.mark("path", kind, STROKES)))

    def letters(self, x: float, y: float, words: str, kind: str = "t-lab", anchor: str = "start", dx: float = 0, dy: float = 0) -> TextBox:
        """Write one line, its base line at the point moved by `dx`, `dy` pixels; `anchor` is start, middle or end."""
        px, py = self.at(x, y)
        return self.board.write(px + dx, py + dy, words, kind, anchor)


class Board:
    """One drawing, 1000 or 340 pixels wide. Its own field `sheet` counts pixels from the upper left corner."""

    def __init__(self, form: Form, height: float, stamp: Stamp, note: str = "") -> None:
        """`height` in pixels; the stamp line stands at the lower left, `note` behind it."""
        from matplotlib.figure import Figure

        self.form, self.height = form, height
        self.figure: Any = Figure(figsize=(form.width / 72, height / 72), dpi=72, frameon=False)
        self.texts: list[TextBox] = []
        self.letters: list[tuple[int, str]] = []
        self._marks = 0
        self.sheet = Field(self, (0, 0, form.width, height), (0, form.width), (height, 0))
        self.write(0, height - 5, stamp.words(note), "t-lab quiet")

    def field(self, left: float, top: float, right: float, bottom: float, x: Point, y: Point | None = None) -> Field:
        """A field between these pixels; without `y` its upright scale is the board's own pixels."""
        return Field(self, (left, top, right, bottom), x, y or (bottom, top))

    def mark(self, shape: str, kind: str, known: frozenset[str], extra: str = "") -> str:
        """The group id by which the drawing is read back: running number, shape, class, extra."""
        if kind not in known:
            raise ValueError(f"{kind!r} is no {shape} of the plots' style sheet")
        self._marks += 1
        return f"{self._marks}|{shape}|{kind}|{extra}"

    def pattern(self, fill: str) -> str:
        """`fill` if it is a known pattern or empty; ValueError otherwise."""
        if fill and fill not in PATTERNS:
            raise ValueError(f"no hatch is called {fill!r}")
        return fill

    def write(self, x: float, y: float, words: str, kind: str = "t-lab", anchor: str = "start") -> TextBox:
        """Write one line at the pixel; characters that XML cannot hold are left out."""
        words = " ".join("".join(c for c in words if c.isprintable() or c.isspace()).split())
        _finite([(x, y)], words)
        self._marks += 1
        self.letters.append((self._marks, letters(words, x, y, kind, anchor)))
        wide, size = self.form.width_of(words, kind), self.form.size(kind)
        left = x - {"start": 0, "middle": wide / 2, "end": wide}[anchor]
        box = TextBox(words, left, y - 0.74 * size, left + wide, y + 0.2 * size)
        self.texts.append(box)
        return box

    def svg(self, prefix: str, title: str, desc: str) -> str:
        """The drawing as one line of inline SVG whose ids begin with `prefix`."""
        import matplotlib
        from matplotlib.backends.backend_svg import FigureCanvasSVG

        raw = io.BytesIO()
        with matplotlib.rc_context(_MATPLOTLIB):
            FigureCanvasSVG(self.figure).print_svg(raw, metadata={"Date": None, "Creator": None, "Format": None, "Type": None})
        body = spare_drawing(raw.getvalue().decode(), prefix, self.letters)
        head = (
            f'<svg class="plot only-{self.form.name}" viewBox="0 0 {self.form.width:g} {self.height:g}" role="img" '
            f'aria-labelledby="{prefix}-t {prefix}-d" data-search-exclude="">'
        )
        title, desc = escape(title, quote=False), escape(desc, quote=False)
        return f'{head}<title id="{prefix}-t">{title}</title><desc id="{prefix}-d">{desc}</desc>{body}</svg>'


def something(things: Sequence[object], what: str) -> None:
    """ValueError when there is nothing to draw: a page leaves such a plot out."""
    if not things:
        raise ValueError(f"there are no {what} to draw")


def two_drawings(draw: Callable[[Form], Board], prefix: str, title: str, desc: str) -> str:
    """The wide and the narrow drawing of a plot, one HTML string; ids begin with `prefix-w` and `prefix-n`."""
    return draw(WIDE).svg(f"{prefix}-w", title, desc) + draw(NARROW).svg(f"{prefix}-n", title, desc)


def ticks(low: float, high: float, most: int) -> list[float]:
    """Round values (steps of 1, 2, 5 times a power of ten), at most `most` steps, enclosing `low` to `high`."""
    from matplotlib.ticker import MaxNLocator

    return [float(v) for v in MaxNLocator(nbins=max(most, 1), steps=[1, 2, 5, 10]).tick_values(low, high)]
