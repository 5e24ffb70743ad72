"""What is harvested from logs: each kind yields the values its figures take in, and what somebody wrote down by hand wins."""

from __future__ import annotations

import datetime
import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from dossier.figures.figure import FIGURES
from dossier.figures.values import values_of
from dossier.figures.work_out import work_out
from dossier.model.audience import Audience
from dossier.model.build import Build, LogTable
from dossier.model.forms.measurements import Measurements
from dossier.model.forms.running import Dyno, Running, Session
from dossier.model.forms.work import Work
from dossier.model.results import Worked
from dossier.read.folder import read_build
from dossier.read.logs.kind import LOG_KINDS
from dossier.record import make_record
from tests.figures.made_logs import circuit
from tests.figures.test_slip_from_logs import RATIOS, SIX

ROOT = Path(__file__).resolve().parents[2]
DAY = datetime.date(2025, 6, 21)


@pytest.fixture(scope="module")
def talvera() -> Build:
    build, _ = read_build(ROOT / "builds" / "talvera-350-gp")
    assert build is not None
    return build


def bare_of(build: Build, *logs: LogTable, keep: tuple[str, ...] = ()) -> Build:
    """The build with nothing measured but what is to be kept, one session and one run, and these logs."""
    measured = build.measurements
    entries = {name: tuple(one for one in getattr(measured, name) if one.what in keep) for name in ("as_built", "noted")}
    running = Running(
        sessions=(Session(id="TS-9", date=datetime.date(2025, 6, 1), place="x", final="short"),),
        dyno=(Dyno(id="DY-9", date=datetime.date(2025, 6, 2), at="rear wheel"),),
    )
    return replace(build, measurements=Measurements(**entries), running=running, work=Work(), logs=logs)


def worked_out(build: Build) -> dict[str, Worked]:
    out = work_out(values_of(build, DAY), FIGURES.gather(), build.machine.engine.strokes)
    return {one.id: one for one in out if one.role.value == "as built"}


def log(kind: str, columns: dict[str, str], *rows: tuple[float | str | None, ...], of: str = "x") -> LogTable:
    known = LOG_KINDS[kind]
    return LogTable(f"{of}.{kind}", kind, known.title, tuple(columns.items()), rows, (), of, (), known.audience)


def test_bore_readings_give_bore_ovality_and_taper(talvera: Build):
    rows = [("left", height, way, size) for height, way, size in (
        ("top", "along", 62.013), ("top", "across", 62.011), ("middle", "along", 62.014), ("middle", "across", 62.012),
        ("bottom", "across", 62.010), ("bottom", "along", 62.012),
    )]  # fmt: skip
    found = worked_out(bare_of(talvera, log("bore_readings", {"cylinder": "", "height": "", "direction": "", "diameter": "mm"}, *rows)))
    assert found["bore_ovality.left"].value == pytest.approx(0.002)
    assert found["bore_taper.left"].value == pytest.approx(0.002)


def test_compression_and_leak_down_logs_give_their_figures(talvera: Build):
    pressures = log("compression_test", {"cylinder": "", "pressure": "bar"}, ("left", 12.4), ("right", 12.1))
    leaks = log("leak_down", {"cylinder": "", "supply": "bar", "cylinder_pressure": "bar"}, ("left", 5.5, 5.28), ("right", 5.5, 5.20))
    found = worked_out(bare_of(talvera, pressures, leaks))
    assert found["compression_spread"].value == pytest.approx(2.419, abs=1e-3)
    assert found["leak_down.left"].value == pytest.approx(4.0)
    assert found["leak_down.right"].value == pytest.approx(5.4545, abs=1e-3)


def test_scales_spring_test_and_truing_give_their_figures(talvera: Build):
    scales = log("axle_scales", {"wheel": "", "side": "", "load": "kg"}, ("front", "", 56.3), ("rear", "left", 31.5), ("rear", "right", 31.6))
    spring = log("spring_test", {"wheel": "", "force": "N", "deflection": "mm"}, ("rear", 300.0, 20.3), ("rear", 600.0, 40.3))
    truing = log("wheel_truing", {"wheel": "", "plane": "", "angle": "°", "reading": "mm"}, *(
        ("front", "radial", 90.0 * n, reading) for n, reading in enumerate((0.10, 0.32, -0.08, 0.02))
    ))  # fmt: skip
    found = worked_out(bare_of(talvera, scales, spring, truing))
    assert found["front_weight_share"].value == pytest.approx(100 * 56.3 / 119.4)
    assert found["tested_spring_rate.rear"].value == pytest.approx(15.0)
    assert found["dial_runout.front.radial"].value == pytest.approx(0.40)


