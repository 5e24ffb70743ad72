"""From the crankshaft to the road: ratios, road speeds, and slip from a log."""

from __future__ import annotations

from math import pi

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

CIRCUMFERENCE = Input("rear_rolling_circumference", "C", "m", "Rolling circumference of the rear wheel, loaded", also=("circumference",))
OVERALL = Input("overall_ratio", "i", "", "Overall ratio")
RATIO = Input("gear_ratio", "i_k", "", "Ratio of the gear", also=("lower_gear",))
_TEETH = "teeth of the driven wheel over teeth of the driver"
_HAND = "worked by hand"
_KART = "diygokarts.com, post 122212: 11 and 60 teeth"


def _teeth(param: str, symbol: str, title: str, *also: str) -> Input:
    return Input(param, symbol, "", title, exact=True, also=also)


@figure(
    title="Primary ratio",
    symbol="i_p",
    unit="",
    formula="i_p = z_2 / z_1",
    inputs=(
        _teeth("primary_driver_teeth", "z_1", "Teeth of the primary driver"),
        _teeth("primary_driven_teeth", "z_2", "Teeth of the primary driven"),
    ),
    source=_TEETH,
    flag=Flag.GEOMETRY,
    example=Example({"primary_driver_teeth": "24", "primary_driven_teeth": "60"}, "2.500", f"{_HAND}: 60 / 24"),
    subject="drive line",
    impossible=(0, None),
    decimals=3,
)  # fmt: skip
def primary_ratio(primary_driver_teeth: Number, primary_driven_teeth: Number) -> Number:
    """Turns of the crankshaft for one of the clutch."""
    return primary_driven_teeth / primary_driver_teeth


@figure(
    title="Ratio of the gear",
    symbol="i_k",
    unit="",
    formula="i_k = z_2 / z_1",
    inputs=(_teeth("gear_driver_teeth", "z_1", "Teeth of the driver"), _teeth("gear_driven_teeth", "z_2", "Teeth of the driven")),
    per=("gear",),
    source=_TEETH,
    flag=Flag.GEOMETRY,
    example=Example({"gear_driver_teeth": "15", "gear_driven_teeth": "29"}, "1.933", f"{_HAND}: 29 / 15 = 1.9333"),
    subject="drive line",
    impossible=(0, None),
    decimals=3,
)
def gear_ratio(gear_driver_teeth: Number, gear_driven_teeth: Number) -> Number:
    """Turns of the clutch for one of the gearbox sprocket."""
    return gear_driven_teeth / gear_driver_teeth


@figure(
    title="Final ratio",
    symbol="i_f",
    unit="",
    formula="i_f = z_2 / z_1",
    inputs=(
        _teeth("final_driver_teeth", "z_1", "Teeth of the gearbox sprocket", "driver"),
        _teeth("final_driven_teeth", "z_2", "Teeth of the rear sprocket", "driven"),
    ),
    per=("final",),
    source=_TEETH,
    flag=Flag.GEOMETRY,
    example=Example({"final_driver_teeth": "11", "final_driven_teeth": "60"}, "5.45", _KART),
    subject="drive line",
    impossible=(0, None),
    decimals=3,
    also=("ratio",),
)  # fmt: skip
def final_ratio(final_driver_teeth: Number, final_driven_teeth: Number) -> Number:
    """Turns of the gearbox sprocket for one of the wheel."""
    return final_driven_teeth / final_driver_teeth


@figure(
    title="Overall ratio",
    symbol="i",
    unit="",
    formula="i = i_p * i_k * i_f",
    inputs=(Input("primary_ratio", "i_p", "", "Primary ratio"), RATIO, Input("final_ratio", "i_f", "", "Final ratio", also=("final_drive",))),
    per=("gear", "final"),
    source="the stages multiplied",
    flag=Flag.GEOMETRY,
    example=Example(
        {"primary_ratio": "1.7", "gear_ratio": "1", "final_ratio": "6"}, "10.2",
        "diygokarts.com, post 122212: 17/10 and 54/9 by way of a jackshaft", within=0.001,
    ),
    subject="drive line",
    impossible=(0, None),
    decimals=3,
)  # fmt: skip
def overall_ratio(primary_ratio: Number, gear_ratio: Number, final_ratio: Number) -> Number:
    """Turns of the crankshaft for one of the rear wheel."""
    return primary_ratio * gear_ratio * final_ratio


