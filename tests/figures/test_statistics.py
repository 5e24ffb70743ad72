"""Repeated readings against certified data and textbooks."""

from __future__ import annotations

import math
from typing import Any

import pytest

from dossier.figures.statistics import of_readings
from tests.figures.cases import CASES, label

WITH_VALUES = [case for case in CASES if case["id"].startswith("STA") and "values" in case["inputs"]]


@pytest.mark.parametrize("case", WITH_VALUES, ids=label)
def test_mean_and_deviation_are_as_certified_or_printed(case: dict[str, Any]) -> None:
    found = of_readings(case["inputs"]["values"]["value"])
    expected = case["expected"]
    for name, got in (("mean", found.mean), ("sd", found.deviation), ("variance", found.deviation**2)):
        if name in expected:
            assert got == pytest.approx(expected[name]["value"], abs=expected[name]["tol"])


NUM_ACC_2 = [1.2] + [1.1, 1.3] * 500
NUM_ACC_3 = [1000000.2] + [1000000.1, 1000000.3] * 500
NUM_ACC_4 = [10000000.2] + [10000000.1, 10000000.3] * 500


@pytest.mark.parametrize(
    ("values", "mean"), [(NUM_ACC_2, 1.2), (NUM_ACC_3, 1000000.2), (NUM_ACC_4, 10000000.2)], ids=["NumAcc2", "NumAcc3", "NumAcc4"]
)
def test_nist_strd_readings_that_differ_in_the_last_digit_only_keep_their_spread(values: list[float], mean: float) -> None:
    """NIST StRD univariate, NumAcc2 to 4: 1001 values, certified deviation 0.1; the decimals are not binary, hence the margin."""
    found = of_readings(values)

    assert found.mean == pytest.approx(mean, rel=1e-12)
    assert found.deviation == pytest.approx(0.1, rel=1e-7)


def test_the_uncertainty_of_the_mean_is_that_of_gum_4_4_3() -> None:
    """GUM 4.4.3: twenty temperatures, mean 100.145, s = 1.489, s of the mean 0.333 (0.33)."""
    readings = [96.90, 98.18, 98.25, 98.61, 99.03, 99.49, 99.56, 99.74, 99.89, 100.07, 100.33, 100.42, 100.68, 100.95, 101.11, 101.20,
                101.57, 101.84, 102.36, 102.72]  # fmt: skip
    found = of_readings(readings)

    assert (found.mean, found.deviation) == (pytest.approx(100.145, abs=5e-4), pytest.approx(1.489, abs=5e-4))
    assert (found.u_of_mean, found.freedom) == (pytest.approx(0.333, abs=5e-4), 19)


def test_one_reading_has_no_spread() -> None:
    with pytest.raises(ValueError, match="two or more"):
        of_readings([62.013])


def test_the_uncertainty_of_the_mean_falls_with_the_root_of_the_number() -> None:
    assert of_readings([1, 2] * 8).u_of_mean == pytest.approx(math.sqrt(0.25 * 16 / 15) / 4)
