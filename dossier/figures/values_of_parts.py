"""Values that the parts hold: masses before and after with their cause, origin, hours, and the pictures that show the change."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.figures.value import count, of_quantity, seen_by
from dossier.figures.values_of_items import PERIOD, is_fitted
from dossier.model.audience import Audience
from dossier.model.build import Build
from dossier.model.forms.measurements import Role
from dossier.model.forms.parts import ORIGINS, Part
from dossier.model.forms.photos import Photo
from dossier.model.results import Tags, Value

BOUGHT = ("reproduction", "period accessory", "modern substitute")
"""Origin classes of parts that come from a supplier."""

NOT_SAID = "not said"
"""The cause of a change of mass where nobody said what was weighed before."""


def values_of_parts(build: Build) -> Iterator[Value]:
    """Values of each part, of each refused part, and counts by origin."""
    parts = build.parts.parts
    for part in parts:
        yield from _masses(build, part)
        if part.hours is not None and part.hours.kind == "time":
            audience = seen_by("hours", build.parts, part)
            yield of_quantity("part_hours", part.hours, Role.NOTED, (("part", part.id),), part.id, True, audience, f"Hours on {part.name}")
    yield from _by_origin(build)
    for rejected in build.parts.rejected:
        if rejected.hours_lost is not None and rejected.hours_lost.kind == "time":
            audience = seen_by("hours_lost", build.parts, rejected)
            tags: Tags = (("rejected", rejected.id),)
            yield of_quantity(
                "hours_lost", rejected.hours_lost, Role.NOTED, tags, rejected.id, True, audience, f"Hours lost on {rejected.name}"
            )
    if parts:
        audience = max((seen_by("outcome", build.parts, one) for one in build.parts.rejected), default=Audience.PUBLIC)
        yield count("rejected_parts", len(build.parts.rejected), audience=audience, title="Parts refused or put right before use")
        bought = [part for part in parts if is_fitted(part) and part.origin in BOUGHT]
        yield count("bought_parts", len(bought), audience=_widest(build, "origin"), title="Bought parts fitted")
    yield from _pictures(build)


def cause_of(part: Part) -> str:
    """Why the part's mass changed: reworked, replaced, deleted or added, or that it is not said what was weighed before."""
    if part.before_is == "nothing":
        return "added"
    if part.before_is is None:
        return NOT_SAID
    if not is_fitted(part):
        return "deleted"
    return "reworked" if part.before_is == "same part as received" else "replaced"


def _masses(build: Build, part: Part) -> Iterator[Value]:
    tags: Tags = (("part", part.id), ("group", part.group), ("origin", part.origin), ("cause", cause_of(part)))
    for name, mass in (("mass_before", part.before), ("mass_after", part.after)):
        if mass is not None:
            audience = max(seen_by(name.removeprefix("mass_"), build.parts, part), seen_by("before_is", build.parts, part))
            title = f"{name.replace('_', ' ').capitalize()}, {part.name}"
            yield of_quantity(name, mass, Role.AS_BUILT, tags, part.id, mass.number == 0, audience, title)


def _widest(build: Build, field: str) -> Audience:
    return max((seen_by(field, build.parts, part) for part in build.parts.parts), default=Audience.PUBLIC)


def _by_origin(build: Build) -> Iterator[Value]:
    fitted = [part for part in build.parts.parts if is_fitted(part)]
    if not fitted:
        return
    yield count("all_fitted_parts", len(fitted), audience=_widest(build, "after"), title="Parts fitted")
    for origin in ORIGINS:
        tags: Tags = (("origin", origin),)
        number = sum(part.origin == origin for part in fitted)
        yield count("fitted_parts", number, tags=tags, audience=_widest(build, "origin"), title=f"Parts fitted: {origin}")
        if origin in PERIOD:
            yield count("period_parts", number, tags=tags, audience=_widest(build, "origin"), title=f"Parts fitted: {origin}")
            for part in fitted:
                if part.origin == origin and part.after is not None:
                    audience = max(seen_by("after", build.parts, part), seen_by("origin", build.parts, part))
                    part_tags: Tags = (("part", part.id),)
                    yield of_quantity("period_mass", part.after, Role.AS_BUILT, part_tags, part.id, False, audience, f"Mass, {part.name}")


def _pictures(build: Build) -> Iterator[Value]:
    """For each changed part, 1 where photographs show it before and after, else 0."""
    for part in build.parts.parts:
        if part.before_is is None or part.before == part.after:
            continue
        shown = {
            side: [photo for photo in build.photos.photos if photo.side == side and _shows(photo, part)] for side in ("before", "after")
        }
        both = all(shown.values())
        seen = max(
            (min(max(photo.seen_by, photo.audience or Audience.PUBLIC) for photo in photos) for photos in shown.values() if both),
            default=Audience.PUBLIC,
        )
        audience = max(seen, seen_by("before", build.parts, part))
        yield count(
            "pictured_part", both, tags=(("part", part.id),), source=part.id, audience=audience, title=f"{part.name} before and after"
        )


def _shows(photo: Photo, part: Part) -> bool:
    return part.id in photo.belongs_to
