"""What repeated readings of one size say: their mean, their spread, and the uncertainty of the mean."""

from __future__ import annotations

import math
import statistics
from collections.abc import Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Repeated:
    """Mean, standard deviation of one reading, standard uncertainty of the mean, degrees of freedom; all in the readings' unit."""

    mean: float
    deviation: float
    u_of_mean: float
    freedom: int


def of_readings(readings: Sequence[float]) -> Repeated:
    """Repeated readings taken under the same conditions, two or more. Source: JCGM 100:2008 (GUM), 4.2. ValueError for fewer than two."""
    if len(readings) < 2:
        raise ValueError("the spread of readings wants two or more")
    deviation = statistics.stdev(readings)  # worked in fractions: exact for readings that differ in the last digit only
    return Repeated(statistics.mean(readings), deviation, deviation / math.sqrt(len(readings)), len(readings) - 1)
