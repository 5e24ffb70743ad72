"""Data log: time, engine speed, road speed, throttle and gear of a session on the track."""

from dossier.read.logs.kind import Column, log_kind

DATA_LOG = log_kind(
    "data_log",
    "Data log",
    Column("time", "Time", "time", ("t",), needed=False),
    Column("rpm", "Engine speed", "rotation speed", ("rpm", "Revs")),
    Column("speed", "Speed", "speed", ("Road speed", "Wheel speed", "GPS speed")),
    Column("throttle", "Throttle", "ratio", ("Throttle opening",), needed=False, blank=True),
    Column("gear", "Gear", "ratio", unit="", needed=False, blank=True),
    Column("final", "Final drive", "words", needed=False, blank=True),
    belongs_to="sessions",
    yields="slip per gear, speeds reached",
)
