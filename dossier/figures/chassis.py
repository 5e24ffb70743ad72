"""Steering geometry as it was measured and as it stands with the wheels now fitted: rake, trail, wheelbase."""

from __future__ import annotations

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, atan, cos, sin, sqrt
from dossier.model.results import Flag

RAKE = Input("rake", "epsilon", "°", "Rake, from the vertical")
RADIUS = Input("front_wheel_radius", "R_f", "mm", "Radius of the front wheel, loaded", also=("wheel_radius",))
OFFSET = Input("fork_offset", "d", "mm", "Fork offset", also=("offset",))
WHEELBASE = Input("wheelbase", "p", "mm", "Wheelbase")
REAR = Input("rear_wheel_radius", "R_r", "mm", "Radius of the rear wheel, loaded")
RADIUS_THEN = Input("front_wheel_radius_as_measured", "R_f0", "mm", "Radius of the front wheel when the geometry was measured")
REAR_THEN = Input("rear_wheel_radius_as_measured", "R_r0", "mm", "Radius of the rear wheel when the geometry was measured")
CHANGE = Input("rake_change", "delta", "°", "Change of rake by the wheels fitted", constant="0°")
_HAND = "worked by hand"
_STEERING = "steering axis cut with the ground; the formula stands in Wikipedia, Bicycle and motorcycle geometry"
_SISTER = "steering axis cut with the ground by vectors, an invented front end"


def _trail(radius: Number, rake: Number, offset: Number) -> Number:
    return (radius * sin(rake) - offset) / cos(rake)


@figure(
    title="Change of rake by the wheels fitted",
    symbol="delta",
    unit="°",
    formula="delta = atan(((R_f - R_f0) - (R_r - R_r0)) / p)",
    inputs=(RADIUS, RADIUS_THEN, REAR, REAR_THEN, WHEELBASE),
    source="the machine turned about one axle by the difference in height; a smaller front wheel makes the fork steeper",
    flag=Flag.GEOMETRY,
    example=Example(
        {
            "front_wheel_radius": "311.3 mm", "front_wheel_radius_as_measured": "298.6 mm", "rear_wheel_radius": "304.6 mm",
            "rear_wheel_radius_as_measured": "304.6 mm", "wheelbase": "1312 mm",
        },
        "0.55 °", f"{_HAND}: 12.7 / 1312 = 0.00968 radians",
    ),
    subject="chassis",
    usual=(-0.7, 0.7),
    usual_source="common practice, no source",
    quiet=True,
)  # fmt: skip
def rake_change(
    front_wheel_radius: Number,
    front_wheel_radius_as_measured: Number,
    rear_wheel_radius: Number,
    rear_wheel_radius_as_measured: Number,
    wheelbase: Number,
) -> Number:
    """Change of rake against the day it was measured, by wheels or tyres of other size; positive: slacker."""
    front = front_wheel_radius - front_wheel_radius_as_measured
    return atan((front - (rear_wheel_radius - rear_wheel_radius_as_measured)) / wheelbase)


@figure(
    title="Rake with the wheels fitted",
    symbol="epsilon_w",
    unit="°",
    formula="epsilon_w = epsilon + delta",
    inputs=(RAKE, CHANGE),
    source="rake as measured, and its change by the wheels",
    flag=Flag.GEOMETRY,
    example=Example({"rake": "27.2°", "rake_change": "0.5546°"}, "27.75 °", f"{_HAND}: 27.2 + 0.5546"),
    subject="chassis",
    decimals=1,
)
def rake_in_use(rake: Number, rake_change: Number) -> Number:
    """Rake with the wheels that are fitted, from the vertical."""
    return rake + rake_change


@figure(
    title="Trail",
    symbol="a",
    unit="mm",
    formula="a = (R_f * sin(epsilon + delta) - d) / cos(epsilon + delta)",
    inputs=(RADIUS, RAKE, OFFSET, CHANGE),
    source=_STEERING,
    flag=Flag.SEEN,
    example=Example(
        {"front_wheel_radius": "305 mm", "rake": "26.5°", "fork_offset": "60 mm", "rake_change": "0°"}, "85.02 mm", _SISTER, within=0.006
    ),
    subject="chassis",
    usual=(75, 115),
    usual_source="common practice, no source",
    impossible=(0, None),
    decimals=1,
)
def trail(front_wheel_radius: Number, rake: Number, fork_offset: Number, rake_change: Number) -> Number:
    """Distance on the ground from the steering axis to the middle of the tyre's contact."""
    return _trail(front_wheel_radius, rake + rake_change, fork_offset)


