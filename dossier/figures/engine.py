"""Engine geometry: capacity, class headroom, oversizes, ratios, clearances."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, mean
from dossier.model.results import Flag

BORES = Input("bore", "B", "mm", "Bore", over="cylinder")
BORE = Input("bore", "B", "mm", "Bore")
STROKE = Input("stroke", "S", "mm", "Stroke")
CYLINDERS = Input("cylinders", "n", "", "Cylinders", exact=True, file="machine.yaml")


@figure(
    title="Swept volume",
    symbol="V",
    unit="cc",
    formula="V = pi/4 * n * mean(B**2) * S / 1000",
    inputs=(BORES, STROKE, CYLINDERS),
    source="geometry of the cylinder: area of the bore times the stroke, each cylinder with its own mean bore",
    flag=Flag.GEOMETRY,
    example=Example(
        {"bore": ("6.8 cm",), "stroke": "7.5 cm", "cylinders": "4"}, "1089.5 cc",
        "Mathur and Sharma, Internal Combustion Engine, Ex. 1.1 p. 3 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="engine",
    impossible=(0, None),
)  # fmt: skip
def swept_volume(bore: Sequence[Number], stroke: Number, cylinders: Number) -> Number:
    """Volume swept by all pistons. One bore stands for all cylinders; else each has its own."""
    return pi / 4 * cylinders * mean([b**2 for b in bore]) * stroke


@figure(
    title="Swept volume of one cylinder",
    symbol="V_1",
    unit="cc",
    formula="V_1 = pi/4 * B**2 * S / 1000",
    inputs=(BORE, STROKE),
    per=("cylinder",),
    source="geometry of the cylinder: area of the bore times the stroke",
    flag=Flag.GEOMETRY,
    example=Example(
        {"bore": "4.0 in", "stroke": "3.48 in"}, "43.731 cu in",
        "Circle Track magazine, Compression ratio rules (stroke from memory; it reproduces the printed digits)", within=0.001,
    ),
    subject="engine",
    impossible=(0, None),
)  # fmt: skip
def cylinder_volume(bore: Number, stroke: Number) -> Number:
    """Volume swept by one piston."""
    return pi / 4 * bore**2 * stroke


@figure(
    title="Compression ratio, full stroke",
    symbol="epsilon",
    unit=":1",
    formula="epsilon = (V_1 + V_c) / V_c",
    inputs=(
        Input("cylinder_volume", "V_1", "cc", "Swept volume of one cylinder"),
        Input("clearance_volume", "V_c", "cc", "Clearance volume"),
    ),
    per=("cylinder",),
    source="by definition: volume above the piston at bottom dead centre over volume at top dead centre",
    flag=Flag.GEOMETRY,
    example=Example(
        {"cylinder_volume": "499.55 cc", "clearance_volume": "58.82 cc"}, "9.493 :1",
        "worked by hand: (499.55 + 58.82) / 58.82", within=0.0005,
    ),
    subject="engine",
    usual_by_strokes={"4": (8, 13), "2": (10, 17)},
    usual_source="from memory",
    impossible=(1, None),
    decimals=2,
)  # fmt: skip
def compression_ratio(cylinder_volume: Number, clearance_volume: Number) -> Number:
    """Full-stroke compression ratio, a pure number."""
    return (cylinder_volume + clearance_volume) / clearance_volume
