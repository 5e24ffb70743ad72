"""Tyres: a date code that says week and year, so that their age is known."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator

from dossier.model.problems import Problem
from dossier.read.checks.subject import Subject


def week_of(dot: str) -> datetime.date | None:
    """The Monday of a date code's week, or None where it does not say week and year.

    Four digits at the end: week, then year since 2000 (US 49 CFR 574.5, since 2000); ISO weeks are taken for the code's weeks.
    """
    found = re.search(r"(?:^|[^0-9])([0-9]{2})([0-9]{2})$", dot.strip())
    if not found:
        return None
    try:
        return datetime.date.fromisocalendar(2000 + int(found[2]), int(found[1]), 1)
    except ValueError:
        return None


def tyre_faults(subject: Subject) -> Iterator[Problem]:
    """Tyres whose age nobody can tell."""
    for tyre in subject.build.life.tyres:
        if tyre.dot is None:
            message = f"the {tyre.wheel} tyre has no date code"
            yield Problem("tyre-undated", message, tyre.written, "write dot: and its four digits, week and year", "dot")
        elif week_of(tyre.dot) is None:
            message = f"the date code {tyre.dot!r} of the {tyre.wheel} tyre does not say week and year"
            if re.search(r"(?:^|[^0-9])[0-9]{3}$", tyre.dot.strip()):
                message = f"the date code {tyre.dot!r} of the {tyre.wheel} tyre has three digits: made before 2000, decade unknown"
            yield Problem("tyre-undated", message, subject.at(tyre, "dot"), "four digits: week and year, as in 1423", "dot")
