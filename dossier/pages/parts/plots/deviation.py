"""Deviation chart: where each reading lies in its tolerance, with its uncertainty and the guard zones."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.pages.parts.plots.lettering import fit, signed
from dossier.pages.parts.plots.pen import Board, Field, Form, Stamp, something, two_drawings

KEY = (
    "Dot: the reading. Open ring: a reading that decides nothing. Bar: its expanded uncertainty U (k = 2). "
    "Hatched: the guard zone. A dot clear of the hatching conforms; a bar wholly outside does not; "
    "anything between cannot be decided. One-sided: the band runs on, and 25 per cent is one U from the only limit."
)
_LEVELS = 9.2  # pixels between two readings of one row


@dataclass(frozen=True)
class Reading:
    """One reading: place and expanded uncertainty, per cent of half the tolerance; `open` when it decides nothing."""

    place: float
    u: float | None = None
    open: bool = False


@dataclass(frozen=True)
class DeviationRow:
    """One characteristic. Its band runs from -100 (lower limit) to +100 (upper), or from the only limit to the edge of the field."""

    id: str
    label: str
    readings: tuple[Reading, ...] = ()
    lower: bool = True
    upper: bool = True
    guard: float = 0.0  # width of the guard zone, per cent
    mark: str = ""  # words beside the bar
    strong: bool = False  # set the row in the heavier letter

    @property
    def one_sided(self) -> bool:
        """Whether it has one limit only, so that its readings are placed in units of U from it."""
        return self.lower is not self.upper


@dataclass(frozen=True)
class DeviationChart:
    """All numeric characteristics of one sheet."""

    rows: tuple[DeviationRow, ...]
    title: str = "Where each reading lies in its tolerance"


def deviation_chart(chart: DeviationChart, stamp: Stamp, prefix: str = "dev") -> str:
    """The chart as two SVG drawings; place in tolerance in per cent of half its width."""
    something(chart.rows, "characteristics")
    return two_drawings(lambda form: draw_deviation(chart, stamp, form), prefix, chart.title, _said(chart))


def _said(chart: DeviationChart) -> str:
    outside = [f"{row.id} {row.label}: {row.mark}" for row in chart.rows if row.mark]
    return (
        "One row for each numeric characteristic. The lower limit is at minus 100, the upper at plus 100; "
        "the dot is the reading, the bar its expanded uncertainty, the hatched ends of the band the guard zones. "
        + ("In a row with one limit only, 25 per cent is one U from it. " if any(row.one_sided for row in chart.rows) else "")
        + (f"Marked: {'; '.join(outside)}. " if outside else "Nothing is marked. ")
        + "The table holds every number."
    )


def draw_deviation(chart: DeviationChart, stamp: Stamp, form: Form) -> Board:
    """One drawing of the chart."""
    tops, y = [], 34.0 if not form.narrow else 36.0
    for row in chart.rows:
        tops.append(y)
        y += (46 if form.narrow else 30) + _LEVELS * max(len(row.readings) - 2, 0)
    bottom = y
    board = Board(form, bottom + 60, stamp)
    low = -230.0 if any(r.place - (r.u or 0) < -130 for row in chart.rows if row.lower for r in row.readings) else -130.0
    field = board.field(12 if form.narrow else 294, 34, 328 if form.narrow else 986, bottom, (low, 230))
    _scale(field, low, bottom, form, any(row.one_sided for row in chart.rows))
    for row, top in zip(chart.rows, tops, strict=True):
        _row(field, row, top, form)
    return board


def _scale(field: Field, low: float, bottom: float, form: Form, one_sided: bool) -> None:
    for value in (-200, -100, 0, 100, 200):
        if value < low:
            continue
        kind = "lim" if abs(value) == 100 and not form.narrow else "grid"
        field.strokes(kind, [(value, 34), (value, bottom)])
        field.letters(value, bottom, signed(value), "t-num", "middle", dy=17)
    for value, words in ((-100, "lower limit"), (0, "middle"), (100, "upper limit")):
        if low == -130 or not form.narrow or value:
            field.letters(value, 26, words, "t-lab", "middle")
    words = "per cent of half the tolerance; one limit: 25 is one U" if one_sided else "per cent of half the tolerance"
    field.letters(230, bottom, words, "t-lab", "end", dy=37)


def _row(field: Field, row: DeviationRow, top: float, form: Form) -> None:
    high = 14 + _LEVELS * max(len(row.readings) - 2, 0)
    base = top + 10.5 if form.narrow else top + 16 + (high - 14) / 2 + 4.5
    upper = top + 17 if form.narrow else top + 8
    strong = " strong" if row.strong else ""
    sheet = field.board
    sheet.write(0, base, row.id, "t-num quiet")
    start = max(36.0, form.width_of(row.id, "t-num") + 8)
    room = (form.width - start - (form.width_of(row.mark, "t-lab strong") + 10 if row.mark else 0)) if form.narrow else 288 - start
    sheet.write(start, base, fit(row.label, room, form.label, row.strong), "t-lab" + strong)
    _band(field, row, upper, high, form)
    ends = [_reading(field, reading, row, n, upper, high) for n, reading in enumerate(row.readings)]
    if row.mark and form.narrow:
        sheet.write(form.width, base, row.mark, "t-lab" + (strong or " quiet"), "end")
    elif row.mark:
        _mark(field, row, ends, base, form)


def _band(field: Field, row: DeviationRow, upper: float, high: float, form: Form) -> None:
    left, right = (-100.0 if row.lower else _low(field)), (100.0 if row.upper else 230.0)
    if not (row.lower or row.upper):
        return
    field.box_at("band", (left, upper), (right, upper + high))
    guard = min(row.guard, right - left)
    if guard > 0 and row.lower:
        field.box_at("hat", (left, upper), (left + guard, upper + high), "fine")
    if guard > 0 and row.upper:
        field.box_at("hat", (right - guard, upper), (right, upper + high), "fine")
    if form.narrow:
        limits = [value for value, there in ((-100.0, row.lower), (100.0, row.upper)) if there]
        field.strokes("lim", *([(value, upper - 3), (value, upper + high + 3)] for value in limits))


def _low(field: Field) -> float:
    """The least place that the field shows."""
    return -230.0 if field.at(-130, 0)[0] > field.box[0] + 1 else -130.0


def _level(row: DeviationRow, n: int, upper: float, high: float) -> float:
    return upper + high / 2 + _LEVELS * (n - (len(row.readings) - 1) / 2)


def _reading(field: Field, reading: Reading, row: DeviationRow, n: int, upper: float, high: float) -> tuple[float, float]:
    """Draw one reading; the pixels at which it begins and ends."""
    y = _level(row, n, upper, high)
    low, top = _low(field), 230.0
    if not low <= reading.place <= top:
        return _clipped(field, reading, low if reading.place < low else top, y)
    if reading.u:
        a, b = max(reading.place - reading.u, low), min(reading.place + reading.u, top)
        ticks = [[(end, y - 3), (end, y + 3)] for end in (a, b) if low < end < top]
        field.strokes("u", [(a, y), (b, y)], *ticks)
    else:
        a = b = reading.place
    field.dots("o" if reading.open else "f", [(reading.place, y)], 4.6 if len(row.readings) == 1 else 4)
    return field.at(a, y)[0] - 5 * (a == b), field.at(b, y)[0] + 5 * (a == b)


def _clipped(field: Field, reading: Reading, edge: float, y: float) -> tuple[float, float]:
    x, _ = field.at(edge, y)
    way = 1 if edge > 0 else -1
    sheet = field.board.sheet
    sheet.strokes("u", [(x - way * 16, y), (x - way * 6, y)])
    sheet.shape("arrow", [(x, y), (x - way * 8, y - 4), (x - way * 8, y + 4)])
    words = signed(reading.place)
    box = field.board.write(x - way * 20, y + 4.5, words, "t-num strong", "end" if way > 0 else "start")
    return (box.left, x) if way > 0 else (x, box.right)


def _mark(field: Field, row: DeviationRow, ends: list[tuple[float, float]], base: float, form: Form) -> None:
    kind = "t-lab strong" if row.strong else "t-lab quiet"
    limit = field.at(100 if row.upper else 0, 0)[0]
    start = max([limit - 2, *(b for _, b in ends)]) + 8
    if start + form.width_of(row.mark, kind) <= form.width:
        field.board.write(start, base, row.mark, kind)
        return
    outside = [a for a, b in ends if b > limit]
    field.board.write(min(outside or [form.width]) - 8, base, row.mark, kind, "end")
