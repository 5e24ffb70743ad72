"""Geometry outline: wheelbase, rake and trail to scale, and what another front wheel would make of them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from dossier.pages.parts.plots.lettering import fit, plain, short
from dossier.pages.parts.plots.pen import Board, Field, Form, Point, Stamp, two_drawings

KEY = "Drawn to scale, as built. Broken: with the other front wheel. The detail shows the ground under the front wheel, enlarged."


@dataclass(frozen=True)
class Stance:
    """How the machine stands on level ground, mm and degrees; rake from the vertical, loaded radii."""

    wheelbase: float
    rake: float
    trail: float
    front_radius: float
    rear_radius: float


@dataclass(frozen=True)
class GeometryOutline:
    """As built, and at will the same machine with another front wheel and that wheel's name."""

    built: Stance
    other: Stance | None = None
    built_name: str = "as built"
    other_name: str = "other wheel"
    title: str = "Wheelbase, rake and trail"


def geometry_outline(outline: GeometryOutline, stamp: Stamp, prefix: str = "geometry") -> str:
    """The outline as two SVG drawings, to scale; mm and degrees. The machine faces right."""
    for stance in (outline.built, outline.other):
        if stance and not (0 < stance.rake < 60 and min(stance.wheelbase, stance.front_radius, stance.rear_radius) > 0):
            raise ValueError("an outline needs a rake between 0 and 60 degrees, a wheelbase and two wheels")
    return two_drawings(lambda form: draw_geometry(outline, stamp, form), prefix, outline.title, _said(outline))


def _figures(stance: Stance) -> str:
    rake = f"rake {short(stance.rake, 1)}°, trail {plain(stance.trail)} mm"
    return f"{rake}, wheelbase {plain(stance.wheelbase)} mm"


def _said(outline: GeometryOutline) -> str:
    other = f" {outline.other_name}: {_figures(outline.other)}." if outline.other else ""
    return f"{outline.built_name}: {_figures(outline.built)}.{other}"


def draw_geometry(outline: GeometryOutline, stamp: Stamp, form: Form) -> Board:
    """One drawing: the outline, the detail of the ground, the figures."""
    built, wide = outline.built, not form.narrow
    span = built.rear_radius + built.wheelbase + max(built.front_radius, built.trail) + 60
    width = 620.0 if wide else 338.0
    scale = width / span
    high = 900 * scale
    ground = 16 + high
    detail_top = 40.0 if wide else ground + 92
    detail_high = 190.0 if wide else 150.0
    lines = 2 if outline.other else 1
    list_top = detail_top + detail_high + 34 + 30 * lines
    board = Board(form, max(ground + 66, list_top + 44 * lines) + 12, stamp)
    field = board.field(0, 16, width, ground, (-built.rear_radius - 20, span - built.rear_radius - 20), (0, 900))
    _outline(field, outline, form)
    left = 680.0 if wide else 0.0
    _detail(board, outline, (left, detail_top, form.width - left, detail_high), form)
    _list(board, outline, left, list_top)
    return board


def _axis(stance: Stance, height: float) -> Point:
    """The point of the steering axis at `height` above ground (mm from below the rear axle)."""
    return stance.wheelbase + stance.trail - height * math.tan(math.radians(stance.rake)), height


def _outline(field: Field, outline: GeometryOutline, form: Form) -> None:
    built, other = outline.built, outline.other
    field.strokes("axis", [(field_left(built), 0), (built.wheelbase + max(built.front_radius, built.trail) + 40, 0)])
    field.arc("body", (0, built.rear_radius), built.rear_radius, 0, 360)
    if other:
        field.arc("what", (other.wheelbase, other.front_radius), other.front_radius, 0, 360)
        field.strokes("what", [_axis(other, 0), _axis(other, 860)])
    field.arc("body", (built.wheelbase, built.front_radius), built.front_radius, 0, 360)
    field.strokes("lim", [_axis(built, 0), _axis(built, 860)])
    foot = _axis(built, 0)
    axles = [[(x, 0.0), (x, r)] for x, r in ((0.0, built.rear_radius), (built.wheelbase, built.front_radius))]
    field.strokes("mark-line", [foot, (foot[0], 860)], *axles)
    field.dots("hub", [(0, built.rear_radius), (built.wheelbase, built.front_radius)], 4)
    reach = 700.0
    field.arc("thin", foot, reach, -built.rake, 0)
    turn = math.radians(built.rake / 2)
    middle = (foot[0] - reach * math.sin(turn), reach * math.cos(turn))
    field.letters(*middle, f"{short(built.rake, 1)}°", "t-num strong", "middle", dy=-8)
    _measure(field, 0, built.wheelbase, 30, f"wheelbase {plain(built.wheelbase)} mm")


