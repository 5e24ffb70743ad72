"""Paint thickness: readings of a coating gauge, part by part."""

from dossier.model.audience import Audience
from dossier.read.logs.course import above
from dossier.read.logs.kind import Column, log_kind

PAINT_THICKNESS = log_kind(
    "paint_thickness",
    "Paint thickness",
    Column("part", "Part", "words"),
    Column("place", "Place", "words", ("Where",), needed=False, blank=True),
    Column("thickness", "Thickness", "length", ("Reading",)),
    belongs_to="machine",
    yields="mean and spread of the coating on each part",
    audience=Audience.PUBLIC,
    faults=(above(0, "thickness"),),
)
