"""Scales and spring tests as they were read."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.logs.chart import Chart, Cloud, Line, log_chart
from dossier.pages.parts.logs.drawn import drawn, rows_table


@drawn("axle_scales", "chassis", "On the scales")
def axle_scales(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """The readings."""
    return [rows_table("Loads as they were read", log, 1) for log in logs]


@drawn("spring_test", "chassis", "Spring test")
def spring_test(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """Force against deflection, and the readings."""
    out = []
    for log in logs:
        points = tuple(sorted(zip(log.numbers("deflection"), log.numbers("force"), strict=True)))
        units = log.unit("deflection"), log.unit("force")
        said = f"{len(points)} readings, up to {points[-1][1]:.0f} {units[1]} at {points[-1][0]:.1f} {units[0]}."
        lines, clouds = (Line(points, "thin"),), (Cloud(points, "f", True),)
        chart = Chart(f"Spring test, {log.belongs_to}", f"deflection, {units[0]}", f"force, {units[1]}", lines, clouds, said, 220)
        out.append(plot_figure(log_chart(chart, stamp(edition), f"spring-{log.belongs_to}"), "Each dot is a reading."))
        out.append(rows_table("Spring test as it was read", log, 1))
    return out