def field_left(stance: Stance) -> float:
    """Where the ground line begins, mm from below the rear axle."""
    return -stance.rear_radius - 20


def _measure(field: Field, a: float, b: float, below: float, words: str) -> None:
    """A dimension below the ground line, with arrow heads, its words on the line."""
    (xa, y), (xb, _) = field.at(a, 0), field.at(b, 0)
    sheet, level = field.board.sheet, y + below
    sheet.strokes("lead", [(xa, y + 3), (xa, level + 5)], [(xb, y + 3), (xb, level + 5)])
    half = field.board.form.width_of(words, "t-num strong") / 2 + 5
    if abs(xb - xa) > 2 * half + 30:
        middle = (xa + xb) / 2
        sheet.strokes("lead", [(min(xa, xb), level), (middle - half, level)], [(middle + half, level), (max(xa, xb), level)])
    way = 1 if xb > xa else -1
    if abs(xb - xa) > 2 * half + 30:
        sheet.shape("arrow", [(xa, level), (xa + way * 8, level - 3), (xa + way * 8, level + 3)])
        sheet.shape("arrow", [(xb, level), (xb - way * 8, level - 3), (xb - way * 8, level + 3)])
    field.board.write((xa + xb) / 2, level + 5, words, "t-num strong", "middle")


def _detail(board: Board, outline: GeometryOutline, box: tuple[float, float, float, float], form: Form) -> None:
    """The ground under the front wheel: where each tyre stands and where each steering axis meets it."""
    left, top, width, high = box
    stances = [(outline.built, "lim")] + ([(outline.other, "what")] if outline.other else [])
    feet = [v for stance, _ in stances for v in (stance.wheelbase, stance.wheelbase + stance.trail)]
    low, upper = min(feet), max(feet)
    room = max(upper - low, 40.0)
    scale = (width - 70) / (room * 1.25)
    first = low - 0.1 * room - 20 / scale
    field = board.field(left, top, left + width, top + high, (first, first + width / scale), (0, high / scale))
    field.strokes("axis", [(first, 0), (first + width / scale, 0)])
    for stance, axis in reversed(stances):
        head = min(high / scale, (stance.wheelbase + stance.trail - first) / math.tan(math.radians(stance.rake)))
        field.strokes(axis, [_axis(stance, 0), _axis(stance, head)])
    built = outline.built
    ahead, behind = (math.degrees(math.asin(min(x / built.front_radius, 0.6))) for x in (room, built.wheelbase - first))
    field.arc("body", (built.wheelbase, built.front_radius), built.front_radius, 180 - ahead, 180 + behind)
    field.strokes("mark-line", *([(s.wheelbase, 0), (s.wheelbase, 60 * high / width)] for s, _ in stances))
    board.write(
        left,
        top - 16,
        f"under the front wheel, {short(scale / _scale_of(outline, form), 1)} times larger",
        "t-lab quiet",
    )
    for n, (stance, _) in enumerate(stances):
        _measure(field, stance.wheelbase, stance.wheelbase + stance.trail, 22 + 30 * n, f"trail {plain(stance.trail)}")


def _scale_of(outline: GeometryOutline, form: Form) -> float:
    built = outline.built
    return (620.0 if not form.narrow else 338.0) / (built.rear_radius + built.wheelbase + max(built.front_radius, built.trail) + 60)


def _list(board: Board, outline: GeometryOutline, left: float, y: float) -> None:
    """The figures of each stance, beside a piece of its line."""
    for name, kind, stance in ((outline.built_name, "lim", outline.built), (outline.other_name, "what", outline.other)):
        if stance:
            board.sheet.strokes(kind, [(left, y - 5), (left + 28, y - 5)])
            board.write(left + 38, y, fit(name, board.form.width - left - 38, board.form.label, True), "t-lab strong")
            board.write(left + 38, y + 18, _figures(stance), "t-num")
            y += 44
