"""Whether a function bends within the uncertainty of what goes in: the second-order terms of the law of propagation."""

from __future__ import annotations

from collections.abc import Callable, Sequence

Function = Callable[..., float]

SHARE = 0.1
"""Second-order variance over first-order variance above which linear propagation is not believed; the bound is this house's."""
_PROBE = 0.05


def variances(function: Function, best: Sequence[float], u: Sequence[float]) -> tuple[float, float]:
    """First- and second-order variance of a function of independent inputs: best values and standard uncertainties in, in any units.

    Source: JCGM 100:2008 (GUM), 5.1.2 equation (10) and its note; derivatives by central differences of one standard uncertainty.
    """
    n = len(best)
    values: dict[tuple[int, ...], float] = {}

    def at(*steps: int) -> float:
        if steps not in values:
            values[steps] = function(*(x + step * width for x, step, width in zip(best, steps, u, strict=True)))
        return values[steps]

    def step(*moves: tuple[int, int]) -> float:
        steps = [0] * n
        for place, by in moves:
            steps[place] += by
        return at(*steps)

    middle = at(*([0] * n))
    slope = [(step((i, 1)) - step((i, -1))) / 2 for i in range(n)]
    first = sum(one**2 for one in slope)
    second = 0.0
    for i in range(n):
        bend = step((i, 1)) - 2 * middle + step((i, -1))
        third = (step((i, 2)) - 2 * step((i, 1)) + 2 * step((i, -1)) - step((i, -2))) / 2
        second += bend**2 / 2 + slope[i] * third
        for j in range(n):
            if j != i:
                second += _crossed(step, middle, slope[i], i, j)
    return first, second


def _crossed(step: Callable[..., float], middle: float, slope: float, i: int, j: int) -> float:
    """The terms of one pair of inputs: half the mixed derivative squared, and the slope times the third derivative."""
    corners = {(a, b): step((i, a), (j, b)) for a in (1, -1) for b in (1, -1)}
    mixed = (corners[1, 1] - corners[1, -1] - corners[-1, 1] + corners[-1, -1]) / 4
    bend_ahead = corners[1, 1] - 2 * step((i, 1)) + corners[1, -1]
    bend_behind = corners[-1, 1] - 2 * step((i, -1)) + corners[-1, -1]
    return mixed**2 / 2 + slope * (bend_ahead - bend_behind) / 2


def bends(function: Function, best: Sequence[float], u: Sequence[float]) -> bool:
    """Whether the second-order variance exceeds SHARE of the first; a few probes settle the plain cases.

    Probes: each input up and down by its standard uncertainty, and all together in two patterns of signs.
    """
    if not any(u):
        return False
    middle, places = function(*best), range(len(best))
    patterns = [[u[k] if k == i else 0.0 for k in places] for i in places if u[i]]
    patterns += [list(u), [w if k % 2 == 0 else -w for k, w in enumerate(u)]] if len(patterns) > 1 else []
    first = hollow = 0.0
    for number, moves in enumerate(patterns):
        ahead = function(*[x + move for x, move in zip(best, moves, strict=True)])
        behind = function(*[x - move for x, move in zip(best, moves, strict=True)])
        if number < len(patterns) - 2 or len(patterns) == 1:
            first += ((ahead - behind) / 2) ** 2
        hollow = max(hollow, abs(ahead - 2 * middle + behind))
    if hollow**2 <= _PROBE**2 * first:
        return False
    order = variances(function, best, u)
    return abs(order[1]) > SHARE * order[0]
