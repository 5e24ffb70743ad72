"""Mean, median and spread of readings of one thing, in whatever unit they are typed."""

from __future__ import annotations

import statistics
from collections.abc import Sequence
from typing import Any

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, mean, nominal, sqrt
from dossier.model.results import Flag

READINGS = Input("values", "x", "", "Reading", name="plain_reading", over="reading")
_JOHNSON = "Johnson, Miller and Freund, Probability and Statistics for Engineers"
_FOSSEE = "(FOSSEE Python Textbook Companions)"
_SPREAD = "sum of the squares of the differences from the mean over one less than the number of readings (JCGM 100:2008, 4.2.2)"
_TIMES = ("0.6", "1.2", "0.9", "1.0", "0.6", "0.8")


def _of_readings(gives: str, printed: str, given: tuple[str, ...] = _TIMES, **facts: Any) -> dict[str, Any]:
    common = {
        "unit": "",
        "inputs": (READINGS,),
        "flag": Flag.SEEN,
        "subject": "measurement",
        "for_bench": True,
        "unit_as": "typed",
        "example": Example({"values": given}, gives, f"{_JOHNSON}, {printed} {_FOSSEE}"),
        "decimals": 4,
    }
    return {**common, **facts}


@figure(
    **_of_readings(
        "14.2",
        "p. 25",
        ("15.0", "14.0", "2.0", "27.0", "13.0"),
        title="Mean of readings",
        symbol="x_m",
        formula="x_m = mean(x)",
        source="arithmetic mean (JCGM 100:2008, 4.2.1)",
        also=("mean",),
    )
)
def mean_of_readings(values: Sequence[Number]) -> Number:
    """Arithmetic mean."""
    return mean(values)


@figure(
    **_of_readings(
        "13.0",
        "p. 25: 11, 9, 17, 19, 4, 15",
        ("11.0", "9.0", "17.0", "19.0", "4.0", "15.0"),
        title="Median of readings",
        symbol="x_h",
        formula="x_h = median(x)",
        source="the middle one by size, or the mean of the two middle ones",
        also=("median",),
        closed=False,
        flag=Flag.GEOMETRY,
    )
)
def median_of_readings(values: Sequence[Number]) -> Number:
    """The middle reading by size; of an even number the mean of the two in the middle."""
    order = sorted(values, key=_size)
    middle = len(order) // 2
    return order[middle] if len(order) % 2 else (order[middle - 1] + order[middle]) / 2


def _size(value: Number) -> float:
    return nominal(getattr(value, "magnitude", value))


def _variance(values: Sequence[Number]) -> Number:
    if len(values) < 2:
        raise ValueError("the spread of readings wants two or more")
    if all(isinstance(one, float) for one in values):
        return statistics.variance(values)  # worked in fractions: exact for readings that differ in the last digit only
    middle = mean(values)
    squares = [(one - middle) ** 2 for one in values]
    return sum(squares[1:], squares[0]) / (len(values) - 1)


@figure(
    **_of_readings(
        "0.055",
        "pp. 27 and 28: delay times",
        title="Variance of readings",
        symbol="s_2",
        formula="s_2 = variance(x)",
        source=_SPREAD,
        unit_as="typed squared",
        also=("variance",),
        closed=False,
    )
)
def variance_of_readings(values: Sequence[Number]) -> Number:
    """Variance of one reading, from the readings themselves; ValueError for fewer than two."""
    return _variance(values)


@figure(
    **_of_readings(
        "0.2345",
        "pp. 27 and 28: delay times, printed 0.23",
        title="Standard deviation of one reading",
        symbol="s",
        source=f"root of the {_SPREAD}",
        formula="s = sqrt(variance(x))",
        also=("sd", "standard_deviation"),
        closed=False,
    )
)
def deviation_of_readings(values: Sequence[Number]) -> Number:
    """Standard deviation of one reading, from the readings themselves; ValueError for fewer than two."""
    return sqrt(_variance(values))


@figure(
    title="Coefficient of variation",
    symbol="v",
    unit="%",
    formula="v = 100 * s / x_m",
    inputs=(Input("deviation", "s", "", "Standard deviation", also=("sd",)), Input("average", "x_m", "", "Mean", also=("mean",))),
    source="standard deviation over mean",
    flag=Flag.GEOMETRY,
    example=Example({"deviation": "0.0152", "average": "3.92"}, "0.388 %", f"{_JOHNSON}, p. 29 {_FOSSEE}"),
    subject="measurement",
    for_bench=True,
    unit_as="none",
    decimals=3,
    also=("cv",),
)
def coefficient_of_variation(deviation: Number, average: Number) -> Number:
    """Standard deviation as a share of the mean."""
    return deviation / average
