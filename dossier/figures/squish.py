"""Squish: the gap between piston and head, the band it covers, and how fast it throws the gas inwards."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

from dossier.figures.engine import BORE, ROD, STROKE
from dossier.figures.extremes import highest
from dossier.figures.figure import Example, Input, figure
from dossier.figures.motion import LIMIT_SPEED, speed_factor
from dossier.model.quantity import Number, implicit, smallest
from dossier.model.results import Flag

GAP = Input("squish_gap", "g", "mm", "Squish gap")
BOWL = Input("bowl_diameter", "D_b", "mm", "Diameter of the bowl")


def _least(name: str, strokes: str) -> dict[str, Any]:
    return {
        "title": "Smallest squish clearance", "symbol": "g_min", "unit": "mm", "formula": "g_min = smallest(g)",
        "inputs": (Input("readings", "g", "mm", "Squish clearance", name=name, over="cylinder"),), "strokes": strokes,
        "source": "soft solder at four places, turned over by hand; the smallest counts", "flag": Flag.PRACTICE, "subject": "engine",
        "usual": (0.6, 1.3), "usual_source": "common practice, no source; never under 0.6 mm with a roller big end",
        "impossible": (0, None),
        "example": Example({"readings": ("1.02 mm", "0.98 mm")}, "0.98 mm", "the smaller of two readings"),
    }  # fmt: skip


@figure(**_least("squish_clearance", "4"))
def least_squish_clearance(readings: Sequence[Number]) -> Number:
    """Smallest squish clearance of all cylinders."""
    return smallest(readings)


@figure(**_least("squish_gap", "2"))
def least_squish_gap(readings: Sequence[Number]) -> Number:
    """Smallest squish gap of all cylinders."""
    return smallest(readings)


@figure(
    title="Squish band to piston area",
    symbol="R_s",
    unit="%",
    formula="R_s = (1 - (D_b / B)**2) * 100",
    inputs=(BOWL, BORE),
    per=("cylinder",),
    strokes="2",
    source="area of the ring outside the bowl over that of the bore",
    flag=Flag.GEOMETRY,
    example=Example({"bowl_diameter": "38 mm", "bore": "54.006 mm"}, "50.5 %", "worked by hand: 1444 / 2916.65 taken from one"),
    subject="two-stroke",
    usual=(40, 55),
    usual_source="from memory; looked for, no published range found",
    impossible=(0, 100),
    decimals=1,
)
def squish_area_ratio(bowl_diameter: Number, bore: Number) -> Number:
    """Share of the piston area that the squish band covers."""
    return 1 - (bowl_diameter / bore) ** 2


def highest_squish_factor(ratio: float, gap: float, bowl: float, step: float, fill: float) -> float:
    """Greatest squish speed over crank pin speed, from pure numbers.

    `ratio` is crank radius over rod length; `gap` and `bowl` the gap and bowl diameter over crank radius; `step` bore over bowl diameter;
    `fill` piston area times crank radius over bowl volume.
    """
    if not (0 < ratio < 1 and gap > 0):
        raise ValueError("the rod is shorter than the crank, or there is no gap")

    def speed(angle: float) -> float:
        room = 1 - math.cos(angle) + (1 - math.sqrt(1 - (ratio * math.sin(angle)) ** 2)) / ratio + gap
        return speed_factor(angle, ratio) * bowl / (4 * room) * (step**2 - 1) / (fill * room + 1)

    return highest(speed, per_degree=10)


@figure(
    title="Highest squish speed",
    symbol="v_s",
    unit="m/s",
    formula="v_s = largest(v(theta) * D_b/(4*z) * ((B/D_b)**2 - 1) * V_b/(A*z + V_b))",
    inputs=(BORE, STROKE, ROD, GAP, BOWL, Input("bowl_volume", "V_b", "cc", "Volume of the bowl"), LIMIT_SPEED),
    per=("cylinder",),
    strokes="2",
    source="continuity at equal density: gas pushed out of the band by the piston, z = travel + gap, A the area of the bore",
    flag=Flag.GEOMETRY,
    example=Example(
        {"bore": "54.006 mm", "stroke": "54 mm", "rod_length": "110 mm", "squish_gap": "0.85 mm", "bowl_diameter": "38 mm",
         "bowl_volume": "7.6 cc", "rpm_limit": "12000 rpm"},
        "36.97 m/s", "the same curve looked over at every thousandth of a degree by another program: highest at 10.15 degrees",
    ),
    subject="two-stroke",
    usual=(20, 30),
    usual_source="Scootering magazine, Squish velocity, piece 3 of the power puzzle",
    says="unusual, look again",
    impossible=(0, None),
    decimals=0,
    closed=False,
    basis="at the rev limit; looked for at every tenth of a degree of the crank",
)  # fmt: skip
def highest_squish_speed(
    bore: Number, stroke: Number, rod_length: Number, squish_gap: Number, bowl_diameter: Number, bowl_volume: Number, rpm_limit: Number
) -> Number:
    """Highest speed at which the squish band throws gas into the bowl."""
    crank = stroke / 2
    fill = math.pi / 4 * bore**2 * crank / bowl_volume
    factor = implicit(highest_squish_factor, crank / rod_length, squish_gap / crank, bowl_diameter / crank, bore / bowl_diameter, fill)
    return rpm_limit * crank * factor
