"""Spring test: force against deflection."""

from dossier.read.logs.kind import Column, log_kind

SPRING_TEST = log_kind(
    "spring_test",
    "Spring test",
    Column("force", "Force", "force", ("Load",)),
    Column("deflection", "Deflection", "length", ("Compression",)),
    belongs_to="machine",
    yields="spring rate over the middle third",
)
