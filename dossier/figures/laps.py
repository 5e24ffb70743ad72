"""Laps of a session from their log: mean, median, spread, and from where on a lap stands apart."""

from __future__ import annotations

import statistics
from collections.abc import Sequence

from dossier.figures.figure import Example, Input, NoVerdict, figure
from dossier.model.quantity import Number, mean, nominal
from dossier.model.results import Flag

TIMES = Input("lap_time", "t", "s", "Lap times", over="lap", exact=True, file="logs")
_FOSSEE = "Johnson, Miller & Freund, Probability and Statistics for Engineers, p. {}, worked in the FOSSEE Python Textbook Companions; as seconds"
_FIVE = ("15 s", "14 s", "2 s", "27 s", "13 s")
_DELAYS = ("0.6 s", "1.2 s", "0.9 s", "1.0 s", "0.6 s", "0.8 s")
APART = 3.5
"""Modified z-score from which a value is to be looked at as an outlier (Iglewicz and Hoaglin, in the NIST/SEMATECH e-Handbook, 1.3.5.17)."""


def _laps(times: Sequence[Number], least: int) -> list[float]:
    """The laps as shares of the first, of which there must be `least`."""
    if len(times) < least:
        raise NoVerdict(f"fewer than {least} laps were logged")
    return [nominal(one / times[0]) for one in times]


@figure(
    title="Mean of the logged laps", symbol="t_m", unit="s", formula="t_m = mean(t)", inputs=(TIMES,), per=("session",),
    source="sum of the lap times over their number, laps that stand apart kept", flag=Flag.GEOMETRY,
    example=Example({"lap_time": _FIVE}, "14.2 s", _FOSSEE.format(25)), subject="life", impossible=(0, None), decimals=1, quiet=True,
)  # fmt: skip
def mean_logged_lap(lap_time: Sequence[Number]) -> Number:
    """Mean of all laps in the log (s)."""
    return mean(lap_time)


@figure(
    title="Median of the logged laps", symbol="t_50", unit="s", formula="t_50 = median(t)", inputs=(TIMES,), per=("session",),
    source="the middle lap: half were faster", flag=Flag.GEOMETRY, example=Example({"lap_time": _FIVE}, "14 s", _FOSSEE.format(25)),
    subject="life", impossible=(0, None), decimals=1, closed=False, quiet=True,
)  # fmt: skip
def median_lap(lap_time: Sequence[Number]) -> Number:
    """Median of all laps in the log (s)."""
    return statistics.median(_laps(lap_time, 1)) * lap_time[0]


@figure(
    title="Spread of the logged laps", symbol="s_t", unit="s", formula="s_t = deviation(t)", inputs=(TIMES,), per=("session",),
    source="standard deviation of the laps (n - 1), JCGM 100:2008 (GUM) 4.2.2", flag=Flag.SEEN,
    example=Example({"lap_time": _DELAYS}, "0.23 s", _FOSSEE.format("27-28")), subject="life", decimals=1, closed=False, quiet=True,
)  # fmt: skip
def lap_spread(lap_time: Sequence[Number]) -> Number:
    """Standard deviation of all laps in the log (s)."""
    return statistics.stdev(_laps(lap_time, 2)) * lap_time[0]


@figure(
    title="A lap stands apart from", symbol="t_a", unit="s", formula="t_a = t_50 + 3.5 / 0.6745 * MAD", inputs=(TIMES,), per=("session",),
    source="median plus 3.5 modified z-scores (Iglewicz and Hoaglin, in the NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17); "
    "such laps are kept and named",
    flag=Flag.SEEN,
    example=Example({"lap_time": ("100 s", "101 s", "102 s", "103 s", "120 s")}, "107.2 s",
                    "worked by hand: median 102, median deviation 1, so 102 + 3.5 / 0.6745 x 1 = 107.19"),
    subject="life", decimals=1, closed=False, quiet=True,
)  # fmt: skip
def lap_apart(lap_time: Sequence[Number]) -> Number:
    """Lap time (s) above which a lap stands apart from the others. NoVerdict where fewer than five laps were logged or most are alike."""
    laps = _laps(lap_time, 5)
    middle = statistics.median(laps)
    deviation = statistics.median(abs(one - middle) for one in laps)
    if deviation < 1e-9:
        raise NoVerdict("more than half of the laps are alike to the last digit")
    return (middle + APART / 0.6745 * deviation) * lap_time[0]
