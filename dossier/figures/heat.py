"""What warmth does to sizes: lengths at 20 °C, growth, and the grip of a bearing in a warm case."""

from __future__ import annotations

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

EXPANSION = Input("expansion", "alpha", "ppm/K", "Coefficient of expansion", also=("alpha",))
"""Aluminium alloys 22.9 to 23.6 (cast 356.0: 21.5), magnesium AZ91D 26.0 (Callister, Fundamentals of Materials Science and Engineering, 3rd
edition, table B.6); steel 11 to 13 by composition (liquisearch.com, thermal expansion coefficients)."""
RISE = Input("temperature_rise", "Delta_t", "K", "Rise of temperature")
_REFERENCE = "ISO 1:2016, reference temperature 20 °C (Phillips and others, J. Res. NIST 121, 2016, doi 10.6028/jres.121.026)"
_LINEAR = "linear expansion: a hole grows as the solid would that fills it"
_HAND = "worked by hand"


@figure(
    title="Length at 20 °C",
    symbol="y_20",
    unit="mm",
    formula="y_20 = y * (1 + alpha * (20 - t) / 1000000)",
    inputs=(
        Input("length", "y", "mm", "Length as measured"), EXPANSION, Input("temperature", "t", "°C", "Temperature of the part"),
        Input("reference_temperature", "t_0", "°C", "Reference temperature", exact=True, constant="20 °C"),
    ),
    source=_REFERENCE,
    flag=Flag.SEEN,
    example=Example(
        {"length": "62.000 mm", "expansion": "23 ppm/K", "temperature": "30 °C", "reference_temperature": "20 °C"}, "61.986 mm",
        f"{_HAND}: 62 x 23e-6 x 10 = 0.01426",
    ),
    subject="measurement",
    decimals=4,
)  # fmt: skip
def length_at_20(length: Number, expansion: Number, temperature: Number, reference_temperature: Number) -> Number:
    """A length measured warm or cold, brought to the reference temperature."""
    return length * (1 + expansion * (reference_temperature - temperature))


@figure(
    title="Size when warm",
    symbol="d_w",
    unit="mm",
    formula="d_w = d * (1 + alpha * Delta_t / 1000000)",
    inputs=(Input("size", "d", "mm", "Size when cold"), EXPANSION, RISE),
    source=_LINEAR,
    flag=Flag.GEOMETRY,
    example=Example(
        {"size": "4.0 in", "expansion": "22.32 ppm/K", "temperature_rise": "50 K"}, "4.004464 in",
        "algebra.com, question 624821: 0.0000124 for each degree Fahrenheit over 90 degrees", within=2e-6,
    ),
    subject="measurement",
    decimals=3,
)  # fmt: skip
def size_when_warm(size: Number, expansion: Number, temperature_rise: Number) -> Number:
    """A diameter or length after a rise of temperature; a bore grows as a solid does."""
    return size * (1 + expansion * temperature_rise)


@figure(
    title="Rise of temperature that closes a gap",
    symbol="Delta_t",
    unit="K",
    formula="Delta_t = g / (alpha * l) * 1000000",
    inputs=(Input("gap", "g", "mm", "Gap"), EXPANSION, Input("length", "l", "mm", "Length that grows")),
    source=_LINEAR,
    flag=Flag.GEOMETRY,
    example=Example(
        {"gap": "0.01 in", "expansion": "20.16 ppm/K", "length": "60 in"}, "8.27 K",
        "Levinson, Statics and Strength of Materials, Ex. 9.8 p. 207: 14.9 °F at 0.0000112 (FOSSEE Python Textbook Companions)",
        within=0.03,
    ),
    subject="measurement",
    decimals=0,
    also=("temperature_rise",),
)  # fmt: skip
def rise_to_close(gap: Number, expansion: Number, length: Number) -> Number:
    """Rise of temperature after which a length has grown by the gap."""
    return gap / (expansion * length)


@figure(
    title="Interference of a bearing in its case at running heat",
    symbol="delta_w",
    unit="mm",
    formula="delta_w = delta + d * (alpha_b - alpha_h) * Delta_t / 1000000",
    inputs=(
        Input("interference", "delta", "mm", "Interference at 20 °C"),
        Input("bearing_diameter", "d", "mm", "Outside diameter of the bearing"),
        Input("bearing_expansion", "alpha_b", "ppm/K", "Coefficient of expansion of the bearing, steel", constant="11.5 ppm/K"),
        Input("housing_expansion", "alpha_h", "ppm/K", "Coefficient of expansion of the case"),
        Input("temperature_rise", "Delta_t", "K", "Rise above 20 °C"),
    ),
    source=f"{_LINEAR}; 11.5 for bearing steel from memory, magnesium 26.0 and aluminium 21.5 to 23.6 (Callister, table B.6)",
    flag=Flag.GEOMETRY,
    example=Example(
        {
            "interference": "0.060 mm", "bearing_diameter": "62 mm", "bearing_expansion": "11.5 ppm/K", "housing_expansion": "26 ppm/K",
            "temperature_rise": "60 K",
        },
        "0.006 mm", f"{_HAND}: 62 x -14.5e-6 x 60 = -0.05394",
    ),
    subject="measurement",
    usual=(0, None),
    usual_source="common practice, no source: a bearing in a light case must still grip when hot",
    says="the bearing is loose in its case when hot",
    decimals=3,
)  # fmt: skip
def running_interference(
    interference: Number, bearing_diameter: Number, bearing_expansion: Number, housing_expansion: Number, temperature_rise: Number
) -> Number:
    """What is left of an interference fit at running heat; negative: clearance."""
    return interference + bearing_diameter * (bearing_expansion - housing_expansion) * temperature_rise
