"""Temperatures of a session: oil, head, tyre, lining, at a time or after a lap."""

from dossier.model.audience import Audience
from dossier.read.logs.kind import Column, log_kind

TEMPERATURES = log_kind(
    "temperatures",
    "Temperatures",
    Column("where", "Where", "words", ("Place", "What")),
    Column("temperature", "Temperature", "temperature", ("Reading",)),
    Column("when", "When", "words", ("After", "Lap"), needed=False, blank=True),
    belongs_to="sessions",
    yields="highest temperature of each place",
    audience=Audience.PUBLIC,
)
