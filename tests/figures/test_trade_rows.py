"""Rows of the trade: each has its figure, or its check that can fire."""

from __future__ import annotations

from collections import Counter
from pathlib import Path

import pytest

from dossier.conform.warned import about_evidence
from dossier.figures.figure import FIGURES
from dossier.record import Record, make_record

BUILDS = Path(__file__).resolve().parents[2] / "builds"
BOTH, TWO, FOUR = "both", "2", "4"
ROWS: dict[int, tuple[str, str, tuple[str, ...]]] = {
    1: ("Swept volume", BOTH, ("swept_volume", "cylinder_volume")),
    2: ("Class headroom", BOTH, ("headroom",)),
    3: ("Largest bore in class", BOTH, ("bore_limit",)),
    4: ("Oversizes left, by class and by liner", BOTH, ("oversizes_left", "oversizes_in_liner", "oversize_volume")),
    5: ("Liner wall", BOTH, ("liner_wall",)),
    6: ("Bore to stroke", BOTH, ("bore_stroke_ratio",)),
    7: ("Rod ratio", BOTH, ("rod_ratio",)),
    8: ("Piston travel at a crank angle", BOTH, ("piston_travel",)),
    9: ("Compression ratio, full stroke", BOTH, ("compression_ratio",)),
    10: ("Trapped ratio", TWO, ("trapped_compression_ratio",)),
    11: ("Effective ratio at inlet closing", FOUR, ("effective_compression_ratio",)),
    12: ("Volume to remove or add for a wanted ratio", BOTH, ("chamber_change", "clearance_for_ratio")),
    13: ("Squish clearance", BOTH, ("least_squish_clearance", "least_squish_gap")),
    14: ("Squish area ratio", TWO, ("squish_area_ratio",)),
    15: ("Highest squish speed", TWO, ("highest_squish_speed",)),
    16: ("Crankcase compression ratio", TWO, ("crankcase_compression_ratio",)),
    17: ("Port duration", TWO, ("exhaust_duration", "transfer_duration")),
    18: ("Blow-down", TWO, ("blowdown",)),
    19: ("Piston-port inlet duration", TWO, ("inlet_port_duration",)),
    20: ("Port time-area", TWO, ("exhaust_time_area", "transfer_time_area")),
    21: ("Piston clearance", BOTH, ("piston_clearance", "piston_clearance_share")),
    22: ("Ovality and taper", BOTH, ("bore_ovality", "bore_taper")),
    23: ("Ring gap against rule", BOTH, ("ring_gap_ratio", "ring_gap_use")),
    24: ("Valve area ratio", FOUR, ("valve_area_ratio",)),
    25: ("Lift to diameter", FOUR, ("inlet_lift_ratio", "exhaust_lift_ratio")),
    26: ("Curtain area", FOUR, ("curtain_area",)),
    27: ("Mean gas speed, inlet valve", FOUR, ("valve_gas_speed",)),
    28: ("Mean gas speed, choke", BOTH, ("choke_gas_speed",)),
    29: ("Choke area gain", BOTH, ("choke_area_gain",)),
    30: ("Inlet Mach index", FOUR, ("inlet_mach_index",)),
    31: ("Valve duration", FOUR, ("inlet_duration", "exhaust_valve_duration")),
    32: ("Lobe centre", FOUR, ("inlet_lobe_centre", "exhaust_lobe_centre")),
    33: ("Lobe separation", FOUR, ("lobe_separation",)),
    34: ("Overlap", FOUR, ("overlap",)),
    35: ("Timing error of each event, and between cylinders", FOUR, (
        "inlet_opening_error", "inlet_closing_error", "exhaust_opening_error", "exhaust_closing_error", "inlet_opening_spread",
        "inlet_closing_spread", "exhaust_opening_spread", "exhaust_closing_spread")),
    36: ("Valve to piston", FOUR, ("inlet_valve_to_piston", "exhaust_valve_to_piston")),
    37: ("Spring force on the seat and open", FOUR, (
        "inlet_spring_seat_force", "inlet_spring_open_force", "exhaust_spring_seat_force", "exhaust_spring_open_force")),
    38: ("Coil-bind margin", FOUR, ("inlet_coil_bind_margin", "exhaust_coil_bind_margin")),
    39: ("Advance as angle and as travel", BOTH, ("ignition_travel", "ignition_angle")),
    40: ("Mean piston speed", BOTH, ("mean_piston_speed", "mean_piston_speed_at_power")),
    41: ("Corrected piston speed", BOTH, ("corrected_piston_speed",)),
    42: ("Highest piston speed", BOTH, ("highest_piston_speed",)),
    43: ("Highest piston acceleration", BOTH, ("highest_piston_acceleration",)),
    44: ("Ring flutter use", BOTH, ("flutter_limit", "ring_flutter_use")),
    45: ("Inertia force of each cylinder", BOTH, ("inertia_force",)),
    46: ("Reciprocating mass", BOTH, ("reciprocating_mass",)),
    47: ("Balance factor", BOTH, ("balance_factor_found", "balance_factor_uncorrected")),
    48: ("Bob weight of each pin", BOTH, ("bob_weight",)),
    49: ("Metal to remove", BOTH, ("balance_metal_removed",)),
    50: ("Permissible unbalance", BOTH, ("permissible_shift", "permissible_unbalance", "permissible_unbalance_per_plane")),
    51: ("Balance grade reached", BOTH, ("balance_grade_reached",)),
    52: ("Inertia change", BOTH, ("inertia_change",)),
    53: ("Equivalent mass at the road", BOTH, ("equivalent_mass",)),
    54: ("Power", BOTH, ("power", "peak_power")),
    55: ("Brake mean effective pressure", BOTH, ("brake_mean_effective_pressure",)),
    56: ("Weather factor", BOTH, ("weather_factor", "weather_factor_din70020")),
    57: ("Corrected peak power", BOTH, ("corrected_peak_power",)),
    58: ("Estimate at the crank", BOTH, ("crank_power_estimate", "crank_torque_estimate", "crank_pressure_estimate")),
    59: ("Specific power", BOTH, ("specific_power",)),
    60: ("Power to piston area", BOTH, ("power_per_piston_area",)),
    61: ("Power to mass", BOTH, ("power_to_mass",)),
    62: ("Useful range", BOTH, ("useful_range_from", "useful_range_to", "useful_range")),
    63: ("Leak-down", BOTH, ("leak_down",)),
    64: ("Compression spread", BOTH, ("compression_spread",)),
    65: ("Relative air density", BOTH, ("relative_air_density", "session_air_density")),
    66: ("Fuel per lap and range", BOTH, ("session_fuel_per_lap", "range_in_laps")),
    67: ("Premix oil", TWO, ("premix_oil",)),
    68: ("Static sound-test speed", BOTH, ("sound_test_speed",)),
    69: ("Primary, internal and final ratio", BOTH, ("primary_ratio", "gear_ratio", "final_ratio")),
    70: ("Overall ratio", BOTH, ("overall_ratio",)),
    71: ("Step between gears", BOTH, ("gear_step", "step_progression")),
    72: ("Fall of speed on the change up", BOTH, ("rpm_drop", "landing_above_torque_peak")),
    73: ("Road speed", BOTH, ("road_speed",)),
    74: ("Speed for each 1000 rpm", BOTH, ("speed_per_1000",)),
    75: ("Loaded against free circumference", BOTH, ("loaded_circumference",)),
    76: ("Slip from a log", BOTH, ("slip",)),
    77: ("Torque at the clutch", BOTH, ("clutch_torque",)),
    78: ("Clutch capacity", BOTH, ("clutch_capacity",)),
    79: ("Clutch reserve", BOTH, ("clutch_reserve",)),
    80: ("Chain links", BOTH, ("chain_links", "chain_links_even")),
    81: ("Centre distance for whole links", BOTH, ("chain_centre_distance",)),
    82: ("Chain wear", BOTH, ("chain_wear",)),
    83: ("Hunting teeth", BOTH, ("hunting_teeth",)),
    84: ("Trail", BOTH, ("trail",)),
    85: ("Normal trail", BOTH, ("normal_trail",)),
    86: ("Rake change with another wheel", BOTH, ("rake_change", "rake_in_use")),
    87: ("Trail after the change", BOTH, ("trail_change",)),
    88: ("Wheelbase after", BOTH, ("wheelbase_in_use",)),
    89: ("Weight distribution", BOTH, ("front_weight_share",)),
    90: ("Centre of gravity along", BOTH, ("centre_of_gravity_behind_front",)),
    91: ("Centre of gravity, height", BOTH, ("centre_of_gravity_height", "centre_of_gravity_height_share")),
    92: ("Wheel rate", BOTH, ("front_wheel_rate", "rear_wheel_rate")),
    93: ("Spring rate from a test", BOTH, ("tested_spring_rate",)),
    94: ("Rider sag", BOTH, ("front_rider_sag", "rear_rider_sag_share")),
    95: ("Bounce frequency", BOTH, ("front_bounce_frequency", "rear_bounce_frequency")),
    96: ("Tyre age", BOTH, ("tyre_age",)),
    97: ("Rim runout", BOTH, ("largest_rim_runout", "dial_runout")),
    98: ("Mass change of a part", BOTH, ("mass_change",)),
    99: ("Mass ledger", BOTH, ("mass_by_cause", "mass_by_assembly", "itemised_mass_before", "itemised_mass_change", "ledger_gap")),
    100: ("Ledger coverage", BOTH, ("ledger_coverage", "itemised_mass")),
    101: ("Wheel loads against the scale", BOTH, ("weighing_difference", "weighing_difference_with_rider")),
    102: ("Combined uncertainty", BOTH, ("combined_uncertainty",)),
    103: ("Tolerance to uncertainty", BOTH, ("tolerance_to_uncertainty", "smallest_tolerance_to_uncertainty")),
    104: ("Place in tolerance", BOTH, ("place_in_tolerance",)),
    105: ("Temperature correction", BOTH, ("length_at_20",)),
    106: ("Interference at running heat", BOTH, ("running_interference",)),
    107: ("Preload scatter", BOTH, ("preload_scatter",)),
    108: ("Verdict counts", BOTH, ()),
    109: ("Authenticity by count", BOTH, ("origin_count_share", "period_count_share")),
    110: ("Authenticity by mass, itemised and whole", BOTH, (
        "origin_mass_share", "origin_mass_share_of_machine", "period_mass_share", "period_mass_share_of_machine")),
    111: ("Authenticity by declared items", BOTH, ("period_item_share",)),
    112: ("Independent sources of each item", BOTH, ("independent_sources", "items_on_one_source")),
    113: ("Evidence distance", BOTH, ("evidence_distance",)),
    114: ("Evidence against tolerance", BOTH, ("evidence_fineness",)),
    115: ("Open conflicts and unused evidence", BOTH, ("open_conflicts", "unused_evidence")),
    116: ("Custody gap", BOTH, ("custody_gap",)),
    117: ("Dossier completeness", BOTH, ("dossier_completeness",)),
    118: ("Running hours", BOTH, ("running_hours",)),
    119: ("Life used and next due", BOTH, (
        "life_used_by_hours", "life_used_by_age", "life_used_by_laps", "life_used_by_distance", "life_used_by_starts", "life_used",
        "life_left_in_hours", "life_left_in_days")),
    120: ("Lap speed and distance", BOTH, ("best_lap_speed", "mean_lap_speed", "mean_over_best_lap", "session_distance", "track_distance")),
    121: ("Hours planned and actual", BOTH, ("total_hours_planned", "total_hours_worked", "hours_over_plan", "total_hours_over_plan")),
    122: ("Rejection of bought parts", BOTH, ("rejection_rate", "total_hours_lost")),
    123: ("Snag closure", BOTH, ("snag_closure", "snags_open", "snags_reopened")),
    124: ("Picture coverage", BOTH, ("picture_coverage",)),
}  # fmt: skip
"""By number: what it is, of which engines, and by which figures."""
BY_EXAMPLE = {
    8: "asked for on the bench, and by every figure of timing", 66: "no fuel was logged in the demo",
    102: "by every figure's own budget",
    104: "by every verdict's own place", 105: "all demo readings were taken at 20 °C", 106: "no bearing fit was measured in the demo",
    114: "no item of the demo states how good its evidence is; the check beside the item is tried below",
}  # fmt: skip
"""Rows whose figures no demo build shows, and why: their example is their only number here."""

