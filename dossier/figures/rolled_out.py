"""Sizes got in a roundabout way on the bench: trail from a wheel rolled along the floor, and a port from its opening on an endless rod."""

from __future__ import annotations

from math import pi

from dossier.figures.engine import STROKE
from dossier.figures.figure import Example, Input, figure
from dossier.figures.travel import POSITION, angle_of, travel_of
from dossier.model.quantity import Number, cos, sin
from dossier.model.results import Flag

RAKE = Input("rake", "epsilon", "°", "Rake, from the vertical", also=("head_angle",))
OFFSET = Input("fork_offset", "d", "mm", "Fork offset", also=("offset",))
_MEASURED = "BicycleParameters (open measured data), the bicycle Browser: wheel rolled over thirteen turns"


@figure(
    title="Trail from a wheel rolled along the floor",
    symbol="a",
    unit="mm",
    formula="a = (l / (2*pi*n) * sin(epsilon) - d) / cos(epsilon)",
    inputs=(
        Input("distance_rolled", "l", "mm", "Distance rolled", also=("distance",)),
        Input("wheel_turns", "n", "turns", "Turns of the wheel", exact=True),
        RAKE,
        OFFSET,
    ),
    source="steering axis cut with the ground; radius from the distance rolled in whole turns",
    flag=Flag.GEOMETRY,
    example=Example(
        {"distance_rolled": "28.06 m", "wheel_turns": "13", "rake": "22.9°", "fork_offset": "70.5 mm"},
        "68.581 mm",
        _MEASURED,
    ),
    subject="chassis",
    for_bench=True,
    decimals=1,
    also=("trail",),
)
def trail_by_rolling(distance_rolled: Number, wheel_turns: Number, rake: Number, fork_offset: Number) -> Number:
    """Trail of a wheel whose loaded radius was found by rolling it."""
    return (distance_rolled / (2 * pi * wheel_turns) * sin(rake) - fork_offset) / cos(rake)


@figure(
    title="Port height above bottom dead centre",
    symbol="h_p",
    unit="mm",
    formula="h_p = S - x(180*deg - phi)",
    inputs=(
        STROKE,
        Input("port_opens", "phi", "°", "Port opens before bottom dead centre", also=("exhaust_opens",)),
        Input("rod_length", "L", "mm", "Rod length between centres, endless where left out", optional=True, also=("rod",)),
    ),
    source="crank and rod as a right triangle, exact; with an endless rod the piston moves as the cosine",
    flag=Flag.GEOMETRY,
    example=Example(
        {"stroke": "100 mm", "port_opens": "60°"},
        "25.0 mm",
        "H. N. Gupta, Fundamentals of Internal Combustion Engines, Ex. 11.4 p. 369 (FOSSEE Python Textbook Companions): endless rod",
    ),
    subject="two-stroke",
    closed=False,
    for_bench=True,
    decimals=2,
    also=("port_height_above_BDC",),
)
def port_height(stroke: Number, port_opens: Number, rod_length: Number | None = None) -> Number:
    """Height of a port's top edge above bottom dead centre, from the angle at which it opens."""
    if rod_length is None:
        return stroke / 2 * (1 - cos(port_opens))
    return stroke - travel_of(pi - port_opens, stroke, rod_length)


@figure(
    title="Crank angle at a piston travel, by crank radius",
    symbol="theta",
    unit="°",
    formula="theta = acos((r**2 + (r + L - x)**2 - L**2) / (2*r*(r + L - x)))",
    inputs=(
        POSITION,
        Input("crank_radius", "r", "mm", "Crank radius"),
        Input("rod_length", "L", "mm", "Rod length between centres", also=("rod",)),
    ),
    source="crank and rod as a right triangle on each side of the crank pin, exact, solved for the angle",
    flag=Flag.GEOMETRY,
    example=Example(
        {"piston_position": "12 mm", "crank_radius": "60 mm", "rod_length": "240 mm"},
        "32 °",
        "Sarkar, Theory of Machines, Ill. 5.5 p. 163, found by drawing (FOSSEE Python Textbook Companions)",
        within=1.2,
    ),
    subject="motion",
    for_bench=True,
    also=("angle",),
)
def angle_by_radius(piston_position: Number, crank_radius: Number, rod_length: Number) -> Number:
    """Crank angle at which the piston has come down so far."""
    return angle_of(piston_position, 2 * crank_radius, rod_length)
