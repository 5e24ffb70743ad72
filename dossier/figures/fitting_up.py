"""Fitting up pistons and rings: the bore for a clearance, the gap for a bore, and what warmth leaves of both."""

from __future__ import annotations

from math import pi
from typing import Any

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

PISTON = Input("piston", "D_p", "mm", "Piston diameter")
COLD_BORE = Input("bore_cold", "B", "mm", "Bore when cold")
RISE = Input("temperature_rise", "Delta_t", "K", "Rise of temperature")
OF_PISTON = Input("piston_expansion", "alpha_p", "ppm/K", "Expansion of the piston", also=("alpha_piston",))
OF_BORE = Input("bore_expansion", "alpha_b", "ppm/K", "Expansion of the barrel", also=("alpha_bore",))
OF_RING = Input("ring_expansion", "alpha", "ppm/K", "Expansion of the ring", also=("alpha",))
RING_BORE = Input("bore", "B", "mm", "Bore")
GAP = Input("gap", "g", "mm", "Ring gap")
_LINEAR = "linear expansion: a hole grows as the solid would that fills it"
_ALGEBRA = "algebra.com, question 624821: 0.0000124 and 0.00000655 for each degree Fahrenheit over 90 degrees"
_HOT = {
    "piston": "4.0 in",
    "bore_cold": "4.003 in",
    "temperature_rise": "50 K",
    "piston_expansion": "22.32 ppm/K",
    "bore_expansion": "11.79 ppm/K",
}
_RING = "physicsforums.com, thread 710915, Piston ring end gaps"


def _bench(**facts: Any) -> dict[str, Any]:
    common: dict[str, Any] = {"unit": "mm", "flag": Flag.GEOMETRY, "subject": "engine", "for_bench": True, "decimals": 3, "source": _LINEAR}
    return {**common, **facts}


def _of(*names: str) -> dict[str, str]:
    return {name: _HOT[name] for name in names}


@figure(
    **_bench(
        title="Bore for a piston and its clearance",
        symbol="B",
        formula="B = D_p + c",
        inputs=(PISTON, Input("clearance", "c", "mm", "Clearance")),
        source="the clearance is the difference of the diameters",
        also=("bore", "bore_in"),
        example=Example(
            {"piston": "88.439 mm", "clearance": "0.07 mm"},
            "88.509 mm",
            "a piston maker's technical note (underthehood.mahleclevite.com, 664)",
        ),
    )
)
def bore_for_piston(piston: Number, clearance: Number) -> Number:
    """Bore that gives a piston its clearance."""
    return piston + clearance


@figure(
    **_bench(
        title="Least ring gap by a rule",
        symbol="g_min",
        formula="g_min = q * B",
        inputs=(RING_BORE, Input("rule", "q", "", "Gap for each unit of bore", exact=True)),
        source="gap in proportion to the bore, as ring makers give it",
        also=("minimum_gap",),
        example=Example(
            {"bore": "4.0 in", "rule": "0.004"}, "0.016 in", "leagueslider.com, What is the clearance between piston and cylinder"
        ),
    )
)
def least_ring_gap(bore: Number, rule: Number) -> Number:
    """Least gap of a ring by a rule of so much for each unit of bore."""
    return rule * bore


@figure(
    **_bench(
        title="Piston when hot",
        symbol="D_h",
        formula="D_h = D_p * (1 + alpha_p * Delta_t / 1000000)",
        inputs=(PISTON, OF_PISTON, RISE),
        also=("piston_hot",),
        example=Example(_of("piston", "piston_expansion", "temperature_rise"), "4.004464 in", _ALGEBRA, within=2e-6),
    )
)
def hot_piston(piston: Number, piston_expansion: Number, temperature_rise: Number) -> Number:
    """Piston diameter after a rise of temperature."""
    return piston * (1 + piston_expansion * temperature_rise)


@figure(
    **_bench(
        title="Bore when hot",
        symbol="B_h",
        formula="B_h = B * (1 + alpha_b * Delta_t / 1000000)",
        inputs=(COLD_BORE, OF_BORE, RISE),
        also=("bore_hot",),
        example=Example(_of("bore_cold", "bore_expansion", "temperature_rise"), "4.00536 in", _ALGEBRA),
    )
)
def hot_bore(bore_cold: Number, bore_expansion: Number, temperature_rise: Number) -> Number:
    """Bore after a rise of temperature."""
    return bore_cold * (1 + bore_expansion * temperature_rise)


@figure(
    **_bench(
        title="Piston clearance when hot",
        symbol="c_h",
        formula="c_h = B_h - D_h",
        also=("clearance_hot",),
        source="difference of the hot diameters",
        inputs=(Input("hot_bore", "B_h", "mm", "Bore when hot"), Input("hot_piston", "D_h", "mm", "Piston when hot")),
        impossible=(0, None),
        decimals=4,
        example=Example({"hot_bore": "4.00536 in", "hot_piston": "4.004465 in"}, "0.000895 in", "algebra.com, question 624821"),
    )
)
def hot_clearance(hot_bore: Number, hot_piston: Number) -> Number:
    """What is left of the clearance when both are hot; none is left below nought: the piston seizes."""
    return hot_bore - hot_piston


@figure(
    **_bench(
        title="Length of a ring along the bore",
        symbol="l",
        formula="l = pi * B - g",
        inputs=(RING_BORE, GAP),
        also=("ring_length",),
        decimals=2,
        source="circumference of the bore less the gap",
        example=Example({"bore": "9.625 in", "gap": "0.136 in"}, "30.101 in", _RING, within=0.001),
    )
)
def ring_length(bore: Number, gap: Number) -> Number:
    """Length of a ring in its bore, end to end."""
    return pi * bore - gap


@figure(
    **_bench(
        title="Growth of a ring along the bore",
        symbol="Delta_l",
        formula="Delta_l = l * alpha * Delta_t / 1000000",
        also=("growth",),
        inputs=(Input("ring_length", "l", "mm", "Length of the ring along the bore"), OF_RING, RISE),
        basis="the bore held cold; where the growth is larger than the gap, the ring butts",
        example=Example({"ring_length": "30.101 in", "ring_expansion": "160.2 ppm/K", "temperature_rise": "127.7778 K"}, "0.616 in", _RING),
    )
)
def ring_growth(ring_length: Number, ring_expansion: Number, temperature_rise: Number) -> Number:
    """How much longer a ring becomes along its bore."""
    return ring_length * ring_expansion * temperature_rise