BESIDE = {
    "centre_by_curve", "chain_length", "chain_speed", "clearance_volume", "closes_by_curve", "clutch_faces_unexplained",
    "clutch_stack_shortfall", "colour_difference_by_readings", "deck_volume", "disc_gyration_radius", "drum_ovality_change",
    "duration_by_curve", "front_free_sag", "gasket_volume", "gears_off_alike", "highest_lift_by_curve", "highest_temperature",
    "humid_vapour_pressure", "lap_apart", "lap_spread", "largest_crank_runout", "lift_at_top", "mean_coating_thickness", "mean_logged_lap",
    "mean_spoke_tension", "mean_spoke_tone", "median_lap", "nominal_rim_diameter", "opens_by_curve", "origin_mass", "peak_power_speed",
    "peak_torque", "pull_repeatability", "rate_in_series", "ratio_from_log", "rear_free_sag_share", "rise_to_close", "rotor_mass",
    "rpm_rise", "size_when_warm", "slip_at_part_throttle", "slip_from_throttle", "spoke_tension_spread", "spoke_tone_spread",
    "swept_volume_deviation", "torque_of_power", "turns_for_rate", "tyre_circumference", "tyre_diameter", "tyre_section_height",
    "unbalance_use", "valve_acceleration_by_curve", "valve_speed_by_curve", "weather_factor_j1349", "weather_factor_j607",
    "wire_spring_rate",
}  # fmt: skip
"""Figures of a build's sheets that no row asks for: parts of others, other ways to the same, and what a log shows."""


