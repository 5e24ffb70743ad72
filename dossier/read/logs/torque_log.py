"""Torque log: joints in the order in which they were tightened; a record, not an instruction."""

from dossier.model.audience import Audience
from dossier.read.logs.course import above
from dossier.read.logs.kind import Column, log_kind

TORQUE_LOG = log_kind(
    "torque_log",
    "Torque log",
    Column("joint", "Joint", "words"),
    Column("torque", "Torque", "torque", ("Final torque",)),
    Column("angle", "Angle", "angle", needed=False, blank=True),
    Column("wrench", "Wrench", "words", needed=False, blank=True),
    Column("by", "By", "words", needed=False, blank=True),
    Column("date", "Date", "date", needed=False, blank=True),
    belongs_to="machine",
    yields="each joint's last torque, beside the torque log of the work record",
    audience=Audience.OWNER,
    faults=(above(0, "torque"),),
)
