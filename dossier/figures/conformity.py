"""How likely it is that a reading near a limit lies within it, and how often a measurement of given fineness accepts what is outside."""

from __future__ import annotations

import math
from collections.abc import Callable

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, implicit
from dossier.model.results import Flag

_JCGM = "JCGM 106:2012, 7.3 and 7.4, as quoted at metrologyrules.com (March 2022): normal distribution about the reading"


def below(z: float) -> float:
    """Share of a normal distribution below z standard deviations."""
    return math.erfc(-z / math.sqrt(2)) / 2


def _plain(param: str, symbol: str, title: str, optional: bool = False) -> Input:
    return Input(param, symbol, "", title, exact=True, optional=optional)


@figure(
    title="Probability of conformity",
    symbol="p_c",
    unit="",
    formula="p_c = Phi((T_U - y) / u) - Phi((T_L - y) / u)",
    inputs=(
        _plain("measured", "y", "Reading"),
        _plain("u", "u", "Standard uncertainty"),
        _plain("lower", "T_L", "Lower limit", optional=True),
        _plain("upper", "T_U", "Upper limit", optional=True),
    ),
    source=_JCGM,
    flag=Flag.SEEN,
    example=Example(
        {"measured": "13.6", "u": "1.8", "lower": "12.5", "upper": "16.3"}, "0.66", "JCGM 106:2012, 7.4, as quoted at metrologyrules.com (March 2022)"
    ),
    subject="measurement",
    decimals=3,
    closed=False,
    for_bench=True,
    basis="plain numbers in any one unit",
    also=("p_c",),
    unit_as="none",
)  # fmt: skip
def conformity_probability(measured: Number, u: Number, lower: Number | None = None, upper: Number | None = None) -> Number:
    """Probability that the true value lies within the limits, of which one may be absent."""
    if lower is None and upper is None:
        raise ValueError("there is no limit")
    over = implicit(below, (upper - measured) / u) if upper is not None else 1.0
    under = implicit(below, (lower - measured) / u) if lower is not None else 0.0
    return over - under


def false_risks(limit: float, fineness: float) -> tuple[float, float]:
    """Risk of accepting what is outside and of refusing what is inside symmetric limits, both as shares of all that is made.

    `limit` is half the tolerance over the spread of what is made, `fineness` that spread over the measurement's standard uncertainty;
    both normal about the middle, accepted up to the limits. Source: JCGM 106:2012, 9.5, equations (19) and (20) with no guard band.
    """
    accept = _outside(limit, lambda x: _accepted(x, limit, fineness))
    refuse = _over(-limit, limit, lambda x: 1 - _accepted(x, limit, fineness))
    return accept, refuse


def _accepted(x: float, limit: float, fineness: float) -> float:
    return below((limit - x) * fineness) - below((-limit - x) * fineness)


def _outside(limit: float, share: Callable[[float], float]) -> float:
    return _over(limit, limit + 12, share) + _over(-limit - 12, -limit, share)


def _over(low: float, high: float, share: Callable[[float], float], steps: int = 4000) -> float:
    """Integral of a share over the normal density from low to high, by Simpson's rule."""
    width = (high - low) / steps
    heights: list[float] = [share(x) * math.exp(-x * x / 2) for x in (low + i * width for i in range(steps + 1))]
    return (heights[0] + heights[-1] + 4 * sum(heights[1:-1:2]) + 2 * sum(heights[2:-1:2])) * width / 3 / math.sqrt(2 * math.pi)
