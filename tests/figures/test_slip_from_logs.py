"""Gears and slip found in made logs whose truth is known: what stands out is found right, and nothing is claimed that is not there."""

from __future__ import annotations

import numpy as np
import pytest

from dossier.figures.gears_in_log import GearSeen, course_of, gears_seen, resolution_of
from dossier.figures.slip import gears_held, rise_of, told_apart
from tests.figures.made_logs import MadeLog, circuit, traffic

TEETH = ((29, 15), (28, 18), (27, 20), (26, 22), (25, 23), (24, 24))
RATIOS = {str(n): 60 / 24 * a / b * 40 / 17 * 1000 / 60 / 1.905 for n, (a, b) in enumerate(TEETH, start=1)}
"""Engine speed for each km/h: 2.5 in the primary, 40 : 17 at the chain, 1.905 m to a turn of the wheel."""
SIX = tuple(RATIOS.values())


def course(made: MadeLog):
    return course_of(made.rpm, made.speed, made.time, made.throttle)


def nearest(one: GearSeen, made: MadeLog) -> int:
    return min(range(len(made.per_speed)), key=lambda k: abs(np.log(one.per_speed / made.per_speed[k])))


CARS = [
    {}, {"cut": True, "lag": 0.8}, {"lag": 1.0}, {"minutes": 20, "lag": 0.0},
    {"per_speed": (132.0, 74.0, 50.0, 37.0, 30.0), "minutes": 25}, {"per_speed": (118.0, 70.0, 48.0, 36.5, 29.5, 24.5)},
]  # fmt: skip


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("how", CARS, ids=str)
def test_gears_of_a_car_in_traffic_are_found_right_to_three_per_cent(seed: int, how: dict[str, object]):
    made = traffic(seed, **how)  # type: ignore[arg-type]
    used = [n for n in range(len(made.per_speed)) if np.count_nonzero(made.gear == n + 1) >= 60]
    found = {nearest(one, made): one for one in gears_seen(course(made)).gears if not one.few}
    # the lowest is driven for a few seconds at a time only, below 20 km/h, where whole km/h say little
    assert set(found) - {0} >= set(used) - {0}
    for n, one in found.items():
        assert one.per_speed == pytest.approx(made.per_speed[n], rel=0.03 if n else 0.04)


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("how", CARS, ids=str)
def test_no_gear_is_found_that_the_car_has_not(seed: int, how: dict[str, object]):
    made = traffic(seed, **how)  # type: ignore[arg-type]
    gears = [nearest(one, made) for one in gears_seen(course(made)).gears if not one.few]
    assert len(gears) == len(set(gears))


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("how", [{}, {"cut": True, "lag": 0.8}, {"lag": 1.0}, {"minutes": 15}], ids=str)
def test_no_slip_is_claimed_of_a_car_that_has_none_at_one_row_a_second(seed: int, how: dict[str, object]):
    made = traffic(seed, **how)  # type: ignore[arg-type]
    floored = course_of(made.rpm, made.speed, made.time, np.where(made.throttle > 60, 100, made.throttle))
    assert {one.name for one in told_apart(gears_held(floored), {})} <= {"none", "not told"}


def test_without_full_throttle_or_without_a_throttle_nothing_is_told_of_slip():
    made = traffic(1)
    for throttle in (None, np.minimum(made.throttle, 60)):
        held = gears_held(course_of(made.rpm, made.speed, made.time, throttle))
        assert [one.name for one in told_apart(held, {})] == ["not told"]


def test_the_lag_of_the_road_speed_is_found():
    assert gears_seen(course(traffic(2, lag=0.8))).late == pytest.approx(0.8, abs=0.21)
    assert gears_seen(course(circuit(0, SIX))).late == pytest.approx(0.0, abs=0.11)


@pytest.mark.parametrize("by", ["ratios", "logged"])
@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize(
    ("how", "slips", "causes"),
    [
        ({}, {}, {"none"}),
        ({"slip": 0.059, "slipping": (5, 6)}, {"5": 5.9}, {"clutch"}),
        ({"slip": 0.03, "slipping": (4, 5, 6)}, {"4": 3.0, "5": 3.0}, {"clutch"}),
        ({"tyre": 0.012}, {}, {"tyre"}),
        ({"short": 1 / 17}, {}, {"every gear alike"}),
        ({"short": -0.03, "slip": 0.05, "slipping": (5, 6)}, {"5": 5.0}, {"clutch", "every gear alike"}),
    ],
)
def test_clutch_slip_tyre_and_a_wrong_ratio_are_told_apart(seed: int, by: str, how: dict[str, object], slips: dict[str, float], causes: set[str]):
    made = circuit(seed, SIX, **how)  # type: ignore[arg-type]
    held = gears_held(course(made), RATIOS, made.gear.astype(float) if by == "logged" else None)
    assert held.by == by
    found = {one.gear: 100 * rise[0] for one in held.gears if (rise := rise_of(one)) and rise[0] > rise[1] and rise[0] > 0.01}
    assert found.pop("6", None) is None or "6" in [one.gear for one in held.gears]
    assert found == {gear: pytest.approx(share, abs=0.3) for gear, share in slips.items()}
    assert {one.name for one in told_apart(held, RATIOS)} == causes


def test_a_top_gear_that_slips_is_not_taken_for_the_gear_below_it():
    made = circuit(0, SIX, slip=0.059, slipping=(6,))
    held = {one.gear: one for one in gears_held(course(made), RATIOS).gears}
    assert 100 * rise_of(held["6"])[0] == pytest.approx(5.9, abs=0.2)  # type: ignore[index]
    assert abs(100 * rise_of(held["5"])[0]) < 0.3  # type: ignore[index]


@pytest.mark.parametrize("how", [{}, {"tyre": 0.012}, {"short": 1 / 17}], ids=str)
def test_where_ratios_are_unknown_a_gear_used_at_full_throttle_only_is_no_slip(how: dict[str, object]):
    held = gears_held(course(circuit(0, SIX, **how)))  # type: ignore[arg-type]
    assert held.by == "found"
    assert [one.name for one in told_apart(held, {})] == ["none"]


def test_the_resolution_of_a_speed_is_seen_in_its_digits():
    assert resolution_of(np.array([10.0, 11, 14, 12, 90])) == pytest.approx(1.0, abs=0.2)
    assert resolution_of(np.round(np.linspace(10, 90, 5000), 1)) == pytest.approx(0.1)


def test_columns_that_differ_in_length_are_refused():
    with pytest.raises(ValueError, match="length"):
        course_of([1, 2], [1])


@pytest.mark.parametrize("rows", [0, 1, 2, 7])
def test_a_log_of_next_to_no_rows_shows_no_gear(rows: int):
    few = course_of([5000.0] * rows, [100.0] * rows)
    assert gears_held(few).gears == ()
    assert gears_held(few, RATIOS).off == 0.0


def test_speeds_that_are_cut_and_not_rounded_are_noticed_and_never_supposed():
    assert gears_seen(course(traffic(1, cut=True, lag=0.8))).cut
    assert not any(gears_seen(course(traffic(seed))).cut for seed in range(3))
