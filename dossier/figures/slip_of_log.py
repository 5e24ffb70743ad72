"""Slip at part throttle beside slip at full throttle: what tells a clutch from a tyre and from a wrong ratio."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from dossier.figures.drive_line import CIRCUMFERENCE, OVERALL
from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, mean
from dossier.model.results import Flag

FILE = "logs"
PART_SPEED = Input("part_speed", "v_p", "km/h", "Road speed in the log at part throttle", file=FILE)
PART_RPM = Input("part_rpm", "n_p", "rpm", "Engine speed in the log at part throttle", file=FILE)
_PER = ("session", "gear", "final")
_HAND = "worked by hand"


@figure(
    title="Slip at part throttle, from the log",
    symbol="s_p",
    unit="%",
    formula="s_p = 100 * (1 - v_p / 3.6 / C * 60 * i / n_p)",
    inputs=(PART_SPEED, PART_RPM, OVERALL, CIRCUMFERENCE),
    per=_PER,
    source="engine speed that the road speed asks for, against the one in the log; at part throttle, steady",
    flag=Flag.GEOMETRY,
    example=Example(
        {"part_speed": "150 km/h", "part_rpm": "7760 rpm", "overall_ratio": "5.88235", "rear_rolling_circumference": "1.905 m"},
        "0.5 %", f"{_HAND}: 150 / 3.6 / 1.905 x 60 x 5.88235 = 7719.7",
    ),
    subject="drive line",
    usual=(-3, 2),
    usual_source="common practice, no source: 2 % is the tyre's and the log's own; below -3 % the gear or circumference is wrong",
    basis="at part throttle a clutch holds that slips at full throttle",
    decimals=1,
    quiet=True,
)  # fmt: skip
def slip_at_part_throttle(part_speed: Number, part_rpm: Number, overall_ratio: Number, rear_rolling_circumference: Number) -> Number:
    """Share of the engine's turns that does not reach the road at part throttle."""
    return 1 - part_speed / rear_rolling_circumference * 2 * pi * overall_ratio / part_rpm


@figure(
    title="Slip that the throttle brings, from the log",
    symbol="s_t",
    unit="%",
    formula="s_t = 100 * (1 - n_p / v_p * v / n)",
    inputs=(
        Input("logged_speed", "v", "km/h", "Road speed in the log at full throttle", file=FILE),
        Input("logged_rpm", "n", "rpm", "Engine speed in the log at full throttle", file=FILE),
        PART_SPEED, PART_RPM,
    ),
    per=_PER,
    source="engine speed for each km/h at part throttle, against full throttle in the same gear; no ratio and no circumference is needed",
    flag=Flag.GEOMETRY,
    example=Example(
        {"logged_speed": "158 km/h", "logged_rpm": "8640 rpm", "part_speed": "150 km/h", "part_rpm": "7760 rpm"},
        "5.4 %", f"{_HAND}: 7760 / 150 = 51.733 against 8640 / 158 = 54.684",
    ),
    subject="drive line",
    usual=(None, 1.5),
    usual_source="common practice, no source: clutch slip grows with the throttle and vanishes without it",
    says="slip that grows with the throttle is the clutch's",
    decimals=1,
    quiet=True,
)  # fmt: skip
def slip_from_throttle(logged_speed: Number, logged_rpm: Number, part_speed: Number, part_rpm: Number) -> Number:
    """Slip at full throttle beyond what there is at part throttle in the same gear."""
    return 1 - part_rpm / part_speed * logged_speed / logged_rpm


@figure(
    title="All gears off alike, from the log",
    symbol="s_a",
    unit="%",
    formula="s_a = mean(s_p)",
    inputs=(Input("slip_at_part_throttle", "s_p", "%", "Slip at part throttle of each gear", over="gear final", file=FILE),),
    per=("session",),
    source="mean of the gears at part throttle: what is the same in every gear is no clutch's",
    flag=Flag.PRACTICE,
    example=Example({"slip_at_part_throttle": ("0.5 %", "0.7 %", "0.6 %")}, "0.6 %", _HAND),
    subject="drive line",
    usual=(-3, 2),
    usual_source="common practice, no source",
    says="every gear is off alike: a wrong sprocket, ratio or circumference",
    basis="a small share that is steady in every gear is the tyre's own",
    decimals=1,
    quiet=True,
)
def gears_off_alike(slip_at_part_throttle: Sequence[Number]) -> Number:
    """Share by which all gears of a log are off together."""
    return mean(slip_at_part_throttle)


@figure(
    title="Overall ratio that the log shows",
    symbol="i_l",
    unit="",
    formula="i_l = n_p / 60 * C / v_p * 3.6",
    inputs=(PART_SPEED, PART_RPM, CIRCUMFERENCE),
    per=_PER,
    source="turns of the engine for one of the wheel, from the steady rows at part throttle; the tyre's own slip is in it",
    flag=Flag.GEOMETRY,
    example=Example(
        {"part_speed": "150 km/h", "part_rpm": "7760 rpm", "rear_rolling_circumference": "1.905 m"}, "5.913",
        f"{_HAND}: 129.333 x 1.905 / 41.6667",
    ),
    subject="drive line",
    impossible=(0, None),
    decimals=3,
    quiet=True,
)  # fmt: skip
def ratio_from_log(part_speed: Number, part_rpm: Number, rear_rolling_circumference: Number) -> Number:
    """Turns of the crankshaft for one of the rear wheel, as logged."""
    return part_rpm / (2 * pi) * rear_rolling_circumference / part_speed
