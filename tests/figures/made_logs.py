"""Logs made by a small simulation with a known truth: a car in traffic at 1 Hz, a racing motorcycle at 50 Hz, with all that spoils them."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np

STEP = 0.02


@dataclass(frozen=True)
class MadeLog:
    """Columns as a logger would write them, and the truth: engine speed for each km/h in every gear, and the gear of each row (0: none)."""

    time: np.ndarray
    rpm: np.ndarray
    speed: np.ndarray
    throttle: np.ndarray
    per_speed: tuple[float, ...]
    gear: np.ndarray


@cache
def traffic(
    seed: int, per_speed: tuple[float, ...] = (113.0, 61.0, 39.5, 28.9, 23.2), minutes: float = 40, cut: bool = False, lag: float = 0.5
) -> MadeLog:
    """A car in traffic: long idling, clutch in between, neutral before halts, whole km/h at 1 Hz; `cut` where the speed is cut, not rounded."""
    rng = np.random.default_rng(seed)
    count = int(minutes * 60 / STEP)
    speed = _wanted(rng, count)
    gear = np.zeros(count, int)
    rpm = np.empty(count)
    n, g, clutch_until, idle = 850.0, 0, 0.0, 850.0
    top = len(per_speed)
    for i in range(count):
        v, t = speed[i], i * STEP
        if v < 1.0:
            g, target = 0, idle
        else:
            want = _gear_for(v, g, per_speed, top)
            if want != g:
                g, clutch_until = want, t + rng.uniform(0.5, 1.4)
            engaged = g and t >= clutch_until and v * per_speed[g - 1] > 1000
            target = v * per_speed[g - 1] if engaged else (max(idle, 1500.0) if g == 1 and v < 12 and speed[min(i + 50, count - 1)] > v else idle)
            gear[i] = g if engaged else 0
        n += (target - n) * min(1.0, STEP / (0.06 if gear[i] else 0.45))
        rpm[i] = n
    rpm += rng.normal(0, 8, count)
    logged = _delayed(speed, lag)
    pick = np.arange(0, count, int(1 / STEP))
    whole = np.floor(logged[pick]) if cut else np.round(logged[pick])
    accel = np.gradient(speed, STEP)[pick]
    throttle = np.clip(12 + 14 * accel + 0.15 * speed[pick] + rng.normal(0, 3, len(pick)), 0, 100)
    return MadeLog(pick * STEP, np.round(rpm[pick]), whole, np.round(throttle), per_speed, gear[pick])


def _wanted(rng: np.random.Generator, count: int) -> np.ndarray:
    """Road speed (km/h): stretches at one speed or another, halts between, never quite steady."""
    out = np.empty(count)
    v, i = 0.0, 0
    while i < count:
        shares = [0.1, 0.1, 0.1, 0.05, 0.15, 0.1, 0.15, 0.05, 0.08, 0.05, 0.04, 0.03]
        goal = float(rng.choice([0, 0, 0, 20, 30, 48, 50, 58, 70, 82, 100, 118], p=shares))
        hold = rng.uniform(15, 75) if goal == 0 else rng.uniform(6, 45)
        rate = rng.uniform(2.5, 7.0) if goal > v else rng.uniform(4, 9)
        end = i + int((abs(goal - v) / rate + hold) / STEP)
        wave, phase = rng.uniform(0, 2.0), rng.uniform(0, 6)
        while i < min(end, count):
            v += float(np.clip(goal + (wave * np.sin(i * STEP / 5 + phase) if goal else 0) - v, -rate * STEP, rate * STEP))
            out[i] = max(v, 0.0)
            i += 1
    return out


def _gear_for(v: float, g: int, per_speed: tuple[float, ...], top: int) -> int:
    if g == 0:
        return 1 if v < 15 else min(top, 1 + sum(v * k > 2600 for k in per_speed))
    if v * per_speed[g - 1] > 2700 and g < top:
        return g + 1
    return g - 1 if v * per_speed[g - 1] < 1150 and g > 1 else g


def _delayed(values: np.ndarray, lag: float) -> np.ndarray:
    out = np.empty_like(values)
    held = values[0]
    share = min(1.0, STEP / lag) if lag else 1.0
    for i, value in enumerate(values):
        held += (value - held) * share
        out[i] = held
    return out


def circuit(
    seed: int, per_speed: tuple[float, ...], slip: float = 0.0, slipping: tuple[int, ...] = (), laps: int = 4, rate: int = 50,
    tyre: float = 0.0, short: float = 0.0,
) -> MadeLog:  # fmt: skip
    """A racing motorcycle: hard up through the gears, full throttle, shut off, down again.

    `slip` is the clutch's at full throttle in the gears `slipping`; `tyre` a slip of the tyre in every gear at every throttle; `short` a
    share by which every ratio is really larger than `per_speed` says.
    """
    rng = np.random.default_rng(seed)
    v, g, out = 60.0, 2, []
    top = len(per_speed)
    for _ in range(laps):
        for goal, hold in ((150.0, 1.0), (90.0, 0.5), (float(rng.uniform(168, 172)), 6.0), (55.0, 0.5), (125.0, 1.0), (70.0, 0.5)):
            held = 0.0
            while held < hold:
                driving = goal > 100 and v < goal - 0.5
                steady = goal > 100 and not driving
                if driving:
                    v += (26 - 0.125 * v) / rate
                elif steady:
                    v += rng.normal(0, 0.02)
                else:
                    v -= 25.0 / rate if v > goal else 0
                held += 1 / rate if steady or (goal < 100 and v <= goal) else 0
                throttle = 100.0 if driving or steady else 0.0
                if goal < 100 and v <= goal:
                    throttle = 35.0
                out.append((v, throttle))
    v_all, throttle_all = np.array(out).T
    gear = np.empty(len(v_all), int)
    changing = np.zeros(len(v_all), bool)
    since = 0
    for i, now in enumerate(v_all):
        if i - since > 0.3 * rate and now * per_speed[g - 1] > 9600 and g < top:
            g, since = g + 1, i
            changing[i : i + int(0.12 * rate)] = True
        elif i - since > 0.3 * rate and now * per_speed[g - 1] < 6400 and g > 1:
            g, since = g - 1, i
            changing[i : i + int(0.2 * rate)] = True
        gear[i] = g
    ratio = np.array(per_speed)[gear - 1] * (1 + short) / (1 - tyre)
    lost = np.where(np.isin(gear, slipping), slip * np.clip((throttle_all - 50) / 50, 0, 1), 0.0)
    rpm = v_all * ratio / (1 - lost)
    rpm[changing] *= rng.uniform(0.9, 1.1, changing.sum())
    rpm += rng.normal(0, 12, len(rpm))
    shown = np.round(v_all + rng.normal(0, 0.05, len(rpm)), 1)
    return MadeLog(np.arange(len(rpm)) / rate, np.round(rpm), shown, np.round(throttle_all), per_speed, np.where(changing, 0, gear))
