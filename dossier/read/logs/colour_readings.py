"""Colour readings: L*, a*, b* of parts and of the sample they are to match."""

from collections.abc import Iterator

from dossier.model.audience import Audience
from dossier.model.build import LogTable
from dossier.read.logs.kind import Column, Oddity, log_kind


def _lightness(table: LogTable) -> Iterator[Oddity]:
    for row, lightness in enumerate(table.numbers("lightness")):
        if not 0 <= lightness <= 100:
            yield Oddity("log-value", f"L* of {lightness:g} cannot be", row, "L* lies between 0 and 100")


COLOUR_READINGS = log_kind(
    "colour_readings",
    "Colour readings",
    Column("part", "Part", "words"),
    Column("sample", "Sample", "words", ("Against", "Is"), choices=("reference", "part")),
    Column("place", "Place", "words", ("Where",), needed=False, blank=True),
    Column("lightness", "L*", "ratio", ("L", "Lightness"), unit=""),
    Column("red_green", "a*", "ratio", ("a",), unit=""),
    Column("yellow_blue", "b*", "ratio", ("b",), unit=""),
    belongs_to="machine",
    yields="colour difference from the sample, dE00",
    audience=Audience.PUBLIC,
    faults=(_lightness,),
)
