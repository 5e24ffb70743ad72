"""Limits and fits on the bench, against printed tables and textbook fits."""

from __future__ import annotations

from typing import Any

import pytest

from dossier.figures.bench import on_the_bench
from tests.figures.bench import carried_out, value, work
from tests.figures.cases import BY_ID, label, of

ZONES = [case for case in of(11) if "zone" in case["inputs"]]
FITS = [case for case in of(11) if "fit" in case["inputs"]]


def typed(name: str, *words: str) -> Any:
    worked, problems = on_the_bench(name, words)
    assert not problems
    return worked[0]


@pytest.mark.parametrize("case", ZONES, ids=label)
def test_the_zone_is_as_printed(case: dict[str, Any]) -> None:
    words = (f"nominal={case['inputs']['nominal']['value']} mm", f"zone={case['inputs']['zone']['value']}")
    for side in ("upper", "lower"):
        expected = case["expected"][side]

        assert typed(side, *words).value == pytest.approx(expected["value"], abs=expected["tol"])


@pytest.mark.parametrize("case", FITS, ids=label)
def test_the_fit_is_as_printed(case: dict[str, Any]) -> None:
    size, fit = f"nominal={case['inputs']['nominal']['value']} mm", case["inputs"]["fit"]["value"]
    hole, shaft = fit.split("/")
    for name, expected in case["expected"].items():
        micrometres = 1000 if expected["unit"] == "um" else 1
        match name:
            case "hole_upper" | "shaft_upper" | "shaft_lower":
                found = typed(name.split("_")[1], size, f"zone={hole if name.startswith('hole') else shaft}").value / 1000
            case "max_interference" | "min_interference":
                found = -typed("clearance_min" if name.startswith("max") else "clearance_max", size, f"fit={fit}").value
            case _:
                found = typed(name, size, f"fit={fit}").value
        assert found * micrometres == pytest.approx(expected["value"], abs=expected["tol"])


def test_iso_r1_a_fit_spoilt_by_whole_number_division_is_not_reproduced() -> None:
    """The notebook has 1/3 = 0 and prints 70.013; the standard has 70.046."""
    assert typed("hole_max", "nominal=70 mm", "fit=H8/g7").value == pytest.approx(70.046)
    assert typed("hole_max", "nominal=70 mm", "fit=H8/g7").value != pytest.approx(BY_ID["ISO-R1"]["expected"]["hole_max"]["value"], abs=5e-4)


def test_iso_r2_a_typing_error_of_a_package_is_not_reproduced() -> None:
    assert typed("lower", "nominal=8 mm", "zone=K6").value == pytest.approx(-7)
    assert BY_ID["ISO-R2"]["expected"]["lower"]["value"] == -6


@pytest.mark.parametrize("words", [("nominal=600 mm", "zone=H7"), ("nominal=25 mm", "zone=Q7"), ("nominal=25 mm", "zone=H7/g6")])
def test_outside_the_tables_there_is_no_verdict(words: tuple[str, str]) -> None:
    worked = typed("upper", *words)

    assert worked.value is None and worked.no_verdict


def test_a_bearing_tight_when_cold_can_be_loose_at_running_heat() -> None:
    cold = work("smallest_clearance", nominal="52 mm", fit="P7/h6")
    hot = work(
        "smallest_clearance_hot", smallest_clearance=f"{cold:.6f} mm", nominal="52 mm", hole_expansion="26 ppm/K",
        shaft_expansion="11.5 ppm/K", heating="80 K",
    )  # fmt: skip

    assert cold == pytest.approx(-0.051)
    assert hot == pytest.approx(-0.051 + 52 * 14.5e-6 * 80)


def test_bore_shape_comes_from_its_readings() -> None:
    """Invented twin, left cylinder: along and across at top, middle and bottom."""
    readings = ("62.013", "62.011", "62.014", "62.012", "62.012", "62.010")
    values = [value("bore_reading", f"{one} mm", cylinder="left", reading=str(n)) for n, one in enumerate(readings)]

    worked = carried_out(values)

    assert worked["bore_ovality.left"].value == pytest.approx(0.002)
    assert worked["bore_taper.left"].value == pytest.approx(0.002)


def test_an_oval_bore_warns() -> None:
    values = [value("bore_reading", f"{one} mm", cylinder="left", reading=str(n)) for n, one in enumerate(("62.03", "62.01"))]

    assert carried_out(values)["bore_ovality.left"].warnings[0].code == "figure-unusual"
