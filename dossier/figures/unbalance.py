"""Unbalance of the crankshaft as a rotor: what the chosen grade permits, what was left, and the runout between centres."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.balance import BOB, PINS
from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, cos, largest, sin, sqrt
from dossier.model.results import Flag

GRADE = Input("balance_grade", "G", "mm/s", "Balance grade chosen", exact=True, also=("grade",))
SERVICE_SPEED = Input("balance_speed", "N", "rpm", "Service speed", exact=True, also=("speed",))
ROTOR = Input("rotor_mass", "m", "kg", "Crankshaft with its bob weights", also=("mass",))
LEFT_OVER = Input("residual_unbalance", "U_r", "g·mm", "Residual unbalance", over="plane")
_ISO = "ISO 1940-1, now ISO 21940-11: grade = specific unbalance times angular speed (a maker's table of grades, balancemaster.com)"


@figure(
    title="Crankshaft with its bob weights",
    symbol="m",
    unit="kg",
    formula="m = m_k + n_p * m_w / 1000",
    inputs=(Input("crank_mass", "m_k", "kg", "Crankshaft as finished"), PINS, BOB),
    source="sum of what turns on the balancing machine",
    flag=Flag.GEOMETRY,
    example=Example({"crank_mass": "4.792 kg", "crank_pins": "2", "bob_weight": "349.78 g"}, "5.4916 kg", "by hand: 4.792 + 0.69956"),
    subject="balance",
    impossible=(0, None),
    decimals=3,
)
def rotor_mass(crank_mass: Number, crank_pins: Number, bob_weight: Number) -> Number:
    """Mass of the rotor that is balanced."""
    return crank_mass + crank_pins * bob_weight


@figure(
    title="Permissible shift of the centre of mass",
    symbol="e_per",
    unit="µm",
    formula="e_per = 1000 * G / (pi*N/30)",
    inputs=(GRADE, SERVICE_SPEED),
    source=_ISO,
    flag=Flag.SEEN,
    example=Example(
        {"balance_grade": "6.3 mm/s", "balance_speed": "10000 rpm"}, "6.0 µm",
        "toolmaker's catalogue, p. K53, after ISO 1940-1", within=0.05,
    ),
    subject="balance",
    impossible=(0, None),
    basis="the grade is chosen, not natural",
    also=("specific",),
)
def permissible_shift(balance_grade: Number, balance_speed: Number) -> Number:
    """Permissible unbalance for each unit of mass (g·mm/kg, which is µm)."""
    return balance_grade / balance_speed


@figure(
    title="Permissible unbalance, both planes",
    symbol="U_per",
    unit="g·mm",
    formula="U_per = 1000 * G / (pi*N/30) * m",
    inputs=(GRADE, SERVICE_SPEED, ROTOR),
    source=_ISO,
    flag=Flag.SEEN,
    example=Example(
        {"balance_grade": "6.3 mm/s", "balance_speed": "10000 rpm", "rotor_mass": "2 kg"}, "12.0 g·mm",
        "toolmaker's catalogue, p. K53, after ISO 1940-1",
    ),
    subject="balance",
    impossible=(0, None),
    decimals=1,
    basis="the grade is chosen, not natural",
    also=("residual",),
)  # fmt: skip
def permissible_unbalance(balance_grade: Number, balance_speed: Number, rotor_mass: Number) -> Number:
    """Unbalance that the chosen grade permits for the whole rotor."""
    return balance_grade / balance_speed * rotor_mass


@figure(
    title="Permissible unbalance, each plane",
    symbol="U_pl",
    unit="g·mm",
    formula="U_pl = U_per / 2",
    inputs=(Input("permissible_unbalance", "U_per", "g·mm", "Permissible unbalance, both planes"),),
    source=f"{_ISO}; shared equally where the planes lie alike on both sides of the centre of mass",
    flag=Flag.SEEN,
    example=Example({"permissible_unbalance": "32.4 g·mm"}, "16.2 g·mm", "worked by hand: half of 32.4"),
    subject="balance",
    impossible=(0, None),
    decimals=1,
    basis="two planes, alike on both sides of the centre of mass",
)
def permissible_unbalance_per_plane(permissible_unbalance: Number) -> Number:
    """Unbalance permitted in each of two planes."""
    return permissible_unbalance / 2


@figure(
    title="Use of the permissible unbalance",
    symbol="k_U",
    unit="%",
    formula="k_U = largest(U_r) / U_pl * 100",
    inputs=(LEFT_OVER, Input("permissible_unbalance_per_plane", "U_pl", "g·mm", "Permissible unbalance, each plane")),
    source="larger plane over what is permitted in a plane",
    flag=Flag.GEOMETRY,
    example=Example(
        {"residual_unbalance": ("6.2 g·mm", "7.9 g·mm"), "permissible_unbalance_per_plane": "16.195 g·mm"}, "48.8 %",
        "worked by hand: 7.9 / 16.195",
    ),
    subject="balance",
    usual=(None, 100),
    usual_source="the grade chosen",
    says="more than the chosen grade permits",
    decimals=0,
)  # fmt: skip
def unbalance_use(residual_unbalance: Sequence[Number], permissible_unbalance_per_plane: Number) -> Number:
    """Residual unbalance of the worse plane as a share of what is permitted."""
    return largest(residual_unbalance) / permissible_unbalance_per_plane


@figure(
    title="Balance grade reached",
    symbol="G_r",
    unit="mm/s",
    formula="G_r = 2 * largest(U_r) / m * (pi*N/30) / 1000",
    inputs=(LEFT_OVER, ROTOR, SERVICE_SPEED),
    source=_ISO,
    flag=Flag.SEEN,
    example=Example(
        {"residual_unbalance": ("6.2 g·mm", "7.9 g·mm"), "rotor_mass": "5.49156 kg", "balance_speed": "10200 rpm"}, "3.073 mm/s",
        "worked by hand: 15.8 / 5491.56 times 1068.14",
    ),
    subject="balance",
    usual=(None, 16),
    usual_source="ISO 1940-1 by way of a maker's table of grades: 2.5 to 16 mm/s are met for crankshafts and drive parts",
    impossible=(0, None),
    decimals=1,
)  # fmt: skip
def balance_grade_reached(residual_unbalance: Sequence[Number], rotor_mass: Number, balance_speed: Number) -> Number:
    """Grade that the worse plane amounts to at service speed."""
    return 2 * largest(residual_unbalance) / rotor_mass * balance_speed


@figure(
    title="Largest crankshaft runout between centres",
    symbol="t_max",
    unit="mm",
    formula="t_max = largest(t)",
    inputs=(Input("crank_runout", "t", "mm", "Runout between centres", over="plane"),),
    source="larger of the readings on both sides",
    flag=Flag.GEOMETRY,
    example=Example({"crank_runout": ("0.015 mm", "0.020 mm")}, "0.020 mm", "the larger of two readings"),
    subject="balance",
    usual=(None, 0.02),
    usual_source="common practice, no source: 0.02 mm to race, strip at 0.05 mm",
    decimals=3,
)
def largest_crank_runout(crank_runout: Sequence[Number]) -> Number:
    """Larger runout of the main journals between centres."""
    return largest(crank_runout)


@figure(
    title="Mass that balances several in one plane",
    symbol="m_B",
    unit="g",
    formula="m_B = sqrt(sum(m*r*cos(theta))**2 + sum(m*r*sin(theta))**2) / R_c",
    inputs=(
        Input("masses", "m", "g", "Masses", name="plane_mass", over="part"),
        Input("radii", "r", "mm", "Radii of the masses", name="plane_mass_radius", over="part"),
        Input("angles", "theta", "°", "Angles of the masses", name="plane_mass_angle", over="part"),
        Input("correction_radius", "R_c", "mm", "Radius of the balance mass", also=("balance_radius",)),
    ),
    source="vector sum of mass times radius (Bevan, Theory of Machines, Ex. 14.2)",
    flag=Flag.SEEN,
    example=Example(
        {"masses": ("200 lb", "300 lb", "240 lb", "260 lb"), "radii": ("9 in", "7 in", "10 in", "12 in"),
         "angles": ("0°", "45°", "120°", "255°"), "correction_radius": "24 in"},
        "57.9 lb", "Bevan, Theory of Machines, Ex. 14.2 p. 491 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="balance",
    decimals=1,
    for_bench=True,
)  # fmt: skip
def plane_balance_mass(masses: Sequence[Number], radii: Sequence[Number], angles: Sequence[Number], correction_radius: Number) -> Number:
    """Mass at the correction radius, opposite the resultant, that balances several masses in one plane."""
    along, across = resultant(masses, radii, angles)
    return sqrt(along**2 + across**2) / correction_radius


def resultant(masses: Sequence[Number], radii: Sequence[Number], angles: Sequence[Number]) -> tuple[Number, Number]:
    """Sum of mass times radius along and across the zero of the angles (kg·m), for masses (kg), radii (m) and angles (rad)."""
    moments = [mass * radius for mass, radius in zip(masses, radii, strict=True)]
    along = [moment * cos(angle) for moment, angle in zip(moments, angles, strict=True)]
    across = [moment * sin(angle) for moment, angle in zip(moments, angles, strict=True)]
    return sum(along[1:], along[0]), sum(across[1:], across[0])


def primary_force(mass: Number, radius: Number, speed: Number, angle: Number) -> Number:
    """First-order force along the bore (N) of a reciprocating mass (kg) on a crank radius (m) at a speed (rad/s) and crank angle (rad)."""
    return mass * speed**2 * radius * cos(angle)


def secondary_force(mass: Number, radius: Number, rod: Number, speed: Number, angle: Number) -> Number:
    """Second-order force along the bore (N); `rod` is the rod length (m), the rest as for the first order."""
    return mass * speed**2 * radius * radius / rod * cos(2 * angle)


