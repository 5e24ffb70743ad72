"""Values of the logs that are curves: steady rows of a data log by gear, pulls of a dynamometer run, lift curves of the cams."""

from __future__ import annotations

import math
import statistics
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

import numpy as np

from dossier.figures.cam_log import Curve
from dossier.figures.gears_in_log import Course, Floats, course_of
from dossier.figures.slip import GearsHeld, Held, gears_held
from dossier.figures.value import bare, count, decimals_of, title_of
from dossier.model.audience import Audience
from dossier.model.build import LogTable
from dossier.model.forms.measurements import Role
from dossier.model.quantity import nominal, variable
from dossier.model.results import Tags, Value
from dossier.model.units import UNITS

LEVELS = (0.5, 0.6, 0.7, 0.8, 0.9)
"""Shares of the highest lift at which the middle of a lobe is looked for."""


# ---------------------------------------------------------------- data logs


def of_data_log(log: LogTable, session: str, final: str | None, written: Sequence[Value], audience: Audience) -> Iterator[Value]:
    """Mean engine and road speed of each gear over the steady rows, at full and at part throttle."""
    for drive, course, gear in _stretches(log, final):
        held = gears_held(course, ratios_of(written, drive), gear)
        for one in held.gears:
            tags: Tags = (("gear", one.gear), *((("final", drive),) if drive else ()), ("session", session))
            for names, rows in ((("logged_rpm", "logged_speed"), one.full), (("part_rpm", "part_speed"), one.part)):
                if rows is not None and not rows.few:
                    yield from _of_held(names, rows, log, tags, audience, held)


def _of_held(names: tuple[str, str], rows: Held, log: LogTable, tags: Tags, audience: Audience, held: GearsHeld) -> Iterator[Value]:
    told = {"logged": "gear as logged", "ratios": "gear by the declared ratios", "found": "gear as it stands out in the log"}[held.by]
    for name, number, u, sign in ((names[0], rows.rpm, rows.u_rpm, "rpm"), (names[1], rows.speed, rows.u_speed, "km/h")):
        one = bare(name, number, sign, tags, log.id, audience)
        title = title_of(name, tags)
        yield replace(
            one, u=u, number=variable(one.number, u * UNITS[sign].scale, title), decimals=1, count=rows.rows,
            where=f"{rows.rows} steady rows, {rows.seconds:.1f} s; {told}",
        )  # fmt: skip


def _stretches(log: LogTable, final: str | None) -> Iterator[tuple[str, Course, Floats | None]]:
    """The log as a course with its gears, apart for each final drive where it names several."""
    rpm, speed = in_unit(log, "rpm", "rpm"), in_unit(log, "speed", "km/h")
    time = in_unit(log, "time", "s") if log.has("time") else np.arange(len(rpm), dtype=float)
    throttle = in_unit(log, "throttle", "%") if log.has("throttle") else None
    gear = in_unit(log, "gear", "") if log.has("gear") else None
    drives = np.array(log.words("final")) if log.has("final") else np.full(len(rpm), final or "")
    for drive in dict.fromkeys(drives.tolist()):
        rows = drives == drive
        course = course_of(rpm[rows], speed[rows], time[rows], None if throttle is None else throttle[rows])
        yield str(drive), course, None if gear is None else gear[rows]


def in_unit(log: LogTable, column: str, sign: str) -> Floats:
    """A column of numbers in another unit of its kind."""
    numbers: Floats = np.asarray(log.numbers(column), float)
    own, wanted = UNITS[log.unit(column)], UNITS[sign]
    return numbers if own == wanted else numbers * (own.scale / wanted.scale)


def ratios_of(written: Sequence[Value], drive: str) -> Mapping[str, float]:
    """Engine speed (rpm) for each km/h in every gear, from the teeth and the circumference written down; nothing where one is missing."""

    def one(name: str, *tags: tuple[str, str]) -> float | None:
        for role in (Role.AS_BUILT, Role.NOTED, Role.DECLARED):
            for value in written:
                if value.name == name and value.role is role and set(value.tags) == {tag for tag in tags if tag[1]}:
                    return nominal(value.number)
        return None

    def step(part: str, *tags: tuple[str, str]) -> float | None:
        driver, driven = one(f"{part}_driver_teeth", *tags), one(f"{part}_driven_teeth", *tags)
        return driven / driver if driver and driven else None

    primary, last, round_ = step("primary"), step("final", ("final", drive)), one("rear_rolling_circumference")
    if not (primary and last and round_):
        return {}
    gears = dict.fromkeys(tag for value in written if value.name == "gear_driver_teeth" for axis, tag in value.tags if axis == "gear")
    inner = {gear: step("gear", ("gear", gear)) for gear in gears}
    return {gear: primary * ratio * last * 1000 / 60 / round_ for gear, ratio in inner.items() if ratio}


# ---------------------------------------------------------------- dynamometer runs


