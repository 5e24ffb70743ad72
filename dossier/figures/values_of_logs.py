"""Values that measurement logs hold, one harvest a kind; what was written down by hand of the same thing wins over a log."""

from __future__ import annotations

import datetime
import math
import statistics
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from dossier.figures.value import bare, count, seen_by, title_of
from dossier.figures.values_of_curves import of_cam_readings, of_data_log, of_dyno_run
from dossier.model.build import Build, LogTable
from dossier.model.forms.measurements import Role
from dossier.model.quantity import nominal, variable
from dossier.model.results import Tags, Value
from dossier.model.units import UNITS

GATHERED = ("reading", "state", "lap", "point", "entry", "level", "spoke")
"""Axes that number the readings of one thing: one written reading stands for the thing as a whole."""

NEAR = 0.01
"""A value read off a log by hand within this share of the log's own is the same (our choice)."""

Harvest = Callable[[LogTable], Iterable[Value]]


def values_of_logs(build: Build, day: datetime.date | None, written: Sequence[Value]) -> Iterator[Value]:
    """Values of every log (of sessions and runs up to `day`), save those of things that somebody wrote down by hand."""
    by_hand = {(one.name, _thing(one.tags)) for one in written if one.role in (Role.AS_BUILT, Role.NOTED)}
    for log in build.logs:
        if not len(log.rows) or not _happened(build, log, day):
            continue
        for value in _of(build, log, written):
            if (value.name, _thing(value.tags)) not in by_hand and (day is None or value.on is None or value.on <= day):
                yield replace(value, audience=max(value.audience, log.audience))


def apart_from_logs(build: Build, written: Sequence[Value]) -> Iterator[tuple[Value, Value]]:
    """Values written down by hand with what a log says of the same thing, where the two differ by more than twice what is said to be uncertain.

    Where neither says how uncertain it is, by more than NEAR of it. An engine speed and a road speed are one reading: it is their
    ratio that must agree, for a moment picked by hand is not the mean of all.
    """
    mine = {(one.name, _thing(one.tags)): one for one in written if one.role in (Role.AS_BUILT, Role.NOTED) and not one.of}
    for log in build.logs:
        logged = {(one.name, _thing(one.tags)): one for one in (_of(build, log, written) if len(log.rows) else ()) if _is_whole(one)}
        for (name, thing), value in logged.items():
            hand = mine.get((name, thing))
            if hand is None or not _is_whole(hand):
                continue
            if name == "logged_rpm":
                speeds = (mine.get(("logged_speed", thing)), logged.get(("logged_speed", thing)))
                if None not in speeds and _ratio_apart(hand, value, *speeds):  # type: ignore[arg-type]
                    yield hand, value
            elif name != "logged_speed" and _apart(hand, value):
                yield hand, value


def _is_whole(one: Value) -> bool:
    return not isinstance(one.number, str) and not {axis for axis, _ in one.tags} & set(GATHERED)


def _apart(hand: Value, value: Value) -> bool:
    known = [one.u * UNITS[one.unit].scale for one in (hand, value) if one.u is not None]
    room = max(2 * math.hypot(*known), (NEAR / 10 if known else NEAR) * abs(nominal(hand.number)))
    return abs(nominal(value.number) - nominal(hand.number)) > room


def _ratio_apart(hand: Value, value: Value, hand_speed: Value, speed: Value) -> bool:
    one, other = (nominal(rpm.number) / (nominal(road.number) or math.inf) for rpm, road in ((hand, hand_speed), (value, speed)))
    return abs(one - other) > NEAR * abs(one)


def _of(build: Build, log: LogTable, written: Sequence[Value]) -> Iterable[Value]:
    if log.kind == "data_log":
        session = next((one for one in build.running.sessions if log.belongs_to == one.id or log.id in one.logs), None)
        return of_data_log(log, session.id, session.final, written, seen_by("logs", build.running, session)) if session else ()
    if log.kind == "dyno_run":
        run = next((one for one in build.running.dyno if one.id == log.belongs_to or one.log == log.id), None)
        return of_dyno_run(log, run.id, seen_by("log", build.running, run)) if run else ()
    if log.kind == "cam_readings":
        return of_cam_readings(log, written)
    return HARVESTS[log.kind](log) if log.kind in HARVESTS else ()


def _happened(build: Build, log: LogTable, day: datetime.date | None) -> bool:
    dates = {one.id: one.date for one in build.running.sessions} | {one.id: one.date for one in build.running.dyno}
    return day is None or log.belongs_to not in dates or dates[log.belongs_to] <= day


