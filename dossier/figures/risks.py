"""How often a measurement of given fineness accepts what lies outside its limits and refuses what lies inside."""

from __future__ import annotations

from collections.abc import Callable
from statistics import NormalDist
from typing import Any

from dossier.figures.conformity import false_risks
from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

LIMIT = Input("limit", "L", "", "Half the tolerance over the spread of what is made", exact=True)
FINENESS = Input("fineness", "r", "", "Spread of what is made over the standard uncertainty of the measurement", exact=True, also=("TUR",))
INSIDE = Input("in_tolerance_probability", "P_i", "", "Share of what is made that lies within the limits", exact=True)
_JCGM = "JCGM 106:2012, 9.5, equations (19) and (20) without a guard band: the standard from memory, results seen"
_DEAVER = (
    "Deaver, How to maintain confidence in a world of declining test uncertainty ratios (1993), p. 7 (test_risk.py of the package suncal)"
)
_RP19 = "NCSL International, Recommended Practice 19, draft table (test_risk.py of the package suncal)"


def limit_of(inside: float) -> float:
    """Half the tolerance over the spread, from the share that lies within symmetric limits."""
    return NormalDist().inv_cdf((1 + inside) / 2)


def _risk(title: str, symbol: str, gives: str, first: Input, source: str, given: str, within: float, **facts: Any) -> dict[str, Any]:
    return {
        "title": title,
        "symbol": symbol,
        "unit": "%",
        "formula": f"{symbol} = 100 * risk({first.symbol}, r)",
        "inputs": (first, FINENESS),
        "source": _JCGM,
        "flag": Flag.MEMORY,
        "subject": "measurement",
        "closed": False,
        "for_bench": True,
        "decimals": 3,
        "example": Example({first.param: given, "fineness": "4"}, gives, source, within=within),
        **facts,
    }


def _plain(work: Callable[[float, float], float], *numbers: Number) -> float:
    first, fineness = (float(getattr(one, "magnitude", one) or 0) for one in numbers)
    return work(first, fineness)


@figure(**_risk("Risk of accepting what lies outside", "R_a", "0.80 %", LIMIT, _DEAVER, "2", 0.01, also=("false_accept",)))
def false_acceptance(limit: Number, fineness: Number) -> float:
    """Share of all that is made that lies outside and is accepted."""
    return _plain(lambda x, r: false_risks(x, r)[0], limit, fineness)


@figure(**_risk("Risk of refusing what lies inside", "R_r", "1.5 %", LIMIT, _DEAVER, "2", 0.05, also=("false_reject",)))
def false_refusal(limit: Number, fineness: Number) -> float:
    """Share of all that is made that lies inside and is refused."""
    return _plain(lambda x, r: false_risks(x, r)[1], limit, fineness)


@figure(
    **_risk("Risk of accepting what lies outside, by the share inside", "R_p", "4.838603 %", INSIDE, _RP19, "0.60", 2e-6, also=("PFA",))
)
def false_acceptance_of_process(in_tolerance_probability: Number, fineness: Number) -> float:
    """Share of all that is made that lies outside and is accepted, where the share that lies inside is known."""
    return _plain(lambda p, r: false_risks(limit_of(p), r)[0], in_tolerance_probability, fineness)


@figure(
    **_risk(
        "Share outside among what is accepted",
        "R_c",
        "8.260082 %",
        INSIDE,
        _RP19,
        "0.60",
        4e-6,
        also=("conditional_PFA",),
    )
)
def outside_among_accepted(in_tolerance_probability: Number, fineness: Number) -> float:
    """Share of what is accepted that lies outside all the same."""

    def share(inside: float, fine: float) -> float:
        accept, refuse = false_risks(limit_of(inside), fine)
        return accept / (inside - refuse + accept)

    return _plain(share, in_tolerance_probability, fineness)
