"""Motion of the piston: how fast it goes and how hard it is pulled about."""

from __future__ import annotations

import math

from dossier.figures.engine import MEAN_BORE, ROD, STROKE
from dossier.figures.extremes import highest
from dossier.figures.figure import Example, Input, figure
from dossier.figures.travel import ANGLE
from dossier.model.quantity import Number, cos, implicit, sin, sqrt
from dossier.model.results import Flag

LIMIT_SPEED = Input("rpm_limit", "N", "rpm", "Highest engine speed", exact=True, also=("speed", "rpm"))
POWER_SPEED = Input("rpm_max_power", "N", "rpm", "Engine speed of greatest power", exact=True, also=("speed", "rpm"))
SPEED = Input("engine_speed", "N", "rpm", "Engine speed", exact=True, also=("speed", "rpm"))
_EXACT = "crank and rod as a right triangle on each side of the crank pin, exact"
_MEAN_SPEED_SEEN = "mean piston speed, twice the stroke in each turn (Wikipedia, Mean piston speed)"


def speed_factor(angle: float, ratio: float) -> float:
    """Piston speed over crank pin speed at an angle (rad); `ratio` is crank radius over rod length."""
    sine = math.sin(angle)
    return sine + ratio * sine * math.cos(angle) / math.sqrt(1 - (ratio * sine) ** 2)


def _mean_speed(stroke: Number, speed: Number) -> Number:
    return stroke * speed / math.pi


