"""Springs tried on the bench: rate from loads, deflection, turns from an index, and the swing of a mass on two of them."""

from __future__ import annotations

from math import pi
from typing import Any

from dossier.figures.figure import Example, Input, figure
from dossier.figures.wire_springs import COIL, SHEAR, WIRE
from dossier.model.quantity import Number, sqrt
from dossier.model.results import Flag

LOAD = Input("load", "F", "N", "Load")
DEFLECTION = Input("deflection", "s", "mm", "Deflection")
RATE = Input("rate", "k", "N/mm", "Spring rate", name="rate_from_load")
_FOSSEE = "(FOSSEE Python Textbook Companions)"
_BHAVIKATTI = f"Bhavikatti, Strength of Materials, Ex. 6.22 p. 254 {_FOSSEE}"
_WENTZELL = f"Wentzell, Machine Design, Ex. 8.2 p. 163 {_FOSSEE}"
_BANSAL = f"R. K. Bansal, Engineering Mechanics, Ex. 16.15 p. 629 {_FOSSEE}"
_SINGH = f"Sadhu Singh, Machine Design, Ex. 8.1 p. 227 {_FOSSEE}"


def _bench(**facts: Any) -> dict[str, Any]:
    common: dict[str, Any] = {"flag": Flag.SEEN, "subject": "measurement", "for_bench": True, "impossible": (0, None)}
    return {**common, **facts}


@figure(
    **_bench(
        title="Spring rate from a load",
        symbol="k",
        unit="N/mm",
        formula="k = F / s",
        inputs=(LOAD, DEFLECTION),
        also=("rate",),
        flag=Flag.GEOMETRY,
        source="by definition",
        example=Example({"load": "35 lbf", "deflection": "0.5 in"}, "70.00 lbf/in", _WENTZELL),
    )
)
def rate_from_load(load: Number, deflection: Number) -> Number:
    """Rate of a spring from one load and the deflection under it."""
    return load / deflection


@figure(
    **_bench(
        title="Deflection of a wire spring",
        symbol="s",
        unit="mm",
        formula="s = F / k",
        also=("deflection",),
        source=f"load over rate ({_BHAVIKATTI})",
        inputs=(LOAD, Input("wire_spring_rate", "k", "N/mm", "Spring rate from the wire")),
        example=Example({"load": "450 N", "wire_spring_rate": "6.144 N/mm"}, "73.24 mm", _BHAVIKATTI),
    )
)
def deflection_of_wire_spring(load: Number, wire_spring_rate: Number) -> Number:
    """Deflection under a load."""
    return load / wire_spring_rate


@figure(
    **_bench(
        title="Turns in all, two of them dead",
        symbol="n_t",
        unit="",
        formula="n_t = G * d**4 / (8 * D**3 * k) + n_d",
        also=("total_turns",),
        inputs=(WIRE, COIL, SHEAR, RATE, Input("dead_turns", "n_d", "", "Dead turns", exact=True, constant="2")),
        source=_WENTZELL,
        example=Example(
            {
                "wire_diameter": "0.105 in",
                "mean_diameter": "0.62 in",
                "shear_modulus": "11850000 psi",
                "rate": "70 lbf/in",
                "dead_turns": "2",
            },
            "12.79",
            _WENTZELL,
        ),
    )
)
def turns_in_all(wire_diameter: Number, mean_diameter: Number, shear_modulus: Number, rate: Number, dead_turns: Number) -> Number:
    """Active turns for a rate and the dead ones."""
    return shear_modulus * wire_diameter**4 / (8 * mean_diameter**3 * rate) + dead_turns


@figure(
    **_bench(
        title="Active turns from two loads and the spring index",
        symbol="n_a",
        unit="",
        formula="n_a = G * d * s / (8 * C**3 * (F_2 - F_1))",
        inputs=(
            WIRE,
            Input("spring_index", "C", "", "Mean coil over wire diameter", exact=True, also=("index_C",)),
            SHEAR,
            DEFLECTION,
            Input("least_load", "F_1", "N", "Least load", also=("F_min",)),
            Input("greatest_load", "F_2", "N", "Greatest load", also=("F_max",)),
        ),
        source=_SINGH,
        also=("active_turns",),
        example=Example(
            {
                "wire_diameter": "4.25 mm",
                "spring_index": "8",
                "shear_modulus": "84000 MPa",
                "deflection": "8 mm",
                "least_load": "250 N",
                "greatest_load": "300 N",
            },
            "14",
            _SINGH,
        ),
    )
)
def turns_of_index(
    wire_diameter: Number, spring_index: Number, shear_modulus: Number, deflection: Number, least_load: Number, greatest_load: Number
) -> Number:
    """Active turns that give so much deflection between two loads."""
    return shear_modulus * wire_diameter * deflection / (8 * spring_index**3 * (greatest_load - least_load))


_TWO = (
    Input("first_rate", "k_1", "N/m", "Rate of the first spring", also=("k1",)),
    Input("second_rate", "k_2", "N/m", "Rate of the second spring", also=("k2",)),
)


@figure(
    **_bench(
        title="Rate of two springs one after the other",
        symbol="k_s",
        unit="N/m",
        formula="k_s = k_1 * k_2 / (k_1 + k_2)",
        inputs=_TWO,
        source=_BANSAL,
        also=("combined_rate",),
        example=Example({"first_rate": "4000 N/m", "second_rate": "6000 N/m"}, "2400 N/m", _BANSAL),
        decimals=0,
    )
)
def rate_of_two(first_rate: Number, second_rate: Number) -> Number:
    """Rate of two springs of which each bears the whole force."""
    return first_rate * second_rate / (first_rate + second_rate)


@figure(
    **_bench(
        title="Period of a mass on two springs one after the other",
        symbol="T_s",
        unit="s",
        formula="T_s = 2 * pi * sqrt(m / k_s)",
        also=("period",),
        inputs=(Input("mass", "m", "kg", "Mass"), Input("rate_of_two", "k_s", "N/m", "Rate of both springs")),
        source=_BANSAL,
        decimals=4,
        example=Example({"mass": "50 kg", "rate_of_two": "2400 N/m"}, "0.9069 s", _BANSAL),
    )
)
def period_on_springs(mass: Number, rate_of_two: Number) -> Number:
    """Time of one swing, undamped."""
    return 2 * pi * sqrt(mass / rate_of_two)
