"""Dynamometer run: torque against engine speed; a run may hold several pulls."""

from dossier.model.audience import Audience
from dossier.read.logs.course import above, once, within
from dossier.read.logs.kind import Column, log_kind

DYNO_RUN = log_kind(
    "dyno_run",
    "Dynamometer run",
    Column("rpm", "Engine speed", "rotation speed", ("rpm", "Revs", "Engine RPM")),
    Column("torque", "Torque", "torque", ("Wheel torque", "Torque at the wheel")),
    Column("pull", "Pull", "ratio", ("Run",), unit="", needed=False),
    belongs_to="dyno",
    yields="power against engine speed, peak power and torque, useful range, how far its pulls repeat",
    audience=Audience.PUBLIC,
    faults=(once("pull", "rpm"), above(0, "rpm"), within(0, 1000, "N·m", "torque"), within(0, 25_000, "rpm", "rpm")),
)