def of_dyno_run(log: LogTable, run: str, audience: Audience) -> Iterator[Value]:
    """Torque at each engine speed; where several pulls were made, their mean with its scatter, and the scatter itself."""
    tags: Tags = (("run", run),)
    points: dict[float, list[float]] = {}
    several = log.has("pull") and len(set(log.numbers("pull"))) > 1
    for n, (rpm, torque) in enumerate(zip(log.numbers("rpm"), log.numbers("torque"), strict=True)):
        points.setdefault(rpm if several else n, []).append(torque)
    speeds = list(points) if several else list(log.numbers("rpm"))
    for n, (rpm, torques) in enumerate(zip(speeds, points.values(), strict=True), start=1):
        at: Tags = (*tags, ("point", str(n)))
        yield bare("dyno_speed", rpm, log.unit("rpm"), at, log.id, audience)
        one = bare("dyno_torque", statistics.fmean(torques), log.unit("torque"), at, log.id, audience)
        if len(torques) < 2:
            yield one
            continue
        deviation = statistics.stdev(torques)
        u = 2 * deviation / math.sqrt(len(torques))
        si = variable(one.number, u * UNITS[log.unit("torque")].scale, title_of("dyno_torque", at))
        yield replace(one, u=u, number=si, decimals=decimals_of(torques) + 1, count=len(torques))
        yield replace(bare("pull_deviation", deviation, log.unit("torque"), at, log.id, audience), u=0.0, decimals=3)


# ---------------------------------------------------------------- cams


def of_cam_readings(log: LogTable, written: Sequence[Value]) -> Iterator[Value]:
    """The readings of each lift curve that the figures need: astride the lift at check, at equal lifts, about the steepest and the sharpest."""
    check = next((nominal(one.number) for one in written if one.name == "valve_lift_at_check"), None)
    angles, lifts = in_unit(log, "angle", "°"), in_unit(log, "lift", "mm")
    valves = np.array(log.words("valve"))
    cylinders = np.array(log.words("cylinder")) if log.has("cylinder") else np.full(len(valves), "")
    for cylinder, valve in dict.fromkeys(zip(cylinders.tolist(), valves.tolist(), strict=True)):
        rows = (cylinders == cylinder) & (valves == valve)
        tags: Tags = (*((("cylinder", cylinder),) if cylinder else ()), ("valve", valve))
        try:
            curve = Curve(angles[rows].tolist(), lifts[rows].tolist())
        except ValueError:
            continue
        if check is not None:
            yield from _astride(curve, check * 1000, valve, tags, log)
        yield from _shape(curve, tags, log)


def _astride(curve: Curve, check: float, valve: str, tags: Tags, log: LogTable) -> Iterator[Value]:
    """The readings astride the lift at check (mm) on both flanks, and the dead centres the angles are counted from."""
    centres = {"opening": 0 if valve == "inlet" else 180, "closing": 180 if valve == "inlet" else 0}
    for side, rising in (("opening", True), ("closing", False)):
        if (pair := curve.flank(check, rising)) is None:
            continue
        for place, n in zip(("low", "high"), pair, strict=True):
            yield _reading(f"{side}_angle_{place}", float(curve.angles[n]), "°", tags, log)
            yield _reading(f"{side}_lift_{place}", float(curve.lifts[n]), "mm", tags, log)
        centre = count(f"{side}_dead_centre", 0, Role.AS_BUILT, tags, log.id, log.audience)
        yield replace(centre, number=math.radians(centres[side]), shown=float(centres[side]), unit="°")


def _shape(curve: Curve, tags: Tags, log: LogTable) -> Iterator[Value]:
    highest = float(curve.lifts[curve.top])
    for n, share in enumerate(LEVELS, start=1):
        up, down = curve.crossing(share * highest, True), curve.crossing(share * highest, False)
        if up is not None and down is not None:
            at: Tags = (*tags, ("level", str(n)))
            yield replace(_reading("angle_rising", up, "°", at, log), decimals=2)
            yield replace(_reading("angle_falling", down, "°", at, log), decimals=2)
    after = int(np.searchsorted(curve.angles, 0.0))
    if 0 < after < len(curve.angles):
        for place, n in (("before", after - 1), ("after", after)):
            yield _reading(f"top_angle_{place}", float(curve.angles[n]), "°", tags, log)
            yield _reading(f"top_lift_{place}", float(curve.lifts[n]), "mm", tags, log)
    windows = {"steep": curve.window(1), "bent": curve.window(2)}
    for name, window in windows.items():
        for n in window:
            at = (*tags, ("reading", str(n + 1)))
            yield _reading(f"{name}_angle", float(curve.angles[n]), "°", at, log)
            yield _reading(f"{name}_lift", float(curve.lifts[n]), "mm", at, log)
    for n in range(max(0, curve.top - 1), min(len(curve.lifts), curve.top + 2)):
        yield _reading("lift_reading", float(curve.lifts[n]), "mm", (*tags, ("reading", str(n + 1))), log)


def _reading(name: str, number: float, sign: str, tags: Tags, log: LogTable) -> Value:
    return bare(name, number, sign, tags, log.id, log.audience)
