"""Sizes that a tyre's marking promises: section height, diameter, circumference."""

from __future__ import annotations

from math import pi

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

WIDTH = Input("tyre_width", "W", "mm", "Section width in the marking", exact=True)
ASPECT = Input("tyre_aspect", "A", "%", "Height over width in the marking", exact=True, constant="100 %")
RIM = Input("rim_diameter", "d", "mm", "Nominal rim diameter", exact=True)
_MAXXIS = "Maxxis UK, Tyre sidewall markings: D = W x Ar x 2 + 25.4 x dr (maxxis.com); an inch tyre without aspect is as high as it is wide"


@figure(
    title="Section height of the tyre, by its marking",
    symbol="H",
    unit="mm",
    formula="H = W * A / 100",
    inputs=(WIDTH, ASPECT),
    per=("wheel",),
    source=_MAXXIS,
    flag=Flag.SEEN,
    example=Example({"tyre_width": "110 mm", "tyre_aspect": "90 %"}, "99 mm", "Maxxis UK, Tyre sidewall markings: 110/90-18"),
    subject="chassis",
    basis="nominal, not measured",
    decimals=1,
    also=("section_height",),
)
def tyre_section_height(tyre_width: Number, tyre_aspect: Number) -> Number:
    """Height of the tyre from rim to tread that the marking promises."""
    return tyre_width * tyre_aspect


@figure(
    title="Diameter of the tyre, by its marking",
    symbol="D",
    unit="mm",
    formula="D = d + 2 * W * A / 100",
    inputs=(RIM, WIDTH, ASPECT),
    per=("wheel",),
    source=_MAXXIS,
    flag=Flag.SEEN,
    example=Example({"rim_diameter": "18 in", "tyre_width": "120 mm", "tyre_aspect": "90 %"}, "673.2 mm", "Maxxis UK, as above"),
    subject="chassis",
    basis="nominal, not measured",
    decimals=1,
    also=("overall_diameter",),
)
def tyre_diameter(rim_diameter: Number, tyre_width: Number, tyre_aspect: Number) -> Number:
    """Overall diameter that the marking promises."""
    return rim_diameter + 2 * tyre_width * tyre_aspect


@figure(
    title="Circumference of the tyre, by its marking",
    symbol="C_n",
    unit="mm",
    formula="C_n = pi * (d + 2 * W * A / 100)",
    inputs=(RIM, WIDTH, ASPECT),
    per=("wheel",),
    source=f"circle of the overall diameter; {_MAXXIS}",
    flag=Flag.SEEN,
    example=Example(
        {"rim_diameter": "20 in", "tyre_width": "275 mm", "tyre_aspect": "40 %"}, "2287 mm", "fordterritory.info, thread 6: 275/40-20"
    ),
    subject="chassis",
    basis="nominal and unloaded; a loaded wheel rolls about 3.05 diameters (from memory)",
    decimals=0,
    also=("circumference",),
)
def tyre_circumference(rim_diameter: Number, tyre_width: Number, tyre_aspect: Number) -> Number:
    """Unloaded circumference that the marking promises."""
    return pi * tyre_diameter(rim_diameter, tyre_width, tyre_aspect)


@figure(
    title="Nominal rim diameter of a code",
    symbol="d",
    unit="mm",
    formula="d = floor(25.4 * c + 0.5)",
    inputs=(Input("rim_code", "c", "", "Rim code", exact=True), Input("inch", "i", "mm", "Inch", exact=True, constant="1 in")),
    source="UN Regulation 75, table of nominal rim diameters: the code in inches, to the nearest millimetre",
    flag=Flag.SEEN,
    example=Example({"rim_code": "18", "inch": "25.4 mm"}, "457 mm", "UN Regulation 75, table of nominal rim diameters"),
    subject="chassis",
    basis="the diameter a rim is made to differs by up to 1.5 mm (from memory)",
    decimals=0,
)
def nominal_rim_diameter(rim_code: Number, inch: Number) -> Number:
    """Nominal rim diameter that stands for a code, a whole number of millimetres."""
    millimetre = inch / 25.4
    exact = 25.4 * rim_code
    return int(getattr(exact, "magnitude", exact) + 0.5) * millimetre
