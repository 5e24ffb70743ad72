"""Port map of a two-stroke: each port's top edge from top dead centre, its height and width."""

from dossier.model.audience import Audience
from dossier.read.logs.course import above, once
from dossier.read.logs.kind import Column, log_kind

PORT_MAP = log_kind(
    "port_map",
    "Port map",
    Column("cylinder", "Cylinder", "words", needed=False),
    Column("port", "Port", "words", choices=("exhaust", "transfer", "boost", "inlet")),
    Column("number", "Number", "ratio", ("No", "No."), unit="", needed=False),
    Column("top", "Top edge from TDC", "length", ("Top edge", "Top")),
    Column("height", "Height", "length", needed=False, blank=True),
    Column("width", "Width", "length", ("Chord width", "Chord")),
    belongs_to="machine",
    yields="port timing, chord area, time-area",
    audience=Audience.PUBLIC,
    faults=(once("cylinder", "port", "number"), above(0, "top", "width")),
)
