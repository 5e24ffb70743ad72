"""Coil springs from their wire: rate, turns, and springs one after the other."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, figure
from dossier.figures.mass import total
from dossier.model.quantity import Number
from dossier.model.results import Flag

WIRE = Input("wire_diameter", "d", "mm", "Wire diameter", also=("wire",))
COIL = Input("mean_diameter", "D", "mm", "Mean diameter of the coil")
SHEAR = Input("shear_modulus", "G", "MPa", "Shear modulus", also=("G",))
_FOSSEE = "(FOSSEE Python Textbook Companions)"
_RATE = f"Bhavikatti, Strength of Materials, Ex. 6.22 p. 254 {_FOSSEE}; Wentzell, Machine Design, Ex. 8.2 p. 163"


@figure(
    title="Spring rate from the wire",
    symbol="k",
    unit="N/mm",
    formula="k = G * d**4 / (8 * D**3 * n_a)",
    inputs=(WIRE, COIL, SHEAR, Input("active_turns", "n_a", "", "Active turns")),
    source=_RATE,
    flag=Flag.SEEN,
    example=Example(
        {"wire_diameter": "12 mm", "mean_diameter": "150 mm", "shear_modulus": "80000 MPa", "active_turns": "10"}, "6.14 N/mm", _RATE
    ),
    subject="measurement",
    impossible=(0, None),
    also=("rate",),
)
def wire_spring_rate(wire_diameter: Number, mean_diameter: Number, shear_modulus: Number, active_turns: Number) -> Number:
    """Rate of a helical spring of round wire."""
    return shear_modulus * wire_diameter**4 / (8 * mean_diameter**3 * active_turns)


@figure(
    title="Active turns for a rate",
    symbol="n_a",
    unit="",
    formula="n_a = G * d**4 / (8 * D**3 * k)",
    inputs=(WIRE, COIL, SHEAR, Input("spring_rate", "k", "N/mm", "Rate wanted")),
    source=_RATE,
    flag=Flag.SEEN,
    example=Example(
        {"wire_diameter": "0.105 in", "mean_diameter": "0.62 in", "shear_modulus": "81702.88 MPa", "spring_rate": "70 lbf/in"}, "10.79",
        f"Wentzell, Machine Design, Ex. 8.2 p. 163, 12.79 with two dead turns, G = 11,850,000 psi {_FOSSEE}",
    ),
    subject="measurement",
    impossible=(0, None),
    also=("active_turns",),
)  # fmt: skip
def turns_for_rate(wire_diameter: Number, mean_diameter: Number, shear_modulus: Number, spring_rate: Number) -> Number:
    """Active turns that give a rate; dead turns come on top."""
    return shear_modulus * wire_diameter**4 / (8 * mean_diameter**3 * spring_rate)


@figure(
    title="Rate of springs one after the other",
    symbol="k_s",
    unit="N/mm",
    formula="k_s = 1 / sum(1 / k)",
    inputs=(Input("spring_rate", "k", "N/mm", "Rate of each spring", over="point"),),
    source=f"R. K. Bansal, Engineering Mechanics, Ex. 16.15 p. 629 {_FOSSEE}: reciprocals of the rates add",
    flag=Flag.SEEN,
    example=Example({"spring_rate": ("4 N/mm", "6 N/mm")}, "2.40 N/mm", f"R. K. Bansal, Engineering Mechanics, Ex. 16.15 p. 629 {_FOSSEE}"),
    subject="measurement",
    impossible=(0, None),
    also=("combined_rate",),
)
def rate_in_series(spring_rate: Sequence[Number]) -> Number:
    """Rate of springs of which each bears the whole force."""
    return 1 / total([1 / k for k in spring_rate])
