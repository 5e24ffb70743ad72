"""Gears that stand out in a log of engine and road speed, their ratios unknown: found where the ratio of the two stays put."""

from __future__ import annotations

import itertools
from dataclasses import dataclass, replace
from math import exp, log, sqrt

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]

GRID = 0.002
"""Step of the grid of ln(ratio) on which rows are heaped up."""
WIDTH = 0.011
"""Least half-width of a heap: what engine speed, wheel and clock scatter by at their best. Our own choice, no source."""
CLOSEST = log(1.05)
"""Two gears stand at least so far apart: the smallest step between gears that is usual (common practice, no source)."""
FEWEST = 20
"""A gear needs so many steady rows, and so many seconds, before its ratio is believed."""
CONTRAST = 1.7
"""How much higher than the floor to its side a heap must be. Our own choice, no source."""
LAGS = tuple(n / 10 for n in range(-5, 16))
"""Lags that are tried, s: a road speed is often smoothed, and comes later than the engine speed."""
SURE = 1.006
"""So much sharper the heaps must become before speeds are taken to be cut. Our own choice, tried on made logs."""


@dataclass(frozen=True)
class Course:
    """Columns of a log, each of the same length: engine speed (rpm), road speed (km/h), time (s), throttle (%; None where not logged)."""

    rpm: Floats
    speed: Floats
    time: Floats
    throttle: Floats | None = None
    coarse: float | None = None
    """The step in which road speed was written, where it can no longer be seen from the speeds."""

    @property
    def step(self) -> float:
        """Usual time between rows, s."""
        forward = np.diff(self.time)
        forward = forward[forward > 0]
        return float(np.median(forward)) if len(forward) else 1.0

    @property
    def resolution(self) -> float:
        """Smallest step in which road speed is written, km/h."""
        return self.coarse or resolution_of(self.speed)


@dataclass(frozen=True)
class GearSeen:
    """A gear that stands out: engine speed for each km/h with its expanded uncertainty (k = 2), steady rows and seconds, speeds driven."""

    per_speed: float
    u: float
    rows: int
    seconds: float
    slowest: float
    fastest: float

    @property
    def few(self) -> bool:
        """Whether it was used too little for its ratio to be believed."""
        return self.rows < FEWEST or self.seconds < FEWEST / 4


@dataclass(frozen=True)
class GearsSeen:
    """Gears from the shortest to the longest; the first need not be the machine's first. `idle` (rpm) is None where it never stood still."""

    gears: tuple[GearSeen, ...]
    idle: float | None
    rows: int
    steady: int
    late: float = 0.0
    """How long the road speed lags behind the engine speed in this log, s; it was taken out."""
    cut: bool = False
    """Whether road speeds seem cut to whole steps rather than rounded; half a step was added."""


def course_of(rpm: object, speed: object, time: object = None, throttle: object = None) -> Course:
    """Columns (rpm, km/h, s, %) as a Course. Without `time` rows are taken to be a second apart. ValueError when their lengths differ."""
    n, v = np.asarray(rpm, float), np.asarray(speed, float)
    t = np.arange(len(n), dtype=float) if time is None else np.asarray(time, float)
    throttle = None if throttle is None else np.asarray(throttle, float)
    if not len(n) == len(v) == len(t) == (len(n) if throttle is None else len(throttle)):
        raise ValueError("the columns of a log differ in length")
    return Course(n, v, t, throttle)


def resolution_of(values: Floats) -> float:
    """The smallest step in which values are written: 1 for whole numbers, 0.1 for tenths; no finer than a thousandth.

    Where few different values are there, their digits tell it, for the steps between them do not.
    """
    kept = np.unique(np.round(values[np.isfinite(values)], 4))
    if len(kept) >= 20:
        return max(0.001, float(np.percentile(np.diff(kept), 5)))
    return next((step for step in (1.0, 0.1, 0.01) if np.allclose(kept / step, np.round(kept / step), atol=1e-6)), 0.001)


def idle_of(course: Course) -> float | None:
    """Engine speed while standing (rpm), None where fewer than ten rows stand."""
    standing = course.rpm[(course.speed <= 0) & (course.rpm > 0)]
    return float(np.median(standing)) if len(standing) >= 10 else None


