"""Where the weight lies: share of the front wheel, centre of gravity along and above the ground, and whether the scales agree."""

from __future__ import annotations

from dossier.figures.chassis import RADIUS, REAR, WHEELBASE
from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, asin, tan
from dossier.model.results import Flag

FRONT = Input("axle_load_front", "W_f", "kg", "Load on the front wheel")
BACK = Input("axle_load_rear", "W_r", "kg", "Load on the rear wheel")
_LEVERS = "balance of moments about the axles"
_HAND = "worked by hand"


@figure(
    title="Share of the front wheel",
    symbol="w_f",
    unit="%",
    formula="w_f = 100 * W_f / (W_f + W_r)",
    inputs=(FRONT, BACK),
    per=("state",),
    source="by definition",
    flag=Flag.GEOMETRY,
    example=Example({"axle_load_front": "56.3 kg", "axle_load_rear": "63.1 kg"}, "47.15 %", f"{_HAND}: 56.3 / 119.4"),
    subject="chassis",
    usual=(44, 52),
    usual_source="common practice, no source",
    impossible=(0, 100),
    decimals=1,
)
def front_weight_share(axle_load_front: Number, axle_load_rear: Number) -> Number:
    """Share of the weight that the front wheel bears."""
    return axle_load_front / (axle_load_front + axle_load_rear)


@figure(
    title="Centre of gravity behind the front axle",
    symbol="b",
    unit="mm",
    formula="b = W_r / (W_f + W_r) * p",
    inputs=(FRONT, BACK, WHEELBASE),
    per=("state",),
    source=_LEVERS,
    flag=Flag.GEOMETRY,
    example=Example(
        {"axle_load_front": "1200 kg", "axle_load_rear": "800 kg", "wheelbase": "2.5 m"}, "1000 mm",
        "Khurmi and Gupta, Theory of Machines, Ex. 14.12 p. 500, first step, turned round (FOSSEE Python Textbook Companions)",
    ),
    subject="chassis",
    impossible=(0, None),
    decimals=0,
)  # fmt: skip
def centre_of_gravity_behind_front(axle_load_front: Number, axle_load_rear: Number, wheelbase: Number) -> Number:
    """How far the centre of gravity lies behind the front axle."""
    return axle_load_rear / (axle_load_front + axle_load_rear) * wheelbase


@figure(
    title="Height of the centre of gravity",
    symbol="h",
    unit="mm",
    formula="h = (R_f + R_r) / 2 + Delta_W * p / ((W_f + W_r) * tan(asin(H / p)))",
    inputs=(
        RADIUS, REAR, WHEELBASE, FRONT, BACK,
        Input("lift_front_load_change", "Delta_W", "kg", "Load that the front wheel gains by the lift"),
        Input("lift_rear", "H", "mm", "Lift of the rear axle"),
    ),
    source="axle-lift method, as in ISO 10392:2011 (title and method seen, not the text): rear axle lifted, suspension locked; "
    "the axles stand on average at the mean of the wheel radii",
    flag=Flag.SEEN,
    example=Example(
        {
            "front_wheel_radius": "310 mm", "rear_wheel_radius": "310 mm", "wheelbase": "1380 mm", "axle_load_front": "92.5 kg",
            "axle_load_rear": "92.5 kg", "lift_front_load_change": "7.464 kg", "lift_rear": "300 mm",
        },
        "560.0 mm", "rigid body of known centre turned about its front axle, worked by vectors: 560 mm", within=0.6,
    ),
    subject="chassis",
    basis="suspension locked, rear axle lifted",
    impossible=(0, None),
    decimals=0,
)  # fmt: skip
def centre_of_gravity_height(
    front_wheel_radius: Number,
    rear_wheel_radius: Number,
    wheelbase: Number,
    axle_load_front: Number,
    axle_load_rear: Number,
    lift_front_load_change: Number,
    lift_rear: Number,
) -> Number:
    """Height of the centre of gravity above the ground; ValueError when the lift is more than the wheelbase."""
    whole = axle_load_front + axle_load_rear
    return (front_wheel_radius + rear_wheel_radius) / 2 + lift_front_load_change * wheelbase / (whole * tan(asin(lift_rear / wheelbase)))


@figure(
    title="Height of the centre of gravity over the wheelbase",
    symbol="h/p",
    unit="%",
    formula="h/p = 100 * h / p",
    inputs=(Input("centre_of_gravity_height", "h", "mm", "Height of the centre of gravity"), WHEELBASE),
    source="by definition",
    flag=Flag.GEOMETRY,
    example=Example({"centre_of_gravity_height": "494 mm", "wheelbase": "1312 mm"}, "37.7 %", f"{_HAND}: 494 / 1312"),
    subject="chassis",
    usual=(33, 45),
    usual_source="common practice, no source; published means of 34 to 39 % (Foale and Cossalter, at nathanarose.com, 24 February 2018)",
    impossible=(0, None),
    decimals=1,
)
def centre_of_gravity_height_share(centre_of_gravity_height: Number, wheelbase: Number) -> Number:
    """Height of the centre of gravity as a share of the wheelbase."""
    return centre_of_gravity_height / wheelbase


@figure(
    title="Wheel loads less the scale's total",
    symbol="Delta_W",
    unit="kg",
    formula="Delta_W = W_f + W_r - m",
    inputs=(FRONT, BACK, Input("mass", "m", "kg", "Mass of the machine")),
    source="the wheels together bear the whole machine",
    flag=Flag.GEOMETRY,
    example=Example({"axle_load_front": "56.3 kg", "axle_load_rear": "63.1 kg", "mass": "119.4 kg"}, "0.0 kg", f"{_HAND}: 56.3 + 63.1"),
    subject="chassis",
    nought=True,
    decimals=1,
    quiet=True,
)
def weighing_difference(axle_load_front: Number, axle_load_rear: Number, mass: Number) -> Number:
    """By how much the wheel loads together differ from the machine's mass; it should be nought within its uncertainty."""
    return axle_load_front + axle_load_rear - mass


@figure(
    title="Wheel loads with rider less machine and rider",
    symbol="Delta_W",
    unit="kg",
    formula="Delta_W = W_f + W_r - m - m_r",
    inputs=(
        Input("axle_load_front", "W_f", "kg", "Load on the front wheel, with rider", at=(("state", "with rider"),)),
        Input("axle_load_rear", "W_r", "kg", "Load on the rear wheel, with rider", at=(("state", "with rider"),)),
        Input("mass", "m", "kg", "Mass of the machine"),
        Input("rider_mass", "m_r", "kg", "Mass of the rider"),
    ),
    source="the wheels together bear machine and rider",
    flag=Flag.GEOMETRY,
    example=Example(
        {"axle_load_front": "89.2 kg", "axle_load_rear": "103.2 kg", "mass": "119.4 kg", "rider_mass": "73.0 kg"}, "0.0 kg",
        f"{_HAND}: 192.4 - 192.4",
    ),
    subject="chassis",
    nought=True,
    decimals=1,
    quiet=True,
)  # fmt: skip
def weighing_difference_with_rider(axle_load_front: Number, axle_load_rear: Number, mass: Number, rider_mass: Number) -> Number:
    """By how much the wheel loads with rider differ from machine and rider; it should be nought within its uncertainty."""
    return axle_load_front + axle_load_rear - mass - rider_mass
