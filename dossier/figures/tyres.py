"""Sizes that a tyre's marking promises: section height, diameter, circumference."""

from __future__ import annotations

import re
from math import pi

from dossier.figures.figure import Example, Input, NoVerdict, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

MARKING = Input("designation", "M", "", "Marking of the tyre", words=True, file="life.yaml")
INCH = Input("inch", "i", "mm", "Inch", exact=True, constant="1 in")
_MAXXIS = "Maxxis UK, Tyre sidewall markings: D = W x Ar x 2 + 25.4 x dr (maxxis.com); an inch tyre without aspect is as high as it is wide"
_METRIC = re.compile(r"(\d{2,3})/(\d{2,3}) ?-? ?[A-Z]{0,3} ?-? ?(\d{2})(?!\d)")
_IN_INCHES = re.compile(r"(\d\.\d{1,2}) ?- ?(\d{2})(?!\d)")


def sizes_of(marking: str) -> tuple[float, float]:
    """Section height and nominal rim diameter (inches) of `120/90-18`, `200/55R18` or `3.50-18`; NoVerdict for other markings."""
    if found := _METRIC.match(marking.strip()):
        width, aspect, rim = (int(part) for part in found.groups())
        return width * aspect / 100 / 25.4, float(rim)
    if found := _IN_INCHES.match(marking.strip()):
        return float(found[1]), float(found[2])
    raise NoVerdict(f"the marking {marking!r} is of no kind known here: 120/90-18, 200/55R18 or 3.50-18")


@figure(
    title="Section height of the tyre, by its marking",
    symbol="H",
    unit="mm",
    formula="H = W * A / 100",
    inputs=(MARKING, INCH),
    per=("wheel",),
    source=_MAXXIS,
    flag=Flag.SEEN,
    example=Example({"designation": "110/90-18", "inch": "25.4 mm"}, "99 mm", "Maxxis UK, Tyre sidewall markings"),
    subject="chassis",
    basis="nominal, not measured",
    closed=False,
    decimals=1,
    also=("section_height",),
)
def tyre_section_height(designation: str, inch: Number) -> Number:
    """Height of the tyre from rim to tread that the marking promises."""
    return sizes_of(designation)[0] * inch


@figure(
    title="Diameter of the tyre, by its marking",
    symbol="D",
    unit="mm",
    formula="D = d + 2 * W * A / 100",
    inputs=(MARKING, INCH),
    per=("wheel",),
    source=_MAXXIS,
    flag=Flag.SEEN,
    example=Example({"designation": "120/90-18", "inch": "25.4 mm"}, "673.2 mm", "Maxxis UK, Tyre sidewall markings"),
    subject="chassis",
    basis="nominal, not measured",
    closed=False,
    decimals=1,
    also=("overall_diameter",),
)
def tyre_diameter(designation: str, inch: Number) -> Number:
    """Overall diameter that the marking promises."""
    height, rim = sizes_of(designation)
    return (rim + 2 * height) * inch


@figure(
    title="Circumference of the tyre, by its marking",
    symbol="C_n",
    unit="mm",
    formula="C_n = pi * (d + 2 * W * A / 100)",
    inputs=(MARKING, INCH),
    per=("wheel",),
    source=f"circle of the overall diameter; {_MAXXIS}",
    flag=Flag.SEEN,
    example=Example({"designation": "275/40-20", "inch": "25.4 mm"}, "2287 mm", "fordterritory.info, owners' thread 6"),
    subject="chassis",
    basis="nominal and unloaded; a loaded wheel rolls about 3.05 diameters (from memory)",
    closed=False,
    decimals=0,
    also=("circumference",),
)
def tyre_circumference(designation: str, inch: Number) -> Number:
    """Unloaded circumference that the marking promises."""
    return pi * tyre_diameter(designation, inch)


@figure(
    title="Nominal rim diameter of a code",
    symbol="d",
    unit="mm",
    formula="d = floor(25.4 * c + 0.5)",
    inputs=(Input("rim_code", "c", "", "Rim code", exact=True), Input("millimetre", "i", "mm", "Millimetre", exact=True, constant="1 mm")),
    source="UN Regulation 75, table of nominal rim diameters: the code in inches, to the nearest millimetre",
    flag=Flag.SEEN,
    example=Example({"rim_code": "18", "millimetre": "1 mm"}, "457 mm", "UN Regulation 75, table of nominal rim diameters"),
    subject="chassis",
    basis="the diameter a rim is made to differs by up to 1.5 mm (from memory)",
    decimals=0,
)
def nominal_rim_diameter(rim_code: Number, millimetre: Number) -> Number:
    """Nominal rim diameter that stands for a code, a whole number of millimetres."""
    exact = 25.4 * rim_code
    return int(getattr(exact, "magnitude", exact) + 0.5) * millimetre