def engaged(course: Course) -> tuple[NDArray[np.bool_], Floats]:
    """Rows in which a gear seems to be in and the clutch out, and ln(rpm per km/h) of every row (NaN where it has none).

    Those are left aside that idle, that roll too slowly for their resolution, and in which the ratio is on the move.
    """
    n, v = course.rpm, course.speed
    slow = 10 * course.resolution
    with np.errstate(divide="ignore", invalid="ignore"):
        x = np.where((n > 0) & (v >= slow), np.log(np.divide(n, v)), np.nan)
    idle = idle_of(course)
    if idle is not None:
        x[n < 1.12 * idle] = np.nan
    near = max(1, round(0.4 / course.step))
    room = 0.02 + course.resolution / np.maximum(v, slow)
    before, after = _moved(x, near, course.time), _moved(x, -near, course.time)
    return np.isfinite(x) & ((before < room) | (after < room)), x


def _moved(x: Floats, by: int, time: Floats) -> Floats:
    """How far x is from the row `by` rows earlier (later where negative); infinite where that is no neighbour in time."""
    out = np.full(len(x), np.inf)
    if abs(by) >= len(x):
        return out
    here, there = (slice(by, None), slice(None, -by)) if by > 0 else (slice(None, by), slice(-by, None))
    gone = np.abs(time[here] - time[there])
    step = np.median(gone) if len(gone) else 0.0
    apart = np.abs(x[here] - x[there])
    out[here] = np.where(np.isfinite(apart) & (gone <= 2 * step) & (gone > 0), apart, np.inf)
    return out


def gears_seen(course: Course) -> GearsSeen:
    """The gears that stand out, found by heaping up ln(rpm per km/h) of the steady rows and taking the heaps that rise clear of the floor.

    First the lag between the two speeds is sought, by which the heaps become sharpest, and whether speeds are cut or rounded.
    """
    idle, rows = idle_of(course), int(np.count_nonzero(course.speed > 0))
    brought, late, cut = put_right(course)
    steady, x = engaged(brought)
    if np.count_nonzero(steady) < 5:
        return GearsSeen((), idle, rows, int(np.count_nonzero(steady)))
    at, coarse = x[steady], doubt_of(brought)[steady]
    tops = _tops(*_heaped(at, np.hypot(WIDTH, coarse)))
    edges = [-np.inf, *((a + b) / 2 for a, b in itertools.pairwise(tops)), np.inf]
    found = []
    for top, low, high in zip(tops, edges, edges[1:], strict=False):
        mine = (at > max(low, top - 0.08)) & (at <= min(high, top + 0.08))
        one = _refined(brought, np.flatnonzero(steady)[mine], at[mine], coarse[mine], top)
        found += [one] if one is not None else []
    gears = tuple(sorted(found, key=lambda one: -one.per_speed))
    return GearsSeen(gears, idle, rows, int(np.count_nonzero(steady)), late, cut)


def put_right(course: Course) -> tuple[Course, float, bool]:
    """The course with its two speeds in step; the lag that was taken out, s; and whether half a step was added to a speed that is cut."""
    few = thinned(course)
    late = _best_lag(few)
    plain = _sharpness(in_step(few, late))
    if course.resolution < 0.5:
        return in_step(course, late), late, False
    lifted = lift(few)
    late_lifted = _best_lag(lifted)
    if _sharpness(in_step(lifted, late_lifted)) > SURE * plain:
        return in_step(lift(course), late_lifted), late_lifted, True
    return in_step(course, late), late, False


