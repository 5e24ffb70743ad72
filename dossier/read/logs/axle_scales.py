"""Axle and side scales: load on each wheel, machine alone or with rider."""

from dossier.model.audience import Audience
from dossier.read.logs.course import above
from dossier.read.logs.kind import Column, log_kind

AXLE_SCALES = log_kind(
    "axle_scales",
    "Axle scales",
    Column("wheel", "Wheel", "words", choices=("front", "rear")),
    Column("side", "Side", "words", needed=False, blank=True),
    Column("state", "State", "words", ("With",), needed=False, blank=True),
    Column("load", "Load", "mass", ("Mass", "Reading")),
    belongs_to="machine",
    yields="loads on front and rear wheel, as means of the readings",
    audience=Audience.PUBLIC,
    faults=(above(0, "load"),),
)
