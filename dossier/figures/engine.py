"""Engine geometry: capacity, room left in the class and in the liner, and the proportions of bore, stroke and rod."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from dossier.figures.figure import Example, Input, figure
from dossier.model.forms.measurements import Role
from dossier.model.quantity import Number, floor, mean, sqrt
from dossier.model.results import Flag

BORES = Input("bore", "B", "mm", "Bore", over="cylinder")
BORE = Input("bore", "B", "mm", "Bore")
MEAN_BORE = Input("bore", "B", "mm", "Bore, mean of the cylinders", mean="cylinder")
STROKE = Input("stroke", "S", "mm", "Stroke")
ROD = Input("rod_length", "L", "mm", "Rod length between centres", also=("rod",))
CYLINDERS = Input("cylinders", "n", "", "Cylinders", exact=True, file="machine.yaml")
LIMIT = Input("class_limit", "V_max", "cc", "Class limit", exact=True, file="machine.yaml", also=("limit",))
ALLOWANCE = Input("overbore_allowance", "a", "mm", "Overbore allowed by the class", exact=True, file="machine.yaml", constant="0.0 mm")
STEP = Input("oversize_step", "s", "mm", "Oversize step", exact=True, also=("step",))
LINER = Input("liner_outside_diameter", "D_o", "mm", "Liner outside diameter")
_DEMO = "worked by hand from the sizes of an invented twin"


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
    also=("total",),
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
    also=("per_cylinder",),
)  # fmt: skip
def cylinder_volume(bore: Number, stroke: Number) -> Number:
    """Volume swept by one piston."""
    return pi / 4 * bore**2 * stroke


@figure(
    title="Swept volume against that declared",
    symbol="Delta_V",
    unit="%",
    formula="Delta_V = (V - V_d) / V_d * 100",
    inputs=(
        Input("swept_volume", "V", "cc", "Swept volume as built", also=("built",)),
        Input("declared_volume", "V_d", "cc", "Swept volume declared", name="swept_volume", role=Role.DECLARED, also=("declared",)),
    ),
    source="difference over the declared value; a stated capacity is rounded, but a difference of several per cent is a slip",
    flag=Flag.GEOMETRY,
    example=Example(
        {"swept_volume": "117.446 cu in", "declared_volume": "152 cu in"}, "-22.733 %",
        "UCI Automobile data of 1985, row 3: bore 2.68 in, stroke 3.47 in, six cylinders, 152 cu in (the columns are exchanged there)",
        within=0.001,
    ),
    subject="engine",
    usual=(-1, 1),
    usual_source="common practice, no source: a stated capacity is good to one per cent",
    implausible=(-6, 6),
    says="the capacity built is not the capacity declared",
    also=("deviation_of_computed",),
)  # fmt: skip
def swept_volume_deviation(swept_volume: Number, declared_volume: Number) -> Number:
    """Difference of the built from the declared swept volume, as a share of the declared."""
    return (swept_volume - declared_volume) / declared_volume


@figure(
    title="Room left in the class",
    symbol="V_left",
    unit="cc",
    formula="V_left = V_max - pi/4 * n * mean((B - a)**2) * S / 1000",
    inputs=(LIMIT, BORES, STROKE, CYLINDERS, ALLOWANCE),
    source="class limit less the swept volume; some clubs first take an overbore allowance off the bore "
    "(American Historic Racing Motorcycle Association, Handbook 2022, 9.7.1 and 9.7.2)",
    flag=Flag.SEEN,
    example=Example(
        {"class_limit": "350 cc", "bore": ("62.012 mm", "62.014 mm"), "stroke": "57.79 mm", "cylinders": "2", "overbore_allowance": "0 mm"},
        "0.909 cc", f"{_DEMO}: 350 - 349.0905",
    ),
    subject="engine",
    usual=(0, None),
    usual_source="the class limit itself",
    says="over the class limit",
)  # fmt: skip
def headroom(class_limit: Number, bore: Sequence[Number], stroke: Number, cylinders: Number, overbore_allowance: Number) -> Number:
    """What is left between the swept volume, by the club's way of counting, and the class limit; negative when over it."""
    return class_limit - pi / 4 * cylinders * mean([(b - overbore_allowance) ** 2 for b in bore]) * stroke


@figure(
    title="Largest bore that stays in the class",
    symbol="B_max",
    unit="mm",
    formula="B_max = sqrt(4000 * V_max / (pi * n * S)) + a",
    inputs=(LIMIT, STROKE, CYLINDERS, ALLOWANCE),
    source="the swept volume set equal to the class limit and solved for the bore",
    flag=Flag.GEOMETRY,
    example=Example(
        {"class_limit": "350 cc", "stroke": "57.79 mm", "cylinders": "2", "overbore_allowance": "0 mm"}, "62.094 mm",
        f"{_DEMO}: the square of 62.0937 times pi/4 times 57.79 is 175.00 cc",
    ),
    subject="engine",
    impossible=(0, None),
    decimals=3,
)  # fmt: skip
def bore_limit(class_limit: Number, stroke: Number, cylinders: Number, overbore_allowance: Number) -> Number:
    """Bore at which the swept volume, by the club's way of counting, equals the class limit."""
    return sqrt(4 * class_limit / (pi * cylinders * stroke)) + overbore_allowance


@figure(
    title="Oversizes left in the class",
    symbol="n_o",
    unit="",
    formula="n_o = floor((B_max - B) / s)",
    inputs=(Input("bore_limit", "B_max", "mm", "Largest bore that stays in the class"), BORE, STEP),
    per=("cylinder",),
    source="whole steps that fit between the bore and the largest bore of the class",
    flag=Flag.GEOMETRY,
    example=Example({"bore_limit": "62.094 mm", "bore": "61.52 mm", "oversize_step": "0.25 mm"}, "2", "worked by hand: 0.574 / 0.25 = 2.3"),
    subject="engine",
    usual=(0, None),
    usual_source="the class limit itself",
    says="the bore is already larger than the class allows",
    decimals=0,
)  # fmt: skip
def oversizes_left(bore_limit: Number, bore: Number, oversize_step: Number) -> Number:
    """How many oversize pistons the class still allows; a whole number."""
    return floor((bore_limit - bore) / oversize_step)


@figure(
    title="Swept volume at the first oversize",
    symbol="V_o",
    unit="cc",
    formula="V_o = pi/4 * n * (B_d + s)**2 * S / 1000",
    inputs=(Input("declared_bore", "B_d", "mm", "Nominal bore", name="bore", role=Role.DECLARED), STEP, STROKE, CYLINDERS),
    source="swept volume with the nominal bore one oversize step larger",
    flag=Flag.GEOMETRY,
    example=Example(
        {"declared_bore": "62 mm", "oversize_step": "0.25 mm", "stroke": "57.79 mm", "cylinders": "2"}, "351.764 cc",
        f"{_DEMO}: 62.25 squared is 3875.0625; times pi/4 times 57.79 times 2",
    ),
    subject="engine",
    impossible=(0, None),
)  # fmt: skip
def oversize_volume(declared_bore: Number, oversize_step: Number, stroke: Number, cylinders: Number) -> Number:
    """Swept volume if every cylinder were bored to the first oversize."""
    return pi / 4 * cylinders * (declared_bore + oversize_step) ** 2 * stroke
