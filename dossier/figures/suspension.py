"""Springs as the wheels feel them: rates, sag, bounce."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi
from typing import Any

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, cos, sqrt
from dossier.model.results import Flag

WITH_RIDER = (("state", "with rider"),)
_HAND = "worked by hand"
_SAG_SOURCE = "front 30 to 35 %, rear 25 % (promecha.com.au/sag_preload.htm); 25 to 35 % in a road-race table (Paul O'Brien)"
_BOUNCE = "natural frequency of a mass on a spring, undamped, the other end held"


@figure(
    title="Wheel rate, front",
    symbol="k_f",
    unit="N/mm",
    formula="k_f = n_s * k_s / cos(epsilon)**2",
    inputs=(
        Input("fork_springs", "n_s", "", "Fork springs", exact=True),
        Input("fork_spring_rate", "k_s", "N/mm", "Rate of each fork spring"),
        Input("rake", "epsilon", "°", "Rake, from the vertical"),
    ),
    source="spring travel is wheel travel times the cosine of the rake, and so is the force",
    flag=Flag.GEOMETRY,
    example=Example({"fork_springs": "2", "fork_spring_rate": "6.2 N/mm", "rake": "27.2°"}, "15.68 N/mm", f"{_HAND}: 12.4 / 0.88942²"),
    subject="chassis",
    impossible=(0, None),
)
def front_wheel_rate(fork_springs: Number, fork_spring_rate: Number, rake: Number) -> Number:
    """Rate of the fork as the wheel feels it, upwards; air and preload left out."""
    return fork_springs * fork_spring_rate / cos(rake) ** 2


@figure(
    title="Wheel rate, rear",
    symbol="k_r",
    unit="N/mm",
    formula="k_r = n_s * k_s * M**2",
    inputs=(
        Input("rear_springs", "n_s", "", "Rear springs", exact=True),
        Input("rear_spring_rate", "k_s", "N/mm", "Rate of each rear spring"),
        Input("rear_motion_ratio", "M", "", "Spring travel over wheel travel"),
    ),
    source="spring travel is wheel travel times the motion ratio, and so is the force",
    flag=Flag.GEOMETRY,
    example=Example(
        {"rear_springs": "2", "rear_spring_rate": "15.0 N/mm", "rear_motion_ratio": "0.88"}, "23.23 N/mm", f"{_HAND}: 30 x 0.7744"
    ),
    subject="chassis",
    impossible=(0, None),
)
def rear_wheel_rate(rear_springs: Number, rear_spring_rate: Number, rear_motion_ratio: Number) -> Number:
    """Rate of the rear springs as the wheel feels it."""
    return rear_springs * rear_spring_rate * rear_motion_ratio**2


@figure(
    title="Spring rate, from the test",
    symbol="k",
    unit="N/mm",
    formula="k = Delta_F / Delta_x",
    inputs=(
        Input("spring_test_force", "F", "N", "Force on the spring", over="state"),
        Input("spring_test_length", "x", "mm", "Deflection", over="state"),
    ),
    per=("wheel",),
    source="difference of force over difference of deflection across the middle third of the readings (common practice, no source)",
    flag=Flag.PRACTICE,
    example=Example(
        {"spring_test_force": ("300 N", "600 N"), "spring_test_length": ("20.3 mm", "40.3 mm")}, "15.0 N/mm", f"{_HAND}: 300 / 20.0"
    ),
    subject="chassis",
    closed=False,
    impossible=(0, None),
    decimals=1,
)  # fmt: skip
def tested_spring_rate(spring_test_force: Sequence[Number], spring_test_length: Sequence[Number]) -> Number:
    """Rate over the middle third of the readings, taken in the order of the test; all of them where there are fewer than four."""
    pairs = sorted(zip(spring_test_length, spring_test_force, strict=True))
    cut = len(pairs) // 3 if len(pairs) > 3 else 0
    (x_1, f_1), (x_2, f_2) = pairs[cut], pairs[len(pairs) - 1 - cut]
    return (f_2 - f_1) / (x_2 - x_1)


@figure(
    title="Rider sag, front",
    symbol="s_f",
    unit="%",
    formula="s_f = 100 * x_s / x_t",
    inputs=(Input("fork_rider_sag", "x_s", "mm", "Sag of the fork with rider"), Input("fork_travel", "x_t", "mm", "Travel of the fork")),
    source="by definition: sag with the rider up over the whole travel",
    flag=Flag.GEOMETRY,
    example=Example({"fork_rider_sag": "34 mm", "fork_travel": "105 mm"}, "32.4 %", f"{_HAND}: 34 / 105"),
    subject="chassis",
    usual=(25, 35),
    usual_source=_SAG_SOURCE,
    impossible=(0, 100),
    decimals=1,
)
def front_rider_sag(fork_rider_sag: Number, fork_travel: Number) -> Number:
    """Share of the fork's travel that the rider takes up."""
    return fork_rider_sag / fork_travel


