"""Compression and leak-down tests and the port map as they were read, row by row."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.pages.parts.logs.drawn import drawn, rows_table


@drawn("compression_test", "engine", "Compression test")
def compression(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """The readings."""
    return [rows_table("Compression as it was read", log, 2) for log in logs]


@drawn("leak_down", "engine", "Leak-down test")
def leak_down(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """The readings, and where the air was heard to go."""
    return [rows_table("Leak-down as it was read", log, 2) for log in logs]


@drawn("port_map", "engine", "Port map")
def port_map(edition: Edition, logs: Sequence[LogTable]) -> list[str]:
    """The ports as they were measured."""
    return [rows_table("Ports, their top edges from top dead centre", log, 2) for log in logs]
