"""Drive line, power and chassis of the invented twin, worked out together, against results of another program."""

from __future__ import annotations

import pytest

from dossier.model.results import Worked
from tests.figures.bench import carried_out
from tests.figures.twin import EXPECTED, EXPECTED_WITH_OTHER_WHEEL, twin, with_other


@pytest.fixture(scope="module")
def worked() -> dict[str, Worked]:
    return carried_out(twin())


def digits(number: float) -> float:
    """Half a unit of the last digit printed."""
    return 0.5 * 10 ** -len(f"{number!r}".partition(".")[2]) * (1 + 1e-6)


@pytest.mark.parametrize("named", EXPECTED)
def test_the_figure_of_the_twin_comes_out_in_its_printed_digits(named: str, worked: dict[str, Worked]) -> None:
    assert worked[named].value == pytest.approx(EXPECTED[named], abs=digits(EXPECTED[named]))


def test_another_front_wheel_changes_rake_trail_and_wheelbase_and_warns() -> None:
    other = carried_out(with_other(twin(), front_wheel_radius="311.3 mm"))

    for name, expected in EXPECTED_WITH_OTHER_WHEEL.items():
        assert other[name].value == pytest.approx(expected, abs=digits(expected)), name
    assert other["trail_change"].value == pytest.approx(110.70443 - 100.61591, abs=1e-5)
    assert [one.code for one in other["trail_change"].warnings] == ["figure-unusual"]


def test_with_the_wheels_of_the_day_it_was_measured_nothing_changes_and_nothing_warns(worked: dict[str, Worked]) -> None:
    for name, expected in (("rake_change", 0), ("trail_change", 0), ("wheelbase_in_use", 1312)):
        assert worked[name].value == pytest.approx(expected, abs=1e-9)
        assert not worked[name].warnings


def test_each_gear_and_sprocket_pair_is_worked_out_once_and_nothing_is_missing(worked: dict[str, Worked]) -> None:
    assert sum(one.name == "overall_ratio" for one in worked.values()) == 12
    assert {one.id for one in worked.values() if one.name == "slip"} == {"slip.TS-1.6.short", "slip.TS-3.6.short"}
    ours = ("drive line", "chassis")
    assert not [one.id for one in worked.values() if one.subject in ours and one.missing and one.name != "equivalent_mass"]


def test_steps_lead_from_each_gear_to_the_next_and_there_is_none_above_top(worked: dict[str, Worked]) -> None:
    steps = [one.value for one in worked.values() if one.name == "gear_step"]

    assert steps == pytest.approx([1.243, 1.152, 1.142, 1.087, 1.087], abs=0.0006)
    drops = [one.value for one in worked.values() if one.name == "rpm_drop"]
    assert drops == pytest.approx([1993, 1348, 1271, 819, 816], abs=0.5)


def test_the_clutch_warns_as_found_and_not_as_fixed(worked: dict[str, Worked]) -> None:
    assert worked["clutch_reserve.found"].warnings
    assert not worked["clutch_reserve.fixed"].warnings
    assert worked["slip.TS-1.6.short"].warnings and not worked["slip.TS-3.6.short"].warnings


def test_the_useful_range_begins_where_nine_tenths_are_reached_and_has_no_end_on_the_curve(worked: dict[str, Worked]) -> None:
    # 90 % of 32.635 is 29.371 kW; between 8000 rpm (26.976 kW) and 8600 rpm (29.720 kW) that is 0.8731 of the way.
    assert worked["useful_range_from.DY-2"].value == pytest.approx(8523.9, abs=0.1)
    assert worked["useful_range_to.DY-2"].value is None
    assert "ends at 10200 rpm" in worked["useful_range_to.DY-2"].no_verdict


def test_wheel_loads_agree_with_the_scale_and_a_kilogram_more_does_not() -> None:
    assert not carried_out(twin())["weighing_difference"].warnings
    off = carried_out(with_other(twin(), mass="120.5 ± 0.3 kg"))["weighing_difference"]
    assert "more than its uncertainty" in off.warnings[0].text


def test_gears_written_down_in_any_order_count_upwards() -> None:
    steps = {id: one.value for id, one in carried_out(twin()[::-1]).items() if one.name == "gear_step"}
    assert steps["gear_step.1"] == pytest.approx(1.243, abs=0.0006) and "gear_step.6" not in steps
