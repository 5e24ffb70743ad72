"""Power: the dynamometer curves with their factor, the table of each run, and the points as they were logged."""

from __future__ import annotations

import math
import statistics

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.model.forms.running import Dyno
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.findings import Side, findings, line
from dossier.pages.parts.links import link
from dossier.pages.parts.numbers import day, door, number
from dossier.pages.parts.plots import dyno as drawn
from dossier.pages.parts.tables import Column, Row, Sheet, table

LINES = (
    line("peak_power"), line("peak_power_speed"), line("weather_factor"), line("corrected_peak_power"), line("peak_torque"),
    line("useful_range_from"), line("useful_range_to"), line("useful_range"), line("brake_mean_effective_pressure"),
    line("crank_power_estimate"), line("crank_torque_estimate"), line("crank_pressure_estimate"), line("specific_power"),
    line("power_per_piston_area"), line("power_to_mass"), line("relative_air_density"),
)  # fmt: skip
_MOST = 4


def power(edition: Edition, sheet: Sheet) -> list[str]:
    """The blocks of the section on power, latest run first; none where no run and no figure of it is on record."""
    runs = sorted(edition.build.running.dyno, key=lambda one: (one.date, one.id), reverse=True)
    curves = [(run, drawn_run) for run in runs if (drawn_run := _curve(edition, run)) is not None]
    sides = [Side(run.id, run.id, shared=True) for run in reversed(runs)] or [Side("As built")]
    places = list(dict.fromkeys(run.at for run in runs))
    taken = f"measured at the {places[0]}" if len(places) == 1 else "; ".join(f"{run.id} at the {run.at}" for run in reversed(runs))
    shown = findings(edition, "Power and torque, run by run" + (f", {taken}" if taken else ""), LINES, sides)
    if not (curves or shown):
        return []
    blocks = [sheet.heading("Power", "power")]
    if curves:
        where = f"at the {curves[0][0].at}"
        chart = drawn.DynoChart(tuple(curve for _, curve in curves[:_MOST]), where)
        factors = "; ".join(f"{link(edition, run.id)} {_factor(edition, run)}" for run, _ in curves[:_MOST])
        pulls = f" {drawn.PULLS}" if any(point.least is not None for _, curve in curves[:_MOST] for point in curve.points) else ""
        words = f"{drawn.KEY}{pulls} As measured {where}; no factor is applied to the curves. To correct the power to the standard day: {factors}."
        blocks += [plot_figure(drawn.dyno_chart(chart, stamp(edition)), words), _points([curve for _, curve in reversed(curves)])]
    return [*blocks, shown]


def _factor(edition: Edition, run: Dyno) -> str:
    factor = edition.figure("weather_factor", run.id)
    return f"times {door(factor)}" if factor is not None and factor.value is not None else "no factor"


def _curve(edition: Edition, run: Dyno) -> drawn.DynoRun | None:
    points = [point for log in edition.build.logs if log.kind == "dyno_run" and _belongs(log, run) for point in _read(log)]
    if not points:
        return None
    factor = edition.figure("weather_factor", run.id)
    said = f"factor {number(factor.value, 3)}, not applied" if factor is not None and factor.value is not None else "no factor worked out"
    return drawn.DynoRun(f"{run.id}, {day(run.date)}", tuple(sorted(points, key=lambda point: point.rpm)), said)


def _belongs(log: LogTable, run: Dyno) -> bool:
    return log.belongs_to == run.id or log.id == run.log or log.id.removesuffix(".dyno_run") in (run.id, run.log)


def _read(log: LogTable) -> list[drawn.DynoPoint]:
    """Points of a run; power follows from torque and engine speed (P = T · 2π · n / 60)."""
    at = {name: n for n, (name, _) in enumerate(log.columns)}
    if "rpm" not in at or "torque" not in at or log.columns[at["torque"]][1] not in ("N·m", "") or log.columns[at["rpm"]][1] != "rpm":
        return []
    pulls: dict[float, list[float]] = {}
    for row in log.rows:
        rpm, torque = row[at["rpm"]], row[at["torque"]]
        if isinstance(rpm, float) and isinstance(torque, float):
            pulls.setdefault(rpm, []).append(torque)
    return [_point(rpm, torques) for rpm, torques in pulls.items()]


def _point(rpm: float, torques: list[float]) -> drawn.DynoPoint:
    """One engine speed of a run: the mean of its pulls, and how far they reach where there are several."""
    mean = statistics.fmean(torques)
    power = mean * 2 * math.pi * rpm / 60000
    return drawn.DynoPoint(rpm, mean, power, min(torques), max(torques)) if len(torques) > 1 else drawn.DynoPoint(rpm, mean, power)


def _points(curves: list[drawn.DynoRun]) -> str:
    speeds = sorted({point.rpm for curve in curves for point in curve.points})
    by_speed = [{point.rpm: point for point in curve.points} for curve in curves]
    short = [curve.name.partition(",")[0] for curve in curves]
    columns = [Column("Engine speed, rev/min", "c-item", "Rev/min")]
    columns += [Column(f"{name}, {what}", "num") for name in short for what in ("N·m", "kW")]
    rows = []
    for speed in speeds:
        cells = []
        for points in by_speed:
            point = points.get(speed)
            cells += [number(point.torque, 1), number(point.power, 1)] if point else ["–", "–"]
        rows.append(Row([number(speed), *cells]))
    return table("Torque as logged, and the power it amounts to", columns, rows, css="readings")
