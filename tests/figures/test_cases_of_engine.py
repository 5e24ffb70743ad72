"""Published cases typed on the bench, each under its own id with its source in the test's name."""

from __future__ import annotations

import csv
import math
from pathlib import Path
from typing import Any

import pytest

from dossier.figures import unbalance
from dossier.figures.bench import needed_by, on_the_bench
from dossier.figures.figure import FIGURES
from dossier.model.forms.measurements import Role
from dossier.model.quantity import from_si
from dossier.model.units import UNITS
from tests.figures.bench import carried_out, value, work
from tests.figures.cases import BY_ID, label, line, of, sign

RENAMED = {"swept": "cylinder_volume"}
OTHERWISE = {
    ("SWV-ALL", ""), ("SWV-X3", ""), ("SWV-X135", ""), ("SWV-09", "total"), ("CPR-03", "air_standard_efficiency"), ("CPR-08", ""),
    ("CPR-C1", ""), ("KIN-11", ""), ("KIN-C1", "x_30"), ("KIN-C1", "x_90"), ("KIN-C1", "x_150"), ("VLV-09", ""),
    ("BAL-02", "residual_force"), ("BAL-04", ""), ("BAL-09", ""), ("BQG-02", ""),
}  # fmt: skip
"""Cases, or results of cases, that one line cannot state: each has a test of its own here or in the file of its subject."""
STATED = [
    (case, name)
    for case in of(1, 2, 3, 4, 8, 13)
    for name in case["expected"]
    if (case["id"], "") not in OTHERWISE and (case["id"], name) not in OTHERWISE
]


def named(one: Any) -> str:
    return label(one) if isinstance(one, dict) else str(one)


def typed(name: str, words: list[str], unit: str) -> float:
    """The figure of that name worked out from the words, in a unit; words that it does not take are left out."""
    called = [one for one in FIGURES.gather() if name == one.name or name in one.also]
    takes = {key for one in called for each in needed_by(one) for put in each.inputs for key in (put.param, put.takes, *put.also)}
    worked, problems = on_the_bench(name, [word for word in words if word.partition("=")[0] in takes])
    assert not problems, [str(one) for one in problems]
    assert worked[0].value is not None, worked[0].no_verdict
    number = float(getattr(worked[0].number, "nominal_value", worked[0].number))
    return from_si(number, UNITS[unit])


@pytest.mark.parametrize(("case", "name"), STATED, ids=named)
def test_the_printed_value_comes_out_on_the_bench(case: dict[str, Any], name: str) -> None:
    expected = case["expected"][name]

    assert typed(name, line(case, **RENAMED), sign(expected["unit"])) == pytest.approx(expected["value"], abs=expected["tol"])


def expects(case_id: str, name: str) -> Any:
    return pytest.approx(BY_ID[case_id]["expected"][name]["value"], abs=BY_ID[case_id]["expected"][name]["tol"])


@pytest.mark.parametrize("case_id", ["SWV-X3", "SWV-X135"], ids=lambda one: label(BY_ID[one]))
def test_a_row_whose_capacity_does_not_follow_from_its_bore_is_called_implausible(case_id: str) -> None:
    put = {name: said["value"] for name, said in BY_ID[case_id]["inputs"].items()}
    built = work("swept_volume", "cu in", bore=(f"{put['bore']} in",), stroke=f"{put['stroke']} in", cylinders=str(put["cylinders"]))

    worked, problems = on_the_bench(
        "swept_volume_deviation", [f"swept_volume={built:.6f} cu in", f"declared_volume={put['declared']} cu in"]
    )

    assert not problems
    assert worked[0].value == expects(case_id, "deviation_of_computed")
    assert "implausible" in worked[0].warnings[0].text


def test_swv_all_ten_of_the_201_cars_of_1985_are_called_implausible_and_162_agree_by_uci_automobile() -> None:
    """UCI Automobile data (Ward's Automotive Yearbook 1985): stated capacity against bore and stroke, all in inches."""
    rows = csv.DictReader((Path(__file__).parent.parent / "data" / "automobile.csv").open(encoding="utf-8"))
    found = []
    for row in rows:
        car = [
            value("bore", f"{row['bore_in']} in"), value("stroke", f"{row['stroke_in']} in"), value("cylinders", row["cylinders"]),
            value("swept_volume", f"{row['engine_size_cuin']} cu in", Role.DECLARED),
        ]  # fmt: skip
        found.append(carried_out(car)["swept_volume_deviation"])

    expected = {name: said["value"] for name, said in BY_ID["SWV-ALL"]["expected"].items()}
    assert len(found) == 201
    assert sum(abs(one.value) <= 1.5 for one in found) == expected["rows_within_1.5pct"] == 162
    assert sum(abs(one.value) > 10 for one in found) == expected["rows_beyond_10pct"]
    assert sum(any("implausible" in warned.text for warned in one.warnings) for one in found) == 10
    assert all(one.warnings for one in found if abs(one.value) > 1.5)


