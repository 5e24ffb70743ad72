"""logs.yaml: what a measurement log cannot say by itself, one entry a file: its columns' names, its decimal mark, what it belongs to."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from dossier.model.audience import Workshop
from dossier.model.fields import Count, Id, YesNo
from dossier.model.forms.record import Record


@dataclass(frozen=True, kw_only=True)
class LogWording(Record):
    """How one file of logs/ is to be read. `of` and `kind` stand in for a file name that says neither."""

    file: Workshop[str]
    of: Workshop[Id | None] = None
    kind: Workshop[str | None] = None
    columns: Workshop[tuple[str, ...]] = ()
    """A line a column, `name in the file = column of the kind [unit]`; `name = -` leaves a column out."""
    decimal: Workshop[Literal["comma", "point"] | None] = None
    separator: Workshop[Literal["comma", "semicolon", "tab", "bar"] | None] = None
    encoding: Workshop[Literal["utf-8", "utf-16", "windows-1252"] | None] = None
    sheet: Workshop[str | None] = None
    """The sheet of a workbook that has several."""
    header: Workshop[YesNo | None] = None
    """`no` where the file has no header; columns are then named by their number, `1 = Time [s]`."""
    header_line: Workshop[Count | None] = None
    """The line the header stands in, where it cannot be found by its words."""


@dataclass(frozen=True, kw_only=True)
class LogsFile(Record):
    """logs.yaml as a whole."""

    logs: Workshop[tuple[LogWording, ...]] = ()
