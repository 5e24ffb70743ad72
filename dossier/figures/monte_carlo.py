"""Propagation of distributions by drawing them, where a figure bends too much for linear propagation."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from dossier.model.quantity import Number, draw

DRAWS = 100_000
SLOW_DRAWS = 5_000
"""For functions that take one number at a time, such as roots."""
SEED = 101
"""Fixed, so that the same values in give the same figures out."""


@dataclass(frozen=True)
class Drawn:
    """What the draws say: mean, standard deviation, and the interval that holds 95 % of them, equal tails."""

    mean: float
    standard: float
    low: float
    high: float
    draws: int


def propagate(function: Callable[..., Any], values: Sequence[Number], draws: int = DRAWS, seed: int = SEED) -> Drawn:
    """The distribution of a function of values with uncertainty (coherent SI), by JCGM 101:2008, clause 7.

    Every independent variable is drawn from a normal distribution; what several values share is drawn once.
    """
    source = np.random.default_rng(seed)
    drawn = draw(values, lambda: source.standard_normal(draws))
    return summary(_all(function, drawn, draws))


def _all(function: Callable[..., Any], drawn: Sequence[Any], draws: int) -> np.ndarray[Any, Any]:
    try:
        with np.errstate(invalid="ignore", divide="ignore"):
            out = np.asarray(function(*drawn), dtype=float)
        if out.shape == (draws,):
            return out
    except (TypeError, ValueError):
        pass  # a root or a comparison that takes one number at a time
    few = min(draws, SLOW_DRAWS)
    columns = [np.broadcast_to(np.asarray(one, dtype=float), (draws,))[:few] for one in drawn]
    return np.array([float(function(*(float(x) for x in row))) for row in zip(*columns, strict=True)])


def summary(draws: np.ndarray[Any, Any]) -> Drawn:
    """Mean, standard deviation and 95 % interval of draws. ValueError when any of them is not a number."""
    if not np.all(np.isfinite(draws)):
        raise ValueError("within the uncertainty some inputs cannot be together")
    low, high = np.quantile(draws, (0.025, 0.975))
    return Drawn(float(draws.mean()), float(draws.std(ddof=1)), float(low), float(high), len(draws))
