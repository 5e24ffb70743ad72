"""Bore readings as they were taken: at each height along the crank and across it, for each cylinder."""

from __future__ import annotations

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.model.forms.measurements import Entry
from dossier.pages.parts.measured import taken
from dossier.pages.parts.numbers import capital, number, unit_text
from dossier.pages.parts.tables import Column, Row, table

HEIGHTS = {2: ("one height",), 4: ("top", "bottom"), 6: ("top", "middle", "bottom"), 8: ("top", "second", "third", "bottom")}
"""Readings come in pairs, along and across, from the top of the bore down."""


def bore_tables(edition: Edition) -> str:
    """The readings of every bore: from the measurements, and from logs of bore readings; empty where there are none."""
    entries = [one for one in edition.build.measurements.as_built if one.what == "bore" and len(one.readings) in HEIGHTS]
    logs = [log for log in edition.build.logs if log.kind == "bore_readings" and log.rows]
    return "\n".join([*([_of_entries(edition, entries)] if entries else []), *map(_of_log, logs)])


def _of_entries(edition: Edition, entries: list[Entry]) -> str:
    heights = max((HEIGHTS[len(one.readings)] for one in entries), key=len)
    unit = entries[0].readings[0].unit.sign
    names = [f"{capital(one.cylinder)}, " if one.cylinder else "" for one in entries]
    heads = [capital(f"{name}{way}") for name in names for way in ("along", "across")]
    rows = []
    for n, height in enumerate(heights):
        cells = []
        for one in entries:
            pair = one.readings[2 * n : 2 * n + 2]
            cells += [number(float(quantity.number), quantity.decimals) for quantity in pair] or ["–", "–"]
        rows.append(Row([capital(height), *cells]))
    columns = [Column("Height"), *(Column(head, "num") for head in heads)]
    caption = f"Bore readings in{unit_text(unit)}, along the crank and across it"
    shown = table(caption, columns, rows, css="readings")
    return shown + "".join(
        f'<p class="beneath">{text}.</p>' for text in dict.fromkeys(filter(None, (taken(edition, one) for one in entries)))
    )


def _of_log(log: LogTable) -> str:
    columns = [Column(capital(name) + (f", {unit}" if unit else ""), "num" if unit else "c-item") for name, unit in log.columns]
    rows = [Row([number(cell, 3) if isinstance(cell, float) else str(cell or "–") for cell in row]) for row in log.rows]
    return table(log.title or "Bore readings", columns, rows, css="readings")
