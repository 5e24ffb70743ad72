"""Dynamometer run: torque against engine speed."""

from dossier.read.logs.kind import Column, log_kind

DYNO_RUN = log_kind(
    "dyno_run",
    "Dynamometer run",
    Column("rpm", "Engine speed", "rotation speed", ("rpm", "Revs")),
    Column("torque", "Torque", "torque", ("Wheel torque",)),
    belongs_to="dyno",
    yields="power against engine speed, peak power and torque, useful range",
)