@figure(
    title="Normal trail",
    symbol="a_n",
    unit="mm",
    formula="a_n = R_f * sin(epsilon + delta) - d",
    inputs=(RADIUS, RAKE, OFFSET, CHANGE),
    source=f"{_STEERING}; the trail times the cosine of the rake",
    flag=Flag.SEEN,
    example=Example(
        {"front_wheel_radius": "305 mm", "rake": "26.5°", "fork_offset": "60 mm", "rake_change": "0°"}, "76.09 mm", _SISTER, within=0.006
    ),
    subject="chassis",
    impossible=(0, None),
    decimals=1,
)
def normal_trail(front_wheel_radius: Number, rake: Number, fork_offset: Number, rake_change: Number) -> Number:
    """Distance from the middle of the tyre's contact to the steering axis, square to it."""
    return front_wheel_radius * sin(rake + rake_change) - fork_offset


@figure(
    title="Change of trail by the wheels fitted",
    symbol="Delta_a",
    unit="mm",
    formula="Delta_a = (R_f * sin(epsilon + delta) - d) / cos(epsilon + delta) - (R_f0 * sin(epsilon) - d) / cos(epsilon)",
    inputs=(RADIUS, RADIUS_THEN, RAKE, OFFSET, Input("rake_change", "delta", "°", "Change of rake by the wheels fitted")),
    source="trail with the wheels fitted less that of the day the geometry was measured",
    flag=Flag.GEOMETRY,
    example=Example(
        {
            "front_wheel_radius": "311.3 mm", "front_wheel_radius_as_measured": "298.6 mm", "rake": "27.2°", "fork_offset": "47 mm",
            "rake_change": "0.55459°",
        },
        "10.09 mm", f"{_HAND}: 97.969 / 0.88496 = 110.704 less 89.490 / 0.88942 = 100.616",
    ),
    subject="chassis",
    usual=(-10, 10),
    usual_source="common practice, no source",
    decimals=1,
    quiet=True,
)  # fmt: skip
def trail_change(
    front_wheel_radius: Number, front_wheel_radius_as_measured: Number, rake: Number, fork_offset: Number, rake_change: Number
) -> Number:
    """Change of trail against the day the geometry was measured."""
    now = _trail(front_wheel_radius, rake + rake_change, fork_offset)
    return now - _trail(front_wheel_radius_as_measured, rake, fork_offset)


@figure(
    title="Wheelbase with the wheels fitted",
    symbol="p_w",
    unit="mm",
    formula="p_w = sqrt(p**2 + (R_r0 - R_f0)**2 - (R_r - R_f)**2) + s_a",
    inputs=(
        WHEELBASE, RADIUS, RADIUS_THEN, REAR, REAR_THEN,
        Input("axle_slot_change", "s_a", "mm", "Axle moved back in its slot", constant="0 mm"),
    ),
    source="the distance from axle to axle stays, the heights of the axles change",
    flag=Flag.GEOMETRY,
    example=Example(
        {
            "wheelbase": "1312 mm", "front_wheel_radius": "311.3 mm", "front_wheel_radius_as_measured": "298.6 mm",
            "rear_wheel_radius": "304.6 mm", "rear_wheel_radius_as_measured": "304.6 mm", "axle_slot_change": "0 mm",
        },
        "1311.997 mm", f"{_HAND}: the root of 1,721,344 + 36 - 44.89",
    ),
    subject="chassis",
    impossible=(0, None),
    decimals=1,
    quiet=True,
)  # fmt: skip
def wheelbase_in_use(
    wheelbase: Number,
    front_wheel_radius: Number,
    front_wheel_radius_as_measured: Number,
    rear_wheel_radius: Number,
    rear_wheel_radius_as_measured: Number,
    axle_slot_change: Number,
) -> Number:
    """Distance of the axles along the ground with the wheels that are fitted."""
    then = rear_wheel_radius_as_measured - front_wheel_radius_as_measured
    now = rear_wheel_radius - front_wheel_radius
    return sqrt(wheelbase**2 + then**2 - now**2) + axle_slot_change
