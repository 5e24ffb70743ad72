"""Cam events from a measured lift curve: opening and closing at the stated lift, duration, centre by equal lifts, speed and acceleration."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

import numpy as np

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, largest, mean, nominal
from dossier.model.results import Flag

FILE = "logs"
AT = Input("valve_lift_at_check", "h", "mm", "Lift at which timing is checked", file="measurements.yaml")
_PER = ("cylinder", "valve")
_HAND = "worked by hand"
_TURN = "the crank is turned in its running direction only; angles count from top dead centre at the overlap"


def _astride(side: str) -> tuple[Input, ...]:
    """The two readings of a curve on either side of the lift at check, on the flank that opens or closes."""
    return (
        Input(f"{side}_angle_low", "a_1", "°", f"Crank angle of the reading below the lift at check, {side}", file=FILE),
        Input(f"{side}_lift_low", "l_1", "mm", "Its lift", file=FILE),
        Input(f"{side}_angle_high", "a_2", "°", f"Crank angle of the reading above it, {side}", file=FILE),
        Input(f"{side}_lift_high", "l_2", "mm", "Its lift", file=FILE),
    )


def _between(a_1: Number, l_1: Number, a_2: Number, l_2: Number, h: Number) -> Number:
    return a_1 + (h - l_1) / (l_2 - l_1) * (a_2 - a_1)


DEAD_OPEN = Input("opening_dead_centre", "c", "°", "Dead centre it is counted from: top 0, bottom before it 180", exact=True, file=FILE)
DEAD_CLOSE = Input("closing_dead_centre", "c", "°", "Dead centre it is counted from: top 0, bottom after it 180", exact=True, file=FILE)


@figure(
    title="Opens, from the lift curve",
    symbol="a_o",
    unit="°",
    formula="a_o = -(a_1 + (h - l_1) / (l_2 - l_1) * (a_2 - a_1)) - c",
    inputs=(*_astride("opening"), AT, DEAD_OPEN),
    per=_PER,
    source="straight between the two readings astride the lift at check; before top (inlet) or bottom (exhaust) dead centre",
    flag=Flag.GEOMETRY,
    example=Example(
        {"opening_angle_low": "-55°", "opening_lift_low": "0.70 mm", "opening_angle_high": "-50°", "opening_lift_high": "1.20 mm",
         "valve_lift_at_check": "1.0 mm", "opening_dead_centre": "0°"}, "52.0°", f"{_HAND}: -55 + 0.3 / 0.5 x 5 = -52",
    ),
    subject="valve train",
    strokes="4",
    basis=_TURN,
    decimals=1,
    quiet=True,
)  # fmt: skip
def opens_by_curve(
    opening_angle_low: Number, opening_lift_low: Number, opening_angle_high: Number, opening_lift_high: Number, valve_lift_at_check: Number,
    opening_dead_centre: Number,
) -> Number:  # fmt: skip
    """Crank angle (rad) before its dead centre at which the valve reaches the lift at check."""
    return -_between(opening_angle_low, opening_lift_low, opening_angle_high, opening_lift_high, valve_lift_at_check) - opening_dead_centre


@figure(
    title="Closes, from the lift curve",
    symbol="a_c",
    unit="°",
    formula="a_c = a_1 + (h - l_1) / (l_2 - l_1) * (a_2 - a_1) - c",
    inputs=(*_astride("closing"), AT, DEAD_CLOSE),
    per=_PER,
    source="straight between the two readings astride the lift at check; after bottom (inlet) or top (exhaust) dead centre",
    flag=Flag.GEOMETRY,
    example=Example(
        {"closing_angle_low": "260°", "closing_lift_low": "0.80 mm", "closing_angle_high": "255°", "closing_lift_high": "1.30 mm",
         "valve_lift_at_check": "1.0 mm", "closing_dead_centre": "180°"}, "78.0°", f"{_HAND}: 260 - 0.2 / 0.5 x 5 - 180",
    ),
    subject="valve train",
    strokes="4",
    basis=_TURN,
    decimals=1,
    quiet=True,
)  # fmt: skip
def closes_by_curve(
    closing_angle_low: Number, closing_lift_low: Number, closing_angle_high: Number, closing_lift_high: Number, valve_lift_at_check: Number,
    closing_dead_centre: Number,
) -> Number:  # fmt: skip
    """Crank angle (rad) after its dead centre at which the valve comes back to the lift at check."""
    return _between(closing_angle_low, closing_lift_low, closing_angle_high, closing_lift_high, valve_lift_at_check) - closing_dead_centre


@figure(
    title="Duration, from the lift curve",
    symbol="phi",
    unit="°",
    formula="phi = a_o + 180*deg + a_c",
    inputs=(
        Input("opens_by_curve", "a_o", "°", "Opens, from the lift curve"), Input("closes_by_curve", "a_c", "°", "Closes, from the lift curve"),
    ),
    per=_PER,
    source="opening and closing at the lift at check, and the half turn between their dead centres (camshafteng.com.au, calculations)",
    flag=Flag.SEEN,
    example=Example({"opens_by_curve": "6°", "closes_by_curve": "42°"}, "228°", "camshafteng.com.au/calc.htm: 6-42 gives 228"),
    subject="valve train",
    strokes="4",
    usual=(250, 330),
    usual_source="from memory; specialenginecar.blogspot.com (Performance camshafts, 2011) has 270 to 310° and more",
    decimals=1,
    quiet=True,
)  # fmt: skip
def duration_by_curve(opens_by_curve: Number, closes_by_curve: Number) -> Number:
    """Crank angle (rad) for which the valve stands above the lift at check."""
    return opens_by_curve + pi + closes_by_curve


@figure(
    title="Lobe centre, from equal lifts",
    symbol="gamma",
    unit="°",
    formula="gamma = abs(mean(a_u + a_d)) / 2",
    inputs=(
        Input("angle_rising", "a_u", "°", "Crank angle at each of several lifts, rising", over="level", file=FILE),
        Input("angle_falling", "a_d", "°", "Crank angle at the same lifts, falling", over="level", file=FILE),
    ),
    per=_PER,
    source="mean of the middles between equal lifts, from half to nine tenths of the highest (common practice, no source)",
    flag=Flag.PRACTICE,
    example=Example(
        {"angle_rising": ("50°", "60°", "70°"), "angle_falling": ("155°", "144°", "133°")}, "102.0°", f"{_HAND}: middles 102.5, 102, 101.5"
    ),
    subject="valve train",
    strokes="4",
    usual=(98, 112),
    usual_source="forabodiesonly.com, post 1970493881, and from memory",
    closed=False,
    decimals=1,
    quiet=True,
)  # fmt: skip
def centre_by_curve(angle_rising: Sequence[Number], angle_falling: Sequence[Number]) -> Number:
    """Crank angle (rad) between the middle of the lobe and top dead centre, after it for the inlet, before it for the exhaust."""
    centre = mean([(up + down) / 2 for up, down in zip(angle_rising, angle_falling, strict=True)])
    return largest([centre, -centre])


@figure(
    title="Lift at top dead centre, from the lift curve",
    symbol="l_0",
    unit="mm",
    formula="l_0 = l_1 + (0 - a_1) / (a_2 - a_1) * (l_2 - l_1)",
    inputs=(
        Input("top_angle_before", "a_1", "°", "Crank angle of the reading before top dead centre", file=FILE),
        Input("top_lift_before", "l_1", "mm", "Its lift", file=FILE),
        Input("top_angle_after", "a_2", "°", "Crank angle of the reading at or after it", file=FILE),
        Input("top_lift_after", "l_2", "mm", "Its lift", file=FILE),
    ),
    per=_PER,
    source="straight between the two readings astride top dead centre at the overlap",
    flag=Flag.GEOMETRY,
    example=Example(
        {"top_angle_before": "-2°", "top_lift_before": "3.90 mm", "top_angle_after": "3°", "top_lift_after": "4.40 mm"}, "4.10 mm",
        f"{_HAND}: 3.90 + 2 / 5 x 0.50",
    ),
    subject="valve train",
    strokes="4",
    quiet=True,
)  # fmt: skip
def lift_at_top(top_angle_before: Number, top_lift_before: Number, top_angle_after: Number, top_lift_after: Number) -> Number:
    """Valve lift (m) at top dead centre of the overlap, lash taken up as it was read."""
    return top_lift_before - top_angle_before / (top_angle_after - top_angle_before) * (top_lift_after - top_lift_before)


@figure(
    title="Highest lift, from the lift curve", symbol="l_max", unit="mm", formula="l_max = largest(l)",
    inputs=(Input("lift_reading", "l", "mm", "Lift near its highest", over="reading", file=FILE),), per=_PER,
    source="largest of the readings", flag=Flag.GEOMETRY, example=Example({"lift_reading": ("9.11 mm", "9.20 mm", "9.14 mm")}, "9.20 mm", _HAND),
    subject="valve train", strokes="4", quiet=True,
)  # fmt: skip
def highest_lift_by_curve(lift_reading: Sequence[Number]) -> Number:
    """Largest lift (m) that was read."""
    return largest(lift_reading)


LIMIT = Input("rpm_limit", "n", "rpm", "Highest engine speed allowed", exact=True)
_SMOOTHED = (
    "slope of a cubic fitted by least squares to seven readings (A. Savitzky and M. J. E. Golay, Analytical Chemistry 36 (1964) 1627), "
    "at its steepest; the smoothing flattens peaks narrower than the seven readings"
)


@figure(
    title="Highest speed of the valve, from the lift curve", symbol="v_v", unit="m/s", formula="v_v = pi * n / 30 * slope(l)",
    inputs=(
        Input("steep_angle", "a", "°", "Crank angle, seven readings about the steepest", over="reading", file=FILE),
        Input("steep_lift", "l", "mm", "Lift at these", over="reading", file=FILE), LIMIT,
    ),
    per=_PER, source=_SMOOTHED, flag=Flag.SEEN,
    example=Example(
        {"steep_angle": ("0°", "5°", "10°", "15°", "20°", "25°", "30°"),
         "steep_lift": ("1.0 mm", "1.5 mm", "2.0 mm", "2.5 mm", "3.0 mm", "3.5 mm", "4.0 mm"), "rpm_limit": "10000 rpm"},
        "6.00 m/s", f"{_HAND}: 0.1 mm a degree, 60,000 degrees a second",
    ),
    subject="valve train", strokes="4", closed=False, quiet=True,
)  # fmt: skip
def valve_speed_by_curve(steep_angle: Sequence[Number], steep_lift: Sequence[Number], rpm_limit: Number) -> Number:
    """Highest speed of the valve (m/s) at the limit of engine speed."""
    slope, span = _fitted(steep_angle, steep_lift, 1)
    speed = slope / span * rpm_limit
    return largest([speed, -speed])


@figure(
    title="Highest acceleration of the valve, from the lift curve", symbol="a_v", unit="m/s²", formula="a_v = (pi * n / 30)**2 * bend(l)",
    inputs=(
        Input("bent_angle", "a", "°", "Crank angle, seven readings about the sharpest bend", over="reading", file=FILE),
        Input("bent_lift", "l", "mm", "Lift at these", over="reading", file=FILE), LIMIT,
    ),
    per=_PER, source=_SMOOTHED.replace("slope", "second derivative", 1).replace("steepest", "largest"), flag=Flag.SEEN,
    example=Example(
        {"bent_angle": ("-3°", "-2°", "-1°", "0°", "1°", "2°", "3°"),
         "bent_lift": ("0.09 mm", "0.04 mm", "0.01 mm", "0 mm", "0.01 mm", "0.04 mm", "0.09 mm"), "rpm_limit": "10000 rpm"},
        "72000 m/s²", f"{_HAND}: l = 0.01 mm x a² bends by 0.02 mm a degree squared; times 60,000² degrees squared a second squared",
    ),
    subject="valve train", strokes="4", closed=False, decimals=0, quiet=True,
)  # fmt: skip
def valve_acceleration_by_curve(bent_angle: Sequence[Number], bent_lift: Sequence[Number], rpm_limit: Number) -> Number:
    """Largest acceleration of the valve (m/s²) at the limit of engine speed."""
    bend, span = _fitted(bent_angle, bent_lift, 2)
    acceleration = bend / span**2 * rpm_limit**2
    return largest([acceleration, -acceleration])


def _fitted(angles: Sequence[Number], lifts: Sequence[Number], order: int) -> tuple[Number, Number]:
    """Derivative of a cubic through the lifts at the middle angle, for angles counted in their own span; and that span."""
    span = angles[-1] - angles[0]
    places = [nominal((one - angles[len(angles) // 2]) / span) for one in angles]
    weights = np.linalg.pinv(np.vander(places, 4, increasing=True))[order] * (1, 1, 2)[order]
    return sum((float(weight) * lift for weight, lift in zip(weights[1:], lifts[1:], strict=True)), float(weights[0]) * lifts[0]), span


# ---------------------------------------------------------------- which readings of a curve go into which figure


class Curve:
    """A lift curve as read: crank angles in degrees (rising) and lifts in mm."""

    def __init__(self, angles: Sequence[float], lifts: Sequence[float]) -> None:
        """ValueError where there are fewer than nine readings or no flank on one side."""
        order = np.argsort(np.asarray(angles, float))
        self.angles, self.lifts = np.asarray(angles, float)[order], np.asarray(lifts, float)[order]
        self.top = int(self.lifts.argmax()) if len(self.lifts) else 0
        if len(self.angles) < 9 or self.top in (0, len(self.angles) - 1):
            raise ValueError("a lift curve wants nine readings or more, with its highest among them")

    def flank(self, lift: float, rising: bool) -> tuple[int, int] | None:
        """The readings just below and just above a lift, on the side that opens or closes."""
        step = -1 if rising else 1
        at = self.top
        while 0 <= at + step < len(self.lifts):
            if self.lifts[at + step] < lift <= self.lifts[at]:
                return at + step, at
            at += step
        return None

    def crossing(self, lift: float, rising: bool) -> float | None:
        """Angle at which a flank passes a lift, degrees."""
        pair = self.flank(lift, rising)
        if pair is None:
            return None
        (low, high) = pair
        a, l = self.angles, self.lifts  # noqa: E741
        return float(a[low] + (lift - l[low]) / (l[high] - l[low]) * (a[high] - a[low]))

    def window(self, order: int) -> range:
        """Seven readings about the place where the first or second derivative is largest in size."""
        middles = range(3, len(self.angles) - 3)
        best = max(middles, key=lambda n: abs(self._derivative(n, order)), default=3)
        return range(best - 3, best + 4)

    def _derivative(self, n: int, order: int) -> float:
        near = slice(n - 3, n + 4)
        value, span = _fitted(list(self.angles[near]), list(self.lifts[near]), order)
        return float(value / span**order)
