"""How many readings an uncertainty is worth: effective degrees of freedom, and the coverage factor that goes with them."""

from __future__ import annotations

import math
from collections.abc import Iterable


def effective(parts: Iterable[tuple[float, float]]) -> float:
    """Effective degrees of freedom of a combined uncertainty from its parts, each standard uncertainty with its degrees of freedom.

    Parts known from elsewhere have infinitely many. Source: Welch-Satterthwaite, JCGM 100:2008 (GUM), G.4.1 equation (G.2b).
    """
    known = list(parts)
    total = sum(u**2 for u, _ in known)
    below = sum(u**4 / freedom for u, freedom in known if math.isfinite(freedom))
    return total**2 / below if below else math.inf


def coverage(freedom: float, probability: float = 0.95) -> float:
    """Coverage factor: the Student value for so many degrees of freedom and two-sided probability (JCGM 100:2008, Table G.2)."""
    if not (freedom > 0 and 0 < probability < 1):
        raise ValueError("degrees of freedom above nought and a probability between nought and one are wanted")
    low, high = 0.0, 1.0
    while _within(high, freedom) < probability:
        high *= 2
    for _ in range(200):
        middle = (low + high) / 2
        if _within(middle, freedom) < probability:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _within(t: float, freedom: float) -> float:
    """Probability that a Student variable lies within t of nought: Simpson's rule over the angle of tangent t over root of freedom."""
    if math.isinf(freedom):
        return math.erf(t / math.sqrt(2))
    scale = math.exp(math.lgamma((freedom + 1) / 2) - math.lgamma(freedom / 2)) / math.sqrt(math.pi)
    end, steps = math.atan(t / math.sqrt(freedom)), 400
    heights: list[float] = [math.cos(end * i / steps) ** (freedom - 1) for i in range(steps + 1)]
    area = heights[0] + heights[-1] + 4 * sum(heights[1:-1:2]) + 2 * sum(heights[2:-1:2])
    return 2 * scale * area * end / steps / 3
