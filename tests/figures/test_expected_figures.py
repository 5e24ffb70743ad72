"""Figures of both invented machines against results that another program worked out for the same numbers."""

from __future__ import annotations

import pytest

from dossier.figures.figure import FIGURES
from dossier.figures.work_out import work_out
from dossier.model.forms.measurements import Role
from tests.figures.bench import carried_out, value, work

S, L, CYL, LIMIT = "57.79 mm", "112 mm", "2", "350 cc"
LEFT, RIGHT, BOTH = "62.012 mm", "62.014 mm", ("62.012 mm", "62.014 mm")
MEAN = "62.013 mm"
TOP, POWER = "10200 rpm", "9800 rpm"
U_POWER = "18.8780666667 m/s"
KB, KS, KL = "54.006 mm", "54.00 mm", "110 mm"

EXPECTED = {
    "swept_volume": (349.09052, {"bore": BOTH, "stroke": S, "cylinders": CYL}),
    "swept_volume as declared": (349.00455, {"bore": ("62 mm",), "stroke": "57.8 mm", "cylinders": CYL}),
    "headroom": (0.90948, {"class_limit": LIMIT, "bore": BOTH, "stroke": S, "cylinders": CYL}),
    "bore_limit": (62.09373, {"class_limit": LIMIT, "stroke": S, "cylinders": CYL}),
    "oversizes_left": (0, {"bore_limit": "62.09373 mm", "bore": RIGHT, "oversize_step": "0.25 mm"}),
    "oversize_volume": (351.76391, {"declared_bore": "62 mm", "oversize_step": "0.25 mm", "stroke": S, "cylinders": CYL}),
    "liner_wall": (2.793, {"liner_outside_diameter": "67.60 mm", "bore": RIGHT}),
    "bore_stroke_ratio": (1.07307, {"bore": MEAN, "stroke": S}),
    "rod_ratio": (1.93805, {"rod_length": L, "stroke": S}),
    "effective_compression_ratio": (
        7.6533, {"bore": LEFT, "stroke": S, "rod_length": L, "inlet_closes": "77°", "clearance_volume": "17.7 cc"}
    ),
    "mean_piston_speed_at_power": (18.87807, {"stroke": S, "rpm_max_power": POWER}),
    "mean_piston_speed": (19.6486, {"stroke": S, "rpm_limit": TOP}),
    "highest_piston_acceleration": (41472.27284, {"stroke": S, "rod_length": L, "rpm_limit": TOP}),
    "highest_piston_acceleration in ft/s²": (136063.88726, {"stroke": S, "rod_length": L, "rpm_limit": TOP}),
    "corrected_piston_speed": (20.35385, {"bore": MEAN, "stroke": S, "rpm_limit": TOP}),
    "inertia_force": (11.15604, {"reciprocating_mass": "269 g", "highest_piston_acceleration": "41472.27284 m/s²"}),
    "valve_area_ratio": (0.3006, {"inlet_valves": "1", "inlet_valve_head": "34 mm", "bore": MEAN}),
    "valve_gas_speed": (62.8008, {"mean_piston_speed_at_power": U_POWER, "bore": MEAN, "inlet_valves": "1", "inlet_valve_head": "34 mm"}),
    "choke_gas_speed": (80.28902, {"mean_piston_speed_at_power": U_POWER, "bore": MEAN, "carburettor_choke": "30.07 mm"}),
    "choke_area_gain": (24.03359, {"carburettor_choke": "30.07 mm", "donor_choke": "27 mm"}),
    "inlet_mach_index": (
        0.45773, {"mean_piston_speed_at_power": U_POWER, "bore": MEAN, "inlet_flow_coefficient": "0.40", "inlet_valve_head": "34 mm"}
    ),
    "inlet_duration": (308, {"inlet_opens": "52°", "inlet_closes": "76°"}),
    "exhaust_valve_duration": (304, {"exhaust_opens": "78°", "exhaust_closes": "46°"}),
    "inlet_lobe_centre": (102.0, {"inlet_opens": "52°", "inlet_closes": "76°"}),
    "exhaust_lobe_centre": (106.0, {"exhaust_opens": "78°", "exhaust_closes": "46°"}),
    "lobe_separation": (104.0, {"inlet_lobe_centre": "102°", "exhaust_lobe_centre": "106°"}),
    "overlap": (98, {"inlet_opens": "52°", "exhaust_closes": "46°"}),
    "inlet_spring_seat_force": (198.4, {"free": "41.2 mm", "fitted": "35.0 mm", "rate": "32 N/mm"}),
    "inlet_spring_open_force": (492.8, {"free": "41.2 mm", "fitted": "35.0 mm", "lift": "9.2 mm", "rate": "32 N/mm"}),
    "inlet_coil_bind_margin": (1.4, {"fitted": "35.0 mm", "lift": "9.2 mm", "bound": "24.4 mm"}),
    "ignition_travel": (7.36099, {"ignition_advance": "37.5°", "stroke": S, "rod_length": L}),
    "balance_factor_uncorrected": (
        81.41264, {"donor_bob_weight": "402 g", "rod_big_end_mass": "183 g", "reciprocating_mass": "269 g"}
    ),
    "bob_weight": (349.78, {"rod_big_end_mass": "183 g", "balance_factor": "0.62", "reciprocating_mass": "269 g"}),
    "balance_metal_removed": (
        73.07369,
        {"donor_bob_weight": "402 g", "bob_weight": "349.78 g", "crank_throw": "28.9 mm", "correction_radius": "45 mm", "crank_pins": "2",
         "trim_drilling_mass": "6.0 g"},
    ),
    "permissible_unbalance": (32.38974, {"balance_grade": "6.3 mm/s", "balance_speed": TOP, "rotor_mass": "5.49156 kg"}),
    "balance_grade_reached": (
        3.0732, {"residual_unbalance": ("6.2 g·mm", "7.9 g·mm"), "rotor_mass": "5.49156 kg", "balance_speed": TOP}
    ),
    "inertia_change": (0.00106, {"mass_before": "1142 g", "mass_after": "874 g", "mass_removed_radius": "63 mm"}),
    "equivalent_mass": (
        0.23945,
        {"inertia_change": "0.001063692 kg·m²", "gear_driven_teeth": "29", "gear_driver_teeth": "15", "final_driven_teeth": "40",
         "final_driver_teeth": "17", "rear_rolling_circumference": "1905 mm"},
    ),
    "equivalent_mass in sixth": (
        0.06406,
        {"inertia_change": "0.001063692 kg·m²", "gear_driven_teeth": "24", "gear_driver_teeth": "24", "final_driven_teeth": "40",
         "final_driver_teeth": "17", "rear_rolling_circumference": "1905 mm"},
    ),
    "swept_volume of the single": (123.69942, {"bore": (KB,), "stroke": KS, "cylinders": "1"}),
    "exhaust_duration": (194.09906, {"port_height": "27 mm", "stroke": KS, "rod_length": KL}),
    "transfer_duration": (128.24537, {"port_height": "41.5 mm", "stroke": KS, "rod_length": KL}),
    "blowdown": (32.92684, {"exhaust_duration": "194.09906°", "transfer_duration": "128.24537°"}),
    "compression_ratio of the single": (13.88536, {"cylinder_volume": "123.69942 cc", "clearance_volume": "9.6 cc"}),
    "trapped_compression_ratio": (7.44268, {"bore": KB, "exhaust_port_height": "27 mm", "clearance_volume": "9.6 cc"}),
    "crankcase_compression_ratio": (1.50284, {"crankcase_volume_bdc": "246.0 cc", "cylinder_volume": "123.69942 cc"}),
    "mean_piston_speed of the single": (21.6, {"stroke": KS, "rpm_limit": "12000 rpm"}),
    "squish_area_ratio": (50.49111, {"bowl_diameter": "38 mm", "bore": KB}),
    "ignition_angle": (19.91617, {"ignition_advance_travel": "2.0 mm", "stroke": KS, "rod_length": KL}),
}  # fmt: skip


