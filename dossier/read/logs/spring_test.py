"""Spring test: force against deflection."""

from dossier.model.audience import Audience
from dossier.read.logs.course import once
from dossier.read.logs.kind import Column, log_kind

SPRING_TEST = log_kind(
    "spring_test",
    "Spring test",
    Column("wheel", "Wheel", "words", ("Spring",), needed=False),
    Column("force", "Force", "force", ("Load",)),
    Column("deflection", "Deflection", "length", ("Compression",)),
    belongs_to="machine",
    yields="spring rate over the middle third",
    audience=Audience.OWNER,
    faults=(once("wheel", "force"),),
)
