"""Weigh sheet: mass of each part before and after."""

from dossier.model.audience import Audience
from dossier.read.logs.course import above, once
from dossier.read.logs.kind import Column, log_kind

WEIGH_SHEET = log_kind(
    "weigh_sheet",
    "Weigh sheet",
    Column("part", "Part", "words"),
    Column("before", "Before", "mass", needed=False, blank=True),
    Column("after", "After", "mass", ("Mass",), blank=True),
    Column("note", "Note", "words", ("Remark",), needed=False, blank=True),
    belongs_to="machine",
    yields="mass of each part before and after, beside the mass ledger",
    audience=Audience.PUBLIC,
    faults=(once("part"), above(-1e-9, "before", "after")),
)