def test_swv_09_clearance_and_total_of_a_diesel_cylinder_by_h_n_gupta_ex_2_4() -> None:
    swept = work("cylinder_volume", "m³", bore="0.2 m", stroke="0.3 m")
    clearance = work("clearance_for_ratio", "m³", cylinder_volume=f"{swept:.12f} m³", wanted_ratio="16")

    assert clearance == expects("SWV-09", "clearance")
    assert swept + clearance == expects("SWV-09", "total")


def test_cpr_03_ratio_behind_a_printed_air_standard_efficiency_by_mathur_and_sharma() -> None:
    swept = work("cylinder_volume", bore="70 mm", stroke="100 mm")
    ratio = work("compression_ratio", cylinder_volume=f"{swept:.9f} cc", clearance_volume="67 cc")

    assert ratio == expects("CPR-03", "compression_ratio")
    assert 100 * (1 - ratio ** (1 - 1.4)) == expects("CPR-03", "air_standard_efficiency")


def test_cpr_c1_dynamic_ratio_from_inlet_closing_with_a_finite_rod() -> None:
    swept = work("cylinder_volume", bore="76 mm", stroke="82 mm")
    clearance = work("clearance_for_ratio", cylinder_volume=f"{swept:.9f} cc", wanted_ratio="9.5")
    height = work("piston_travel", crank_angle="135°", stroke="82 mm", rod_length="155 mm")

    ratio = work(
        "effective_compression_ratio", bore="76 mm", stroke="82 mm", rod_length="155 mm", inlet_closes="45°",
        clearance_volume=f"{clearance:.9f} cc",
    )  # fmt: skip

    assert ratio == expects("CPR-C1", "dynamic_ratio")
    assert height == expects("CPR-C1", "piston_from_TDC")
    assert work("cylinder_volume", bore="76 mm", stroke=f"{height:.9f} mm") == expects("CPR-C1", "effective_swept")


def test_cpr_08_pressure_estimate_from_a_dynamic_ratio_by_wikipedia() -> None:
    given = {"dynamic_ratio": "7.5 :1", "exponent": "1.3", "atmosphere": "14.7 psi"}

    assert work("compression_pressure_estimate", "psi", **given) == expects("CPR-08", "absolute")
    assert work("gauge_pressure_estimate", "psi", **given) == expects("CPR-08", "gauge")


def test_kin_11_crank_angle_from_piston_position_within_the_accuracy_of_the_drawing_by_sarkar() -> None:
    assert work("angle_at_travel", piston_position="12 mm", stroke="120 mm", rod_length="240 mm") == expects("KIN-11", "angle")


@pytest.mark.parametrize("angle", [30, 90, 150])
def test_kin_c1_exact_travel_agrees_with_thirty_digits(angle: int) -> None:
    assert work("piston_travel", crank_angle=f"{angle}°", stroke="68 mm", rod_length="130 mm") == expects("KIN-C1", f"x_{angle}")


def test_kin_r1_a_series_without_its_half_is_not_reproduced() -> None:
    """The transcription uses sin 2t / n where sin 2t / (2n) is meant, and prints 7.0 m/s; the true top speed is 6.5."""
    top = work("highest_piston_speed", stroke="0.6 m", rod_length="1.0 m", rpm_limit="200 rpm")

    assert top != expects("KIN-R1", "max_velocity")
    assert top == pytest.approx(6.54, abs=0.05)


def test_kin_r2_an_acceleration_with_half_its_second_term_is_not_reproduced() -> None:
    given = {"crank_angle": "40°", "crank_radius": "0.3 m", "rod_length": "1.5 m", "engine_speed": "180 rpm"}

    assert work("piston_acceleration_series", **given) != expects("KIN-R2", "acceleration")
    assert work("piston_acceleration_series", **given) == expects("KIN-01", "acceleration")


def test_vlv_r1_overlap_from_the_wrong_event_is_not_reproduced() -> None:
    assert work("overlap", inlet_opens="10°", exhaust_closes="20°") == pytest.approx(30)
    assert expects("VLV-R1", "overlap") != 30


