"""Compression test: pressure of each cylinder, cranked until it rises no more."""

from dossier.model.audience import Audience
from dossier.read.logs.course import above
from dossier.read.logs.kind import Column, log_kind

COMPRESSION_TEST = log_kind(
    "compression_test",
    "Compression test",
    Column("cylinder", "Cylinder", "words", needed=False),
    Column("pressure", "Pressure", "pressure"),
    Column("note", "Note", "words", ("Remark", "Condition"), needed=False, blank=True),
    belongs_to="machine",
    yields="compression of each cylinder, and how far the cylinders differ",
    audience=Audience.PUBLIC,
    faults=(above(0, "pressure"),),
)
