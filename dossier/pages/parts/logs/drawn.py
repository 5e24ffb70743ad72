"""What a drawn log is: the page it stands on and the function that shows it; and the sections that pages take in."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from dossier.model.build import LogTable
from dossier.model.edition import Edition
from dossier.model.registry import Registry
from dossier.pages.parts.numbers import counted, esc, number, unit_text
from dossier.pages.parts.tables import Column, Row, Sheet, table

Draw = Callable[[Edition, Sequence[LogTable]], list[str]]
"""HTML blocks for all logs of one kind that stand together; nothing where there is nothing to say."""
MOST_ROWS = 40
"""A log with more rows is summed up and drawn, not printed row by row."""


@dataclass(frozen=True)
class Drawn:
    """A kind of log as it is shown: its kind, the slug of its page, its heading there, and the function that draws it."""

    kind: str
    page: str
    title: str
    draw: Draw


DRAWN: Registry[Drawn] = Registry("drawn log", "dossier.pages.parts.logs")


def drawn(kind: str, page: str, title: str) -> Callable[[Draw], Draw]:
    """Declare the decorated function as the way logs of `kind` are shown on `page`."""

    def declare(draw: Draw) -> Draw:
        DRAWN.add(kind, Drawn(kind, page, title, draw), draw.__code__.co_filename)
        return draw

    return declare


def log_sections(edition: Edition, sheet: Sheet, page: str) -> None:
    """Add to a page the sections of all kinds of log that stand there and do not belong to a session."""
    for one in sorted(DRAWN.gather(), key=lambda known: known.kind):
        logs = [log for log in edition.build.logs if log.kind == one.kind and len(log.rows)]
        if one.page != page or not logs:
            continue
        if blocks := one.draw(edition, logs):
            sheet.section(one.title, f"log-{one.kind.replace('_', '-')}")
            sheet.add(*blocks, left_out_words(logs))


def session_logs(edition: Edition, session: str) -> str:
    """What the logs of one session show that stand on the page of test days, as HTML."""
    out = []
    for one in sorted(DRAWN.gather(), key=lambda known: known.kind):
        logs = [log for log in edition.build.logs if log.kind == one.kind and log.belongs_to == session and len(log.rows)]
        if one.page == "running" and logs:
            out += [*one.draw(edition, logs), left_out_words(logs)]
    return "\n".join(filter(None, out))


def left_out_words(logs: Sequence[LogTable]) -> str:
    """How many rows were left out of these logs, and where, as a note; empty where none was."""
    out = []
    for log in logs:
        if log.left_out:
            lines = ", ".join(str(line) for line, _ in log.left_out[:8]) + (" …" if len(log.left_out) > 8 else "")
            out.append(f"{esc(log.id)}: {counted(len(log.left_out), 'row')} left out (line {lines})")
        out += [f"{esc(log.id)}: {esc(said)}" for said in log.said]
    return f'<p class="note">{"; ".join(out)}.</p>' if out else ""


def rows_table(caption: str, log: LogTable, decimals: int = 2) -> str:
    """The rows of a short log as a table; empty where there are too many to read."""
    if len(log.rows) > MOST_ROWS:
        return ""
    numeric = [isinstance(next((cell for cell in column if cell is not None), None), float) for column in zip(*log.rows, strict=True)]
    heads = [name.replace("_", " ").capitalize() + (f",{unit_text(unit)}" if unit else "") for name, unit in log.columns]
    columns = [Column(head, "num" if number_ else "c-item") for head, number_ in zip(heads, numeric, strict=True)]
    rows = [Row([_cell(cell, decimals) for cell in row]) for row in log.rows]
    return table(caption, columns, rows, css="readings")


def _cell(cell: float | str | None, decimals: int) -> str:
    if isinstance(cell, float):
        shown = f"{cell:.{decimals}f}"
        return number(cell, len(shown.rstrip("0").partition(".")[2]) if "." in shown else 0)
    return esc(cell or "–")
