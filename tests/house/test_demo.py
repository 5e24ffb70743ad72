"""The demo builds, from their folders to figures and verdicts, against results of an independent script."""

from __future__ import annotations

import datetime
from collections import Counter
from pathlib import Path

import pytest
import yaml

from dossier.figures.figure import FIGURES
from dossier.figures.values import values_of
from dossier.figures.work_out import work_out
from dossier.model.results import Worked
from dossier.record import Record, make_record

ROOT = Path(__file__).resolve().parents[2]
EXPECTED = yaml.safe_load((ROOT / "tests/data/expected_figures.yaml").read_text(encoding="utf-8"))["expected_figures"]
HANDOVER = datetime.date(2025, 6, 21)

BUILT = {
    "capacity": "swept_volume", "capacity_nominal": "swept_volume (declared)", "capacity_plus025": "oversize_volume",
    "noise_rpm": "sound_test_speed (declared)",
    "vt_d_in_dur": "inlet_duration (declared)", "vt_d_ex_dur": "exhaust_valve_duration (declared)", "vt_d_in_lc": "inlet_lobe_centre (declared)",
    "vt_d_ex_lc": "exhaust_lobe_centre (declared)", "vt_d_lsa": "lobe_separation (declared)", "vt_d_overlap": "overlap (declared)",
    "adv_mm": "ignition_travel", "corr_g_total": "balance_metal_removed", "basket_dI": "inertia_change P17",
    "basket_meq_1": "equivalent_mass P17 1 short", "basket_meq_6": "equivalent_mass P17 6 short",
    "life_springs": "life_used_by_hours L-02", "life_rods": "life_used_by_hours L-01", "headroom": "headroom", "bore_max": "bore_limit",
    "oversizes_left": "oversizes_left right", "liner_wall": "liner_wall right", "bore_stroke": "bore_stroke_ratio", "rod_ratio": "rod_ratio",
    "cr_left": "compression_ratio left", "cr_right": "compression_ratio right", "eff_cr_left": "effective_compression_ratio left",
    "mps_max_power": "mean_piston_speed_at_power", "mps_limit": "mean_piston_speed", "pmax_speed": "highest_piston_speed",
    "pmax_acc": "highest_piston_acceleration", "corrected_piston_speed": "corrected_piston_speed", "recip_force_kN": "inertia_force",
    "valve_area_ratio": "valve_area_ratio", "gas_v_valve": "valve_gas_speed", "mach_index": "inlet_mach_index",
    "gas_v_choke": "choke_gas_speed", "choke_area_gain": "choke_area_gain", "spring_seat_N": "inlet_spring_seat_force",
    "spring_open_N": "inlet_spring_open_force", "coil_bind_clear": "inlet_coil_bind_margin", "bf_uncorrected": "balance_factor_uncorrected",
    "bob_weight": "bob_weight", "uper_total": "permissible_unbalance", "bal_grade_reached": "balance_grade_reached",
    "leak_left": "leak_down left", "leak_right": "leak_down right", "primary": "primary_ratio", "final_short": "final_ratio short",
    "final_long": "final_ratio long", "v_maxpower_short": "road_speed 6 short", "v_maxpower_long": "road_speed 6 long",
    "v1000_short": "speed_per_1000 6 short", "slip_before": "slip TS-1 6 short", "slip_after": "slip TS-3 6 short",
    "chain_links": "chain_links short", "chain_centre_106": "chain_centre_distance short", "chain_elong": "chain_wear",
    "clutch_torque": "clutch_torque", "clutch_cap_found": "clutch_capacity found", "clutch_cap_fixed": "clutch_capacity fixed",
    "clutch_sf_found": "clutch_reserve found", "clutch_sf_fixed": "clutch_reserve fixed", "DY-1_peak_kW": "peak_power DY-1",
    "DY-2_peak_kW": "peak_power DY-2", "DY-2_bmep_bar": "brake_mean_effective_pressure DY-2", "DY-1_cf_iso1585": "weather_factor DY-1",
    "DY-2_cf_iso1585": "weather_factor DY-2", "DY-2_peak_kW_corr": "corrected_peak_power DY-2", "spec_power": "specific_power DY-2",
    "trail18": "trail", "front_pct": "front_weight_share", "front_pct_rider": "front_weight_share with rider",
    "cg_behind_front": "centre_of_gravity_behind_front", "cg_height": "centre_of_gravity_height", "wheel_rate_f": "front_wheel_rate",
    "wheel_rate_r": "rear_wheel_rate", "sag_f_pct": "front_rider_sag", "sag_r_pct": "rear_rider_sag_share", "freq_f": "front_bounce_frequency",
    "freq_r": "rear_bounce_frequency", "tyre_age_f": "tyre_age front", "tyre_age_r": "tyre_age rear", "mass_before": "itemised_mass_before",
    "mass_after": "itemised_mass", "mass_delta": "itemised_mass_change", "coverage": "ledger_coverage",
    "tur_min": "smallest_tolerance_to_uncertainty", "one_source_items": "items_on_one_source", "engine_hours": "running_hours",
    "track_km": "track_distance", "hours_planned": "total_hours_planned", "hours_actual": "total_hours_worked", "reject_rate": "rejection_rate",
}  # fmt: skip
KESTRANE = {
    "k_cap": "swept_volume", "k_ex_dur": "exhaust_duration", "k_tr_dur": "transfer_duration", "k_blowdown": "blowdown",
    "k_cr_full": "compression_ratio", "k_cr_trapped": "trapped_compression_ratio", "k_ccr": "crankcase_compression_ratio",
    "k_mps": "mean_piston_speed", "k_squish_ratio": "squish_area_ratio", "k_adv_deg": "ignition_angle", "k_msv": "highest_squish_speed",
    "k_noise_rpm": "sound_test_speed", "k_power": "peak_power", "k_bmep": "brake_mean_effective_pressure",
}  # fmt: skip


