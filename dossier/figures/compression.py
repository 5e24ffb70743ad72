"""Compression: the ratio over the full stroke, what the chamber is made of, and the metal to move for a wanted ratio."""

from __future__ import annotations

from math import pi

from dossier.figures.engine import BORE, ROD, STROKE
from dossier.figures.figure import Example, Input, figure
from dossier.figures.travel import ANGLE, travel_of
from dossier.model.forms.measurements import Role
from dossier.model.quantity import Number
from dossier.model.results import Flag

ONE_CYLINDER = Input("cylinder_volume", "V_1", "cc", "Swept volume of one cylinder", also=("swept",))
CLEARANCE = Input("clearance_volume", "V_c", "cc", "Clearance volume", also=("clearance",))
_BY_DEFINITION = "by definition: volume above the piston at bottom dead centre over volume at top dead centre"
_CIRCLE_TRACK = "Circle Track magazine, Calculating compression: gasket volume measurements"


@figure(
    title="Compression ratio, full stroke",
    symbol="epsilon",
    unit=":1",
    formula="epsilon = (V_1 + V_c) / V_c",
    inputs=(ONE_CYLINDER, CLEARANCE),
    per=("cylinder",),
    source=_BY_DEFINITION,
    flag=Flag.GEOMETRY,
    example=Example(
        {"cylinder_volume": "499.55 cc", "clearance_volume": "58.82 cc"}, "9.493 :1",
        "worked by hand: (499.55 + 58.82) / 58.82", within=0.0005,
    ),
    subject="engine",
    usual_by_strokes={"4": (8, 13), "2": (10, 17)},
    usual_source="from memory; motorcyclebd.com (Compression ratio) has 9.5 to 13.5 for road four-strokes of today, for two-strokes none was found",
    impossible=(1, None),
    decimals=2,
)  # fmt: skip
def compression_ratio(cylinder_volume: Number, clearance_volume: Number) -> Number:
    """Full-stroke compression ratio, a pure number."""
    return (cylinder_volume + clearance_volume) / clearance_volume


@figure(
    title="Compression ratio from inlet closing",
    symbol="epsilon_e",
    unit=":1",
    formula="epsilon_e = (pi/4 * B**2 * (S/2*(1 - cos(180*deg - IVC)) + L - sqrt(L**2 - (S/2*sin(180*deg - IVC))**2)) / 1000 + V_c) / V_c",
    inputs=(BORE, STROKE, ROD, Input("inlet_closes", "IVC", "°", "Inlet closes after bottom dead centre"), CLEARANCE),
    per=("cylinder",),
    strokes="4",
    source="full-stroke ratio with the piston where the inlet valve closes, exact crank and rod",
    flag=Flag.GEOMETRY,
    example=Example(
        {"bore": "76 mm", "stroke": "82 mm", "rod_length": "155 mm", "inlet_closes": "45°", "clearance_volume": "43.7639 cc"}, "8.539 :1",
        "circle and line intersected numerically, checked against the closed form with thirty digits; the chamber is that of a full-stroke "
        "ratio of 9.5", within=0.001,
    ),
    subject="engine",
    usual=(6.5, 10),
    usual_source="from memory; engine-build.com (Compression ratio) gives 7.5 to 8.5 as ideal for pump petrol",
    impossible=(1, None),
    basis="inlet closing at the lift at which it was checked",
    also=("dynamic_ratio",),
)  # fmt: skip
def effective_compression_ratio(
    bore: Number, stroke: Number, rod_length: Number, inlet_closes: Number, clearance_volume: Number
) -> Number:
    """Compression ratio counted from the closing of the inlet valve, a pure number."""
    shut = pi / 4 * bore**2 * travel_of(pi - inlet_closes, stroke, rod_length)
    return (shut + clearance_volume) / clearance_volume


