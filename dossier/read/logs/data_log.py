"""Data log: time, engine speed, road speed, throttle and gear of a session on the track or the road."""

from dossier.model.audience import Audience
from dossier.read.logs.course import clock, spikes, within
from dossier.read.logs.kind import Column, log_kind

_THROTTLE = ("Throttle opening", "Throttle position", "Absolute throttle position", "TPS", "Accelerator pedal position")

DATA_LOG = log_kind(
    "data_log",
    "Data log",
    Column("time", "Time", "time", ("t", "Elapsed time", "Time of day", "Clock"), unit="s", needed=False),
    Column("rpm", "Engine speed", "rotation speed", ("rpm", "Revs", "Engine RPM", "Engine revs", "Engine rev")),
    Column(
        "speed", "Speed", "speed", ("Road speed", "Wheel speed", "GPS speed", "Vehicle speed", "Rear wheel speed", "Vehicle speed sensor")
    ),
    Column("throttle", "Throttle", "ratio", _THROTTLE, needed=False, blank=True),
    Column("gear", "Gear", "ratio", unit="", needed=False, blank=True),
    Column("final", "Final drive", "words", needed=False, blank=True),
    belongs_to="sessions",
    yields="gears and their slip at full throttle, speeds reached",
    audience=Audience.OWNER,
    faults=(
        clock, spikes("rpm", "speed"), within(0, 25_000, "rpm", "rpm"), within(0, 400, "km/h", "speed"), within(-5, 110, "%", "throttle"),
        within(0, 8, "", "gear"),
    ),
)
