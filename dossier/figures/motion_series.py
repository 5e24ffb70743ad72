"""Piston and rod motion by the two-term series of the textbooks, beside the exact figures, so that their examples can be checked."""

from __future__ import annotations

from dossier.figures.engine import STROKE
from dossier.figures.figure import Example, Input, figure
from dossier.figures.motion import SPEED
from dossier.figures.travel import ANGLE
from dossier.model.quantity import Number, acos, cos, sin, sqrt
from dossier.model.results import Flag

_SERIES = "two-term series of crank and rod, as in Khurmi and Gupta, Theory of Machines, chapter 15"
_SEEN = "two-term series of crank and rod (audifans.com, archive of January 1998, msg02701; Khurmi and Gupta, Theory of Machines, chapter 15)"
ROD = Input("rod_length", "L", "m", "Rod length between centres", also=("rod",))
CRANK = Input("crank_radius", "r", "m", "Crank radius")


@figure(
    title="Piston speed at a crank angle, two-term series",
    symbol="v_2",
    unit="m/s",
    formula="v_2 = pi*N*r/30 * (sin(theta) + r*sin(2*theta)/(2*L))",
    inputs=(ANGLE, CRANK, ROD, SPEED),
    source=_SEEN,
    flag=Flag.SEEN,
    example=Example(
        {"crank_angle": "40°", "crank_radius": "0.3 m", "rod_length": "1.5 m", "engine_speed": "180 rpm"}, "4.19 m/s",
        "Khurmi and Gupta, Theory of Machines (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="motion",
    for_bench=True,
    basis="textbook series; the exact figure is the piston speed at a crank angle",
    also=("velocity",),
)  # fmt: skip
def piston_velocity_series(crank_angle: Number, crank_radius: Number, rod_length: Number, engine_speed: Number) -> Number:
    """Speed of the piston by the two-term series of the textbooks."""
    return engine_speed * crank_radius * (sin(crank_angle) + crank_radius / (2 * rod_length) * sin(2 * crank_angle))


@figure(
    title="Piston acceleration at a crank angle, two-term series",
    symbol="a_2",
    unit="m/s²",
    formula="a_2 = (pi*N/30)**2 * r * (cos(theta) + r*cos(2*theta)/L)",
    inputs=(ANGLE, CRANK, ROD, SPEED),
    source=_SEEN,
    flag=Flag.SEEN,
    example=Example(
        {"crank_angle": "40°", "crank_radius": "0.3 m", "rod_length": "1.5 m", "engine_speed": "180 rpm"}, "85.36 m/s²",
        "Khurmi and Gupta, Theory of Machines (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="motion",
    for_bench=True,
    basis="textbook series; the exact figure is the piston acceleration at a crank angle",
    also=("acceleration",),
)  # fmt: skip
def piston_acceleration_series(crank_angle: Number, crank_radius: Number, rod_length: Number, engine_speed: Number) -> Number:
    """Acceleration of the piston by the two-term series of the textbooks."""
    return engine_speed**2 * crank_radius * (cos(crank_angle) + crank_radius / rod_length * cos(2 * crank_angle))


@figure(
    title="Crank radius",
    symbol="r",
    unit="mm",
    formula="r = S / 2",
    inputs=(STROKE,),
    source="half the stroke",
    flag=Flag.GEOMETRY,
    example=Example({"stroke": "57.8 mm"}, "28.9 mm", "worked by hand: half of 57.8"),
    subject="motion",
    for_bench=True,
)
def crank_radius(stroke: Number) -> Number:
    """Distance of the crank pin from the crank's axis."""
    return stroke / 2


@figure(
    title="Crank angle of no acceleration, two-term series",
    symbol="theta_0",
    unit="°",
    formula="theta_0 = acos((sqrt((L/r)**2 + 8) - L/r) / 4)",
    inputs=(CRANK, ROD),
    source=_SERIES,
    flag=Flag.MEMORY,
    example=Example(
        {"crank_radius": "0.3 m", "rod_length": "1.5 m"}, "79.27 °",
        "Khurmi and Gupta, Theory of Machines (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="motion",
    for_bench=True,
    basis="textbook series; the exact figure is the crank angle of highest piston speed",
    also=("zero_acceleration_at",),
)  # fmt: skip
def angle_of_no_acceleration(crank_radius: Number, rod_length: Number) -> Number:
    """Crank angle at which the piston is fastest, by the two-term series."""
    n = rod_length / crank_radius
    return acos((sqrt(n**2 + 8) - n) / 4)


@figure(
    title="Turning speed of the rod, simple series",
    symbol="omega_r",
    unit="rad/s",
    formula="omega_r = pi*N/30 * r/L * cos(theta)",
    inputs=(ANGLE, CRANK, ROD, SPEED),
    source=_SERIES,
    flag=Flag.MEMORY,
    example=Example(
        {"crank_angle": "60°", "crank_radius": "0.15 m", "rod_length": "0.6 m", "engine_speed": "450 rpm"}, "5.9 rad/s",
        "Khurmi and Gupta, Theory of Machines, Ex. 15.5 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="motion",
    for_bench=True,
    basis="first term of the series",
    also=("rod_angular_velocity",),
)  # fmt: skip
def rod_turning_speed(crank_angle: Number, crank_radius: Number, rod_length: Number, engine_speed: Number) -> Number:
    """How fast the rod swings at a crank angle."""
    return engine_speed * crank_radius / rod_length * cos(crank_angle)


@figure(
    title="Turning acceleration of the rod, simple series",
    symbol="alpha_r",
    unit="rad/s²",
    formula="alpha_r = (pi*N/30)**2 * r/L * sin(theta)",
    inputs=(ANGLE, CRANK, ROD, SPEED),
    source=_SERIES,
    flag=Flag.MEMORY,
    example=Example(
        {"crank_angle": "60°", "crank_radius": "0.15 m", "rod_length": "0.6 m", "engine_speed": "450 rpm"}, "481 rad/s²",
        "Khurmi and Gupta, Theory of Machines, Ex. 15.5 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="motion",
    for_bench=True,
    basis="first term of the series, without its sign",
    also=("rod_angular_acceleration",),
)  # fmt: skip
def rod_turning_acceleration(crank_angle: Number, crank_radius: Number, rod_length: Number, engine_speed: Number) -> Number:
    """How fast the rod's swing changes at a crank angle."""
    return engine_speed**2 * crank_radius / rod_length * sin(crank_angle)