def thinned(course: Course, most: int = 60_000) -> Course:
    """Every so many rows of a long log, no closer than a fifth of a second, so that trying lags stays quick."""
    by = max(1, min(len(course.rpm) // most, round(0.2 / course.step)))
    throttle = None if course.throttle is None else course.throttle[::by]
    return replace(course, rpm=course.rpm[::by], speed=course.speed[::by], time=course.time[::by], throttle=throttle, coarse=course.resolution)


def lift(course: Course) -> Course:
    """The course with half a step added to every road speed above nought: what it is at the mean where speeds are cut, not rounded."""
    step = course.resolution
    return replace(course, speed=np.where(course.speed > 0, course.speed + step / 2, 0), coarse=step)


def _best_lag(course: Course) -> float:
    return max(LAGS, key=lambda one: (round(_sharpness(in_step(course, one)), 9), -abs(one)))


def in_step(course: Course, late: float) -> Course:
    """The course with its road speed, which lags `late` seconds behind the engine speed, moved back into step."""
    if not late:
        return course
    return replace(course, speed=np.where(course.speed > 0, np.maximum(course.speed + late * slope_of(course), 0), 0), coarse=course.resolution)


def slope_of(course: Course) -> Floats:
    """Change of road speed, km/h in a second, over about a second; nought across gaps and jumps of the clock."""
    by = max(1, round(0.5 / course.step))
    out = np.zeros(len(course.speed))
    if len(out) <= 2 * by:
        return out
    gone = course.time[2 * by :] - course.time[: -2 * by]
    whole = (gone > 0) & (gone < 4 * by * course.step)
    out[by:-by] = np.divide(course.speed[2 * by :] - course.speed[: -2 * by], gone, out=np.zeros(len(gone)), where=whole)
    return out


def doubt_of(course: Course) -> Floats:
    """Standard uncertainty of ln(rpm per km/h) of each row: from the digits of the speed, and from half a row's doubt about the instant."""
    v = np.maximum(course.speed, course.resolution)
    doubt: Floats = np.hypot(course.resolution / v / sqrt(12), min(0.5 * course.step, 0.5) * np.abs(slope_of(course)) / v)
    return doubt


def _sharpness(course: Course) -> float:
    """How much the rows stand in heaps: the sum of squares of the shares, for finding the lag."""
    steady, x = engaged(course)
    if np.count_nonzero(steady) < 5:
        return 0.0
    _, heap = _heaped(x[steady], np.full(np.count_nonzero(steady), WIDTH))
    return float((heap**2).sum())


def _heaped(at: Floats, width: Floats) -> tuple[Floats, Floats]:
    """Grid of ln(ratio), and the rows heaped up on it, each as a bell of its own width."""
    start, end = float(at.min()) - 0.3, float(at.max()) + 0.3
    grid = np.arange(start, end, GRID)
    total = np.zeros(len(grid))
    classes = np.unique(np.percentile(width, [10, 30, 50, 70, 90]))
    nearest = np.searchsorted(classes, width).clip(max=len(classes) - 1)
    for n, wide in enumerate(classes):
        counts = np.bincount(((at[nearest == n] - start) / GRID).astype(int), minlength=len(grid))[: len(grid)]
        reach = np.arange(-4 * wide, 4 * wide + GRID, GRID)
        bell = np.exp(-0.5 * (reach / wide) ** 2) / (wide * sqrt(2 * np.pi))
        total += np.convolve(counts, bell, mode="same")
    return grid, total


def _tops(grid: Floats, heap: Floats) -> list[float]:
    """Where heaps rise clear: highest first, each a step away from those taken, with a floor between that is clearly lower."""
    inner = (heap[1:-1] >= heap[:-2]) & (heap[1:-1] > heap[2:])
    order = sorted(np.flatnonzero(inner) + 1, key=lambda i: -heap[i])
    taken: list[int] = []
    for i in order:
        if heap[i] < heap.max() * 0.002:
            break
        if any(abs(grid[i] - grid[j]) < CLOSEST for j in taken):
            continue
        floors = [heap[min(i, j) : max(i, j)].min() for j in taken]
        reach = round(0.16 / GRID)
        beside = [heap[max(0, i - reach) : i].min(initial=heap[i]), heap[i : i + reach].min(initial=heap[i])]
        if all(heap[i] > CONTRAST * floor for floor in (*floors, *beside)):
            taken.append(int(i))
    return sorted(float(grid[i]) for i in taken)


def _refined(course: Course, rows: NDArray[np.intp], at: Floats, coarse: Floats, top: float) -> GearSeen | None:
    """The ratio of one heap: a median in which fast rows weigh most, because whole km/h tell less at low speed."""
    centre, kept = top, np.ones(len(at), bool)
    for _ in range(4):
        reach = 2.5 * np.hypot(WIDTH, coarse)
        kept = np.abs(at - centre) < reach
        if np.count_nonzero(kept) < 5:
            return None
        centre = _weighted_median(at[kept], 1 / (coarse[kept] ** 2 + WIDTH**2))
    mine = rows[kept]
    spread = 1.4826 * float(np.median(np.abs(at[kept] - centre)))
    fast = float(np.percentile(course.speed[mine], 75))
    u = 2 * sqrt((1.25 * spread) ** 2 / max(1, len(mine) / 4) + (course.resolution / fast / sqrt(3)) ** 2)
    ratio = exp(centre)
    speeds = course.speed[mine]
    return GearSeen(ratio, u * ratio, len(mine), len(mine) * course.step, float(speeds.min()), float(speeds.max()))


def _weighted_median(values: Floats, weights: Floats) -> float:
    order = np.argsort(values)
    total = np.cumsum(weights[order])
    return float(values[order][np.searchsorted(total, total[-1] / 2)])
