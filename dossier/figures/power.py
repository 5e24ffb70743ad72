"""Power, torque and mean effective pressure of a dynamometer run, and what they are worth for the size of the engine."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from dossier.figures.figure import Example, Input, NoVerdict, figure
from dossier.model.quantity import Number, largest, nominal
from dossier.model.results import Flag

TORQUES = Input("dyno_torque", "T", "N·m", "Torque", over="point", file="running.yaml")
SPEEDS = Input("dyno_speed", "n", "rpm", "Engine speed", over="point", file="running.yaml")
VOLUME = Input("swept_volume", "V", "cc", "Swept volume")
STROKES = Input("strokes", "z", "", "Strokes of a cycle", exact=True, file="machine.yaml")
EFFICIENCY = Input("drive_efficiency", "eta", "", "Efficiency from crankshaft to wheel, assumed")
CORRECTED = Input("corrected_peak_power", "P_c", "kW", "Peak power, corrected")
_WHERE = "measured where the run says: at the rear wheel unless it says otherwise"
_DEFINED = "by definition: torque times angular speed"
_HAND = "worked by hand"
_MEAN_PRESSURES = (
    "racing two-strokes 85 to 125 psi (Jennings, at toostroke.blogspot.com), racing four-strokes 12 to 14 bar (calculatorpod.com); wider from memory"
)
_EFFICIENCY = (
    "efficiency of 0.85 to 0.93 (from memory; the chain alone 85 to 99 % by speed, Burgess and Lodge, Sports Engineering 7, 2004, 65): "
    "an estimate, never a measurement"
)


@figure(
    title="Power",
    symbol="P",
    unit="kW",
    formula="P = pi * T * n / 30000",
    inputs=(Input("torque", "T", "N·m", "Torque"), Input("speed", "n", "rpm", "Speed")),
    source=_DEFINED,
    flag=Flag.GEOMETRY,
    example=Example(
        {"torque": "175 N·m", "speed": "500 rpm"}, "9.16 kW",
        "Rajput, A Textbook of IC Engines, Ex. 17.8 p. 574 (worked in the FOSSEE Python Textbook Companions)",
    ),
    subject="power",
)  # fmt: skip
def power(torque: Number, speed: Number) -> Number:
    """Power of a torque at an angular speed."""
    return torque * speed


@figure(
    title="Torque of a power",
    symbol="T",
    unit="N·m",
    formula="T = 30000 * P / (pi * n)",
    inputs=(Input("power", "P", "kW", "Power"), Input("speed", "n", "rpm", "Speed")),
    source=_DEFINED,
    flag=Flag.GEOMETRY,
    example=Example(
        {"power": "2 hp", "speed": "2450 rpm"}, "51.45 lbf·in",
        "Wentzell, Machine Design, Ex. 14.1 p. 306, with 63,025 for the 63,000 of the book (FOSSEE Python Textbook Companions)",
    ),
    subject="power",
    also=("torque",),
)  # fmt: skip
def torque_of_power(power: Number, speed: Number) -> Number:
    """Torque that gives a power at an angular speed."""
    return power / speed


@figure(
    title="Peak torque",
    symbol="T_max",
    unit="N·m",
    formula="T_max = largest(T)",
    inputs=(TORQUES,),
    per=("run",),
    source="the largest torque read on the run, none between readings",
    flag=Flag.GEOMETRY,
    example=Example({"dyno_torque": ("32.2 N·m", "33.0 N·m", "32.9 N·m")}, "33.0 N·m", "read off by eye"),
    subject="power",
    basis=_WHERE,
    impossible=(0, None),
    decimals=1,
)
def peak_torque(dyno_torque: Sequence[Number]) -> Number:
    """Largest torque of a run."""
    return largest(dyno_torque)


@figure(
    title="Peak power, as measured",
    symbol="P_max",
    unit="kW",
    formula="P_max = largest(pi * T * n / 30000)",
    inputs=(TORQUES, SPEEDS),
    per=("run",),
    source=_DEFINED,
    flag=Flag.GEOMETRY,
    example=Example(
        {"dyno_torque": ("140 N·m",), "dyno_speed": ("3960 rpm",)}, "58 kW",
        "Mathur and Sharma, Internal Combustion Engine, Ex. 18.14 p. 418, printed truncated (FOSSEE Python Textbook Companions)",
        within=1.0,
    ),
    subject="power",
    basis=_WHERE,
    impossible=(0, None),
    decimals=1,
)  # fmt: skip
def peak_power(dyno_torque: Sequence[Number], dyno_speed: Sequence[Number]) -> Number:
    """Largest power of a run, at the speeds that were read."""
    return largest(powers(dyno_torque, dyno_speed))


def powers(torques: Sequence[Number], speeds: Sequence[Number]) -> list[Number]:
    """Power at each reading of a run (W, from N·m and rad/s); ValueError when one of the two is missing somewhere."""
    return [torque * speed for torque, speed in zip(torques, speeds, strict=True)]


def place_of_largest(found: Sequence[Number]) -> int:
    """Place of the first of the largest in a list."""
    top = largest(found)
    place = next((n for n, one in enumerate(found) if one is top), None)
    if place is None:  # drawn by the thousand, the largest is another one each time
        raise ValueError("the largest is not one of them")
    return place


@figure(
    title="Engine speed at peak power",
    symbol="n_P",
    unit="rpm",
    formula="n_P = at_largest(n, T * n)",
    inputs=(TORQUES, SPEEDS),
    per=("run",),
    source="the speed of the reading with the largest power",
    flag=Flag.GEOMETRY,
    example=Example(
        {"dyno_torque": ("30.9 N·m", "30.2 N·m", "29.1 N·m", "26.4 N·m"), "dyno_speed": ("9000 rpm", "9400 rpm", "9800 rpm", "10200 rpm")},
        "9800 rpm", f"{_HAND}: 30.9 x 9000 = 278,100, 283,880, 285,180, 269,280",
    ),
    subject="power",
    closed=False,
    decimals=0,
)  # fmt: skip
def peak_power_speed(dyno_torque: Sequence[Number], dyno_speed: Sequence[Number]) -> Number:
    """Engine speed of the reading with the largest power."""
    found = powers(dyno_torque, dyno_speed)
    return dyno_speed[place_of_largest(found)]


@figure(
    title="Brake mean effective pressure",
    symbol="p_me",
    unit="bar",
    formula="p_me = z * pi * T / V * 10",
    inputs=(Input("torque", "T", "N·m", "Peak torque", name="peak_torque"), VOLUME, STROKES),
    per=("run",),
    source="work of one cycle over the swept volume: four pi times torque over volume for a four-stroke, two pi for a two-stroke "
    "(Jennings, Two-Stroke Tuner's Handbook, 1973, at toostroke.blogspot.com; torque x 150.8 / displacement at geocities.ws/n2oinjection)",
    flag=Flag.SEEN,
    example=Example(
        {"torque": "100 lbf·ft", "swept_volume": "100 cu in", "strokes": "4"}, "150.8 psi",
        "mean effective pressure = torque x 150.8 / displacement, as printed at geocities.ws/n2oinjection/page12.htm",
    ),
    subject="power",
    usual_by_strokes={"4": (10, 14.5), "2": (6, 11)},
    usual_source=_MEAN_PRESSURES,
    impossible=(0, 25),
    basis=f"from the peak torque, {_WHERE}",
    also=("bmep",),
)  # fmt: skip
def brake_mean_effective_pressure(torque: Number, swept_volume: Number, strokes: Number) -> Number:
    """Mean effective pressure that gives the torque; `strokes` is 4 or 2."""
    return strokes * pi * torque / swept_volume


@figure(
    title="Peak power, corrected to the standard day",
    symbol="P_c",
    unit="kW",
    formula="P_c = P_max * alpha",
    inputs=(Input("peak_power", "P_max", "kW", "Peak power, as measured"), Input("weather_factor", "alpha", "", "Weather factor")),
    per=("run",),
    source="ISO 1585: measured power times the weather factor",
    flag=Flag.SEEN,
    example=Example({"peak_power": "32.635 kW", "weather_factor": "0.97519"}, "31.83 kW", f"{_HAND}: 32.635 x 0.97519 = 31.825"),
    subject="power",
    basis=f"ISO 1585 (99 kPa dry, 25 °C), {_WHERE}",
    impossible=(0, None),
    decimals=1,
)
def corrected_peak_power(peak_power: Number, weather_factor: Number) -> Number:
    """Peak power on the standard day; no verdict where the standard does not let the factor be used."""
    if not 0.93 <= nominal(getattr(weather_factor, "magnitude", weather_factor)) <= 1.07:
        raise NoVerdict("the weather factor lies outside 0.93 to 1.07, where the standard holds: not comparable")
    return peak_power * weather_factor


@figure(
    title="Peak power at the crankshaft, estimate",
    symbol="P_k",
    unit="kW",
    formula="P_k = P_c / eta",
    inputs=(CORRECTED, EFFICIENCY),
    per=("run",),
    source=f"wheel power over an assumed {_EFFICIENCY}",
    flag=Flag.PRACTICE,
    example=Example({"corrected_peak_power": "31.83 kW", "drive_efficiency": "0.9"}, "35.37 kW", f"{_HAND}: 31.83 / 0.9 = 35.367"),
    subject="power",
    basis="ESTIMATE: the efficiency is assumed",
    impossible=(0, None),
    decimals=1,
)
def crank_power_estimate(corrected_peak_power: Number, drive_efficiency: Number) -> Number:
    """What the crankshaft would give if the drive had the assumed efficiency."""
    return corrected_peak_power / drive_efficiency


@figure(
    title="Peak torque at the crankshaft, estimate",
    symbol="T_k",
    unit="N·m",
    formula="T_k = largest(T_max) / eta",
    inputs=(Input("peak_torque", "T_max", "N·m", "Peak torque of each run", over="run"), EFFICIENCY),
    source=f"wheel torque over an assumed {_EFFICIENCY}",
    flag=Flag.PRACTICE,
    example=Example({"peak_torque": ("31.2 N·m", "33.0 N·m"), "drive_efficiency": "0.9"}, "36.67 N·m", f"{_HAND}: 33.0 / 0.9 = 36.667"),
    subject="power",
    basis="ESTIMATE: the efficiency is assumed; the best of the runs, uncorrected",
    impossible=(0, None),
    decimals=1,
)
def crank_torque_estimate(peak_torque: Sequence[Number], drive_efficiency: Number) -> Number:
    """Largest torque of all runs, referred to the crankshaft by the assumed efficiency."""
    return largest(peak_torque) / drive_efficiency


@figure(
    title="Brake mean effective pressure at the crankshaft, estimate",
    symbol="p_mk",
    unit="bar",
    formula="p_mk = p_me / eta",
    inputs=(Input("brake_mean_effective_pressure", "p_me", "bar", "Mean effective pressure at the wheel"), EFFICIENCY),
    per=("run",),
    source=f"wheel value over an assumed {_EFFICIENCY}",
    flag=Flag.PRACTICE,
    example=Example({"brake_mean_effective_pressure": "11.88 bar", "drive_efficiency": "0.9"}, "13.2 bar", f"{_HAND}: 11.88 / 0.9"),
    subject="power",
    usual_by_strokes={"4": (10, 14.5), "2": (6, 11)},
    usual_source=_MEAN_PRESSURES,
    impossible=(0, 25),
    basis="ESTIMATE: the efficiency is assumed",
    decimals=1,
)
def crank_pressure_estimate(brake_mean_effective_pressure: Number, drive_efficiency: Number) -> Number:
    """Mean effective pressure referred to the crankshaft by the assumed efficiency."""
    return brake_mean_effective_pressure / drive_efficiency
