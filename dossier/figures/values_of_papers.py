"""Values that evidence, custody, hours and the torque log hold: days, counts and how a joint was tightened."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise

from dossier.figures.value import count, of_day, of_quantity, seen_by
from dossier.model.build import Build
from dossier.model.forms.measurements import Role
from dossier.model.results import Tags, Value

METHODS = {"torque": 1, "angle": 2, "stretch": 3}
"""Ways of tightening, as numbers that a figure can take in."""


def values_of_papers(build: Build) -> Iterator[Value]:
    """Days that sources show, open conflicts, unused sources, links of custody, hours by group, methods of tightening."""
    yield from _of_evidence(build)
    yield from _of_custody(build)
    for hours in build.custody.hours:
        if hours.group is None:
            continue
        tags: Tags = (("group", hours.group),)
        for name, field in (("hours_planned", "planned"), ("hours_actual", "actual")):
            if (quantity := getattr(hours, field)) is not None:
                audience = max(seen_by(field, build.custody, hours), seen_by("group", build.custody, hours))
                yield of_quantity(name, quantity, Role.NOTED, tags, "hours", True, audience)
    for joint in build.work.torque_log:
        at: Tags = (("joint", joint.joint),)
        audience = seen_by("method", build.work, joint)
        yield count("tightening_method", METHODS[joint.method], tags=at, audience=audience, title=f"Way of tightening, {joint.joint}")


def _of_evidence(build: Build) -> Iterator[Value]:
    machine, file = build.machine, build.evidence
    if file.evidence:
        audience = seen_by("date", machine, machine.reference)
        yield of_day("reference_day", machine.reference.date, audience=audience, title="Day of the reference meeting")
    cited = {one for item in build.specification.items for one in item.evidence} | {one for each in file.conflicts for one in each.between}
    for source in file.evidence:
        tags: Tags = (("evidence", source.id),)
        if (day := source.shows or source.dated) is not None:
            yield of_day("evidence_day", day, tags, source.id, seen_by("shows", file, source), f"Day that {source.id} shows")
        audience = seen_by("id", file, source)
        yield count(
            "evidence_unused", source.id not in cited, tags=tags, source=source.id, audience=audience, title=f"{source.id} is unused"
        )
    for conflict in file.conflicts:
        audience = seen_by("status", file, conflict)
        is_open = conflict.status == "open"
        yield count(
            "conflict_open",
            is_open,
            tags=(("conflict", conflict.id),),
            source=conflict.id,
            audience=audience,
            title=f"{conflict.id} is open",
        )


def _of_custody(build: Build) -> Iterator[Value]:
    """For each link but the first, the day the one before ended and the day it began itself."""
    links = sorted(build.custody.custody, key=lambda one: one.since)
    for n, (one, after) in enumerate(pairwise(links), start=2):
        tags: Tags = (("link", str(n)),)
        if one.until is not None:
            yield of_day("custody_until", one.until, tags, audience=seen_by("until", build.custody, one), title=f"{one.shown_as} until")
        yield of_day("custody_since", after.since, tags, audience=seen_by("since", build.custody, after), title=f"{after.shown_as} since")