def _thing(tags: Tags) -> frozenset[tuple[str, str]]:
    return frozenset(tag for tag in tags if tag[0] not in GATHERED)


def _rows(log: LogTable) -> list[dict[str, float | str | None]]:
    names = [name for name, _ in log.columns]
    return [dict(zip(names, row, strict=True)) for row in log.rows]


def _tag(axis: str, cell: object) -> Tags:
    return ((axis, str(cell)),) if cell not in (None, "") else ()


def _mean(name: str, numbers: Sequence[float], sign: str, tags: Tags, log: LogTable) -> Value:
    """The mean of repeated readings; uncertain by their scatter where there are three or more (JCGM 100:2008, GUM, 4.2), else not stated."""
    one = bare(name, statistics.fmean(numbers), sign, tags, log.id, log.audience)
    one = replace(one, count=len(numbers), decimals=_digits(numbers))
    if len(numbers) < 3:
        return one
    u = 2 * statistics.stdev(numbers) / math.sqrt(len(numbers))
    return replace(one, u=u, number=variable(one.number, u * UNITS[sign].scale, title_of(name, tags))) if u else one


def _digits(numbers: Sequence[float]) -> int:
    return max(len(f"{one:.6f}".rstrip("0").partition(".")[2]) for one in numbers)


def _by(log: LogTable, column: str, *axes: str) -> Mapping[Tags, list[float]]:
    """The numbers of a column, gathered by the words of others; blank cells left out."""
    out: dict[Tags, list[float]] = {}
    for row in _rows(log):
        number = row[column]
        if isinstance(number, float):
            out.setdefault(tuple(tag for axis in axes for tag in _tag(axis, row.get(axis))), []).append(number)
    return out


def _of_bores(log: LogTable) -> Iterator[Value]:
    """Mean bore, and its readings in pairs along and across, as the figures of ovality and taper take them."""
    sign = log.unit("diameter")
    bores: dict[Tags, dict[str, dict[str, float]]] = {}
    for row in _rows(log):
        if isinstance(row["diameter"], float):
            heights = bores.setdefault(_tag("cylinder", row.get("cylinder")), {})
            heights.setdefault(str(row["height"]), {})[str(row["direction"])] = row["diameter"]
    for tags, heights in bores.items():
        whole = [one for one in heights.values() if {"along", "across"} <= set(one)]
        numbers = [number for one in whole for number in (one["along"], one["across"])]
        if not numbers:
            continue
        mean = bare("bore", statistics.fmean(numbers), sign, tags, log.id, log.audience)
        yield replace(mean, count=len(numbers), decimals=_digits(numbers))
        for n, number in enumerate(numbers, start=1):
            yield bare("bore_reading", number, sign, (*tags, ("reading", str(n))), log.id, log.audience)


def _of_compression(log: LogTable) -> Iterator[Value]:
    for tags, numbers in _by(log, "pressure", "cylinder").items():
        yield _mean("compression_pressure", numbers, log.unit("pressure"), tags, log)


def _of_leak_down(log: LogTable) -> Iterator[Value]:
    for name, column in (("leakdown_supply", "supply"), ("leakdown_cylinder", "cylinder_pressure")):
        for tags, numbers in _by(log, column, "cylinder").items():
            yield _mean(name, numbers, log.unit(column), tags, log)


def _of_scales(log: LogTable) -> Iterator[Value]:
    """Loads on the wheels: readings of one side are averaged, sides are added."""
    sides: dict[tuple[str, Tags], list[float]] = {}
    for tags, numbers in _by(log, "load", "wheel", "state", "side").items():
        at = dict(tags)
        sides.setdefault((at["wheel"], _tag("state", at.get("state"))), []).append(statistics.fmean(numbers))
    for (wheel, tags), loads in sides.items():
        yield bare(f"axle_load_{wheel}", sum(loads), log.unit("load"), tags, log.id, log.audience)


def _of_spring(log: LogTable) -> Iterator[Value]:
    for n, row in enumerate(_rows(log), start=1):
        tags: Tags = (*_tag("wheel", row.get("wheel")), ("state", str(n)))
        for name, column in (("spring_test_force", "force"), ("spring_test_length", "deflection")):
            if isinstance(number := row[column], float):
                yield bare(name, number, log.unit(column), tags, log.id, log.audience)


