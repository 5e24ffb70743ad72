"""Stated capacity of 201 production engines against their bore and stroke: UCI Automobile data (1985), the whole set (SWV-ALL)."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from dossier.figures.bench import needed_by
from dossier.figures.figure import FIGURES
from dossier.figures.work_out import work_out
from dossier.model.forms.measurements import Role
from dossier.model.results import Worked
from tests.figures.bench import value
from tests.figures.cases import BY_ID

ROWS = list(csv.DictReader((Path(__file__).parents[1] / "data" / "automobile.csv").open(encoding="utf-8")))
RECIPES = needed_by(FIGURES["swept_volume_deviation"])


def deviation(row: dict[str, str]) -> Worked:
    """What a user would get who states that capacity and writes down that bore and stroke."""
    values = [
        value("bore", f"{row['bore_in']} in"), value("stroke", f"{row['stroke_in']} in"), value("cylinders", row["cylinders"]),
        value("swept_volume", f"{row['engine_size_cuin']} cu in", Role.DECLARED),
    ]  # fmt: skip
    (found,) = (one for one in work_out(values, RECIPES, "4") if one.name == "swept_volume_deviation")
    return found


@pytest.fixture(scope="module")
def deviations() -> list[Worked]:
    return [deviation(row) for row in ROWS]


def test_the_rows_agree_as_the_published_columns_do(deviations: list[Worked]) -> None:
    expected = {name: one["value"] for name, one in BY_ID["SWV-ALL"]["expected"].items()}
    sizes = [abs(one.value or 0) for one in deviations]

    assert len(sizes) == 201
    assert sum(size <= 1.5 for size in sizes) == expected["rows_within_1.5pct"] == 162
    assert sum(size > 1.5 for size in sizes) == expected["rows_beyond_1.5pct"]
    assert sum(size > 10 for size in sizes) == expected["rows_beyond_10pct"]


def test_the_ten_rows_beyond_six_per_cent_are_called_implausible_and_no_other(deviations: list[Worked]) -> None:
    called = [one for one in deviations if any("implausible" in warned.text for warned in one.warnings)]

    assert len(called) == 10
    assert {id(one) for one in called} == {id(one) for one in deviations if abs(one.value or 0) > 6}


def test_rows_within_one_per_cent_raise_no_warning(deviations: list[Worked]) -> None:
    assert not [one for one in deviations if abs(one.value or 0) <= 1 and one.warnings]