@figure(
    title="Compression ratio above the exhaust port",
    symbol="epsilon_t",
    unit=":1",
    formula="epsilon_t = (pi/4 * B**2 * x_e / 1000 + V_c) / V_c",
    inputs=(BORE, Input("exhaust_port_height", "x_e", "mm", "Top of the exhaust port below top dead centre"), CLEARANCE),
    per=("cylinder",),
    strokes="2",
    source="full-stroke ratio with the piston at the top edge of the exhaust port",
    flag=Flag.GEOMETRY,
    example=Example(
        {"bore": "54.006 mm", "exhaust_port_height": "27 mm", "clearance_volume": "9.6 cc"}, "7.443 :1",
        "worked by hand: 2290.73 mm² times 27 mm is 61.850 cc; 71.450 / 9.6",
    ),
    subject="two-stroke",
    usual=(6, 9),
    usual_source="from memory; Jennings (quoted at dirtrider.net, post 1436180) wants a squish band much above 6.5",
    impossible=(1, None),
)  # fmt: skip
def trapped_compression_ratio(bore: Number, exhaust_port_height: Number, clearance_volume: Number) -> Number:
    """Compression ratio counted from the closing of the exhaust port, a pure number."""
    return (pi / 4 * bore**2 * exhaust_port_height + clearance_volume) / clearance_volume