def test_vlv_09_port_height_tends_to_the_printed_one_as_the_rod_grows_long_by_h_n_gupta_ex_11_4() -> None:
    travel = work("piston_travel", crank_angle="120°", stroke="100 mm", rod_length="9999999 mm")

    assert 100 - travel == expects("VLV-09", "port_height_above_BDC")


def test_bal_02_residual_force_in_pounds_with_the_gravity_of_the_book_by_bevan() -> None:
    """The book reckons with 32.2 ft/s², so its pound as a mass is that much lighter than the true one."""
    mass = 150 * 0.45359237 * (9.80665 / 0.3048) / 32.2

    force = work(
        "residual_primary_force", "lbf", reciprocating_mass=f"{mass:.9f} kg", balance_factor="0.5", crank_throw="7.5 in",
        rpm_limit="300 rpm", crank_angle="0°",
    )  # fmt: skip

    assert force == expects("BAL-02", "residual_force")


def test_bal_04_four_masses_in_one_plane_by_bevan_ex_14_2() -> None:
    masses = BY_ID["BAL-04"]["inputs"]["masses"]["value"]
    along, across = unbalance.resultant([m for m, _, _ in masses], [r for _, r, _ in masses], [math.radians(a) for _, _, a in masses])

    assert math.hypot(along, across) / 24 == expects("BAL-04", "balance_weight")
    assert math.degrees(math.atan2(across, along)) % 360 == expects("BAL-04", "angle_of_resultant")


def v_twin(force: Any, between: float, crank: float) -> float:
    """Size of the vector sum of a force along each of two bores, `between` them (rad), with the crank at an angle from the middle line."""
    banks = ((between / 2, force(crank - between / 2)), (-between / 2, force(crank + between / 2)))
    return math.hypot(sum(f * math.cos(a) for a, f in banks), sum(f * math.sin(a) for a, f in banks))


def test_bal_09_sixty_degree_v_twin_by_khurmi_and_gupta() -> None:
    omega, bank = 2500 * math.pi / 30, math.radians(60)

    def primary(angle: float) -> float:
        return unbalance.primary_force(1.5, 0.05, omega, angle)

    def secondary(angle: float) -> float:
        return unbalance.secondary_force(1.5, 0.05, 0.25, omega, angle)

    round_the_turn = [math.radians(d) for d in range(360)]
    assert max(v_twin(primary, bank, a) for a in round_the_turn) == expects("BAL-09", "primary_max")
    assert min(v_twin(primary, bank, a) for a in round_the_turn) == expects("BAL-09", "primary_min")
    assert max(v_twin(secondary, bank, a) for a in round_the_turn) == expects("BAL-09", "secondary")


def test_bal_r1_a_v_twin_answer_without_the_force_across_is_not_reproduced() -> None:
    omega, bank, counterweight = 1500 * math.pi / 30, math.radians(60), 0.5 * 0.065

    def left(crank: float) -> float:
        banks = [(a, unbalance.primary_force(0.7, 0.05, omega, crank - a)) for a in (bank / 2, -bank / 2)]
        x = sum(f * math.cos(a) for a, f in banks) - counterweight * omega**2 * math.cos(crank)
        y = sum(f * math.sin(a) for a, f in banks) - counterweight * omega**2 * math.sin(crank)
        return math.hypot(x, y)

    worst = max(left(math.radians(d)) for d in range(360))
    assert worst == pytest.approx(493.5, abs=0.5)
    assert worst != expects("BAL-R1", "max_primary")


def test_bqg_02_the_constant_in_ounce_inches_by_energy_tech() -> None:
    """One pound at one rpm and one mm/s."""
    one = work("permissible_unbalance", "oz·in", balance_grade="1 mm/s", balance_speed="1 rpm", rotor_mass="1 lb")

    assert one == expects("BQG-02", "constant")


@pytest.mark.parametrize("case", of(13, status="reference"), ids=label)
def test_runout_limits_differ_between_sources_so_none_of_them_is_built_in(case: dict[str, Any]) -> None:
    assert case["expected"] == {}
    assert FIGURES.gather()["largest_crank_runout"].impossible == (None, None)


def test_every_verified_case_of_these_computations_is_run() -> None:
    left_out = {case_id for case_id, name in OTHERWISE if not name} | {case["id"] for case, _ in STATED}

    assert {case["id"] for case in of(1, 2, 3, 4, 8, 13)} <= left_out
