"""Lift curves of the cams as they were read off the timing disc, and what follows from them beside the timing card."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.findings import Side, findings, line
from dossier.pages.parts.logs.chart import Chart, Line, log_chart
from dossier.pages.parts.logs.drawn import drawn
from dossier.pages.parts.measured import value_of
from dossier.pages.parts.numbers import capital
from dossier.pages.parts.plots.pen import Point

LINES = (
    line("opens_by_curve"), line("closes_by_curve"), line("duration_by_curve"), line("centre_by_curve"), line("lift_at_top"),
    line("highest_lift_by_curve"), line("valve_speed_by_curve"), line("valve_acceleration_by_curve"),
)  # fmt: skip
_KINDS = {"inlet": ("line", "what"), "exhaust": ("body", "dash")}


@drawn("cam_readings", "engine", "Lift curves")
def cam_readings(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """Every curve in one chart, and the table of what follows from them."""
    curves: dict[tuple[str, str], list[Point]] = {}
    for log in logs:
        cylinders = log.words("cylinder") if log.has("cylinder") else [""] * len(log.rows)
        for cylinder, valve, angle, lift in zip(cylinders, log.words("valve"), log.numbers("angle"), log.numbers("lift"), strict=True):
            curves.setdefault((cylinder, valve), []).append((angle, lift))
    order = list(dict.fromkeys(cylinder for cylinder, _ in curves))
    lines = [
        Line(tuple(sorted(points)), _KINDS[valve][min(order.index(cylinder), 1)]) for (cylinder, valve), points in sorted(curves.items())
    ]
    unit = logs[0].unit("lift")
    check = value_of(edition, "valve_lift_at_check", (), "noted")
    ends = [angle for points in curves.values() for angle, _ in points]
    if check is not None and check.unit == unit:
        lines.append(Line(((min(ends), check.shown), (max(ends), check.shown)), "lim"))
    said = f"Lift against crank angle for {', '.join(' '.join(filter(None, key)) for key in curves)}."
    chart = Chart("Lift curves", "crank angle from top dead centre at the overlap, °", f"valve lift, {unit}", tuple(lines), (), said)
    tables = [
        findings(edition, f"From the lift curve of the {valve}", LINES, [Side(capital(cylinder or "As read"), cylinder) for cylinder in order])
        if order == [""] else _of_valve(edition, valve, order)
        for valve in dict.fromkeys(valve for _, valve in curves)
    ]  # fmt: skip
    words = "Livery: inlet; ink and pencil: exhaust; whole stroke the first cylinder, broken the second. Level stroke: the lift at check."
    return [plot_figure(log_chart(chart, stamp(edition), "cams"), words), *filter(None, tables)]


def _of_valve(edition: Edition, valve: str, order: Sequence[str]) -> str:
    lines = [line(*one.names, title=one.title, tags=(valve,)) for one in LINES]
    return findings(edition, f"From the lift curves, {valve}", lines, [Side(capital(cylinder), cylinder) for cylinder in order])