@figure(
    title="Volume above the piston",
    symbol="V_x",
    unit="cc",
    formula="V_x = pi/4 * B**2 * (S/2*(1 - cos(theta)) + L - sqrt(L**2 - (S/2*sin(theta))**2)) / 1000 + V_c",
    inputs=(BORE, STROKE, ROD, ANGLE, CLEARANCE),
    per=("cylinder",),
    source="clearance volume and the volume swept so far, exact crank and rod",
    flag=Flag.GEOMETRY,
    example=Example(
        {"bore": "8.6025 cm", "stroke": "8.6025 cm", "rod_length": "17.2 cm", "crank_angle": "20°", "clearance_volume": "62.5 cc"},
        "81.24 cc", "H. N. Gupta, Fundamentals of Internal Combustion Engines, Ex. 16.1 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="engine",
    impossible=(0, None),
    for_bench=True,
    also=("volume",),
)  # fmt: skip
def volume_above_piston(bore: Number, stroke: Number, rod_length: Number, crank_angle: Number, clearance_volume: Number) -> Number:
    """Volume above the piston at a crank angle."""
    return pi / 4 * bore**2 * travel_of(crank_angle, stroke, rod_length) + clearance_volume


@figure(
    title="Clearance volume for a wanted ratio",
    symbol="V_w",
    unit="cc",
    formula="V_w = V_1 / (epsilon_w - 1)",
    inputs=(
        ONE_CYLINDER,
        Input("wanted_ratio", "epsilon_w", ":1", "Compression ratio wanted", exact=True, also=("compression_ratio", "static_ratio")),
    ),
    per=("cylinder",),
    source=f"{_BY_DEFINITION}; solved for the clearance volume",
    flag=Flag.GEOMETRY,
    example=Example(
        {"cylinder_volume": "500 cc", "wanted_ratio": "9 :1"}, "62.5 cc",
        "H. N. Gupta, Fundamentals of Internal Combustion Engines, Ex. 16.1 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="engine",
    impossible=(0, None),
    for_bench=True,
    also=("clearance",),
)  # fmt: skip
def clearance_for_ratio(cylinder_volume: Number, wanted_ratio: Number) -> Number:
    """Clearance volume that gives the wanted compression ratio."""
    return cylinder_volume / (wanted_ratio - 1)


@figure(
    title="Volume to add to the chamber for a wanted ratio",
    symbol="Delta_V_c",
    unit="cc",
    formula="Delta_V_c = V_1 / (epsilon_w - 1) - V_c",
    inputs=(
        ONE_CYLINDER,
        CLEARANCE,
        Input("wanted_ratio", "epsilon_w", ":1", "Compression ratio wanted", name="compression_ratio", role=Role.DECLARED, exact=True),
    ),
    per=("cylinder",),
    source=f"{_BY_DEFINITION}; clearance volume wanted less that found, negative where volume must be taken away",
    flag=Flag.GEOMETRY,
    quiet=True,
    example=Example(
        {"cylinder_volume": "500 cc", "clearance_volume": "60 cc", "wanted_ratio": "9 :1"}, "2.5 cc", "worked by hand: 500 / 8 - 60"
    ),
    subject="engine",
)
def chamber_change(cylinder_volume: Number, clearance_volume: Number, wanted_ratio: Number) -> Number:
    """Volume to add to the chamber (or, negative, to take from it) to reach the wanted ratio."""
    return cylinder_volume / (wanted_ratio - 1) - clearance_volume


@figure(
    title="Volume of the head gasket",
    symbol="V_g",
    unit="cc",
    formula="V_g = pi/4 * D_g**2 * t_g / 1000",
    inputs=(
        Input("gasket_bore", "D_g", "mm", "Bore of the gasket"),
        Input("gasket_thickness", "t_g", "mm", "Thickness of the gasket as pressed"),
    ),
    source="disc of the gasket's bore and pressed thickness",
    flag=Flag.GEOMETRY,
    example=Example(
        {"gasket_bore": "4.0 in", "gasket_thickness": "0.02 in"}, "0.251328 cu in", f"{_CIRCLE_TRACK} (0.7854 for pi/4)", within=2e-6
    ),
    subject="engine",
    impossible=(0, None),
    quiet=True,
)
def gasket_volume(gasket_bore: Number, gasket_thickness: Number) -> Number:
    """Volume inside the head gasket."""
    return pi / 4 * gasket_bore**2 * gasket_thickness


@figure(
    title="Volume above the piston in the bore",
    symbol="V_d",
    unit="cc",
    formula="V_d = pi/4 * B**2 * h_d / 1000",
    inputs=(BORE, Input("deck_clearance", "h_d", "mm", "Piston below the top of the barrel at top dead centre")),
    per=("cylinder",),
    source="disc of the bore and the height that the piston stays down; negative where it stands proud",
    flag=Flag.GEOMETRY,
    example=Example(
        {"bore": "4.0 in", "deck_clearance": "0.033 in"}, "0.41469 cu in",
        f"{_CIRCLE_TRACK} (0.7854 for pi/4; the clearance is reckoned back from the printed volume)", within=5e-6,
    ),
    subject="engine",
    quiet=True,
)  # fmt: skip
def deck_volume(bore: Number, deck_clearance: Number) -> Number:
    """Volume left in the bore above the piston at top dead centre."""
    return pi / 4 * bore**2 * deck_clearance


@figure(
    title="Clearance volume from its parts",
    also=("clearance_from_parts",),
    symbol="V_c",
    unit="cc",
    formula="V_c = V_h + V_g + V_d + V_p",
    inputs=(
        Input("chamber_volume", "V_h", "cc", "Chamber in the head", also=("chamber",)),
        Input("gasket_volume", "V_g", "cc", "Volume of the head gasket"),
        Input("deck_volume", "V_d", "cc", "Volume above the piston in the bore"),
        Input("piston_dish", "V_p", "cc", "Dish of the piston crown, a dome negative"),
    ),
    per=("cylinder",),
    source="sum of its parts; a volume measured with the burette goes before it",
    flag=Flag.GEOMETRY,
    example=Example(
        {"chamber_volume": "3.906 cu in", "gasket_volume": "0.251328 cu in", "deck_volume": "0.41469 cu in", "piston_dish": "0.305 cu in"},
        "4.8770 cu in", f"{_CIRCLE_TRACK}; with the swept volume of 43.731 cu in it gives the printed ratio of 9.97", within=0.0001,
    ),
    subject="engine",
    impossible=(0, None),
    quiet=True,
)  # fmt: skip
def clearance_volume(chamber_volume: Number, gasket_volume: Number, deck_volume: Number, piston_dish: Number) -> Number:
    """Clearance volume as the sum of head chamber, gasket, deck and dish."""
    return chamber_volume + gasket_volume + deck_volume + piston_dish
