"""What logs yield, against published results and against curves whose truth is known."""

from __future__ import annotations

import math
import statistics

import numpy as np
import pytest

from dossier.figures.cam_log import Curve, centre_by_curve, valve_acceleration_by_curve, valve_speed_by_curve
from dossier.figures.colour import ciede2000
from dossier.figures.dyno_log import pull_repeatability
from dossier.figures.figure import NoVerdict
from dossier.figures.laps import lap_apart, lap_spread, mean_logged_lap, median_lap
from tests.figures.cases import label, of

SHARMA = (
    (50.0000, 2.6772, -79.7751, 50.0000, 0.0000, -82.7485, 2.0425), (50.0000, 3.1571, -77.2803, 50.0000, 0.0000, -82.7485, 2.8615),
    (50.0000, 2.8361, -74.0200, 50.0000, 0.0000, -82.7485, 3.4412), (50.0000, -1.3802, -84.2814, 50.0000, 0.0000, -82.7485, 1.0000),
    (50.0000, -1.1848, -84.8006, 50.0000, 0.0000, -82.7485, 1.0000), (50.0000, -0.9009, -85.5211, 50.0000, 0.0000, -82.7485, 1.0000),
    (50.0000, 0.0000, 0.0000, 50.0000, -1.0000, 2.0000, 2.3669), (50.0000, -1.0000, 2.0000, 50.0000, 0.0000, 0.0000, 2.3669),
    (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0009, 7.1792), (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0010, 7.1792),
    (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0011, 7.2195), (50.0000, 2.4900, -0.0010, 50.0000, -2.4900, 0.0012, 7.2195),
    (50.0000, -0.0010, 2.4900, 50.0000, 0.0009, -2.4900, 4.8045), (50.0000, -0.0010, 2.4900, 50.0000, 0.0010, -2.4900, 4.8045),
    (50.0000, -0.0010, 2.4900, 50.0000, 0.0011, -2.4900, 4.7461), (50.0000, -0.0010, 2.4900, 50.0000, 0.0012, -2.4900, 4.7461),
    (50.0000, 2.5000, 0.0000, 50.0000, 0.0000, -2.5000, 4.3065), (50.0000, 2.5000, 0.0000, 73.0000, 25.0000, -18.0000, 27.1492),
    (50.0000, 2.5000, 0.0000, 61.0000, -5.0000, 29.0000, 22.8977), (50.0000, 2.5000, 0.0000, 56.0000, -27.0000, -3.0000, 31.9030),
    (50.0000, 2.5000, 0.0000, 58.0000, 24.0000, 15.0000, 19.4535), (50.0000, 2.5000, 0.0000, 50.0000, 3.1736, 0.5854, 1.0000),
    (50.0000, 2.5000, 0.0000, 50.0000, 3.2972, 0.0000, 1.0000), (50.0000, 2.5000, 0.0000, 50.0000, 1.8634, 0.5757, 1.0000),
    (50.0000, 2.5000, 0.0000, 50.0000, 3.2592, 0.3350, 1.0000), (60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644),
    (63.0109, -31.0961, -5.8663, 62.8187, -29.7946, -4.0864, 1.2630), (61.2901, 3.7196, -5.3901, 61.4292, 2.2480, -4.9620, 1.8731),
    (35.0831, -44.1164, 3.7933, 35.0232, -40.0716, 1.5901, 1.8645), (22.7233, 20.0904, -46.6940, 23.0331, 14.9730, -42.5619, 2.0373),
    (36.4612, 47.8580, 18.3852, 36.2715, 50.5065, 21.2231, 1.4146), (90.8027, -2.0831, 1.4410, 91.1528, -1.6435, 0.0447, 1.4441),
    (90.9257, -0.5406, -0.9208, 88.6381, -0.8985, -0.7239, 1.5381), (6.7747, -0.2908, -2.4247, 5.8714, -0.0985, -2.2286, 0.6377),
    (2.0776, 0.0795, -1.1350, 0.9033, -0.0636, -0.5514, 0.9082),
)  # fmt: skip
"""L*, a*, b* of two colours and their dE00: Sharma, Wu & Dalal, Color Research and Application 30 (2005) 21-30, table 1.

Each line stands there once in four decimals; the lines whose hues differ by just half a turn decide by rounding between two
values of the formula, 0.0584 apart.
"""


@pytest.mark.parametrize("pair", SHARMA, ids=lambda pair: str(pair[6]))
def test_the_published_colour_differences_come_out(pair: tuple[float, ...]):
    half_a_turn = abs(pair[1] + pair[4]) < 1e-9 and abs(pair[2] + pair[5]) < 1e-9
    assert ciede2000(*pair[:6]) == pytest.approx(pair[6], abs=0.06 if half_a_turn else 5.1e-5)


