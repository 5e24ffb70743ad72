"""Finds the highest point of a curve over a turn of the crank where no closed form gives it."""

from __future__ import annotations

from collections.abc import Callable
from math import radians


def highest(curve: Callable[[float], float], per_degree: int = 1) -> float:
    """Greatest value of a curve over half a turn, looked for at every step of the crank: `per_degree` steps to a degree.

    `curve` takes the crank angle from top dead centre in radians, and has one top: finer steps are taken only about the highest whole degree.
    A curve is flat at its top: within half a step of one degree a sine falls short by less than 4 parts in 100 000, within half a step of a
    tenth by less than 4 in 10 million.
    """
    at = max(range(181), key=lambda degree: curve(radians(degree)))
    first, last = max(at - 1, 0) * per_degree, min(at + 1, 180) * per_degree
    return max(curve(radians(step / per_degree)) for step in range(first, last + 1))
