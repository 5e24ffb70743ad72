"""Run log: engine hours, line by line."""

from dossier.model.audience import Audience
from dossier.read.logs.course import once
from dossier.read.logs.kind import Column, log_kind

RUN_LOG = log_kind(
    "run_log",
    "Run log",
    Column("date", "Date", "date", ("Day",)),
    Column("what", "What", "words"),
    Column("hours", "Running time", "time", ("Hours", "Time")),
    belongs_to="machine",
    yields="engine hours to date, use of lifed parts",
    audience=Audience.PUBLIC,
    faults=(once("date", "what"),),
)
