"""Wheel truing: dial readings round the rim, radial and lateral."""

from dossier.model.audience import Audience
from dossier.read.logs.course import once
from dossier.read.logs.kind import Column, log_kind

WHEEL_TRUING = log_kind(
    "wheel_truing",
    "Wheel truing",
    Column("wheel", "Wheel", "words", choices=("front", "rear")),
    Column("plane", "Plane", "words", ("Direction",), choices=("radial", "lateral")),
    Column("angle", "Angle", "angle", ("Place",)),
    Column("reading", "Reading", "length", ("Dial",)),
    belongs_to="machine",
    yields="runout of the rim, radial and lateral, and where it stands highest",
    audience=Audience.PUBLIC,
    faults=(once("wheel", "plane", "angle"),),
)
