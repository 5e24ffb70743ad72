"""Values that running holds: engine hours, dynamometer curves with their weather, test days, data logs, snags."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator, Sequence

from dossier.figures.value import bare, count, of_day, of_quantity, seen_by
from dossier.model.build import Build, LogTable
from dossier.model.forms.measurements import Role
from dossier.model.forms.running import Dyno, Session, Snag
from dossier.model.results import Tags, Value

FULL_THROTTLE = 95.0
"""Per cent of throttle from which a logged row counts as full throttle."""


def values_of_running(build: Build, day: datetime.date | None, written: Iterable[Value] = ()) -> Iterator[Value]:
    """Values of the run log (up to `day`), of runs, sessions and snags. What is `written` by hand of a logged speed wins over the log."""
    running = build.running
    for n, run in enumerate(running.run_log, start=1):
        if day is None or run.date <= day:
            audience = seen_by("hours", running, run)
            yield of_quantity("run_hours", run.hours, Role.NOTED, (("entry", str(n)),), "run log", True, audience, run.what, run.date)
    for dyno in running.dyno:
        yield from _of_dyno(build, dyno)
    by_hand = {tag for value in written if value.name == "logged_speed" for tag in value.tags if tag[0] == "session"}
    for session in running.sessions:
        if day is None or session.date <= day:
            yield from _of_session(build, session)
            if ("session", session.id) not in by_hand:
                yield from _of_data_log(build, session)
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
    audience = seen_by("log", build.running, dyno)
    for table in tables(build, "dyno_run", (dyno.id, dyno.log or "")):
        speed, torque = _column(table, "rpm"), _column(table, "torque")
        if speed is None or torque is None:
            continue
        for n, row in enumerate(table.rows, start=1):
            at: Tags = (*tags, ("point", str(n)))
            for name, column in (("dyno_speed", speed), ("dyno_torque", torque)):
                if isinstance(number := row[column], float):
                    yield bare(name, number, table.columns[column][1], at, table.id, audience)


def tables(build: Build, kind: str, ids: Sequence[str]) -> Iterator[LogTable]:
    """The logs of a kind that belong to one of `ids`."""
    for table in build.logs:
        if table.kind == kind and ({table.belongs_to, table.id.removesuffix(f".{kind}")} & set(ids) - {""}):
            yield table


def _column(table: LogTable, name: str) -> int | None:
    return next((n for n, (column, _) in enumerate(table.columns) if column == name), None)


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


def _of_data_log(build: Build, session: Session) -> Iterator[Value]:
    """Mean engine and road speed of each gear over the rows at full throttle."""
    audience = seen_by("logs", build.running, session)
    for table in tables(build, "data_log", (session.id, *session.logs)):
        rpm, speed, gear, throttle, final = (_column(table, name) for name in ("rpm", "speed", "gear", "throttle", "final"))
        if rpm is None or speed is None or gear is None:
            continue
        rows: dict[tuple[str, str], list[tuple[float, float]]] = {}
        for row in table.rows:
            n, v, g, t = row[rpm], row[speed], row[gear], FULL_THROTTLE if throttle is None else row[throttle]
            f = session.final if final is None else row[final]
            if isinstance(n, float) and isinstance(v, float) and isinstance(g, float) and isinstance(t, float) and t >= FULL_THROTTLE and f:
                rows.setdefault((f"{g:g}", str(f)), []).append((n, v))
        for (g_tag, f_tag), pairs in sorted(rows.items()):
            tags: Tags = (("gear", g_tag), ("final", f_tag), ("session", session.id))
            for name, column, at in (("logged_rpm", rpm, 0), ("logged_speed", speed, 1)):
                number = sum(pair[at] for pair in pairs) / len(pairs)
                yield bare(name, number, table.columns[column][1], tags, table.id, audience)


def _of_snag(build: Build, snag: Snag) -> Iterator[Value]:
    tags: Tags = (("snag", snag.id),)
    for name, field in (("snag_found", "found"), ("snag_verified", "verified")):
        if (day := getattr(snag, field)) is not None:
            title = f"{snag.id} {field}"
            yield of_day(name, day, tags, snag.id, seen_by(field, build.running, snag), title)
    audience = max(seen_by("verified", build.running, snag), seen_by("reopened", build.running, snag))
    yield count("snag_open", snag.open, tags=tags, source=snag.id, audience=audience, title=f"{snag.id} is open")
    yield count("snag_reopened", len(snag.reopened), tags=tags, source=snag.id, audience=audience, title=f"{snag.id} came back")
