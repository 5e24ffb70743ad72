"""Temperatures of a session: the readings, and the highest of each place."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.pages.parts.logs.drawn import drawn, rows_table


@drawn("temperatures", "running", "Temperatures")
def temperatures(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """The readings as a table."""
    return [rows_table("Temperatures", log, 0) for log in logs]
