"""Wheels on the truing stand: the dial round the rim, and the spokes one by one."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.findings import Side, findings, line
from dossier.pages.parts.logs.chart import Chart, Cloud, Line, log_chart
from dossier.pages.parts.logs.drawn import drawn
from dossier.pages.parts.numbers import capital, number
from dossier.pages.parts.plots.pen import Point

_KINDS = {("front", "radial"): "line", ("front", "lateral"): "what", ("rear", "radial"): "body", ("rear", "lateral"): "dash"}


@drawn("wheel_truing", "chassis", "Wheels on the stand")
def wheel_truing(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """The dial against the angle, wheel by wheel, and the runout that follows."""
    turns: dict[tuple[str, str], list[Point]] = {}
    for log in logs:
        for wheel, plane, angle, reading in zip(log.words("wheel"), log.words("plane"), log.numbers("angle"), log.numbers("reading"), strict=True):
            turns.setdefault((wheel, plane), []).append((angle, reading))
    lines = tuple(Line(tuple(sorted(points)), _KINDS[key]) for key, points in turns.items())
    said = "Dial reading round the rim: " + "; ".join(
        f"{wheel} {plane} from {number(min(y for _, y in points), 2)} to {number(max(y for _, y in points), 2)} {logs[0].unit('reading')}"
        for (wheel, plane), points in turns.items()
    )
    chart = Chart("Rims on the stand", "angle from the valve hole, °", f"dial, {logs[0].unit('reading')}", lines, (), f"{said}.", 220)
    words = "Livery: front; ink and pencil: rear. Whole stroke: radial; broken: sideways."
    shown = findings(
        edition, "Runout from the dial",
        [line("dial_runout", title="Radial", tags=("radial",)), line("dial_runout", title="Sideways", tags=("lateral",))],
        (Side("Front", "front"), Side("Rear", "rear")),
    )  # fmt: skip
    return [plot_figure(log_chart(chart, stamp(edition), "truing"), words), shown]


@drawn("spoke_check", "chassis", "Spokes")
def spoke_check(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """Tone or tension of each spoke, and mean and spread of each side."""
    out = []
    for name in ("tone", "tension"):
        there = [log for log in logs if log.has(name)]
        clouds = []
        for wheel, kind in (("front", "f"), ("rear", "k")):
            points = [
                (spoke, value)
                for log in there
                for where, spoke, value in zip(log.words("wheel"), log.numbers("spoke"), log.numbers(name), strict=True)
                if where == wheel and value == value
            ]
            clouds += [Cloud(tuple(points), kind, True)] if points else []
        if clouds:
            said = f"{capital(name)} of each spoke, front and rear wheel."
            up = f"{name}, {there[0].unit(name)}"
            chart = Chart(f"{capital(name)} of the spokes", "spoke, from the valve hole", up, (), tuple(clouds), said, 200)
            out.append(plot_figure(log_chart(chart, stamp(edition), f"spokes-{name}"), "Livery dots: front wheel; ink dots: rear wheel."))
    lines = [line(name) for name in ("mean_spoke_tone", "spoke_tone_spread", "mean_spoke_tension", "spoke_tension_spread")]
    for wheel in ("front", "rear"):
        tagged = [line(*one.names, title=one.title, tags=(wheel,)) for one in lines]
        sides = dict.fromkeys(tag for one in edition.figures("mean_spoke_tone") for axis, tag in one.tags if axis == "side")
        out.append(findings(edition, f"Spokes, {wheel} wheel", tagged, [Side(capital(side), side) for side in sides] or [Side("All round")]))
    return [one for one in out if one]
