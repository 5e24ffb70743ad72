"""Inertia of lightened parts: what the engine no longer has to spin up, and what that is worth as mass on the road."""

from __future__ import annotations

import math

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, sqrt
from dossier.model.results import Flag

_KINETIC = "equal energy of motion: half the inertia times turning speed squared, and half the mass times road speed squared"
_ASIDE = "group origin cause"
_SPORT_RIDER = "Sport Rider magazine, Gyroscopic effects (inertia of ring and disc)"


@figure(
    title="Inertia taken off",
    symbol="Delta_J",
    unit="kg·m²",
    formula="Delta_J = (m_b - m_a)/1000 * (rho/1000)**2",
    inputs=(
        Input("mass_before", "m_b", "g", "Mass before", mean=_ASIDE, file="parts.yaml"),
        Input("mass_after", "m_a", "g", "Mass after", mean=_ASIDE, file="parts.yaml"),
        Input("mass_removed_radius", "rho", "mm", "Radius at which metal was taken off"),
    ),
    per=("part",),
    source=f"mass times the square of its radius of gyration ({_SPORT_RIDER})",
    flag=Flag.SEEN,
    example=Example(
        {"mass_before": "1142 g", "mass_after": "874 g", "mass_removed_radius": "63 mm"}, "0.001064 kg·m²",
        "worked by hand: 0.268 times 0.003969",
    ),
    subject="motion",
    decimals=5,
    basis="radius of gyration of the metal removed; a selector drum turns only while changing, so lightening it spares the engine nothing",
    quiet=True,
)  # fmt: skip
def inertia_change(mass_before: Number, mass_after: Number, mass_removed_radius: Number) -> Number:
    """Inertia that went with the metal taken off a turning part."""
    return (mass_before - mass_after) * mass_removed_radius**2


@figure(
    title="Radius of gyration of a disc",
    symbol="rho_d",
    unit="mm",
    formula="rho_d = D / 2 / sqrt(2)",
    inputs=(Input("disc_diameter", "D", "mm", "Diameter of the disc"),),
    per=("part",),
    source=f"inertia of a plain disc is half its mass times its radius squared ({_SPORT_RIDER})",
    flag=Flag.SEEN,
    example=Example({"disc_diameter": "100 mm"}, "35.36 mm", "worked by hand: 50 over the root of two"),
    subject="motion",
    decimals=1,
    quiet=True,
)
def disc_gyration_radius(disc_diameter: Number) -> Number:
    """Radius at which the disc's mass would have the disc's inertia."""
    return disc_diameter / 2 / sqrt(2)


@figure(
    title="Mass on the road that the inertia amounts to",
    symbol="m_eq",
    unit="kg",
    formula="m_eq = Delta_J * (i_s * z_g/z_h * z_w/z_k * 2*pi / (C/1000))**2",
    inputs=(
        Input("inertia_change", "Delta_J", "kg·m²", "Inertia taken off"),
        Input("shaft_ratio", "i_s", "", "Ratio from the part's shaft to the gearbox mainshaft", exact=True, constant="1"),
        Input("gear_driven_teeth", "z_g", "", "Teeth of the driven gear", exact=True),
        Input("gear_driver_teeth", "z_h", "", "Teeth of the driving gear", exact=True),
        Input("final_driven_teeth", "z_w", "", "Teeth of the wheel sprocket", exact=True),
        Input("final_driver_teeth", "z_k", "", "Teeth of the gearbox sprocket", exact=True),
        Input("rear_rolling_circumference", "C", "mm", "Rolling circumference of the rear wheel, loaded"),
    ),
    per=("part", "gear", "final"),
    source=_KINETIC,
    flag=Flag.GEOMETRY,
    example=Example(
        {"inertia_change": "0.001063692 kg·m²", "shaft_ratio": "1", "gear_driven_teeth": "29", "gear_driver_teeth": "15",
         "final_driven_teeth": "40", "final_driver_teeth": "17", "rear_rolling_circumference": "1905 mm"},
        "0.2395 kg", "worked by hand: ratio 4.54902, wheel radius 0.303190 m; their quotient squared is 225.117",
    ),
    subject="motion",
    quiet=True,
)  # fmt: skip
def equivalent_mass(
    inertia_change: Number, shaft_ratio: Number, gear_driven_teeth: Number, gear_driver_teeth: Number, final_driven_teeth: Number,
    final_driver_teeth: Number, rear_rolling_circumference: Number,
) -> Number:  # fmt: skip
    """Mass that would be as hard to speed up on the road as the inertia is on its shaft, in a gear."""
    ratio = shaft_ratio * gear_driven_teeth / gear_driver_teeth * final_driven_teeth / final_driver_teeth
    return inertia_change * (ratio * 2 * math.pi / rear_rolling_circumference) ** 2
