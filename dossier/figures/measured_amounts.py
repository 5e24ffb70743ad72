"""Small measurements by comparison: a unit against another, an amount against a known one, the expansion of a bar."""

from __future__ import annotations

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag


@figure(
    title="Value in the coherent SI unit",
    symbol="y",
    unit="",
    formula="y = f * x",
    inputs=(Input("value", "x", "", "Value as written"),),
    source="NIST Special Publication 811 (2008 edition), Appendix B.8, factors kept as exact fractions",
    flag=Flag.SEEN,
    example=Example({"value": "1"}, "1", "NIST Special Publication 811: a pure number is its own unit"),
    subject="measurement",
    closed=False,
    for_bench=True,
    unit_as="coherent",
    decimals=9,
    also=("factor", "value"),
)
def coherent_value(value: Number) -> Number:
    """A value in any unit, brought to m, kg, s, K or what is made of them."""
    return value


@figure(
    title="Amount by comparison with a known one",
    symbol="y",
    unit="",
    formula="y = Y_u * X_1 / X_2",
    inputs=(
        Input("known_amount", "Y_u", "", "Known amount", also=("Yu",)),
        Input("reading_of_unknown", "X_1", "", "Reading of the unknown", also=("X1",)),
        Input("reading_of_known", "X_2", "", "Reading of the known amount", also=("X2",)),
    ),
    source="an instrument that reads in proportion; uncertainties by JCGM 100:2008, 5.1.2 and G.4.1",
    flag=Flag.GEOMETRY,
    example=Example(
        {"known_amount": "0.6978", "reading_of_unknown": "0.1820", "reading_of_known": "0.1823"},
        "0.6967",
        "Sandia ENGR224 course notes, X-ray fluorescence example (test_examples.py of the package suncal)",
    ),
    subject="measurement",
    for_bench=True,
    decimals=4,
    also=("y",),
)
def amount_by_comparison(known_amount: Number, reading_of_unknown: Number, reading_of_known: Number) -> Number:
    """An amount read against a known one by the same instrument."""
    return known_amount * reading_of_unknown / reading_of_known


@figure(
    title="Coefficient of expansion from two lengths",
    symbol="alpha",
    unit="ppm/K",
    formula="alpha = 1000000 * (L_1 - L_0) / (L_0 * (T_1 - T_0))",
    inputs=(
        Input("cold_length", "L_0", "mm", "Length when cold", also=("L0",)),
        Input("warm_length", "L_1", "mm", "Length when warm", also=("L1",)),
        Input("cold_temperature", "T_0", "°C", "Temperature when cold", also=("T0",)),
        Input("warm_temperature", "T_1", "°C", "Temperature when warm", also=("T1",)),
    ),
    source="definition of the linear coefficient of expansion",
    flag=Flag.GEOMETRY,
    example=Example(
        {"cold_length": "1.4999 m", "warm_length": "1.5021 m", "cold_temperature": "288.15 K", "warm_temperature": "373.10 K"},
        "17.266 ppm/K",
        "NIST Technical Note 1900, Example E13",
    ),
    subject="measurement",
    for_bench=True,
    decimals=2,
    also=("alpha",),
)
def expansion_from_lengths(cold_length: Number, warm_length: Number, cold_temperature: Number, warm_temperature: Number) -> Number:
    """Mean coefficient of expansion between two temperatures."""
    return (warm_length - cold_length) / (cold_length * (warm_temperature - cold_temperature))
