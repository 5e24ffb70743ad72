"""Spoke check: tension or tone of each spoke."""

from collections.abc import Iterator

from dossier.model.audience import Audience
from dossier.model.build import LogTable
from dossier.read.logs.course import above, once
from dossier.read.logs.kind import Column, Oddity, log_kind


def _something(table: LogTable) -> Iterator[Oddity]:
    if not (table.has("tension") or table.has("tone")):
        yield Oddity("log-value", "neither tension nor tone is given", None, "add the column Tension [N] or Tone [Hz]")


SPOKE_CHECK = log_kind(
    "spoke_check",
    "Spoke check",
    Column("wheel", "Wheel", "words", choices=("front", "rear")),
    Column("spoke", "Spoke", "ratio", ("No", "Number"), unit=""),
    Column("side", "Side", "words", needed=False, blank=True),
    Column("tension", "Tension", "force", needed=False, blank=True),
    Column("tone", "Tone", "frequency", ("Note", "Pitch"), needed=False, blank=True),
    belongs_to="machine",
    yields="mean and spread of the spokes on each side, and those that stand apart",
    audience=Audience.PUBLIC,
    faults=(once("wheel", "spoke"), above(0, "tension", "tone"), _something),
)
