"""Rows of the trade that are checks: each warns when it should and keeps quiet when it should not."""

from __future__ import annotations

import pytest

from dossier.model.forms.measurements import Role
from dossier.model.results import Value
from tests.figures.bench import carried_out, value

BORE = (value("bore", "62.013 mm"), value("stroke", "57.79 mm"), value("cylinders", "2"))
ENGINE = (*BORE, value("rod_length", "112 mm"), value("rpm_limit", "10200 rpm"), value("rpm_max_power", "9800 rpm"))
SINGLE = (
    value("bore", "54.006 mm"), value("stroke", "54 mm"), value("rod_length", "110 mm"), value("rpm_limit", "12000 rpm"),
    value("bowl_diameter", "38 mm"), value("bowl_volume", "7.6 cc"), value("clearance_volume", "9.6 cc"),
)  # fmt: skip
SPRING = (value("valve_spring_fitted", "35 mm", valve="inlet"), value("valve_spring_bound", "24.4 mm", valve="inlet"))

CHECKS: list[tuple[str, str, str, tuple[Value, ...], Value, Value]] = [
    ("headroom", "4", "over the class", BORE, value("class_limit", "350 cc"), value("class_limit", "349 cc")),
    ("oversizes_left", "4", "larger than the class", (*BORE, value("oversize_step", "0.25 mm")), value("class_limit", "352 cc"),
     value("class_limit", "345 cc")),
    ("swept_volume_deviation", "4", "not the capacity declared", BORE, value("swept_volume", "349 cc", Role.DECLARED),
     value("swept_volume", "340 cc", Role.DECLARED)),
    ("swept_volume_deviation", "4", "implausible", BORE, value("swept_volume", "349 cc", Role.DECLARED),
     value("swept_volume", "320 cc", Role.DECLARED)),
    ("liner_wall", "4", "unusual", BORE, value("liner_outside_diameter", "67.6 mm"), value("liner_outside_diameter", "65 mm")),
    ("rod_ratio", "4", "unusual", BORE, value("rod_length", "112 mm"), value("rod_length", "90 mm")),
    ("ring_gap_use", "4", "butts", BORE, value("ring_gap", "0.30 mm"), value("ring_gap", "0.20 mm")),
    ("piston_clearance_share", "4", "unusual", BORE, value("piston_diameter", "61.953 mm"), value("piston_diameter", "61.90 mm")),
    ("ring_flutter_use", "4", "flutter", (*ENGINE[:-2], value("ring_axial_thickness", "1.0 mm")), value("rpm_limit", "9000 rpm"),
     value("rpm_limit", "10200 rpm")),
    ("mean_piston_speed", "4", "unusual", BORE, value("rpm_limit", "10200 rpm"), value("rpm_limit", "13000 rpm")),
    ("least_squish_clearance", "4", "unusual", (), value("squish_clearance", "0.98 mm"), value("squish_clearance", "0.4 mm")),
    ("highest_squish_speed", "2", "unusual", SINGLE, value("squish_gap", "1.3 mm"), value("squish_gap", "0.85 mm")),
    ("inlet_coil_bind_margin", "4", "coils may bind", SPRING, value("inlet_lift", "9.2 mm"), value("inlet_lift", "10.0 mm")),
    ("inlet_valve_to_piston", "4", "closer", (), value("valve_to_piston", "2.1 mm", valve="inlet"),
     value("valve_to_piston", "1.4 mm", valve="inlet")),
    ("exhaust_valve_to_piston", "4", "closer", (), value("valve_to_piston", "2.6 mm", valve="exhaust"),
     value("valve_to_piston", "2.1 mm", valve="exhaust")),
    ("inlet_opening_error", "4", "unusual", (value("inlet_opens", "52 °", Role.DECLARED),), value("inlet_opens", "51 °"),
     value("inlet_opens", "48 °")),
    ("exhaust_closing_error", "4", "unusual", (value("exhaust_closes", "46 °", Role.DECLARED),), value("exhaust_closes", "47 °"),
     value("exhaust_closes", "50 °")),
    ("inlet_closing_spread", "4", "unusual", (value("inlet_closes", "76 °", cylinder="left"),), value("inlet_closes", "77 °", cylinder="right"),
     value("inlet_closes", "80 °", cylinder="right")),
    ("largest_crank_runout", "4", "unusual", (value("crank_runout", "0.015 mm", plane="drive"),), value("crank_runout", "0.02 mm",
     plane="timing"), value("crank_runout", "0.03 mm", plane="timing")),
    ("unbalance_use", "4", "grade", (value("permissible_unbalance_per_plane", "16.2 g·mm"),), value("residual_unbalance", "7.9 g·mm",
     plane="left"), value("residual_unbalance", "18 g·mm", plane="left")),
    ("inlet_mach_index", "4", "unusual", (*ENGINE, value("inlet_valve_head", "34 mm")), value("inlet_flow_coefficient", "0.40"),
     value("inlet_flow_coefficient", "0.30")),
    ("crankcase_compression_ratio", "2", "unusual", SINGLE, value("crankcase_volume_bdc", "246 cc"), value("crankcase_volume_bdc", "150 cc")),
    ("ignition_angle", "2", "unusual", SINGLE, value("ignition_advance_travel", "2.0 mm"), value("ignition_advance_travel", "5.0 mm")),
]  # fmt: skip


