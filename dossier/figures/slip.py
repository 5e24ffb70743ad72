"""Slip in each gear from a log: rows told off to their gears, at full and at part throttle, with what they are uncertain by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import log, sqrt

import numpy as np
from numpy.typing import NDArray

from dossier.figures.gears_in_log import (
    FEWEST,
    Course,
    Floats,
    GearSeen,
    GearsSeen,
    doubt_of,
    engaged,
    gears_seen,
    in_step,
    put_right,
    resolution_of,
    slope_of,
    thinned,
)  # fmt: skip

FULL_THROTTLE = 95.0
"""Per cent of throttle from which a row counts as full throttle."""
PART_THROTTLE = 70.0
"""Per cent of throttle below which a clutch that slips at full throttle is taken to hold. Common practice, no source."""
HURRIED = 0.5
"""Rows in which road speed changes by more than this share in a second are not steady, whatever the logger."""
SLOPPY = 0.012
"""How far below its gear's ratio a row may lie and still be that gear's: the engine can run ahead of a gear, never behind it."""
MOST = 0.15
"""More slip than this is taken for another gear or a lifted clutch."""
OWN = 0.08
"""Where ratios are unknown, a heap so far above a gear is taken for a gear of its own, not for slip. Our own choice, no source."""
OFF = 0.10
"""By so much every ratio may be off together: a tooth or two on a sprocket, or a wrong circumference."""


@dataclass(frozen=True)
class Held:
    """Rows of one gear that are steady: mean engine speed (rpm) and road speed (km/h) with their expanded uncertainties, rows, seconds."""

    rpm: float
    u_rpm: float
    speed: float
    u_speed: float
    rows: int
    seconds: float

    @property
    def few(self) -> bool:
        """Whether there are too few rows to say anything by."""
        return self.rows < 5 or (self.rows < FEWEST and self.seconds < 1)

    @property
    def per_speed(self) -> float:
        """Engine speed for each km/h."""
        return self.rpm / self.speed

    @property
    def u_share(self) -> float:
        """Expanded uncertainty of `per_speed`, as a share of it."""
        return sqrt((self.u_rpm / self.rpm) ** 2 + (self.u_speed / self.speed) ** 2)


@dataclass(frozen=True)
class GearHeld:
    """A gear in a log: its name, its steady rows at full throttle and at part throttle (None where there are none)."""

    gear: str
    full: Held | None
    part: Held | None


@dataclass(frozen=True)
class GearsHeld:
    """All gears of a log, and how they were told apart: `logged`, `ratios` or `found` in the log itself."""

    gears: tuple[GearHeld, ...]
    by: str
    off: float = 0.0
    """The share by which all ratios were off together when rows were told off by declared ratios."""
    seen: GearsSeen | None = None


def gears_held(course: Course, ratios: Mapping[str, float] | None = None, gear: Floats | None = None) -> GearsHeld:
    """The steady rows of each gear. `ratios` are the declared engine speeds for each km/h by gear, `gear` a logged column of gears.

    A logged gear is believed first; then the declared ratios; without either the gears that stand out are taken, numbered from the
    shortest that does.
    """
    if gear is not None and np.isfinite(gear).any():
        brought = in_step(course, 0.0)
        steady, _ = engaged(brought)
        named = {f"{one:g}": np.abs(gear - one) < 0.01 for one in np.unique(gear[np.isfinite(gear)]) if one > 0}
        return GearsHeld(_held(brought, steady, named), "logged")
    brought, _, _ = put_right(course)
    steady, x = engaged(brought)
    if ratios:
        off = off_alike(brought, ratios)
        return GearsHeld(_held(brought, steady, _told_off(brought, x, ratios, off)), "ratios", off)
    seen = _with_own_gears(gears_seen(_without_full(course)), gears_seen(course))
    found = {str(n): one.per_speed for n, one in enumerate((one for one in seen.gears if not one.few), start=1)}
    return GearsHeld(_held(brought, steady, _told_off(brought, x, found, 0.0)), "found", seen=seen)


def _with_own_gears(calm: GearsSeen, whole: GearsSeen) -> GearsSeen:
    """The gears found without full throttle, and those that full throttle alone shows: too far above the next to be slip in it."""

    def of_its_own(one: GearSeen) -> bool:
        apart = [log(one.per_speed / other.per_speed) for other in calm.gears if not other.few]
        return not any(-OWN / 2 < far < OWN for far in apart)

    more = [one for one in whole.gears if of_its_own(one)]
    return replace(calm, gears=tuple(sorted((*calm.gears, *more), key=lambda one: -one.per_speed)))


def off_alike(course: Course, ratios: Mapping[str, float]) -> float:
    """The share by which all declared ratios have to be moved together to meet the rows, best with small moves where several fit."""
    calm = _without_full(thinned(course))
    steady, x = engaged(calm)
    at = x[steady]
    if len(at) < FEWEST:
        return 0.0
    wide = np.hypot(0.008, doubt_of(calm)[steady])
    tried = np.linspace(log(1 - OFF), log(1 + OFF), 201)
    known = np.log(np.array(list(ratios.values())))
    nearest = [np.exp(-0.5 * (np.abs(at[:, None] - known[None, :] - move).min(axis=1) / wide) ** 2).sum() for move in tried]
    score = np.array(nearest) * (1 - 0.02 * np.abs(tried) / OFF)
    return float(np.exp(tried[int(score.argmax())]) - 1)


def _without_full(course: Course) -> Course:
    """The course without its rows at full throttle, where a clutch that slips would spoil the ratios; whole where too little is left."""
    if course.throttle is None:
        return course
    calm = ~(course.throttle >= PART_THROTTLE)
    if np.count_nonzero(calm & (course.speed > 0)) < 5 * FEWEST:
        return course
    return replace(course, rpm=np.where(calm, course.rpm, np.nan), coarse=course.resolution)


def _told_off(course: Course, x: Floats, ratios: Mapping[str, float], off: float) -> dict[str, NDArray[np.bool_]]:
    """The rows of each gear. The engine cannot run behind its gear, only ahead of it: so a row belongs to the gear just below its ratio."""
    order = sorted(ratios, key=lambda one: ratios[one])
    floors = np.array([log(ratios[one] * (1 + off)) for one in order])
    doubt = np.maximum(SLOPPY, 2 * doubt_of(course))
    out = {}
    for n, one in enumerate(order):
        low = x >= floors[n] - doubt
        below_next = x < floors[n + 1] - doubt if n + 1 < len(order) else np.ones(len(x), bool)
        out[one] = low & below_next & (x < floors[n] - log(1 - MOST))
    return out


def _held(course: Course, steady: NDArray[np.bool_], named: Mapping[str, NDArray[np.bool_]]) -> tuple[GearHeld, ...]:
    calm = steady & (_hurry(course) < HURRIED)
    if course.throttle is None:
        full, part = calm, np.zeros(len(calm), bool)
    else:
        full, part = calm & (course.throttle >= FULL_THROTTLE), calm & (course.throttle < PART_THROTTLE)
    return tuple(GearHeld(name, _mean(course, full & rows), _mean(course, part & rows)) for name, rows in named.items())


def _hurry(course: Course) -> Floats:
    """Change of road speed in a second, as a share of it."""
    out: Floats = np.abs(slope_of(course)) / np.maximum(course.speed, course.resolution)
    return out


def _mean(course: Course, rows: NDArray[np.bool_]) -> Held | None:
    """Means over the rows whose ratio agrees with the middle one; uncertain by scatter, by the digits, and by the doubt about the instant."""
    at = np.flatnonzero(rows)
    if not len(at):
        return None
    ratio = np.log(course.rpm[at] / course.speed[at])
    middle = float(np.median(ratio))
    spread = max(1.4826 * float(np.median(np.abs(ratio - middle))), 0.002)
    at = at[np.abs(ratio - middle) <= 4 * spread]
    n, v = course.rpm[at], course.speed[at]
    apart = max(1.0, len(at) * min(1.0, course.step / 0.5))
    scatter = float(np.std(np.log(n / v))) / sqrt(apart)
    instant = min(0.05, 0.25 * course.step) if course.step < 0.5 else 0.25 * course.step
    doubt = instant * float(np.mean(_hurry(course)[at]))
    digits = course.resolution / sqrt(12) / float(v.mean())
    u_rpm, u_speed = 2 * resolution_of(course.rpm) / sqrt(12), 2 * float(v.mean()) * sqrt(scatter**2 + doubt**2 + digits**2)
    return Held(float(n.mean()), u_rpm, float(v.mean()), u_speed, len(at), len(at) * course.step)


@dataclass(frozen=True)
class Cause:
    """What the rows say of slip: `clutch`, `every gear alike`, `tyre`, `none` or `not told`, the gears it concerns, and its words."""

    name: str
    gears: tuple[str, ...]
    words: str


def told_apart(held: GearsHeld, ratios: Mapping[str, float], u_ratio: float = 0.005) -> tuple[Cause, ...]:
    """Clutch slip, tyre slip and a wrong ratio told apart; `u_ratio` is the expanded uncertainty of the ratios (mostly the circumference's).

    Clutch slip grows with the throttle and vanishes without it; a tyre's is small and steady in every gear; a wrong sprocket or
    circumference shifts every gear alike. Common practice, no source.
    """
    out: list[Cause] = []
    clutch = [(one.gear, rise) for one in held.gears if (rise := rise_of(one)) is not None and rise[0] > max(0.015, rise[1])]
    if clutch:
        said = ", ".join(f"{100 * rise[0]:.1f} % in gear {gear}" for gear, rise in clutch)
        out.append(Cause("clutch", tuple(gear for gear, _ in clutch), f"the clutch slips at full throttle and holds at part throttle: {said}"))
    shares = {one.gear: (1 - ratios[one.gear] / calm.per_speed, calm.u_share) for one in held.gears if one.gear in ratios and (calm := _calm(one))}
    if shares:
        mean = sum(share for share, _ in shares.values()) / len(shares)
        doubt = sqrt(u_ratio**2 + max(u for _, u in shares.values()) ** 2)
        alike = all(abs(share - mean) < max(0.01, doubt) for share, _ in shares.values())
        if alike and abs(mean) > max(0.02, doubt):
            out.append(Cause("every gear alike", tuple(shares), f"every gear is off alike, by {100 * mean:.1f} %: a wrong sprocket or circumference"))
        elif alike and mean > max(0.003, doubt):
            out.append(Cause("tyre", tuple(shares), f"a small share of {100 * mean:.1f} %, steady in every gear: the tyre's own"))
    if out:
        return tuple(out)
    if not any(rise_of(one) for one in held.gears):
        return (Cause("not told", (), "too few steady rows at both full and part throttle to tell causes of slip apart"),)
    return (Cause("none", (), "no slip beyond the uncertainty"),)


def _calm(one: GearHeld) -> Held | None:
    return one.part if one.part is not None and not one.part.few else None


def rise_of(one: GearHeld) -> tuple[float, float] | None:
    """Slip that the throttle brings in one gear, and its expanded uncertainty; None where full or part throttle has too few rows.

    No ratio and no circumference is needed: the gear at part throttle is the measure.
    """
    if one.full is None or one.part is None or one.full.few or one.part.few:
        return None
    share = 1 - one.part.per_speed / one.full.per_speed
    return share, sqrt(one.full.u_share**2 + one.part.u_share**2)