@figure(
    title="Mean piston speed at the rev limit",
    symbol="u_p",
    unit="m/s",
    formula="u_p = 2*S*N / 60000",
    inputs=(STROKE, LIMIT_SPEED),
    source=_MEAN_SPEED_SEEN,
    flag=Flag.SEEN,
    example=Example(
        {"stroke": "8.6025 cm", "rpm_limit": "3000 rpm"}, "8.60 m/s",
        "H. N. Gupta, Fundamentals of Internal Combustion Engines, Ex. 16.1 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="motion",
    usual=(None, 22),
    usual_source="Wikipedia, Mean piston speed: about 25 m/s is the extreme; 22 m/s for period engines is from memory",
    impossible=(0, None),
)  # fmt: skip
def mean_piston_speed(stroke: Number, rpm_limit: Number) -> Number:
    """Mean piston speed at the highest engine speed."""
    return _mean_speed(stroke, rpm_limit)


@figure(
    title="Mean piston speed at greatest power",
    symbol="u_P",
    unit="m/s",
    formula="u_P = 2*S*N / 60000",
    inputs=(STROKE, POWER_SPEED),
    source=_MEAN_SPEED_SEEN,
    flag=Flag.SEEN,
    example=Example({"stroke": "68 mm", "rpm_max_power": "9000 rpm"}, "20.40 m/s", "worked by hand: 2 times 0.068 m times 150 each second"),
    subject="motion",
    usual=(None, 22),
    usual_source="Wikipedia, Mean piston speed: about 25 m/s is the extreme; 22 m/s for period engines is from memory",
    impossible=(0, None),
)
def mean_piston_speed_at_power(stroke: Number, rpm_max_power: Number) -> Number:
    """Mean piston speed at the engine speed of greatest power."""
    return _mean_speed(stroke, rpm_max_power)


@figure(
    title="Piston speed corrected for bore to stroke",
    symbol="u_c",
    unit="m/s",
    formula="u_c = 2*S*N / 60000 / sqrt(S / B)",
    inputs=(MEAN_BORE, STROKE, LIMIT_SPEED),
    source="mean piston speed over the root of stroke to bore (Wikipedia, Mean piston speed: corrected piston speed)",
    flag=Flag.SEEN,
    example=Example(
        {"bore": "80 mm", "stroke": "45 mm", "rpm_limit": "12000 rpm"}, "24 m/s", "worked by hand: 18 m/s over 3/4, the root of 45/80"
    ),
    subject="motion",
    impossible=(0, None),
)
def corrected_piston_speed(bore: Number, stroke: Number, rpm_limit: Number) -> Number:
    """Mean piston speed made comparable between long and short strokes."""
    return _mean_speed(stroke, rpm_limit) / sqrt(stroke / bore)


_STEP = 0.001
"""Radians to either side over which the travel is differenced: the speed comes out within 2 parts in 10 million."""


@figure(
    title="Stroke for a mean piston speed",
    symbol="S_u",
    unit="mm",
    formula="S_u = 30000 * u_p / N",
    inputs=(Input("mean_piston_speed", "u_p", "m/s", "Mean piston speed"), SPEED),
    source=f"{_MEAN_SPEED_SEEN}; solved for the stroke",
    flag=Flag.SEEN,
    example=Example(
        {"mean_piston_speed": "9 m/s", "engine_speed": "3000 rpm"}, "90 mm",
        "H. N. Gupta, Fundamentals of Internal Combustion Engines, Ex. 11.3 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="motion",
    impossible=(0, None),
    for_bench=True,
    also=("stroke",),
)  # fmt: skip
def stroke_for_mean_speed(mean_piston_speed: Number, engine_speed: Number) -> Number:
    """Stroke at which the piston has the mean speed."""
    return math.pi * mean_piston_speed / engine_speed


def highest_factor(ratio: float) -> float:
    """Greatest piston speed over crank pin speed; `ratio` is crank radius over rod length. ValueError where the rod is too short."""
    if not 0 <= ratio < 1:
        raise ValueError("the rod is shorter than the crank")

    def travel(angle: float) -> float:
        return 1 - math.cos(angle) + (1 - math.sqrt(1 - (ratio * math.sin(angle)) ** 2)) / (ratio or 1)

    return highest(lambda angle: (travel(angle + _STEP) - travel(angle - _STEP)) / (2 * _STEP))


@figure(
    title="Highest piston speed",
    symbol="v_max",
    unit="m/s",
    formula="v_max = pi*N*S / 60000 * largest(sin(theta) + S*sin(theta)*cos(theta) / (2*sqrt(L**2 - (S/2*sin(theta))**2)))",
    inputs=(STROKE, ROD, LIMIT_SPEED),
    source=f"{_EXACT}: the greatest rate of travel over a turn",
    flag=Flag.GEOMETRY,
    example=Example(
        {"stroke": "68 mm", "rod_length": "130 mm", "rpm_limit": "9000 rpm"}, "33.126 m/s",
        "the exact position differentiated with thirty digits by another program", within=0.002,
    ),
    subject="motion",
    impossible=(0, None),
    basis="at the rev limit; looked for at whole degrees of the crank",
    closed=False,
    also=("max_piston_speed", "max_velocity"),
)  # fmt: skip
def highest_piston_speed(stroke: Number, rod_length: Number, rpm_limit: Number) -> Number:
    """Highest speed that the piston reaches, at the rev limit."""
    return stroke / 2 * rpm_limit * implicit(highest_factor, stroke / 2 / rod_length)


def fastest_at(ratio: float) -> float:
    """Crank angle (rad) of the greatest piston speed: where the exact acceleration is nought. `ratio` is crank radius over rod length."""
    if not 0 <= ratio < 1:
        raise ValueError("the rod is shorter than the crank")
    low, high = 0.0, math.pi / 2
    for _ in range(60):
        angle = (low + high) / 2
        sine = math.sin(angle)
        if math.cos(angle) + ratio * (math.cos(2 * angle) + ratio**2 * sine**4) / (1 - (ratio * sine) ** 2) ** 1.5 > 0:
            low = angle
        else:
            high = angle
    return (low + high) / 2


@figure(
    title="Crank angle of highest piston speed",
    symbol="theta_v",
    unit="°",
    formula="theta_v = angle(a)",
    inputs=(STROKE, ROD),
    source=f"{_EXACT}: where the acceleration is nought",
    flag=Flag.GEOMETRY,
    example=Example(
        {"stroke": "68 mm", "rod_length": "130 mm"}, "76.20 °", "the exact position differentiated with thirty digits by another program",
        within=0.02,
    ),
    subject="motion",
    decimals=1,
    closed=False,
    for_bench=True,
    also=("angle_of_max_speed",),
)  # fmt: skip
def angle_of_highest_speed(stroke: Number, rod_length: Number) -> Number:
    """Crank angle at which the piston is fastest, exact."""
    return implicit(fastest_at, stroke / 2 / rod_length)


@figure(
    title="Highest piston acceleration",
    symbol="a_max",
    unit="m/s²",
    formula="a_max = (pi*N/30)**2 * S/2000 * (1 + S/(2*L))",
    inputs=(STROKE, ROD, LIMIT_SPEED),
    source="second derivative of the exact travel at top dead centre",
    flag=Flag.GEOMETRY,
    example=Example(
        {"stroke": "68 mm", "rod_length": "130 mm", "rpm_limit": "9000 rpm"}, "38099.7 m/s²",
        "the exact position differentiated with thirty digits by another program", within=0.5,
    ),
    subject="motion",
    impossible=(0, None),
    decimals=0,
    also=("peak_acceleration_TDC",),
)  # fmt: skip
def highest_piston_acceleration(stroke: Number, rod_length: Number, rpm_limit: Number) -> Number:
    """Acceleration of the piston at top dead centre, at the rev limit."""
    return rpm_limit**2 * stroke / 2 * (1 + stroke / (2 * rod_length))


@figure(
    title="Piston speed at a crank angle",
    symbol="v",
    unit="m/s",
    formula="v = pi*N*S / 60000 * (sin(theta) + S*sin(theta)*cos(theta) / (2*sqrt(L**2 - (S/2*sin(theta))**2)))",
    inputs=(ANGLE, STROKE, ROD, SPEED),
    source=f"{_EXACT}: rate of travel",
    flag=Flag.GEOMETRY,
    example=Example(
        {"crank_angle": "20°", "stroke": "8.6025 cm", "rod_length": "17.2 cm", "engine_speed": "3000 rpm"}, "5.71 m/s",
        "H. N. Gupta, Fundamentals of Internal Combustion Engines, Ex. 16.1 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="motion",
    for_bench=True,
    also=("piston_speed",),
)  # fmt: skip
def piston_velocity(crank_angle: Number, stroke: Number, rod_length: Number, engine_speed: Number) -> Number:
    """Speed of the piston at a crank angle, away from the head."""
    crank = stroke / 2
    lean = sqrt(rod_length**2 - (crank * sin(crank_angle)) ** 2)
    return engine_speed * crank * sin(crank_angle) * (1 + crank * cos(crank_angle) / lean)


@figure(
    title="Piston acceleration at a crank angle",
    symbol="a",
    unit="m/s²",
    formula="a = (pi*N/30)**2 * S/2000 * (cos(theta) + S/2*(L**2*cos(2*theta) + (S/2)**2*sin(theta)**4)"
    " / sqrt(L**2 - (S/2*sin(theta))**2)**3)",
    inputs=(ANGLE, STROKE, ROD, SPEED),
    source=f"{_EXACT}: second derivative of travel",
    flag=Flag.GEOMETRY,
    example=Example(
        {"crank_angle": "40°", "stroke": "110 mm", "rod_length": "250 mm", "engine_speed": "1200 rpm"}, "701.16 m/s²",
        "the exact position differentiated numerically by another program",
    ),
    subject="motion",
    for_bench=True,
    decimals=1,
)  # fmt: skip
def piston_acceleration(crank_angle: Number, stroke: Number, rod_length: Number, engine_speed: Number) -> Number:
    """Acceleration of the piston at a crank angle, away from the head; exact."""
    crank = stroke / 2
    lean = sqrt(rod_length**2 - (crank * sin(crank_angle)) ** 2)
    swing = crank * (rod_length**2 * cos(2 * crank_angle) + crank**2 * sin(crank_angle) ** 4) / lean**3
    return engine_speed**2 * crank * (cos(crank_angle) + swing)
