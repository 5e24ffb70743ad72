"""Data logs on the sheet of the drive line: engine speed against road speed, each gear's line, and what every gear slips."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.model.results import Worked
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.gearing import ordinal
from dossier.pages.parts.links import link
from dossier.pages.parts.logs.chart import Chart, Cloud, Line, log_chart
from dossier.pages.parts.logs.drawn import drawn
from dossier.pages.parts.numbers import counted, day, door, number
from dossier.pages.parts.plots.pen import Point
from dossier.pages.parts.tables import Column, Row, table

FULL = 95.0
KEY = (
    "Strokes: the engine speed that each gear asks for, without slip. Livery ticks: rows at full throttle; pencil ticks: the others. "
    "Ticks that lie above their gear’s stroke at full throttle only are clutch slip."
)


@drawn("data_log", "drive-line", "Logged on the track")
def data_logs(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """For each log, in order of its day, the cloud; then all gears of all logs side by side."""
    dates = {one.id: one.date for one in edition.build.running.sessions}
    ordered = sorted(logs, key=lambda log: (str(dates.get(log.belongs_to, "")), log.id))
    out = []
    for log in ordered:
        when = f", {day(dates[log.belongs_to])}" if log.belongs_to in dates else ""
        if chart := _cloud(edition, log):
            words = f"{link(edition, log.belongs_to)}{when}: {counted(len(log.rows), 'row')}{_span(log)}. {KEY}"
            out.append(plot_figure(log_chart(chart, stamp(edition), f"log-{log.belongs_to}"), words))
    return [*out, *_gears(edition, [log.belongs_to for log in ordered])]


def _span(log: LogTable) -> str:
    if not log.has("time") or log.unit("time") != "s":
        return ""
    time = log.numbers("time")
    return f" over {number(max(time) - min(time))} s"


def _cloud(edition: Edition, log: LogTable) -> Chart | None:
    if log.unit("rpm") != "rpm" or log.unit("speed") != "km/h":
        return None
    throttle = log.numbers("throttle") if log.has("throttle") else [0.0] * len(log.rows)
    full: list[Point] = []
    rest: list[Point] = []
    for rpm, speed, opened in zip(log.numbers("rpm"), log.numbers("speed"), throttle, strict=True):
        (full if opened >= FULL else rest).append((speed, rpm))
    top = max(speed for speed, _ in (*full, *rest))
    limit = max(rpm for _, rpm in (*full, *rest))
    session = next((one for one in edition.build.running.sessions if one.id == log.belongs_to), None)
    least = min(rpm for _, rpm in (*full, *rest))
    lines = tuple(_lines(edition, session.final if session else None, top, (least, limit)))
    clouds = tuple(Cloud(tuple(points), kind) for points, kind in ((rest, "mark-line"), (full, "line")) if points)
    said = f"{len(log.rows)} rows; highest road speed {number(top, 1)} km/h, highest engine speed {number(limit)} rev/min."
    return Chart(f"Engine speed against road speed, {log.belongs_to}", "road speed, km/h", "engine speed, rev/min", lines, clouds, said, 340)


def _lines(edition: Edition, final: str | None, top: float, reached: tuple[float, float]) -> list[Line]:
    """The line of each gear on the final drive that was run, up to what was reached."""
    out = []
    for one in edition.figures("speed_per_1000"):
        tags = dict(one.tags)
        if one.value and (final is None or tags.get("final", final) == final):
            speed = min(top, reached[1] / 1000 * one.value)
            start = (reached[0] / 1000 * one.value, reached[0])
            out.append(Line((start, (speed, 1000 * speed / one.value)), "thin", ordinal(tags.get("gear", ""))))
    return out


def _gears(edition: Edition, sessions: Sequence[str]) -> list[str]:
    """Slip of every gear at full and at part throttle, and what the throttle brings, session beside session."""
    names = ("slip", "slip_at_part_throttle", "slip_from_throttle")
    found: dict[tuple[str, str], dict[str, Worked]] = {}
    for name in names:
        for one in edition.figures(name):
            tags = dict(one.tags)
            if one.value is not None and tags.get("session") in sessions:
                found.setdefault((tags.get("gear", ""), tags["session"]), {})[name] = one
    if not found:
        return []
    columns = [Column("Gear"), Column("Session", "c-why"), Column("Full throttle", "num", "Full"), Column("Part throttle", "num", "Part")]
    columns.append(Column("The throttle brings", "num", "Brings"))
    order = sorted(found, key=lambda key: (len(key[0]), key[0], sessions.index(key[1])))
    rows = [Row([ordinal(gear), link(edition, session), *(door(found[gear, session].get(name)) for name in names)]) for gear, session in order]
    shown = table("Slip of each gear from the logs, session beside session", columns, rows, css="findings")
    alike = [one for session in sessions for one in edition.figures("gears_off_alike") if dict(one.tags).get("session") == session]
    words = "; ".join(f"{link(edition, dict(one.tags)['session'])}: {door(one)}" for one in alike if one.value is not None)
    return [shown, f'<p class="note">Common to all gears, and so no clutch’s: {words}.</p>' if words else ""]
