"""Bore readings: diameters at two or more heights and in two directions."""

from dossier.model.audience import Audience
from dossier.read.logs.course import above, near_middle, once
from dossier.read.logs.kind import Column, log_kind

BORE_READINGS = log_kind(
    "bore_readings",
    "Bore readings",
    Column("cylinder", "Cylinder", "words", needed=False),
    Column("height", "Height", "words", ("Depth",)),
    Column("direction", "Direction", "words", choices=("along", "across")),
    Column("diameter", "Diameter", "length", ("Bore", "Reading")),
    belongs_to="machine",
    yields="mean bore, ovality, taper, the worst reading",
    audience=Audience.PUBLIC,
    faults=(once("cylinder", "height", "direction"), above(0, "diameter"), near_middle(0.05, "diameter")),
)
