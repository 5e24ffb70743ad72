"""Cam readings: valve lift against crank angle, counted from top dead centre at the overlap, after it positive."""

from dossier.model.audience import Audience
from dossier.read.logs.course import once, within
from dossier.read.logs.kind import Column, log_kind

CAM_READINGS = log_kind(
    "cam_readings",
    "Cam readings",
    Column("cylinder", "Cylinder", "words", needed=False),
    Column("valve", "Valve", "words", choices=("inlet", "exhaust")),
    Column("angle", "Crank angle", "angle", ("Angle", "Degrees")),
    Column("lift", "Lift", "length", ("Valve lift",)),
    belongs_to="machine",
    yields="opening and closing at the stated lift, duration, lobe centre, lift at top dead centre, speed and acceleration of the follower",
    audience=Audience.PUBLIC,
    faults=(once("cylinder", "valve", "angle"), within(-0.5, 25, "mm", "lift")),
)