@pytest.mark.parametrize("pair", SHARMA, ids=lambda pair: str(pair[6]))
def test_a_colour_difference_is_the_same_both_ways(pair: tuple[float, ...]):
    assert ciede2000(*pair[3:6], *pair[:3]) == pytest.approx(ciede2000(*pair[:6]), abs=1e-9)


@pytest.mark.parametrize("case", [case for case in of(15) if "values" in case["inputs"]], ids=label)
def test_statistics_of_laps_equal_the_published_ones(case: dict[str, dict[str, dict[str, object]]]):
    laps = tuple(case["inputs"]["values"]["value"])
    ours = {"mean": mean_logged_lap, "median": median_lap, "sd": lap_spread}
    for name, work in ours.items():
        if name in case["expected"]:
            wanted = case["expected"][name]
            assert work(laps) == pytest.approx(wanted["value"], abs=max(float(wanted["tol"]), 1e-9 * abs(float(wanted["value"]))))


def test_a_lap_stands_apart_only_where_the_others_agree():
    assert lap_apart((100.0, 101.0, 102.0, 103.0, 120.0)) == pytest.approx(102 + 3.5 / 0.6745)
    with pytest.raises(NoVerdict):
        lap_apart((100.0, 100.0, 100.0, 100.0, 120.0))
    with pytest.raises(NoVerdict):
        lap_apart((100.0, 101.0))


def test_pooled_scatter_of_pulls_is_twice_the_root_of_the_mean_variance():
    draws = np.random.default_rng(3).normal(30, 0.2, (400, 6))
    each = tuple(statistics.stdev(row) for row in draws.tolist())
    assert pull_repeatability(each) == pytest.approx(0.4, rel=0.05)


def lobe(top: float = 9.2, centre: float = 102.0, half: float = 180.0, step: float = 5.0, noise: float = 0.0) -> Curve:
    """A cosine lobe: lift = top/2 (1 + cos(pi x / half)), whose events, speed and acceleration have closed forms."""
    angles = np.arange(centre - half - 20, centre + half + 20, step)
    shares = np.clip((angles - centre) / half, -1, 1)
    lifts = top / 2 * (1 + np.cos(np.pi * shares)) + np.random.default_rng(1).normal(0, noise, len(angles)) * (np.abs(shares) < 1)
    return Curve(angles.tolist(), lifts.tolist())


@pytest.mark.parametrize("lift", [0.5, 1.0, 4.0])
def test_events_of_a_lobe_are_where_its_closed_form_has_them(lift: float):
    away = 180 * math.acos(2 * lift / 9.2 - 1) / math.pi
    assert lobe().crossing(lift, True) == pytest.approx(102 - away, abs=0.2)
    assert lobe().crossing(lift, False) == pytest.approx(102 + away, abs=0.2)


def test_the_centre_of_a_lobe_is_found_though_no_reading_stands_on_it():
    curve = lobe(noise=0.005)
    rising = [math.radians(curve.crossing(share * 9.2, True) or 0) for share in (0.5, 0.6, 0.7, 0.8, 0.9)]
    falling = [math.radians(curve.crossing(share * 9.2, False) or 0) for share in (0.5, 0.6, 0.7, 0.8, 0.9)]
    assert math.degrees(centre_by_curve(rising, falling)) == pytest.approx(102, abs=0.1)
    assert math.degrees(centre_by_curve([-one for one in falling], [-one for one in rising])) == pytest.approx(102, abs=0.1)


def test_speed_and_acceleration_of_the_valve_equal_those_of_the_closed_form():
    curve, turn = lobe(), 10_000 * math.pi / 30
    for order, work in ((1, valve_speed_by_curve), (2, valve_acceleration_by_curve)):
        window = curve.window(order)
        angles = [math.radians(curve.angles[n]) for n in window]
        found = work(angles, [float(curve.lifts[n]) / 1000 for n in window], turn)
        assert found == pytest.approx(9.2e-3 / 2 * turn**order, rel=0.02)  # half a turn of the cosine takes half a turn of the crank


@pytest.mark.parametrize("lifts", [[0.0] * 5, list(range(12)), list(range(12, 0, -1))])
def test_a_curve_without_both_flanks_is_refused(lifts: list[float]):
    with pytest.raises(ValueError, match="lift curve"):
        Curve(list(range(len(lifts))), lifts)