def test_lap_times_give_best_mean_median_and_how_many(talvera: Build):
    times = ((1.0, 90.0), (2.0, 88.0), (3.0, 86.0), (4.0, 87.0), (5.0, 99.0))
    laps = log("lap_times", {"lap": "", "time": "s"}, *times, of="TS-9")
    build = bare_of(talvera, laps)
    found = worked_out(build)
    assert found["median_lap.TS-9"].value == 88.0
    assert found["mean_over_best_lap.TS-9"].value == pytest.approx(90.0 / 86.0)
    assert found["lap_apart.TS-9"].value == pytest.approx(88 + 3.5 / 0.6745 * 2)
    assert next(one for one in values_of(build, DAY) if one.name == "laps").shown == 5


def test_readings_of_colour_give_the_difference_from_the_sample(talvera: Build):
    columns = {"part": "", "sample": "", "lightness": "", "red_green": "", "yellow_blue": ""}
    rows = (("fairing", "part", 50.0, 2.6772, -79.7751), ("sample 3", "reference", 50.0, 0.0, -82.7485))
    found = worked_out(bare_of(talvera, log("colour_readings", columns, *rows)))
    assert found["colour_difference_by_readings.fairing"].value == pytest.approx(2.0425, abs=5e-5)


def test_a_lift_curve_gives_the_events_that_its_card_says(talvera: Build):
    found = worked_out(talvera)
    card = {"left": (51, 77, 78, 46), "right": (52, 76, 77, 47)}
    for cylinder, (opens, closes, exhaust_opens, exhaust_closes) in card.items():
        assert found[f"opens_by_curve.{cylinder}.inlet"].value == pytest.approx(opens, abs=0.5)
        assert found[f"closes_by_curve.{cylinder}.inlet"].value == pytest.approx(closes, abs=0.5)
        assert found[f"opens_by_curve.{cylinder}.exhaust"].value == pytest.approx(exhaust_opens, abs=0.5)
        assert found[f"closes_by_curve.{cylinder}.exhaust"].value == pytest.approx(exhaust_closes, abs=0.5)
        assert found[f"centre_by_curve.{cylinder}.inlet"].value == pytest.approx(found[f"inlet_lobe_centre.{cylinder}"].value, abs=0.5)


def test_pulls_of_a_run_are_averaged_and_their_scatter_is_kept(talvera: Build):
    rows = [(rpm, torque, pull) for pull, more in ((1.0, 0.2), (2.0, -0.2)) for rpm, torque in ((8000.0, 32.0 + more), (9800.0, 31.8 + more))]
    found = worked_out(bare_of(talvera, log("dyno_run", {"rpm": "rpm", "torque": "N·m", "pull": ""}, *rows, of="DY-9")))
    assert found["peak_power.DY-9"].value == pytest.approx(32.635, abs=1e-3)
    assert found["peak_power.DY-9"].u is not None
    assert found["pull_repeatability.DY-9"].value == pytest.approx(2 * 0.2 * 2**0.5)


TEETH = ("primary_driver_teeth", "primary_driven_teeth", "gear_driver_teeth", "gear_driven_teeth", "final_driver_teeth", "final_driven_teeth")


