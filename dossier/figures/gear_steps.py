"""Steps between the gears, and where a change up lands."""

from __future__ import annotations

from dossier.figures.drive_line import RATIO
from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

NEXT_RATIO = Input("next_gear_ratio", "i_n", "", "Ratio of the next gear", name="gear_ratio", next="gear", also=("higher_gear",))
_HAND = "worked by hand"


@figure(
    title="Step to the next gear",
    symbol="phi_k",
    unit="",
    formula="phi_k = i_k / i_n",
    inputs=(RATIO, NEXT_RATIO),
    per=("gear",),
    source="ratio of the gear over that of the next one up",
    flag=Flag.GEOMETRY,
    example=Example(
        {"gear_ratio": "4.615", "next_gear_ratio": "2.919"}, "1.581",
        "community.goodsam.com, table of a ten-speed gearbox: 58.1 per cent between first and second",
    ),
    subject="drive line",
    usual=(1.05, 1.5),
    usual_source="common practice, no source",
    impossible=(1, None),
    decimals=3,
)  # fmt: skip
def gear_step(gear_ratio: Number, next_gear_ratio: Number) -> Number:
    """By how much the engine speed falls when the next gear is taken, as a ratio."""
    return gear_ratio / next_gear_ratio


@figure(
    title="Engine speed gained in the change down",
    symbol="r_k",
    unit="%",
    formula="r_k = 100 * (i_k / i_n - 1)",
    inputs=(RATIO, NEXT_RATIO),
    per=("gear",),
    source="road speed is the same before and after the change",
    flag=Flag.GEOMETRY,
    example=Example(
        {"gear_ratio": "4.615", "next_gear_ratio": "2.919"}, "58.10 %", "community.goodsam.com, table of a ten-speed gearbox",
    ),
    subject="drive line",
    decimals=1,
    also=("rpm_rise_on_downshift",),
)  # fmt: skip
def rpm_rise(gear_ratio: Number, next_gear_ratio: Number) -> Number:
    """Share by which the engine speed rises when the lower gear is taken again."""
    return gear_ratio / next_gear_ratio - 1


@figure(
    title="Next step over this step",
    symbol="psi_k",
    unit="",
    formula="psi_k = phi_n / phi_k",
    inputs=(
        Input("gear_step", "phi_k", "", "Step to the next gear"),
        Input("next_gear_step", "phi_n", "", "Step after it", name="gear_step", next="gear"),
    ),
    per=("gear",),
    source="steps become smaller towards top gear, for there the engine has least to spare (common practice, no source)",
    flag=Flag.PRACTICE,
    example=Example({"gear_step": "1.243", "next_gear_step": "1.152"}, "0.927", f"{_HAND}: 1.152 / 1.243 = 0.9268"),
    subject="drive line",
    usual=(None, 1),
    usual_source="common practice, no source",
    impossible=(0, None),
    decimals=3,
)  # fmt: skip
def step_progression(gear_step: Number, next_gear_step: Number) -> Number:
    """How the next step compares with this one; above one the next step is the larger."""
    return next_gear_step / gear_step


@figure(
    title="Engine speed lost in the change up",
    symbol="Delta_n",
    unit="rpm",
    formula="Delta_n = n * (1 - i_n / i_k)",
    inputs=(Input("rpm_limit", "n", "rpm", "Engine speed at the change", exact=True), RATIO, NEXT_RATIO),
    per=("gear",),
    source="road speed is the same before and after the change",
    flag=Flag.GEOMETRY,
    example=Example(
        {"rpm_limit": "10200 rpm", "gear_ratio": "1.9333", "next_gear_ratio": "1.5556"}, "1993 rpm", f"{_HAND}: 10,200 x 0.19537",
    ),
    subject="drive line",
    basis="at the limit of engine speed",
    decimals=0,
)  # fmt: skip
def rpm_drop(rpm_limit: Number, gear_ratio: Number, next_gear_ratio: Number) -> Number:
    """Engine speed lost when the next gear is taken at the limit."""
    return rpm_limit * (1 - next_gear_ratio / gear_ratio)


@figure(
    title="Above the torque peak after the change up",
    symbol="Delta_l",
    unit="rpm",
    formula="Delta_l = n * i_n / i_k - n_T",
    inputs=(
        Input("rpm_limit", "n", "rpm", "Engine speed at the change", exact=True), RATIO, NEXT_RATIO,
        Input("rpm_max_torque", "n_T", "rpm", "Engine speed at greatest torque", exact=True),
    ),
    per=("gear",),
    source="engine speed after the change less that of the torque peak; negative: it lands below the peak",
    flag=Flag.GEOMETRY,
    example=Example(
        {"rpm_limit": "10200 rpm", "gear_ratio": "1.087", "next_gear_ratio": "1", "rpm_max_torque": "8600 rpm"}, "784 rpm",
        f"{_HAND}: 10,200 / 1.087 = 9383.6",
    ),
    subject="drive line",
    decimals=0,
    quiet=True,
)  # fmt: skip
def landing_above_torque_peak(rpm_limit: Number, gear_ratio: Number, next_gear_ratio: Number, rpm_max_torque: Number) -> Number:
    """By how much the engine speed after a change at the limit lies above the torque peak."""
    return rpm_limit * next_gear_ratio / gear_ratio - rpm_max_torque
