"""Paint thickness and colour as they were read, part by part."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.pages.parts.findings import Side, findings, line
from dossier.pages.parts.logs.drawn import drawn, rows_table
from dossier.pages.parts.measured import tags_of
from dossier.pages.parts.numbers import capital


@drawn("paint_thickness", "work", "Paint thickness")
def paint_thickness(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """Mean of each part, and the readings."""
    parts = tags_of(edition, "part", "mean_coating_thickness")
    means = findings(edition, "Coating of each part", [line("mean_coating_thickness")], [Side(capital(part), part) for part in parts])
    return [*filter(None, [means]), *(rows_table("Paint thickness as it was read", log, 0) for log in logs)]


@drawn("colour_readings", "work", "Colour")
def colour_readings(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """The difference from the sample, and the readings."""
    parts = tags_of(edition, "part", "colour_difference_by_readings")
    found = findings(edition, "Colour against the sample", [line("colour_difference_by_readings")], [Side(capital(part), part) for part in parts])
    return [*filter(None, [found]), *(rows_table("Colour as it was read, CIELAB", log, 1) for log in logs)]
