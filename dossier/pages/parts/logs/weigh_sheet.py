"""Weigh sheets as they were written at the scales."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.pages.parts.logs.drawn import drawn, rows_table


@drawn("weigh_sheet", "mass", "Weigh sheet")
def weigh_sheet(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """The masses as they were written."""
    return [rows_table("Masses as they were written at the scales", log, 1) for log in logs]


@drawn("torque_log", "work", "Torque log, as it was written")
def torque_log(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """The joints in the order in which they were tightened."""
    return [rows_table("Joints in the order in which they were tightened. A record, not an instruction", log, 1) for log in logs]
