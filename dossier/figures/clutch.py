"""The clutch: what it is asked to carry, what it can carry, and what is left."""

from __future__ import annotations

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

_HAND = "worked by hand"


@figure(
    title="Torque at the clutch",
    symbol="T_c",
    unit="N·m",
    formula="T_c = T_k * i_p",
    inputs=(
        Input("crank_torque_estimate", "T_k", "N·m", "Peak torque at the crankshaft, estimate"),
        Input("primary_ratio", "i_p", "", "Ratio before the clutch"),
    ),
    source="torque grows by the ratio before the clutch",
    flag=Flag.GEOMETRY,
    example=Example({"crank_torque_estimate": "36.667 N·m", "primary_ratio": "2.5"}, "91.67 N·m", f"{_HAND}: 36.667 x 2.5"),
    subject="drive line",
    basis="ESTIMATE: the torque at the crankshaft rests on an assumed efficiency; the clutch sits after the primary",
    impossible=(0, None),
    decimals=1,
)
def clutch_torque(crank_torque_estimate: Number, primary_ratio: Number) -> Number:
    """Torque that the clutch is asked to carry."""
    return crank_torque_estimate * primary_ratio


@figure(
    title="Clutch capacity",
    symbol="T_max",
    unit="N·m",
    formula="T_max = mu * n_s * F_s * n_f * r_m / 1000",
    inputs=(
        Input("clutch_friction", "mu", "", "Coefficient of friction, assumed"),
        Input("clutch_springs", "n_s", "", "Springs", exact=True),
        Input("clutch_spring_force", "F_s", "N", "Force of each spring, fitted"),
        Input("clutch_faces", "n_f", "", "Friction faces", exact=True),
        Input("clutch_mean_radius", "r_m", "mm", "Mean radius of the faces"),
    ),
    per=("state",),
    source="plate clutch with uniform wear, T = µ F n R_mean (huntsvilleengineers.com, plate clutch torque)",
    flag=Flag.SEEN,
    example=Example(
        {
            "clutch_friction": "0.14", "clutch_springs": "6", "clutch_spring_force": "150 N", "clutch_faces": "14",
            "clutch_mean_radius": "56 mm",
        },
        "98.8 N·m", f"{_HAND}: 0.14 x 900 x 14 x 0.056",
    ),
    subject="drive line",
    basis="the coefficient of friction is assumed unless it was tested",
    impossible=(0, None),
    decimals=1,
)  # fmt: skip
def clutch_capacity(
    clutch_friction: Number, clutch_springs: Number, clutch_spring_force: Number, clutch_faces: Number, clutch_mean_radius: Number
) -> Number:
    """Torque at which the clutch begins to slip."""
    return clutch_friction * clutch_springs * clutch_spring_force * clutch_faces * clutch_mean_radius


@figure(
    title="Clutch reserve",
    symbol="R_c",
    unit="",
    formula="R_c = T_max / T_c",
    inputs=(Input("clutch_capacity", "T_max", "N·m", "Clutch capacity"), Input("clutch_torque", "T_c", "N·m", "Torque at the clutch")),
    per=("state",),
    source="capacity over the torque asked for",
    flag=Flag.GEOMETRY,
    example=Example({"clutch_capacity": "98.784 N·m", "clutch_torque": "91.667 N·m"}, "1.078", f"{_HAND}: 98.784 / 91.667"),
    subject="drive line",
    usual=(1.3, None),
    usual_source="common practice, no source",
    basis="ESTIMATE: friction and efficiency are assumed",
    impossible=(0, None),
)
def clutch_reserve(clutch_capacity: Number, clutch_torque: Number) -> Number:
    """How many times the torque asked for the clutch can carry."""
    return clutch_capacity / clutch_torque


@figure(
    title="Stack thinner than wanted",
    symbol="Delta_h",
    unit="mm",
    formula="Delta_h = h_r - h",
    inputs=(
        Input("clutch_stack_required", "h_r", "mm", "Height of the stack wanted", exact=True),
        Input("clutch_stack_height", "h", "mm", "Height of the stack"),
    ),
    per=("state",),
    source="height wanted less height found: a thin stack takes load off the springs",
    flag=Flag.GEOMETRY,
    example=Example({"clutch_stack_required": "32.0 mm", "clutch_stack_height": "31.2 mm"}, "0.8 mm", f"{_HAND}: 32.0 - 31.2"),
    subject="drive line",
    usual=(None, 0),
    usual_source="by definition",
    says="the stack is thin",
    decimals=1,
)  # fmt: skip
def clutch_stack_shortfall(clutch_stack_required: Number, clutch_stack_height: Number) -> Number:
    """How much height the stack of plates lacks."""
    return clutch_stack_required - clutch_stack_height


@figure(
    title="Faces that the plates do not explain",
    symbol="Delta_n",
    unit="",
    formula="Delta_n = n_f - 2 * n_p",
    inputs=(
        Input("clutch_faces", "n_f", "", "Friction faces", exact=True), Input("clutch_plates", "n_p", "", "Friction plates", exact=True),
    ),
    source="a friction plate lined on both sides has two faces",
    flag=Flag.GEOMETRY,
    example=Example({"clutch_faces": "14", "clutch_plates": "7"}, "0", f"{_HAND}: 14 - 2 x 7"),
    subject="drive line",
    usual=(0, 0),
    usual_source="by definition, where every plate is lined on both sides",
    says="plates and faces do not agree",
    decimals=0,
    quiet=True,
)  # fmt: skip
def clutch_faces_unexplained(clutch_faces: Number, clutch_plates: Number) -> Number:
    """Faces counted less two for each friction plate; it should be nought."""
    return clutch_faces - 2 * clutch_plates
