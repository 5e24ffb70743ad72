"""Leak-down test: supply and cylinder pressure, and where the air is heard to go."""

from collections.abc import Iterator

from dossier.model.audience import Audience
from dossier.model.build import LogTable
from dossier.read.logs.course import above
from dossier.read.logs.kind import Column, Oddity, log_kind


def _no_more_than_supplied(table: LogTable) -> Iterator[Oddity]:
    for row, (supply, cylinder) in enumerate(zip(table.numbers("supply"), table.numbers("cylinder_pressure"), strict=True)):
        if table.unit("supply") == table.unit("cylinder_pressure") and cylinder > supply:
            yield Oddity("log-value", "the cylinder holds more pressure than it is supplied with", row, "the two gauges may be exchanged")


LEAK_DOWN = log_kind(
    "leak_down",
    "Leak-down test",
    Column("cylinder", "Cylinder", "words", needed=False),
    Column("supply", "Supply", "pressure", ("Supply pressure",)),
    Column("cylinder_pressure", "Held", "pressure", ("Cylinder pressure", "Pressure in the cylinder")),
    Column("where", "Where it leaks", "words", ("Where", "Heard at"), needed=False, blank=True),
    belongs_to="machine",
    yields="leak-down of each cylinder, and where the air goes",
    audience=Audience.PUBLIC,
    faults=(above(0, "supply", "cylinder_pressure"), _no_more_than_supplied),
)
