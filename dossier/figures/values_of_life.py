"""Values that life holds: limits of lifed parts with what was used of them by a day, and the date codes of tyres."""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator

from dossier.figures.value import bare, count, of_day, of_quantity, seen_by, words
from dossier.model.audience import Audience
from dossier.model.build import Build
from dossier.model.forms.life import Lifed
from dossier.model.forms.measurements import Role
from dossier.model.results import Tags, Value


def values_of_life(build: Build, day: datetime.date | None) -> Iterator[Value]:
    """Values of each lifed part and each tyre as they stand on `day`."""
    for lifed in build.life.lifed:
        yield from _of_lifed(build, lifed, day)
    for tyre in build.life.tyres:
        tags: Tags = (("wheel", tyre.wheel),)
        audience = seen_by("dot", build.life, tyre)
        digits = code_digits(tyre.dot)
        yield count("tyre_code_digits", len(digits), tags=tags, audience=audience, title=f"Digits of the date code, {tyre.wheel} tyre")
        seen = seen_by("size", build.life, tyre)
        yield words("designation", tyre.size, tags, audience=seen, title=f"Marking of the {tyre.wheel} tyre")
        if (made := week_of(tyre.dot)) is not None:
            yield of_day("tyre_made", made, tags, audience=audience, title=f"Week of the date code, {tyre.wheel} tyre")


def code_digits(code: str | None) -> str:
    """The digits that end a tyre's date code; empty where there is none."""
    found = re.search(r"(\d{3,4})\s*$", code or "")
    return found[1] if found else ""


def week_of(code: str | None) -> datetime.date | None:
    """The Monday of a four-digit date code (week, year); None where there is none, for three digits, or where there is no such week."""
    digits = code_digits(code)
    if len(digits) != 4:
        return None
    try:
        return datetime.date.fromisocalendar(2000 + int(digits[2:]), int(digits[:2]), 1)
    except ValueError:
        return None


def _of_lifed(build: Build, lifed: Lifed, day: datetime.date | None) -> Iterator[Value]:
    tags: Tags = (("life", lifed.id),)
    for name, field in (
        ("life_hours_limit", "limit_hours"), ("life_laps_limit", "limit_laps"), ("life_distance_limit", "limit_distance"),
        ("life_years_limit", "limit_years"),
    ):  # fmt: skip
        if (quantity := getattr(lifed, field)) is not None:
            title = f"Limit of {lifed.part}"
            yield of_quantity(name, quantity, Role.NOTED, tags, lifed.id, True, seen_by(field, build.life, lifed), title)
    if lifed.limit_starts is not None:
        yield count(
            "life_starts_limit", lifed.limit_starts, tags=tags, source=lifed.id, audience=seen_by("limit_starts", build.life, lifed)
        )
    begun = lifed.since or _made(build, lifed)
    audience = max(seen_by("since", build.life, lifed), seen_by("at_hours", build.life, lifed))
    if lifed.limit_hours is not None:
        yield from _hours(build, lifed, tags, audience)
    if begun is None or day is None:
        return
    if lifed.limit_years is not None:
        yield of_day("life_since", begun, tags, lifed.id, audience, f"{lifed.part.capitalize()} counted from")
    yield from _laps(build, lifed, tags, begun, day, audience)


def _made(build: Build, lifed: Lifed) -> datetime.date | None:
    wheels = ("front", "rear") if lifed.tyre == "both" else (lifed.tyre,)
    days = [week_of(tyre.dot) for tyre in build.life.tyres if lifed.tyre and tyre.wheel in wheels]
    return None if not days or None in days else min(one for one in days if one is not None)


def _hours(build: Build, lifed: Lifed, tags: Tags, audience: Audience) -> Iterator[Value]:
    """Engine hours when the count began: as written, else those of the run log before that day."""
    title = f"Engine hours when {lifed.part} began"
    if lifed.at_hours is not None:
        yield of_quantity("life_hours_at_start", lifed.at_hours, Role.NOTED, tags, lifed.id, True, audience, title)
    elif lifed.since is not None:
        before = [run for run in build.running.run_log if run.date < lifed.since]
        seen = max([audience, *(seen_by("hours", build.running, run) for run in before)])
        hours = sum(run.hours.to("h") for run in before)
        yield bare("life_hours_at_start", hours, "h", tags, lifed.id, seen, title)


def _laps(build: Build, lifed: Lifed, tags: Tags, begun: datetime.date, day: datetime.date, audience: Audience) -> Iterator[Value]:
    sessions = [one for one in build.running.sessions if begun <= one.date <= day and one.laps is not None]
    seen = max([audience, *(max(seen_by("laps", build.running, one), seen_by("lap", build.running, one)) for one in sessions)])
    if lifed.limit_laps is not None:
        laps = sum(one.laps or 0 for one in sessions)
        yield count("life_laps", laps, tags=tags, source=lifed.id, audience=seen, title=f"Laps on {lifed.part}")
    if lifed.limit_distance is not None and all(one.lap is not None for one in sessions):
        metres = sum((one.laps or 0) * one.lap.si for one in sessions if one.lap is not None)
        yield bare("life_distance", metres / 1000, "km", tags, lifed.id, seen, f"Distance on {lifed.part}")
