"""Who may see measured values and logs, by what they speak of: a subject that the trade keeps for the owner is narrowed, a release line opens it."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from dossier.model.audience import Audience
from dossier.model.build import Build, LogTable
from dossier.model.forms.measurements import Entry

FOR_THE_OWNER = re.compile(
    r"valve_spring_\w+|spring_test_\w+|(fork|rear)_(spring\w*|preload\w*|free_sag|rider_sag|travel|motion_ratio)|clutch_\w+|ignition_\w+|"
    r"carburettor_\w+|(main|pilot)_jet\w*|needle_\w+|float_\w+|logged_\w+"
)
"""Names of quantities of subjects that are the owner's: valve train springs, suspension, clutch, ignition, carburation, data logs
(common practice, no source). A declared item, which is for everybody, opens the quantity it judges, an agreement the one it holds by."""
_LISTS = ("declared", "donor", "as_built", "noted")


def shown_to(build: Build) -> Build:
    """The build with every such value narrowed to the owner, and every value and log opened as far as a release line names it."""
    opened: dict[str, Audience] = {}
    for line in build.custody.releases:
        opened[line.what] = min(line.to, opened.get(line.what, line.to))
    judged = {name for item in build.specification.items for name in (item.quantity, item.id) if name}
    judged |= {one.holds_for for one in build.specification.concessions if one.holds_for}
    lists: dict[str, Any] = {name: tuple(_entry(one, judged, opened) for one in getattr(build.measurements, name)) for name in _LISTS}
    measurements = replace(build.measurements, **lists)
    return replace(build, measurements=measurements, logs=tuple(_log(log, opened) for log in build.logs))


def _entry(entry: Entry, judged: set[str], opened: Mapping[str, Audience]) -> Entry:
    if entry.audience is not None or entry.what in judged or not FOR_THE_OWNER.fullmatch(entry.what):
        return entry
    return replace(entry, audience=min(Audience.OWNER, opened.get(entry.what, Audience.OWNER)))


def _log(log: LogTable, opened: Mapping[str, Audience]) -> LogTable:
    return replace(log, audience=min(log.audience, opened.get(log.id, log.audience)))
