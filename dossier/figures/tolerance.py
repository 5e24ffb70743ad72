"""Whether a reading can decide: tolerance against uncertainty, place in tolerance, and uncertainties combined."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, figure
from dossier.figures.mass import total
from dossier.model.quantity import Number, sqrt
from dossier.model.results import Flag

SHEET = "specification.yaml"
_HAND = "worked by hand"
_GUM = (
    "root of the sum of squares, times k: NIST Technical Note 1297 (1994), 6.1; NIST/SEMATECH e-Handbook, 2.5.7; "
    "as JCGM 100:2008, 5.1.2 and 6.2.1 (clauses from memory)"
)


@figure(
    title="Tolerance over uncertainty",
    symbol="q_T",
    unit="",
    formula="q_T = t / U",
    inputs=(
        Input("item_half_tolerance", "t", "", "Half the tolerance", exact=True, file=SHEET),
        Input("item_uncertainty", "U", "", "Uncertainty of the reading", exact=True),
    ),
    per=("item",),
    source="T / U at k = 2; four and more is the rule of thumb of MIL-STD-45662A and ANSI/NCSL Z540 (calibrationos.com, test uncertainty ratio)",
    flag=Flag.SEEN,
    example=Example({"item_half_tolerance": "0.01", "item_uncertainty": "0.004"}, "2.5", f"{_HAND}: 62.000 to 62.020 mm"),
    subject="measurement",
    usual=(1, None),
    usual_source="guard band as wide as the uncertainty: below one nothing is left inside it",
    says="this method can never show that the item conforms",
    basis="both in the item's own unit",
    impossible=(0, None),
    decimals=1,
    quiet=True,
)  # fmt: skip
def tolerance_to_uncertainty(item_half_tolerance: Number, item_uncertainty: Number) -> Number:
    """How many times the uncertainty goes into half the tolerance."""
    return item_half_tolerance / item_uncertainty


@figure(
    title="Smallest tolerance over uncertainty",
    symbol="q_min",
    unit="",
    formula="q_min = smallest(q_T)",
    inputs=(Input("tolerance_to_uncertainty", "q_T", "", "Tolerance over uncertainty", over="item", exact=True, file=SHEET),),
    source="the item that is hardest to decide",
    flag=Flag.GEOMETRY,
    example=Example({"tolerance_to_uncertainty": ("2.5", "2.0", "5.0")}, "2.0", "read off by eye"),
    subject="measurement",
    decimals=1,
)
def smallest_tolerance_to_uncertainty(tolerance_to_uncertainty: Sequence[Number]) -> Number:
    """The smallest of all items."""
    return min(tolerance_to_uncertainty)


@figure(
    title="Place in the tolerance",
    symbol="q_y",
    unit="%",
    formula="q_y = 100 * (y - (LL + UL) / 2) / ((UL - LL) / 2)",
    inputs=(
        Input("reading", "y", "mm", "Reading"),
        Input("lower", "LL", "mm", "Lower limit", exact=True),
        Input("upper", "UL", "mm", "Upper limit", exact=True),
    ),
    source="distance from the middle of the tolerance over half its width: 100 % is the upper limit",
    flag=Flag.GEOMETRY,
    example=Example({"reading": "30.09 mm", "lower": "29.90 mm", "upper": "30.10 mm"}, "90 %", f"{_HAND}: 0.09 / 0.10"),
    subject="measurement",
    usual=(-100, 100),
    usual_source="by definition",
    says="outside the limits",
    decimals=0,
)  # fmt: skip
def place_in_tolerance(reading: Number, lower: Number, upper: Number) -> Number:
    """Where a reading lies between its limits: 0 the middle, ±100 % the limits; ZeroDivisionError when the limits are one."""
    return (reading - (lower + upper) / 2) / ((upper - lower) / 2)


@figure(
    title="Combined uncertainty, expanded",
    symbol="U",
    unit="mm",
    formula="U = k * sqrt(sum(u**2))",
    inputs=(
        Input("standard_uncertainty", "u", "mm", "Standard uncertainty that each input brings", over="point"),
        Input("coverage_factor", "k", "", "Coverage factor", exact=True, constant="2"),
    ),
    source=_GUM,
    flag=Flag.SEEN,
    example=Example({"standard_uncertainty": ("0.003 mm", "0.004 mm"), "coverage_factor": "2"}, "0.010 mm", f"{_HAND}: 2 x 0.005"),
    subject="measurement",
    decimals=4,
)
def combined_uncertainty(standard_uncertainty: Sequence[Number], coverage_factor: Number) -> Number:
    """Expanded uncertainty of a sum of independent parts, each already multiplied by its sensitivity."""
    return coverage_factor * sqrt(total([u**2 for u in standard_uncertainty]))
