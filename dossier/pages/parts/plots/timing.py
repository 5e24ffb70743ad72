"""Valve and port timing diagrams: opening in crank degrees round a circle, declared thin, as built thick."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dossier.pages.parts.plots.lettering import fit, short, spread
from dossier.pages.parts.plots.pen import Board, Form, Point, Stamp, something, two_drawings

KEY = "Thin: declared. Thick: as built. The crankshaft turns clockwise; TDC is at the top."
_TRACK = 10  # pixels from one thick arc to the next


@dataclass(frozen=True)
class Opening:
    """When something opens and closes, crank degrees after TDC; `closes` is larger than `opens` by the duration."""

    opens: float
    closes: float

    @property
    def duration(self) -> float:
        """Degrees of crankshaft."""
        return self.closes - self.opens

    @classmethod
    def inlet_valve(cls, opens_btdc: float, closes_abdc: float) -> Opening:
        """From the two angles of an inlet valve."""
        return cls(-opens_btdc, 180 + closes_abdc)

    @classmethod
    def exhaust_valve(cls, opens_bbdc: float, closes_atdc: float) -> Opening:
        """From the two angles of an exhaust valve."""
        return cls(180 - opens_bbdc, 360 + closes_atdc)

    @classmethod
    def about_bdc(cls, duration: float) -> Opening:
        """A cylinder port that the piston crown uncovers for `duration` degrees."""
        return cls(180 - duration / 2, 180 + duration / 2)

    @classmethod
    def about_tdc(cls, duration: float) -> Opening:
        """A port under the piston skirt, open for `duration` degrees."""
        return cls(-duration / 2, duration / 2)


@dataclass(frozen=True)
class TimingRing:
    """One valve or port: declared opening, and those found, each with the word for its side (may be empty)."""

    name: str
    declared: Opening | None = None
    measured: tuple[tuple[str, Opening], ...] = ()


@dataclass(frozen=True)
class TimingDiagram:
    """Rings from the outside to the inside; `note` is a condition of the angles, such as the lift."""

    rings: tuple[TimingRing, ...]
    note: str = ""
    title: str = "Valve timing, declared and as built"


@dataclass(frozen=True)
class _Event:
    name: str
    angle: float
    radius: float
    declared: str
    found: str

    @property
    def lines(self) -> list[str]:
        return [words for words in (self.declared, self.found) if words]


def timing_diagram(diagram: TimingDiagram, stamp: Stamp, prefix: str = "timing") -> str:
    """The diagram as two SVG drawings; degrees of crankshaft. Serves valves and ports alike."""
    something(diagram.rings, "valves or ports")
    return two_drawings(lambda form: draw_timing(diagram, stamp, form), prefix, diagram.title, _said(diagram))


def _said(diagram: TimingDiagram) -> str:
    events = [event for ring in diagram.rings for event in _events(ring, 0)]
    return (
        "Crank degrees clockwise from TDC at the top. "
        + " ".join(f"{e.name}: {', '.join(e.lines)}." for e in events)
        + (f" {diagram.note[0].upper()}{diagram.note[1:]}." if diagram.note else "")
    )


def angle_words(angle: float, near: float | None = None) -> str:
    """A crank angle (degrees after TDC) as the trade says it, from the dead centre nearest to `near` (or itself)."""
    reference = (angle if near is None else near) % 360
    centre = 0 if reference <= 90 else 180 if reference < 270 else 360
    away = (angle - centre + 180) % 360 - 180
    return f"{short(abs(away), 1)}° {'A' if away >= 0 else 'B'}{'BDC' if centre == 180 else 'TDC'}"


def _events(ring: TimingRing, radius: float) -> list[_Event]:
    out = []
    for name, end in (("opens", "opens"), ("closes", "closes")):
        declared = getattr(ring.declared, end) if ring.declared else None
        angles = [(side, getattr(opening, end)) for side, opening in ring.measured]
        if declared is None and not angles:
            continue
        near = declared if declared is not None else angles[0][1]
        found = ", ".join(f"{side or 'as built'} {angle_words(angle, near)}" for side, angle in angles)
        said = f"declared {angle_words(declared)}" if declared is not None else ""
        out.append(_Event(f"{ring.name} {name}", near % 360, radius, said, found or "not yet measured"))
    return out


def draw_timing(diagram: TimingDiagram, stamp: Stamp, form: Form) -> Board:
    """One drawing of the diagram."""
    outer = 214.0 if not form.narrow else 118.0
    track = _TRACK if not form.narrow else 8
    radii, radius = [], outer - 8
    for ring in diagram.rings:
        radii.append(radius)
        radius -= track * max(len(ring.measured), 1) + (14 if not form.narrow else 9)
    events = [event for ring, r in zip(diagram.rings, radii, strict=True) for event in _events(ring, r)]
    listed = sum(22 + 17 * len(e.lines) for e in events) + 17 * len(diagram.rings) + 56 if form.narrow else 0
    centre = (form.width / 2, outer + 40)
    board = Board(form, centre[1] + outer + 70 + listed, stamp)
    _disc(board, centre, outer, radius, form)
    for ring, r in zip(diagram.rings, radii, strict=True):
        _ring(board, ring, centre, r, track)
    if form.narrow:
        _list(board, diagram, events, centre, outer)
    else:
        _labels(board, events, centre, outer)
        _hub(board, diagram, centre)
        for n, words in enumerate(_remarks(diagram)):
            board.write(0, 14 + 18 * n, fit(words, 330, form.label), "t-lab quiet")
    return board


def _remarks(diagram: TimingDiagram) -> list[str]:
    """How the arcs are to be read, and the condition of the angles."""
    sides = next(([side for side, _ in ring.measured if side] for ring in diagram.rings if len(ring.measured) > 1), [])
    thick = f"as built, {' then '.join(sides)} from outside" if sides else "as built"
    return [words for words in ("thin: declared", f"thick: {thick}", diagram.note) if words]


def _on(centre: Point, radius: float, angle: float) -> Point:
    turn = math.radians(angle)
    return centre[0] + radius * math.sin(turn), centre[1] - radius * math.cos(turn)


def _disc(board: Board, centre: Point, outer: float, inner: float, form: Form) -> None:
    """Degree marks round the outside, dead centres, and the arrow of rotation."""
    sheet = board.sheet
    sheet.strokes("grid", *([_on(centre, outer, a), _on(centre, inner - 2, a)] for a in (0, 90, 180, 270)))
    sheet.arc("grid", centre, outer, 0, 360)
    sheet.strokes("lead", *([_on(centre, outer, a), _on(centre, outer + (7 if a % 30 == 0 else 4), a)] for a in range(0, 360, 10)))
    sheet.strokes("lim", *([_on(centre, outer - 4, a), _on(centre, outer + 11, a)] for a in (0, 180)))
    x, y = centre
    board.write(x, y - outer - 17, "TDC", "t-lab strong", "middle")
    board.write(x, y + outer + 26, "BDC", "t-lab strong", "middle")
    tip = 40.0
    sheet.arc("thin", centre, inner - 2, 14, tip - 3)
    sheet.shape("arrow", [_on(centre, inner - 2, tip + 4), _on(centre, inner + 2, tip - 4), _on(centre, inner - 6, tip - 4)])


def _ring(board: Board, ring: TimingRing, centre: Point, radius: float, track: float) -> None:
    inside = radius - track * max(len(ring.measured), 1) - 2
    for n, (_, opening) in enumerate(ring.measured):
        board.sheet.arc("thick", centre, radius - track * (n + 0.5) - 2, opening.opens, opening.closes)
    if ring.declared:
        board.sheet.arc("thin", centre, radius, ring.declared.opens, ring.declared.closes)
        ends = (ring.declared.opens, ring.declared.closes)
        board.sheet.strokes("thin", *([_on(centre, radius + 3, a), _on(centre, inside - 2, a)] for a in ends))


def _durations(ring: TimingRing) -> list[str]:
    """Declared and found duration of one ring, in words."""
    declared = [f"declared {short(ring.declared.duration, 1)}°"] if ring.declared else []
    found = ", ".join(f"{side or 'as built'} {short(opening.duration, 1)}°" for side, opening in ring.measured)
    return declared + ([found] if found else [])


def _hub(board: Board, diagram: TimingDiagram, centre: Point) -> None:
    """Durations, in the middle of the circle."""
    lines: list[tuple[str, str]] = []
    for ring in diagram.rings:
        lines += [(f"{ring.name} open for", "t-lab strong"), *((words, "t-num") for words in _durations(ring))]
    y = centre[1] - 17 * len(lines) / 2 + 13
    for words, kind in lines:
        board.write(centre[0], y, words, kind, "middle")
        y += 17


def _labels(board: Board, events: list[_Event], centre: Point, outer: float) -> None:
    for side in (1, -1):
        mine = [e for e in events if (e.angle < 180) == (side > 0)]
        places = spread([_on(centre, outer + 24, e.angle)[1] for e in mine], 64, 30, board.height - 70)
        x = centre[0] + side * (outer + 66)
        anchor = "start" if side > 0 else "end"
        for event, y in zip(mine, places, strict=True):
            board.sheet.strokes(
                "lead",
                [_on(centre, event.radius, event.angle), _on(centre, outer + 16, event.angle), (x - side * 8, y)],
            )
            for n, (words, kind) in enumerate([(event.name, "t-lab strong"), *((line, "t-num") for line in event.lines)]):
                board.write(x, y - 8 + 18 * n, fit(words, 214, board.form.label), kind, anchor)


def _list(board: Board, diagram: TimingDiagram, events: list[_Event], centre: Point, outer: float) -> None:
    """Numbers at the circle, words below it."""
    size = board.form.number
    angles = spread([e.angle for e in events], 8)
    y = centre[1] + outer + 52
    for n, (event, angle) in enumerate(zip(events, angles, strict=True), 1):
        board.sheet.strokes(
            "lead",
            [
                _on(centre, event.radius, event.angle),
                _on(centre, outer + 3, event.angle),
                _on(centre, outer + 11, angle),
            ],
        )
        x, at = _on(centre, outer + 19, angle)
        board.write(x, at + 5, str(n), "t-num strong", "middle")
        board.write(0, y, str(n), "t-num strong")
        board.write(18, y, event.name, "t-lab strong")
        for line in event.lines:
            y += 17
            board.write(18, y, fit(line, 320, size), "t-num")
        y += 22
    for ring in diagram.rings:
        board.write(18, y, fit(f"{ring.name} open for: {'; '.join(_durations(ring))}", 320, size), "t-num")
        y += 17
    y += 5
    for words in _remarks(diagram):
        board.write(18, y, fit(words, 320, board.form.label), "t-lab quiet")
        y += 17
