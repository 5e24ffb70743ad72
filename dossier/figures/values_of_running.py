"""Values that running holds: engine hours, the weather of dynamometer runs, test days, snags."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator

from dossier.figures.value import count, of_day, of_quantity, seen_by
from dossier.model.build import Build
from dossier.model.forms.measurements import Role
from dossier.model.forms.running import Dyno, Session, Snag
from dossier.model.results import Tags, Value


def values_of_running(build: Build, day: datetime.date | None, written: Iterable[Value] = ()) -> Iterator[Value]:
    """Values of the run log (up to `day`), of runs, sessions and snags; what their logs hold is harvested apart."""
    running = build.running
    for n, run in enumerate(running.run_log, start=1):
        if day is None or run.date <= day:
            audience = seen_by("hours", running, run)
            yield of_quantity("run_hours", run.hours, Role.NOTED, (("entry", str(n)),), "run log", True, audience, run.what, run.date)
    for dyno in running.dyno:
        yield from _of_dyno(build, dyno)
    for session in running.sessions:
        if day is None or session.date <= day:
            yield from _of_session(build, session)
    for snag in running.snags:
        yield from _of_snag(build, snag)
    if running.fuel_per_lap is not None and running.fuel_per_lap.kind == "volume":
        audience = seen_by("fuel_per_lap", running)
        yield of_quantity("fuel_per_lap", running.fuel_per_lap, Role.NOTED, audience=audience, title="Fuel for one lap")
    if not any(value.name == "premix_ratio" for value in written):
        for fluid in build.work.fluids:
            if fluid.mix is not None and fluid.mix.kind == "ratio":
                yield of_quantity("premix_ratio", fluid.mix, Role.NOTED, exact=True, audience=seen_by("mix", build.work, fluid))


def _of_dyno(build: Build, dyno: Dyno) -> Iterator[Value]:
    tags: Tags = (("run", dyno.id),)
    for name, field in (("air_temperature", "air"), ("air_pressure", "pressure"), ("vapour_pressure", "vapour")):
        if (quantity := getattr(dyno, field)) is not None:
            audience = seen_by(field, build.running, dyno)
            yield of_quantity(name, quantity, Role.AS_BUILT, tags, dyno.id, audience=audience, on=dyno.date)


def _of_session(build: Build, session: Session) -> Iterator[Value]:
    tags: Tags = (("session", session.id),)
    fields = {
        "lap_length": "lap", "best_lap": "best", "mean_lap": "mean", "session_air_temperature": "air", "session_air_pressure": "pressure",
    }  # fmt: skip
    for name, field in fields.items():
        if (quantity := getattr(session, field)) is not None:
            exact = name in ("lap_length", "best_lap", "mean_lap")
            yield of_quantity(
                name, quantity, Role.AS_BUILT, tags, session.id, exact, seen_by(field, build.running, session), on=session.date
            )
    if session.laps is not None:
        yield count("laps", session.laps, Role.AS_BUILT, tags, session.id, seen_by("laps", build.running, session))
    if session.fuel_used is not None and session.fuel_used.kind == "volume":
        audience = seen_by("fuel_used", build.running, session)
        yield of_quantity("fuel_used", session.fuel_used, Role.AS_BUILT, tags, session.id, audience=audience, on=session.date)


def _of_snag(build: Build, snag: Snag) -> Iterator[Value]:
    tags: Tags = (("snag", snag.id),)
    for name, field in (("snag_found", "found"), ("snag_verified", "verified")):
        if (day := getattr(snag, field)) is not None:
            title = f"{snag.id} {field}"
            yield of_day(name, day, tags, snag.id, seen_by(field, build.running, snag), title)
    audience = max(seen_by("verified", build.running, snag), seen_by("reopened", build.running, snag))
    yield count("snag_open", snag.open, tags=tags, source=snag.id, audience=audience, title=f"{snag.id} is open")
    yield count("snag_reopened", len(snag.reopened), tags=tags, source=snag.id, audience=audience, title=f"{snag.id} came back")
