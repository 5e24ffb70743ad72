"""Weighing on the bench: axle loads and centre of gravity from each other, and an axle lifted."""

from __future__ import annotations

from typing import Any

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, sqrt
from dossier.model.results import Flag

BASE = Input("wheelbase", "p", "mm", "Wheelbase", also=("wheel_distance",))
LIFT = Input("lift", "l", "mm", "Lift of the axle")
BEHIND = Input("centre_behind_front", "b", "mm", "Centre of gravity behind the front axle", also=("CG_behind_front_axle",))
WEIGHED = Input("mass", "m", "kg", "Mass")
GRAVITY = Input("gravity", "g", "m/s²", "Fall of a free body", exact=True, constant="9.80665 m/s²", also=("g",))
_MOMENTS = "balance of moments about the axles"
_KHURMI = "Khurmi and Gupta, Theory of Machines, Ex. 14.12 p. 500 (FOSSEE Python Textbook Companions)"
_CAR = {"mass": "2000 kg", "gravity": "9.81 m/s²", "centre_behind_front": "1.0 m", "wheelbase": "2.5 m"}


def _bench(**facts: Any) -> dict[str, Any]:
    common: dict[str, Any] = {"flag": Flag.GEOMETRY, "subject": "chassis", "for_bench": True, "source": _MOMENTS, "decimals": 1}
    return {**common, **facts}


@figure(
    **_bench(
        title="Load of the rear axle",
        symbol="F_r",
        unit="N",
        formula="F_r = m * g * b / p",
        inputs=(WEIGHED, GRAVITY, BEHIND, BASE),
        example=Example(_CAR, "7848 N", _KHURMI),
        also=("rear_axle",),
        decimals=0,
    )
)
def load_of_rear_axle(mass: Number, gravity: Number, centre_behind_front: Number, wheelbase: Number) -> Number:
    """Force on the ground under the rear axle."""
    return mass * gravity * centre_behind_front / wheelbase


@figure(
    **_bench(
        title="Load of the front axle",
        symbol="F_f",
        unit="N",
        formula="F_f = m * g * (1 - b / p)",
        inputs=(WEIGHED, GRAVITY, BEHIND, BASE),
        example=Example(_CAR, "11772 N", _KHURMI),
        also=("front_axle",),
        decimals=0,
    )
)
def load_of_front_axle(mass: Number, gravity: Number, centre_behind_front: Number, wheelbase: Number) -> Number:
    """Force on the ground under the front axle."""
    return mass * gravity * (1 - centre_behind_front / wheelbase)


@figure(
    **_bench(
        title="Centre of gravity from the loaded pair of wheels",
        symbol="b_1",
        unit="mm",
        formula="b_1 = m_1 / m * p",
        inputs=(
            Input("single_load", "m_1", "kg", "Load of the single wheel", also=("nose_reading",)),
            Input("total_load", "m", "kg", "Load of all wheels", also=("total",)),
            BASE,
        ),
        flag=Flag.SEEN,
        source="FAA, Aircraft Weight and Balance Handbook, chapter 10: moments about the pair of wheels",
        also=("CG_ahead_of_main_wheels",),
        example=Example(
            {"single_load": "340 lb", "total_load": "2006 lb", "wheelbase": "78 in"},
            "13.2 in",
            "FAA, Aircraft Weight and Balance Handbook, chapter 10 (flight-study.com)",
        ),
    )
)
def centre_from_pair(single_load: Number, total_load: Number, wheelbase: Number) -> Number:
    """How far the centre of gravity lies from a pair of wheels towards the single one."""
    return single_load / total_load * wheelbase


@figure(
    **_bench(
        title="Wheelbase on the ground with one axle lifted",
        symbol="p_h",
        unit="mm",
        formula="p_h = sqrt(p**2 - l**2)",
        inputs=(BASE, LIFT),
        source="the lifted machine is the long side of a right triangle",
        also=("horizontal_distance",),
        example=Example(
            {"wheelbase": "110 in", "lift": "18 in"}, "108.5 in", "a forum of race engineers, Center of gravity height again (2009)"
        ),
    )
)
def lifted_wheelbase(wheelbase: Number, lift: Number) -> Number:
    """Distance of the axles along the ground with one of them lifted; ValueError where the lift is longer than the machine."""
    return sqrt(wheelbase**2 - lift**2)


@figure(
    **_bench(
        title="Height of the centre of gravity from two weighings",
        symbol="h",
        unit="mm",
        decimals=0,
        formula="h = R + (m_2 - m_1) * p * sqrt(p**2 - l**2) / (m * l)",
        inputs=(
            Input("axle_height", "R", "mm", "Height of the axles, wheels alike"),
            Input("front_load_level", "m_1", "kg", "Front load, level"),
            Input("front_load_lifted", "m_2", "kg", "Front load with the rear axle lifted"),
            Input("total_load", "m", "kg", "Load of all wheels", also=("total",)),
            BASE,
            LIFT,
        ),
        source="axle-lift method, as in ISO 10392:2011 (title and method seen, not the text); suspension locked",
        flag=Flag.SEEN,
        also=("CG_height",),
        example=Example(
            {
                "axle_height": "310.0 mm",
                "front_load_level": "92.5 kg",
                "front_load_lifted": "99.964 kg",
                "total_load": "185.0 kg",
                "wheelbase": "1380.0 mm",
                "lift": "300.0 mm",
            },
            "560 mm",
            "a rigid body turned about its front axle by vectors, 560 mm high",
        ),
        impossible=(0, None),
    )
)
def centre_height_of_weighings(
    axle_height: Number, front_load_level: Number, front_load_lifted: Number, total_load: Number, wheelbase: Number, lift: Number
) -> Number:
    """Height of the centre of gravity from the front load gained as the rear axle is lifted."""
    gained = front_load_lifted - front_load_level
    return axle_height + gained * wheelbase * sqrt(wheelbase**2 - lift**2) / (total_load * lift)