@pytest.mark.parametrize("named", EXPECTED)
def test_the_figure_comes_out_in_its_printed_digits(named: str) -> None:
    expected, given = EXPECTED[named]
    unit = "ft/s²" if "ft/s²" in named else ""

    assert work(named.split()[0], unit, **given) == pytest.approx(expected, abs=1.1e-5 if abs(expected) < 1e4 else 6e-5)


def test_highest_speeds_equal_those_of_the_other_program() -> None:
    top = work("highest_piston_speed", stroke=S, rod_length=L, rpm_limit=TOP)
    squish = work(
        "highest_squish_speed", bore=KB, stroke=KS, rod_length=KL, squish_gap="0.85 mm", bowl_diameter="38 mm", bowl_volume="7.6 cc",
        rpm_limit="12000 rpm",
    )  # fmt: skip

    assert top == pytest.approx(31.87773, abs=5e-6)
    assert squish == pytest.approx(36.97099, abs=5e-6)


TWIN = [
    value("bore", "62.012 ± 0.004 mm", cylinder="left"),
    value("bore", "62.014 ± 0.004 mm", cylinder="right"),
    value("stroke", "57.79 ± 0.02 mm"),
    value("cylinders", "2"),
    value("rod_length", "112 mm", Role.DECLARED),
    value("clearance_volume", "17.7 ± 0.15 cc", cylinder="left"),
    value("clearance_volume", "17.9 ± 0.15 cc", cylinder="right"),
    value("rpm_limit", "10200 rpm", Role.NOTED),
    value("ring_axial_thickness", "1.0 mm"),
]