@figure(
    title="Road speed at peak power",
    symbol="v",
    unit="km/h",
    formula="v = n / 60 * C / i * 3.6",
    inputs=(Input("rpm", "n", "rpm", "Engine speed at greatest power", name="rpm_max_power", exact=True), OVERALL, CIRCUMFERENCE),
    per=("gear", "final"),
    source="turns of the wheel times its circumference under load, without slip",
    flag=Flag.GEOMETRY,
    example=Example(
        {"rpm": "2200 rpm", "overall_ratio": "3.116", "rear_rolling_circumference": "2.288 m"}, "96.9 km/h",
        "fordterritory.info, owners' thread 6: gear 0.76, final drive 4.1",
    ),
    subject="drive line",
    impossible=(0, None),
    decimals=1,
)  # fmt: skip
def road_speed(rpm: Number, overall_ratio: Number, rear_rolling_circumference: Number) -> Number:
    """Road speed of an engine speed in a gear."""
    return rpm / (2 * pi) * rear_rolling_circumference / overall_ratio


@figure(
    title="Road speed for each 1000 rpm",
    symbol="v_1000",
    unit="km/h",
    formula="v_1000 = n_1000 / 60 * C / i * 3.6",
    inputs=(OVERALL, CIRCUMFERENCE, Input("thousand", "n_1000", "rpm", "Engine speed", exact=True, constant="1000 rpm")),
    per=("gear", "final"),
    source="turns of the wheel times its circumference under load, without slip",
    flag=Flag.GEOMETRY,
    example=Example(
        {"overall_ratio": "3.116", "rear_rolling_circumference": "2.288 m", "thousand": "1000 rpm"}, "44 km/h",
        "fordterritory.info, owners' thread 6: gear 0.76, final drive 4.1",
    ),
    subject="drive line",
    impossible=(0, None),
)  # fmt: skip
def speed_per_1000(overall_ratio: Number, rear_rolling_circumference: Number, thousand: Number) -> Number:
    """Road speed at 1000 rpm in a gear."""
    return thousand / (2 * pi) * rear_rolling_circumference / overall_ratio


@figure(
    title="Rolling circumference, loaded against free",
    symbol="lam",
    unit="%",
    formula="lam = 100 * C / (2 * pi * R)",
    inputs=(
        Input("rear_rolling_circumference", "C", "mm", "Rolling circumference of the rear wheel, loaded"),
        Input("rear_wheel_radius", "R", "mm", "Radius of the rear wheel"),
    ),
    source="measured circumference over that of a circle of the radius",
    flag=Flag.GEOMETRY,
    example=Example({"rear_rolling_circumference": "1905 mm", "rear_wheel_radius": "304.6 mm"}, "99.5 %", f"{_HAND}: 1905 / 1913.86"),
    subject="drive line",
    usual=(97, 100.5),
    usual_source="from memory; looked for, no published range found",
    impossible=(0, None),
    decimals=1,
)  # fmt: skip
def loaded_circumference(rear_rolling_circumference: Number, rear_wheel_radius: Number) -> Number:
    """How much of its free circumference the loaded wheel rolls."""
    return rear_rolling_circumference / (2 * pi * rear_wheel_radius)


@figure(
    title="Slip, from the log",
    symbol="s",
    unit="%",
    formula="s = 100 * (1 - v / 3.6 / C * 60 * i / n)",
    inputs=(
        Input("logged_speed", "v", "km/h", "Road speed in the log", file="logs"),
        Input("logged_rpm", "n", "rpm", "Engine speed in the log", file="logs"),
        OVERALL, CIRCUMFERENCE,
    ),
    per=("session", "gear", "final"),
    source="engine speed that the road speed asks for, against the one in the log; at full throttle, steady",
    flag=Flag.GEOMETRY,
    example=Example(
        {"logged_speed": "158 km/h", "logged_rpm": "8640 rpm", "overall_ratio": "5.88235", "rear_rolling_circumference": "1.905 m"},
        "5.9 %", f"{_HAND}: 158 / 3.6 / 1.905 x 60 x 5.88235 = 8131.3",
    ),
    subject="drive line",
    usual=(-3, 2),
    usual_source="common practice, no source: 2 % is the tyre's and the log's own; below -3 % the gear or circumference is wrong",
    basis="clutch slip grows with throttle and vanishes without it; tyre slip and growth are small and steady in every gear; "
    "a wrong sprocket or circumference shifts every gear alike",
    decimals=1,
    quiet=True,
)  # fmt: skip
def slip(logged_speed: Number, logged_rpm: Number, overall_ratio: Number, rear_rolling_circumference: Number) -> Number:
    """Share of the engine's turns that does not reach the road."""
    return 1 - logged_speed / rear_rolling_circumference * 2 * pi * overall_ratio / logged_rpm