def record_of(slug: str) -> Record:
    record, problems = make_record(ROOT / "builds" / slug)
    assert record is not None
    assert not [str(one) for one in problems if one.severity.value == "error"]
    return record


@pytest.fixture(scope="module")
def talvera() -> Record:
    return record_of("talvera-350-gp")


@pytest.fixture(scope="module")
def kestrane() -> Record:
    return record_of("kestrane-125-r")


def figures_of(record: Record) -> dict[str, Worked]:
    """Figures at the day of hand-over, by name and tags as the tables above write them."""
    worked = work_out(values_of(record.build, HANDOVER), FIGURES.gather(), record.build.machine.engine.strokes)
    out = {}
    for one in worked:
        role = "" if one.role.value == "as built" else f" ({one.role.value})"
        out[" ".join([one.name, *(tag for _, tag in one.tags)]) + role] = one
    return out


def digits_of(expected: float) -> float:
    """Half a unit of the last digit printed."""
    text = repr(expected)
    return 0.5 * 10 ** -len(text.partition(".")[2]) * 1.000001 if "." in text else 0.5


@pytest.mark.parametrize("name", BUILT)
def test_a_figure_of_the_talvera_equals_the_independent_result(talvera: Record, name: str) -> None:
    worked = figures_of(talvera)[BUILT[name]]

    assert worked.value == pytest.approx(EXPECTED[name], abs=digits_of(EXPECTED[name]))


@pytest.mark.parametrize("name", KESTRANE)
def test_a_figure_of_the_kestrane_equals_the_independent_result(kestrane: Record, name: str) -> None:
    worked = figures_of(kestrane)[KESTRANE[name]]

    assert worked.value == pytest.approx(EXPECTED[name], abs=digits_of(EXPECTED[name]))


def test_uncertainty_of_capacity_and_compression_is_propagated_with_correlation_kept(talvera: Record) -> None:
    figures = figures_of(talvera)

    assert figures["swept_volume"].u == pytest.approx(EXPECTED["capacity_U"], abs=5e-6)
    assert figures["compression_ratio left"].u == pytest.approx(EXPECTED["cr_U"], abs=5e-6)