def _of_truing(log: LogTable) -> Iterator[Value]:
    for tags, numbers in _by(log, "reading", "wheel", "plane").items():
        for n, number in enumerate(numbers, start=1):
            yield bare("rim_dial_reading", number, log.unit("reading"), (*tags, ("reading", str(n))), log.id, log.audience)


def _of_laps(log: LogTable) -> Iterator[Value]:
    session: Tags = (("session", log.belongs_to),)
    times = [(f"{lap:g}", time) for lap, time in zip(log.numbers("lap"), log.numbers("time"), strict=True)]
    for lap, time in times:
        yield replace(bare("lap_time", time, log.unit("time"), (*session, ("lap", lap)), log.id, log.audience), u=0.0)
    yield replace(bare("best_lap", min(time for _, time in times), log.unit("time"), session, log.id, log.audience), u=0.0)
    mean = bare("mean_lap", statistics.fmean(time for _, time in times), log.unit("time"), session, log.id, log.audience)
    yield replace(mean, u=0.0, decimals=2)
    yield count("laps", len(times), Role.AS_BUILT, session, log.id, log.audience)


def _of_ports(log: LogTable) -> Iterator[Value]:
    """Top edge of the first-opening port of each kind, and the widths of all its ports added up."""
    for tags, numbers in _by(log, "top", "port", "cylinder").items():
        port = dict(tags)["port"]
        yield bare(f"{port}_port_height", min(numbers), log.unit("top"), tags[1:], log.id, log.audience)
    for tags, numbers in _by(log, "width", "port", "cylinder").items():
        yield bare(f"{dict(tags)['port']}_port_width", sum(numbers), log.unit("width"), tags[1:], log.id, log.audience)


def _of_colours(log: LogTable) -> Iterator[Value]:
    rows = _rows(log)
    parts = list(dict.fromkeys(str(row["part"]) for row in rows if row["sample"] == "part"))
    for column in ("lightness", "red_green", "yellow_blue"):
        for n, row in enumerate(rows, start=1):
            own = row["sample"] == "part"
            for part in [str(row["part"])] if own else parts:
                tags: Tags = (("part", part), ("reading", str(n)))
                if isinstance(number := row[column], float):
                    yield bare(f"{'part' if own else 'reference'}_{column}", number, "", tags, log.id, log.audience)


def _of_hours(log: LogTable) -> Iterator[Value]:
    for n, row in enumerate(_rows(log), start=1):
        if isinstance(hours := row["hours"], float):
            one = bare("run_hours", hours, log.unit("hours"), (("entry", str(n)),), log.id, log.audience, str(row["what"]))
            yield replace(one, u=0.0, on=datetime.date.fromisoformat(str(row["date"])))


def _of_spokes(log: LogTable) -> Iterator[Value]:
    for row in _rows(log):
        tags: Tags = (*_tag("wheel", row["wheel"]), *_tag("side", row.get("side")), ("spoke", f"{row['spoke']:g}"))
        for column in ("tone", "tension"):
            if isinstance(number := row.get(column), float):
                yield bare(f"spoke_{column}", number, log.unit(column), tags, log.id, log.audience)


def _of_paint(log: LogTable) -> Iterator[Value]:
    for n, row in enumerate(_rows(log), start=1):
        if isinstance(number := row["thickness"], float):
            tags: Tags = (("part", str(row["part"])), ("place", str(row.get("place") or n)))
            yield bare("coating_thickness", number, log.unit("thickness"), tags, log.id, log.audience)


def _of_temperatures(log: LogTable) -> Iterator[Value]:
    for n, row in enumerate(_rows(log), start=1):
        if isinstance(number := row["temperature"], float):
            tags: Tags = (("session", log.belongs_to), ("place", str(row["where"])), ("reading", str(n)))
            yield bare("logged_temperature", number, log.unit("temperature"), tags, log.id, log.audience)


HARVESTS: Mapping[str, Harvest] = {
    "bore_readings": _of_bores, "compression_test": _of_compression, "leak_down": _of_leak_down, "axle_scales": _of_scales,
    "spring_test": _of_spring, "wheel_truing": _of_truing, "lap_times": _of_laps, "port_map": _of_ports, "colour_readings": _of_colours,
    "run_log": _of_hours, "spoke_check": _of_spokes, "paint_thickness": _of_paint, "temperatures": _of_temperatures,
}  # fmt: skip
"""What each kind of log yields, where it does not need to know more than its own rows."""