@pytest.fixture(scope="module")
def records() -> dict[str, Record]:
    out = {}
    for slug in ("talvera-350-gp", "kestrane-125-r"):
        record, _ = make_record(BUILDS / slug)
        assert record is not None
        out[slug] = record
    return out


def test_there_are_124_rows_and_each_number_once() -> None:
    assert list(ROWS) == list(range(1, 125))


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row} {ROWS[row][0]}")
def test_the_row_has_its_figures_for_the_engines_that_it_is_of(row: int) -> None:
    title, strokes, names = ROWS[row]

    kinds = {FIGURES[name].strokes for name in names}
    assert names or row == 108, title
    # a row of both engines may be one figure for each
    assert kinds <= {strokes} or (strokes == BOTH and kinds == {TWO, FOUR}), title


@pytest.mark.parametrize("row", [row for row in ROWS if row not in BY_EXAMPLE and row != 108], ids=lambda row: f"{row} {ROWS[row][0]}")
def test_the_row_is_worked_out_in_a_demo_build(row: int, records: dict[str, Record]) -> None:
    worked = {one.name for record in records.values() for one in record.worked if one.value is not None or one.no_verdict}

    assert worked & set(ROWS[row][2])


@pytest.mark.parametrize("row", BY_EXAMPLE)
def test_a_row_that_no_demo_build_shows_is_truly_not_there(row: int, records: dict[str, Record]) -> None:
    worked = {one.name for record in records.values() for one in record.worked if one.value is not None}

    assert not worked & set(ROWS[row][2])


def test_verdicts_are_counted_by_their_words_with_the_number_of_items_beside(records: dict[str, Record]) -> None:
    record = records["talvera-350-gp"]
    counts = Counter(one.outcome for one in record.verdicts)

    assert sum(counts.values()) == len(record.build.specification.items) == 30


def test_a_tolerance_finer_than_its_evidence_fires_beside_the_item_too(records: dict[str, Record]) -> None:
    from dataclasses import replace

    from dossier.conform.numeric import band_of
    from dossier.model.notation import quantity

    item = next(one for one in records["talvera-350-gp"].build.specification.items if one.id == "D18")
    doubtful = replace(item, evidence_uncertainty=quantity("15 mm"))

    assert [one.code for one in about_evidence(doubtful, band_of(doubtful))] == ["tolerance-finer-than-evidence"]


def test_no_figure_of_a_builds_sheets_stands_outside_the_rows_unseen() -> None:
    rowed = {name for _, _, names in ROWS.values() for name in names}
    beside = {one.name for one in FIGURES.gather() if not one.for_bench} - rowed

    assert beside == BESIDE
