"""Finds the highest point of a curve where no closed form gives it."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

_GOLDEN = (sqrt(5) - 1) / 2


def highest(curve: Callable[[float], float], low: float, high: float, steps: int = 180) -> float:
    """Greatest value of a smooth curve between two bounds: looked for in `steps` steps, then closed in by golden section.

    The value is good to about 1e-15 of itself, since the curve is flat at its top; one peak in two steps is presumed.
    """
    width = (high - low) / steps
    top = max(range(steps + 1), key=lambda i: curve(low + i * width))
    left, right = low + max(0, top - 1) * width, low + min(steps, top + 1) * width
    a, b = right - _GOLDEN * (right - left), left + _GOLDEN * (right - left)
    at_a, at_b = curve(a), curve(b)
    while right - left > 1e-9 * (high - low):
        if at_a < at_b:
            left, a, at_a = a, b, at_b
            b = left + _GOLDEN * (right - left)
            at_b = curve(b)
        else:
            right, b, at_b = b, a, at_a
            a = right - _GOLDEN * (right - left)
            at_a = curve(a)
    return max(at_a, at_b)
