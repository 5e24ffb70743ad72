"""Lap times of a session, in seconds or as minutes:seconds."""

from dossier.read.logs.kind import Column, log_kind

LAP_TIMES = log_kind(
    "lap_times",
    "Lap times",
    Column("lap", "Lap", "ratio", unit=""),
    Column("time", "Lap time", "time", ("Time",), unit="s"),
    Column("note", "Note", "words", ("Remark",), needed=False, blank=True),
    belongs_to="sessions",
    yields="best, mean and median lap, spread",
)
