"""Where the piston stands at a crank angle, and the other way round; ignition advance in degrees and in millimetres."""

from __future__ import annotations

from dossier.figures.engine import ROD, STROKE
from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, acos, cos, sin, sqrt
from dossier.model.results import Flag

ANGLE = Input("crank_angle", "theta", "°", "Crank angle from top dead centre", also=("angle",))
POSITION = Input(
    "piston_position", "x", "mm", "Piston below top dead centre", also=("piston_from_TDC", "travel", "port_edge_below_TDC")
)
_EXACT = "crank and rod as a right triangle on each side of the crank pin, exact"


def travel_of(angle: Number, stroke: Number, rod: Number) -> Number:
    """Piston travel from top dead centre (m) at a crank angle (rad), stroke and rod in m. ValueError where the rod is too short."""
    crank = stroke / 2
    return crank * (1 - cos(angle)) + rod - sqrt(rod**2 - (crank * sin(angle)) ** 2)


def angle_of(travel: Number, stroke: Number, rod: Number) -> Number:
    """Crank angle from top dead centre (rad) at a piston travel (m), for stroke and rod length (m). ValueError outside the stroke."""
    crank = stroke / 2
    reach = crank + rod - travel
    return acos((crank**2 + reach**2 - rod**2) / (2 * crank * reach))


@figure(
    title="Piston travel from top dead centre",
    symbol="x",
    unit="mm",
    formula="x = S/2*(1 - cos(theta)) + L - sqrt(L**2 - (S/2*sin(theta))**2)",
    inputs=(ANGLE, STROKE, ROD),
    source=_EXACT,
    flag=Flag.GEOMETRY,
    example=Example(
        {"crank_angle": "20°", "stroke": "8.6025 cm", "rod_length": "17.2 cm"}, "0.32 cm",
        "H. N. Gupta, Fundamentals of Internal Combustion Engines, Ex. 16.1 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="motion",
    for_bench=True,
    decimals=3,
    also=("piston_from_TDC",),
)  # fmt: skip
def piston_travel(crank_angle: Number, stroke: Number, rod_length: Number) -> Number:
    """How far the piston has come down at a crank angle."""
    return travel_of(crank_angle, stroke, rod_length)


@figure(
    title="Crank angle at a piston travel",
    symbol="theta",
    unit="°",
    formula="theta = acos(((S/2)**2 + (S/2 + L - x)**2 - L**2) / (S*(S/2 + L - x)))",
    inputs=(POSITION, STROKE, ROD),
    source=f"{_EXACT}, solved for the angle",
    flag=Flag.GEOMETRY,
    example=Example(
        {"piston_position": "24.0 mm", "stroke": "54 mm", "rod_length": "105 mm"}, "76.43 °",
        "root of the exact piston position found numerically", within=0.01,
    ),
    subject="motion",
    for_bench=True,
    also=("angle", "opens"),
)  # fmt: skip
def angle_at_travel(piston_position: Number, stroke: Number, rod_length: Number) -> Number:
    """Crank angle at which the piston has come down so far."""
    return angle_of(piston_position, stroke, rod_length)


@figure(
    title="Ignition advance as piston travel",
    symbol="x_i",
    unit="mm",
    formula="x_i = S/2*(1 - cos(theta_i)) + L - sqrt(L**2 - (S/2*sin(theta_i))**2)",
    inputs=(Input("ignition_advance", "theta_i", "°", "Full ignition advance before top dead centre"), STROKE, ROD),
    strokes="4",
    source=_EXACT,
    flag=Flag.GEOMETRY,
    example=Example(
        {"ignition_advance": "30°", "stroke": "68 mm", "rod_length": "130 mm"}, "5.6715 mm",
        "position computed with thirty digits by another program", within=0.001,
    ),
    subject="engine",
    impossible=(0, None),
)  # fmt: skip
def ignition_travel(ignition_advance: Number, stroke: Number, rod_length: Number) -> Number:
    """Piston travel before top dead centre at which the spark comes."""
    return travel_of(ignition_advance, stroke, rod_length)


@figure(
    title="Ignition advance as crank angle",
    symbol="theta_i",
    unit="°",
    formula="theta_i = acos(((S/2)**2 + (S/2 + L - x_i)**2 - L**2) / (S*(S/2 + L - x_i)))",
    inputs=(Input("ignition_advance_travel", "x_i", "mm", "Piston before top dead centre at the spark"), STROKE, ROD),
    strokes="2",
    source=f"{_EXACT}, solved for the angle",
    flag=Flag.GEOMETRY,
    example=Example(
        {"ignition_advance_travel": "5.6715 mm", "stroke": "68 mm", "rod_length": "130 mm"}, "30.000 °",
        "the example of the travel at 30 degrees turned round",
    ),
    subject="two-stroke",
    usual=(14, 26),
    usual_source="from memory; 15° is named as a base that most tuned two-strokes bear (willandservicecentre.co.uk)",
    impossible=(0, None),
)  # fmt: skip
def ignition_angle(ignition_advance_travel: Number, stroke: Number, rod_length: Number) -> Number:
    """Crank angle before top dead centre at which the spark comes."""
    return angle_of(ignition_advance_travel, stroke, rod_length)
