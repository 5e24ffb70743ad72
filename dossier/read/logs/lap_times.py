"""Lap times of a session, in seconds or as minutes:seconds."""

from dossier.model.audience import Audience
from dossier.read.logs.course import above, once
from dossier.read.logs.kind import Column, log_kind

LAP_TIMES = log_kind(
    "lap_times",
    "Lap times",
    Column("lap", "Lap", "ratio", unit=""),
    Column("time", "Lap time", "time", ("Time",), unit="s"),
    Column("note", "Note", "words", ("Remark",), needed=False, blank=True),
    belongs_to="sessions",
    yields="best, mean and median lap, spread, laps that stand apart",
    audience=Audience.PUBLIC,
    faults=(once("lap"), above(0, "time")),
)