@pytest.mark.parametrize("with_gear", [True, False])
def test_a_data_log_gives_slip_of_each_gear_at_full_and_at_part_throttle(with_gear: bool, talvera: Build):
    made = circuit(0, SIX, slip=0.059, slipping=(6,))
    columns = {"time": "s", "rpm": "rpm", "speed": "km/h", "throttle": "%"} | ({"gear": ""} if with_gear else {})
    series = [made.time, made.rpm, made.speed, made.throttle] + ([made.gear.astype(float)] if with_gear else [])
    rows = list(zip(*(one.tolist() for one in series), strict=True))
    one = log("data_log", columns, *rows, of="TS-9")
    found = worked_out(bare_of(talvera, one, keep=(*TEETH, "rear_rolling_circumference")))
    assert found["slip.TS-9.6.short"].value == pytest.approx(5.9, abs=0.2)
    assert found["slip_at_part_throttle.TS-9.6.short"].value == pytest.approx(0.0, abs=0.2)
    assert found["slip_from_throttle.TS-9.6.short"].value == pytest.approx(5.9, abs=0.2)
    assert [one.code for one in found["slip_from_throttle.TS-9.6.short"].warnings] == ["figure-unusual"]
    assert found["gears_off_alike.TS-9"].value == pytest.approx(0.0, abs=0.2)
    assert found["ratio_from_log.TS-9.6.short"].value == pytest.approx(RATIOS["6"] * 1.905 * 60 / 1000, rel=0.003)
    assert (found["slip.TS-9.6.short"].u or 0) > 0


def test_what_was_written_by_hand_wins_over_the_log(talvera: Build):
    found = worked_out(talvera)
    used = [value for one in found["slip.TS-1.6.short"].inputs for value in one.values if value.name in ("logged_rpm", "logged_speed")]
    assert [one.source for one in used] == ["", ""]
    assert [one.shown for one in used] == pytest.approx([158.0, 8640.0])
    bores = [value for value in values_of(talvera, DAY) if value.name == "bore"]
    assert all(not value.source for value in bores if value.role.value == "as built")


def test_the_logs_of_the_demo_say_what_was_written_by_hand(talvera: Build):
    by_hand = ("logged_speed", "logged_rpm", "bore", "compression_pressure", "leakdown_cylinder", "leakdown_supply", "axle_load_front",
               "axle_load_rear", "colour_difference")  # fmt: skip
    entries = tuple(one for one in talvera.measurements.as_built if one.what not in by_hand)
    found = worked_out(replace(talvera, measurements=replace(talvera.measurements, as_built=entries)))
    written = worked_out(talvera)
    for name in ("slip.TS-1.6.short", "slip.TS-3.6.short"):
        assert found[name].value == pytest.approx(written[name].value, abs=0.1)
    for name in ("swept_volume", "bore_ovality.left", "leak_down.right", "compression_spread", "front_weight_share", "front_weight_share.with-rider"):
        assert found[name].value == pytest.approx(written[name].value, abs=1e-6)
    assert found["colour_difference_by_readings.fairing"].value == pytest.approx(1.4, abs=0.05)


def test_a_value_from_a_log_is_seen_by_those_who_may_see_the_log(talvera: Build):
    closed = replace(log("spring_test", {"force": "N", "deflection": "mm"}, (300.0, 20.3), (600.0, 40.3)), audience=Audience.WORKSHOP)
    assert worked_out(bare_of(talvera, closed))["tested_spring_rate"].audience is Audience.WORKSHOP


def test_a_session_after_the_day_of_the_record_does_not_count(talvera: Build):
    laps = log("lap_times", {"lap": "", "time": "s"}, (1.0, 90.0), of="TS-9")
    assert not [one for one in values_of(bare_of(talvera, laps), datetime.date(2025, 5, 1)) if one.name == "lap_time"]


def test_a_value_written_by_hand_that_its_log_does_not_bear_out_is_told(tmp_path: Path) -> None:
    """The log of the cured clutch in place of the slipping one, and a bore log in another unit."""
    for name in ("talvera-350-gp", "workshop.yaml"):
        source = ROOT / "builds" / name
        (shutil.copytree if source.is_dir() else shutil.copy)(source, tmp_path / name)
    logs = tmp_path / "talvera-350-gp/logs"
    shutil.copy(logs / "TS-3.data_log.csv", logs / "TS-1.data_log.csv")
    bores = logs / "bores.bore_readings.csv"
    bores.write_text(bores.read_text(encoding="utf-8").replace("62.013", "62.913"), encoding="utf-8")

    told = {one.place.text.partition(",")[0].strip(" -{") for one in make_record(tmp_path / "talvera-350-gp")[1] if one.code == "log-disagrees"}

    assert told == {"what: logged_rpm", "what: bore"}
    assert not [one for one in make_record(ROOT / "builds" / "talvera-350-gp")[1] if one.code == "log-disagrees"]