@pytest.mark.parametrize(("name", "strokes", "words", "given", "good", "bad"), CHECKS, ids=[f"{one[0]}: {one[2]}" for one in CHECKS])
def test_the_check_warns_beyond_its_range_and_only_there(
    name: str, strokes: str, words: str, given: tuple[Value, ...], good: Value, bad: Value
) -> None:
    quiet, loud = (carried_out([*given, one], strokes)[name] for one in (good, bad))

    assert quiet.value is not None and quiet.warnings == ()
    assert [warned.code for warned in loud.warnings] == ["figure-unusual"] and words in loud.warnings[0].text


STOPS = [
    ("rod_ratio", "4", [value("rod_length", "28 mm"), value("stroke", "57.79 mm")]),
    ("compression_ratio", "4", [value("cylinder_volume", "-1 cc"), value("clearance_volume", "17 cc")]),
    ("least_squish_gap", "2", [value("squish_gap", "0 mm")]),
    ("blowdown", "2", [value("exhaust_duration", "128 °"), value("transfer_duration", "130 °")]),
    ("inlet_coil_bind_margin", "4", [*SPRING, value("inlet_lift", "11 mm")]),
    ("inlet_valve_to_piston", "4", [value("valve_to_piston", "0 mm", valve="inlet")]),
    ("highest_piston_speed", "4", [value("rod_length", "20 mm"), value("stroke", "57.79 mm"), value("rpm_limit", "9000 rpm")]),
    ("exhaust_duration", "2", [value("exhaust_port_height", "60 mm"), value("stroke", "54 mm"), value("rod_length", "110 mm")]),
    ("bore_ovality", "4", [value("bore_reading", "62.01 mm", reading=str(n)) for n in range(3)]),
]


@pytest.mark.parametrize(("name", "strokes", "values"), STOPS, ids=[one[0] for one in STOPS])
def test_an_impossible_value_is_a_problem_and_no_value(name: str, strokes: str, values: list[Value]) -> None:
    worked = carried_out(values, strokes)[name]

    assert worked.value is None
    assert [warned.code for warned in worked.warnings] == ["figure-impossible"]


@pytest.mark.parametrize(("thickness", "limit"), [("1.0", 138_000), ("1.1", 106_000), ("1.2", 106_000), ("1.5", 80_000), ("3.2", 40_000)])
def test_a_ring_between_two_rows_takes_the_row_of_the_thicker(thickness: str, limit: float) -> None:
    worked = carried_out([value("ring_axial_thickness", f"{thickness} mm")])["flutter_limit"]

    assert worked.value == pytest.approx(limit * 0.3048)


@pytest.mark.parametrize("thickness", ["0.99", "3.3", "0.8"])
def test_the_table_of_rings_is_never_extrapolated(thickness: str) -> None:
    worked = carried_out([value("ring_axial_thickness", f"{thickness} mm")])["flutter_limit"]

    assert worked.value is None and "lies outside" in worked.no_verdict


def test_a_part_without_a_radius_has_no_inertia_to_report() -> None:
    values = [value("mass_before", "618 g", part="P16"), value("mass_after", "431 g", part="P16")]

    assert not [one for one in carried_out(values) if one.startswith("inertia_change")]
