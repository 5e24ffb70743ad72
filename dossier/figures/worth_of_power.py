"""What the power is worth: for the size, the piston and the mass, over how wide a range it lasts."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from dossier.figures.figure import Example, Input, NoVerdict, figure
from dossier.figures.power import CORRECTED, SPEEDS, TORQUES, VOLUME, place_of_largest, powers
from dossier.model.quantity import Number, from_si, mean, nominal, smallest
from dossier.model.results import Flag
from dossier.model.units import UNITS

SHARE = 0.9
"""The useful range is where at least this share of the peak power is there."""
_HAND = "worked by hand"
_RANGE_SOURCE = "speeds at which the power, taken straight between readings, crosses nine tenths of the peak (common practice)"
_CURVE = Example(
    {"dyno_torque": ("20 N·m", "30 N·m", "30 N·m", "20 N·m"), "dyno_speed": ("6000 rpm", "8000 rpm", "10000 rpm", "12000 rpm")},
    "9000 rpm", f"{_HAND}: T x n is 120, 240, 300, 240 thousand; nine tenths of 300 are 270, half way from 8000 to 10,000",
)  # fmt: skip


@figure(
    title="Specific power",
    symbol="P_V",
    unit="kW/l",
    formula="P_V = P_c / V * 1000",
    inputs=(CORRECTED, VOLUME),
    per=("run",),
    source="by definition: corrected power over swept volume",
    flag=Flag.GEOMETRY,
    example=Example({"corrected_peak_power": "31.825 kW", "swept_volume": "349.09 cc"}, "91.17 kW/l", f"{_HAND}: 31.825 / 0.34909"),
    subject="power",
    usual_by_strokes={"4": (60, 120), "2": (100, 200)},
    usual_source="from memory; an owners' mailing list (autox.team.net, June 1997) has 120 to 140 hp/l for racing four-strokes of the sixties",
    impossible=(0, None),
    decimals=1,
)
def specific_power(corrected_peak_power: Number, swept_volume: Number) -> Number:
    """Corrected power for each unit of swept volume."""
    return corrected_peak_power / swept_volume


@figure(
    title="Power for the area of the pistons",
    symbol="P_A",
    unit="kW/cm²",
    formula="P_A = 100 * P_c / (pi/4 * n * mean(B**2))",
    inputs=(
        CORRECTED,
        Input("bore", "B", "mm", "Bore", over="cylinder"),
        Input("cylinders", "n", "", "Cylinders", exact=True, file="machine.yaml"),
    ),
    per=("run",),
    source="by definition: corrected power over the area of all pistons",
    flag=Flag.GEOMETRY,
    example=Example(
        {"corrected_peak_power": "31.825 kW", "bore": ("62.012 mm", "62.014 mm"), "cylinders": "2"}, "0.527 kW/cm²",
        f"{_HAND}: two areas of 30.203 cm²; 31.825 / 60.406",
    ),
    subject="power",
    usual=(0.3, 0.7),
    usual_source="from memory; looked for, no published range found",
    impossible=(0, None),
    decimals=3,
)  # fmt: skip
def power_per_piston_area(corrected_peak_power: Number, bore: Sequence[Number], cylinders: Number) -> Number:
    """Corrected power for each unit of piston area; one bore stands for all cylinders."""
    return corrected_peak_power / (pi / 4 * cylinders * mean([b**2 for b in bore]))


@figure(
    title="Power to mass",
    symbol="P_m",
    unit="kW/kg",
    formula="P_m = P_c / m",
    inputs=(CORRECTED, Input("mass", "m", "kg", "Mass of the machine")),
    per=("run",),
    source="by definition: corrected power over the mass of the machine as weighed",
    flag=Flag.GEOMETRY,
    example=Example({"corrected_peak_power": "31.825 kW", "mass": "119.4 kg"}, "0.267 kW/kg", f"{_HAND}: 31.825 / 119.4 = 0.2665"),
    subject="power",
    basis="the mass as it was weighed: see there for fuel and rider",
    impossible=(0, None),
    decimals=3,
)
def power_to_mass(corrected_peak_power: Number, mass: Number) -> Number:
    """Corrected power for each unit of mass."""
    return corrected_peak_power / mass


@figure(
    title="Useful range begins",
    symbol="n_1",
    unit="rpm",
    formula="n_1 = crossing_below_peak(n, T * n, 0.9)",
    inputs=(TORQUES, SPEEDS),
    per=("run",),
    source=_RANGE_SOURCE,
    flag=Flag.PRACTICE,
    example=_CURVE,
    subject="power",
    closed=False,
    decimals=0,
)
def useful_range_from(dyno_torque: Sequence[Number], dyno_speed: Sequence[Number]) -> Number:
    """Speed below the peak at which nine tenths of the peak power are reached; no verdict where the curve begins above it."""
    return _crossing(powers(dyno_torque, dyno_speed), dyno_speed, -1)


@figure(
    title="Useful range ends",
    symbol="n_2",
    unit="rpm",
    formula="n_2 = crossing_above_peak(n, T * n, 0.9)",
    inputs=(TORQUES, SPEEDS),
    per=("run",),
    source=_RANGE_SOURCE,
    flag=Flag.PRACTICE,
    example=Example(
        _CURVE.given, "11000 rpm", f"{_HAND}: T x n falls from 300 to 240 thousand between 10,000 and 12,000; 270 is half way"
    ),
    subject="power",
    closed=False,
    decimals=0,
)
def useful_range_to(dyno_torque: Sequence[Number], dyno_speed: Sequence[Number]) -> Number:
    """Speed above the peak at which the power is down to nine tenths; no verdict where the curve ends before it."""
    return _crossing(powers(dyno_torque, dyno_speed), dyno_speed, +1)


@figure(
    title="Useful range",
    symbol="Delta_n",
    unit="rpm",
    formula="Delta_n = crossing_above_peak(n, T * n, 0.9) - crossing_below_peak(n, T * n, 0.9)",
    inputs=(TORQUES, SPEEDS),
    per=("run",),
    source=_RANGE_SOURCE,
    flag=Flag.PRACTICE,
    example=Example(_CURVE.given, "2000 rpm", f"{_HAND}: from 9000 to 11,000, see there"),
    subject="power",
    closed=False,
    impossible=(0, None),
    decimals=0,
)
def useful_range(dyno_torque: Sequence[Number], dyno_speed: Sequence[Number]) -> Number:
    """Span of engine speed with at least nine tenths of the peak power; no verdict where the curve is cut off inside it."""
    found = powers(dyno_torque, dyno_speed)
    return _crossing(found, dyno_speed, +1) - _crossing(found, dyno_speed, -1)


def _below(one: Number, other: Number) -> bool:
    return smallest([one, other]) is one


def _crossing(found: Sequence[Number], speeds: Sequence[Number], step: int) -> Number:
    at = place_of_largest(found)
    wanted = SHARE * found[at]
    while 0 <= at + step < len(found):
        here, there = found[at], found[at + step]
        if _below(there, wanted):
            return speeds[at] + (speeds[at + step] - speeds[at]) * (here - wanted) / (here - there)
        at += step
    end = from_si(nominal(speeds[at]), UNITS["rpm"])
    side = "begins" if step < 0 else "ends"
    raise NoVerdict(f"the curve {side} at {end:.0f} rpm with more than nine tenths of the peak power")
