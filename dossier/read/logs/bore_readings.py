"""Bore readings: diameters at three heights and in two directions."""

from dossier.read.logs.kind import Column, log_kind

BORE_READINGS = log_kind(
    "bore_readings",
    "Bore readings",
    Column("cylinder", "Cylinder", "words", needed=False),
    Column("height", "Height", "words", ("Depth",)),
    Column("direction", "Direction", "words"),
    Column("diameter", "Diameter", "length", ("Bore", "Reading")),
    belongs_to="machine",
    yields="mean bore, ovality, taper, the worst reading",
)