def test_capacity_carries_the_uncertainty_of_bores_and_stroke() -> None:
    capacity = carried_out(TWIN)["swept_volume"]

    assert capacity.value == pytest.approx(349.09052, abs=1.1e-5)
    assert capacity.u == pytest.approx(0.12494, abs=1.1e-5)


def test_each_cylinder_has_its_own_ratio_with_its_history_of_uncertainty_kept() -> None:
    worked = carried_out(TWIN)

    assert worked["compression_ratio.left"].value == pytest.approx(10.861, abs=1.1e-5)
    assert worked["compression_ratio.right"].value == pytest.approx(10.75145, abs=1.1e-5)
    assert worked["compression_ratio.left"].u == pytest.approx(0.08365, abs=1.1e-5)


def test_rings_close_to_the_published_limit_warn() -> None:
    use = carried_out(TWIN)["ring_flutter_use"]

    assert use.value == pytest.approx(136063.88726 / 1380, abs=1e-4)
    assert "flutter" in use.warnings[0].text


def test_a_ring_thinner_than_the_published_table_gets_no_verdict() -> None:
    thin = [one for one in TWIN if one.name != "ring_axial_thickness"] + [value("ring_axial_thickness", "0.8 mm")]

    use = carried_out(thin)["ring_flutter_use"]

    assert use.value is None and "outside" in use.no_verdict


def test_a_comparison_of_donor_and_built_is_worked_out_once_only() -> None:
    values = [
        value("carburettor_choke", "30.05 mm", cylinder="left"),
        value("carburettor_choke", "30.09 mm", cylinder="right"),
        value("carburettor_choke", "27.0 mm", Role.DONOR),
    ]

    assert carried_out(values)["choke_area_gain"].value == pytest.approx(24.03359, abs=1.1e-5)
    assert not [one for one in work_out(values, FIGURES.gather(), "4") if one.name == "choke_area_gain" and one.role is not Role.AS_BUILT]


def test_a_constant_is_taken_and_said_to_be_taken_where_nobody_wrote_one() -> None:
    values = [value("class_limit", "350 cc", Role.NOTED), *TWIN[:4]]

    headroom = carried_out(values)["headroom"]

    assert headroom.value == pytest.approx(0.90948, abs=1.1e-5)
    assert [one.values[0].assumed for one in headroom.inputs if one.symbol == "a"] == ["nobody wrote it down"]


def test_over_the_class_limit_warns() -> None:
    values = [value("class_limit", "349 cc", Role.NOTED), *TWIN[:4]]

    assert "over the class limit" in carried_out(values)["headroom"].warnings[0].text


def test_a_two_stroke_refuses_the_figures_of_a_four_stroke_and_the_other_way_round() -> None:
    two, four = carried_out(TWIN, "2"), carried_out(TWIN, "4")

    assert "exhaust_duration" not in four and "exhaust_duration" in two
    assert "valve_area_ratio" in four and "valve_area_ratio" not in two


def test_a_comparison_with_the_donor_is_not_made_where_nobody_wrote_down_the_donor() -> None:
    values = [value("carburettor_choke", "28.0 mm"), value("carburettor_choke", "28.0 mm", Role.DECLARED)]

    assert "choke_area_gain" not in carried_out(values)


def test_figures_of_the_bench_stay_out_of_a_build() -> None:
    assert "crank_radius" not in carried_out(TWIN)
    assert "crank_radius" in {one.name for one in work_out(TWIN, FIGURES.gather(), "4", bench=True)}