@figure(
    title="Rider sag, rear",
    symbol="s_r",
    unit="%",
    formula="s_r = 100 * x_s / x_t",
    inputs=(
        Input("rear_rider_sag", "x_s", "mm", "Sag at the rear with rider"),
        Input("rear_travel", "x_t", "mm", "Travel of the rear wheel"),
    ),
    source="by definition: sag with the rider up over the whole travel",
    flag=Flag.GEOMETRY,
    example=Example({"rear_rider_sag": "24 mm", "rear_travel": "82 mm"}, "29.3 %", f"{_HAND}: 24 / 82"),
    subject="chassis",
    usual=(25, 35),
    usual_source=_SAG_SOURCE,
    impossible=(0, 100),
    decimals=1,
)
def rear_rider_sag_share(rear_rider_sag: Number, rear_travel: Number) -> Number:
    """Share of the rear travel that the rider takes up."""
    return rear_rider_sag / rear_travel


def _free_sag(title: str, symbol: str, sag: str, travel: str) -> dict[str, Any]:
    return {
        "title": title, "symbol": symbol, "unit": "%", "formula": f"{symbol} = 100 * x_0 / x_t",
        "inputs": (
            Input("free_sag", "x_0", "mm", "Sag under the machine alone", name=sag), Input("travel", "x_t", "mm", "Travel", name=travel),
        ),
        "source": "by definition: sag under the machine alone over the whole travel", "flag": Flag.GEOMETRY,
        "example": Example({"free_sag": "22 mm", "travel": "105 mm"}, "21.0 %", f"{_HAND}: 22 / 105"),
        "subject": "chassis", "impossible": (0, 100), "decimals": 1, "quiet": True,
    }  # fmt: skip


@figure(**_free_sag("Free sag, front", "s_f0", "fork_free_sag", "fork_travel"))
def front_free_sag(free_sag: Number, travel: Number) -> Number:
    """Share of the fork's travel that the machine alone takes up."""
    return free_sag / travel


@figure(**_free_sag("Free sag, rear", "s_r0", "rear_free_sag", "rear_travel"))
def rear_free_sag_share(free_sag: Number, travel: Number) -> Number:
    """Share of the rear travel that the machine alone takes up."""
    return free_sag / travel


def _bounce(rate: Number, load: Number, unsprung: Number) -> Number:
    return sqrt(rate / (load - unsprung)) / (2 * pi)


@figure(
    title="Bounce frequency, front",
    symbol="f_f",
    unit="Hz",
    formula="f_f = sqrt(1000 * k_f / (W_f - m_u)) / (2 * pi)",
    inputs=(
        Input("front_wheel_rate", "k_f", "N/mm", "Wheel rate, front"),
        Input("axle_load_front", "W_f", "kg", "Load on the front wheel, with rider", at=WITH_RIDER),
        Input("unsprung_mass_front", "m_u", "kg", "Unsprung mass, front"),
    ),
    source=_BOUNCE,
    flag=Flag.GEOMETRY,
    example=Example(
        {"front_wheel_rate": "15.675 N/mm", "axle_load_front": "89.2 kg", "unsprung_mass_front": "12 kg"}, "2.27 Hz",
        f"{_HAND}: 15,675 / 77.2 = 203.04; its root 14.249",
    ),
    subject="chassis",
    usual=(1.8, 2.8),
    usual_source="from memory; looked for, no published range found",
    basis="with rider; the unsprung mass may be assumed",
    impossible=(0, None),
)  # fmt: skip
def front_bounce_frequency(front_wheel_rate: Number, axle_load_front: Number, unsprung_mass_front: Number) -> Number:
    """Natural frequency of the front, rider up; ValueError when the unsprung mass is more than the load."""
    return _bounce(front_wheel_rate, axle_load_front, unsprung_mass_front)


@figure(
    title="Bounce frequency, rear",
    symbol="f_r",
    unit="Hz",
    formula="f_r = sqrt(1000 * k_r / (W_r - m_u)) / (2 * pi)",
    inputs=(
        Input("rear_wheel_rate", "k_r", "N/mm", "Wheel rate, rear"),
        Input("axle_load_rear", "W_r", "kg", "Load on the rear wheel, with rider", at=WITH_RIDER),
        Input("unsprung_mass_rear", "m_u", "kg", "Unsprung mass, rear"),
    ),
    source=_BOUNCE,
    flag=Flag.GEOMETRY,
    example=Example(
        {"rear_wheel_rate": "23.232 N/mm", "axle_load_rear": "103.2 kg", "unsprung_mass_rear": "14 kg"}, "2.57 Hz",
        f"{_HAND}: 23,232 / 89.2 = 260.45; its root 16.138",
    ),
    subject="chassis",
    usual=(1.8, 2.8),
    usual_source="from memory; looked for, no published range found",
    basis="with rider; the unsprung mass may be assumed",
    impossible=(0, None),
)  # fmt: skip
def rear_bounce_frequency(rear_wheel_rate: Number, axle_load_rear: Number, unsprung_mass_rear: Number) -> Number:
    """Natural frequency of the rear, rider up; ValueError when the unsprung mass is more than the load."""
    return _bounce(rear_wheel_rate, axle_load_rear, unsprung_mass_rear)