def test_the_mass_ledger_closes_by_cause(talvera: Record) -> None:
    figures = figures_of(talvera)
    causes = {cause: figures[f"mass_by_cause {cause}"].value for cause in EXPECTED["mass_ledger"]}

    assert causes == pytest.approx(EXPECTED["mass_ledger"])
    assert sum(causes.values()) == pytest.approx(EXPECTED["mass_delta"])


@pytest.mark.parametrize(("vector", "figure"), [("origin_mass_pct", "origin_mass_share"), ("origin_count_pct", "origin_count_share")])
def test_origin_shares_equal_the_independent_result(talvera: Record, vector: str, figure: str) -> None:
    words = {
        "genuine_other": "genuine, from another machine", "reproduction": "reproduction", "made_in_house": "newly made in house",
        "modern_substitute": "modern substitute", "period_accessory": "period accessory",
    }  # fmt: skip
    figures = figures_of(talvera)
    shares = {name: figures[f"{figure} {words[name]}"].value for name in EXPECTED[vector]}

    assert shares == pytest.approx(EXPECTED[vector], abs=0.0501)


def test_the_verdicts_of_the_talvera_are_as_expected(talvera: Record) -> None:
    counts = Counter(one.outcome.value.replace(" ", "_") for one in talvera.verdicts)
    words = {"cannot_be_decided": "undecided"}

    assert {words.get(word, word): count for word, count in counts.items()} == EXPECTED["verdicts"]
    assert len(talvera.verdicts) == 30


def test_the_verdicts_of_the_kestrane_are_as_expected(kestrane: Record) -> None:
    words = {"cannot_be_decided": "undecided"}
    verdicts = {one.item: one.outcome.value.replace(" ", "_") for one in kestrane.verdicts}

    assert {item: words.get(word, word) for item, word in verdicts.items()} == EXPECTED["kestrane_verdicts"]


def test_a_thinner_ring_than_the_published_table_gets_no_verdict(kestrane: Record) -> None:
    worked = figures_of(kestrane)["ring_flutter_use"]

    assert worked.value is None
    assert worked.no_verdict


def test_what_if_the_other_wheel_raises_trail_and_touches_nothing_declared(talvera: Record) -> None:
    then = {one.name: one.value for one in dict(talvera.what_if)["september-wheel"]}

    assert then["trail"] == pytest.approx(EXPECTED["trail19"], abs=5e-6)
    assert then["rake_in_use"] == pytest.approx(EXPECTED["rake19"], abs=5e-6)
    assert figures_of(talvera)["trail"].value == pytest.approx(EXPECTED["trail18"], abs=5e-6)


def test_what_if_the_first_oversize_is_over_the_class_and_says_so(talvera: Record) -> None:
    then = {one.name: one for one in dict(talvera.what_if)["first-oversize"]}

    assert then["swept_volume"].value == pytest.approx(EXPECTED["capacity_plus025"], abs=5e-6)
    assert "over the class limit" in then["headroom"].warnings[0].text
    assert figures_of(talvera)["swept_volume"].value == pytest.approx(EXPECTED["capacity"], abs=5e-6)


def test_what_if_a_rear_sprocket_of_forty_teeth_changes_its_pair_and_no_other(talvera: Record) -> None:
    then = {one.id: one for one in dict(talvera.what_if)["forty-teeth"]}

    assert then["final_ratio.long"].value == pytest.approx(40 / 18)
    # 9800 rpm over 2.5 times 40/18, 1.905 m round, no slip
    assert then["road_speed.6.long"].value == pytest.approx(9800 / 60 * 1.905 / (2.5 * 40 / 18) * 3.6)
    assert not [id for id in then if "short" in id]


def test_the_weighed_machine_is_a_reading(talvera: Record) -> None:
    [reading] = [one for one in talvera.build.measurements.as_built if one.what == "mass"]

    assert float(reading.quantities[0].number) == EXPECTED["mass"]


def test_unused_evidence_is_named(talvera: Record) -> None:
    unused = [one for one in talvera.problems if one.code == "evidence-unused"]

    assert len(unused) == len(EXPECTED["unused_evidence"])
    assert all(any(id in one.message for one in unused) for id in EXPECTED["unused_evidence"])
