"""What the records of the invented twin's build folder say as values, and what the figures make of them."""

from __future__ import annotations

import datetime
from dataclasses import replace
from pathlib import Path

import pytest

from dossier.figures.figure import FIGURES
from dossier.figures.value import FIRST_DAY, of_entry, seen_by, width_in
from dossier.figures.values import instead_of, values_of
from dossier.figures.values_of_items import roots
from dossier.figures.values_of_life import week_of
from dossier.figures.values_of_parts import cause_of
from dossier.figures.work_out import work_out
from dossier.model import notation
from dossier.model.audience import Audience
from dossier.model.build import Build, LogTable
from dossier.model.forms.evidence import Evidence
from dossier.model.forms.life import Lifed, Tyre
from dossier.model.forms.measurements import Entry, Role
from dossier.model.forms.parts import Part
from dossier.model.forms.running import Run, Session, Snag
from dossier.model.forms.workshop import Instrument
from dossier.model.results import Value, Worked
from dossier.read.folder import read_build

BUILDS = Path(__file__).parents[2] / "builds"
HANDED_OVER = datetime.date(2025, 6, 21)


@pytest.fixture(scope="module")
def build() -> Build:
    found, problems = read_build(BUILDS / "talvera-350-gp")
    assert found is not None, problems
    return found


def worked_out(build: Build, day: datetime.date | None = HANDED_OVER) -> dict[str, Worked]:
    found = work_out(values_of(build, day), FIGURES.gather(), build.machine.engine.strokes)
    return {one.id: one for one in found if one.role is Role.AS_BUILT}


@pytest.fixture(scope="module")
def worked(build: Build) -> dict[str, Worked]:
    return worked_out(build)


def named(values: tuple[Value, ...], name: str) -> list[Value]:
    return [one for one in values if one.name == name]


EXPECTED = {
    "itemised_mass_before": 108752, "itemised_mass": 92173, "itemised_mass_change": -16579, "ledger_coverage": 77.19682, "ledger_gap": 0,
    "mass_by_cause.reworked": -2917, "mass_by_cause.replaced": -16777, "mass_by_cause.deleted": -1265, "mass_by_cause.added": 4380,
    "origin_mass_share.genuine-from-another-machine": 36.2, "origin_mass_share.reproduction": 23.7,
    "origin_mass_share.newly-made-in-house": 14.1, "origin_mass_share.modern-substitute": 8.0, "origin_mass_share.period-accessory": 18.0,
    "origin_count_share.genuine-from-another-machine": 31.0, "origin_count_share.reproduction": 24.1,
    "origin_count_share.newly-made-in-house": 27.6, "origin_count_share.modern-substitute": 6.9, "origin_count_share.period-accessory": 10.3,
    "origin_mass_share.genuine-from-the-reference-machine": 0.0, "period_count_share": 41, "period_mass_share": 54,
    "period_mass_share_of_machine": 42, "items_on_one_source": 22, "open_conflicts": 1, "unused_evidence": 2, "evidence_distance.E06": 84,
    "custody_gap.2": 0, "custody_gap.3": 0, "running_hours": 3.9, "track_distance": 193.96, "life_used_by_hours.L-02": 39.0,
    "life_used_by_hours.L-01": 19.5, "total_hours_planned": 425, "total_hours_worked": 472, "total_hours_over_plan": 11,
    "rejection_rate": 29.41176, "total_hours_lost": 19, "snag_closure.SN-01": 35, "snag_closure.SN-02": 21, "snag_closure.SN-03": 14,
    "tyre_age.front": 2.21766, "tyre_age.rear": 2.06434, "smallest_tolerance_to_uncertainty": 2.0, "mass_change.P16": -187,
    "relative_air_density.DY-2": 98.8, "bore_ovality.left": 0.002, "bore_taper.left": 0.002,
    "peak_power.DY-1": 29.86398, "corrected_peak_power.DY-2": 31.82523, "slip.TS-1.6.short": 5.88731, "trail": 100.61591,
}  # fmt: skip
"""By id, in the figure's unit, with the digits that another program printed."""


@pytest.mark.parametrize("id", EXPECTED)
def test_the_build_folder_gives_the_figure_in_its_printed_digits(id: str, worked: dict[str, Worked]) -> None:
    expected = EXPECTED[id]
    digits = len(f"{expected!r}".partition(".")[2])
    assert worked[id].value == pytest.approx(expected, abs=0.5 * 10**-digits * (1 + 1e-6))


def test_shares_of_origin_add_up_to_the_whole(worked: dict[str, Worked]) -> None:
    for name in ("origin_count_share", "origin_mass_share"):
        shares = [one.value for one in worked.values() if one.name == name]
        assert len(shares) == 7 and sum(shares) == pytest.approx(100)


def test_the_september_wheel_changes_the_trail_and_leaves_the_declared_and_the_drive_line_alone(build: Build) -> None:
    before = values_of(build, HANDED_OVER)
    block = next(one for one in build.measurements.what_if if one.id == "september-wheel")
    after = instead_of(before, block.instead, build.workshop.instruments)

    found = {(one.id, one.role): one for one in work_out(after, FIGURES.gather(), "4")}
    assert found["trail", Role.AS_BUILT].value == pytest.approx(110.70443, abs=1e-4)
    assert found["slip.TS-1.6.short", Role.AS_BUILT].value == pytest.approx(5.88731, abs=1e-5)
    assert [one for one in before if one.role is Role.DECLARED] == [one for one in after if one.role is Role.DECLARED]


def test_a_part_of_which_nobody_said_what_was_weighed_before_leaves_the_ledger_open(build: Build) -> None:
    parts = tuple(replace(one, before_is=None) if one.id == "P30" else one for one in build.parts.parts)
    gap = worked_out(replace(build, parts=replace(build.parts, parts=parts)))["ledger_gap"]

    assert gap.value == pytest.approx(4380) and "does not close" in gap.warnings[0].text


def test_two_papers_that_copy_one_sheet_are_one_source() -> None:
    def source(id: str, above: str | None = None) -> Evidence:
        return Evidence(id=id, kind="drawing", title=id, subject="type", reliability="B", credibility="2", derived_from=above, says="x")

    known = {one.id: one for one in (source("E1"), source("E2", "E1"), source("E3", "E2"), source("E4"), source("E5", "E6"), source("E6", "E5"))}

    assert roots(("E1", "E2", "E3"), known) == ("E1",)
    assert roots(("E3", "E4"), known) == ("E1", "E4")
    assert roots(("E5",), known) and roots(("nobody",), known) == ()


@pytest.mark.parametrize(
    ("before_is", "after", "cause"),
    [
        ("same part as received", "431 g", "reworked"), ("donor's part replaced", "236 g", "replaced"), ("donor's part replaced", "0 g", "deleted"),
        ("nothing", "4380 g", "added"), (None, "1 g", "not said"),
    ],
)  # fmt: skip
def test_the_cause_of_a_change_of_mass_follows_from_what_was_weighed_before(before_is: str | None, after: str, cause: str) -> None:
    part = Part(id="P1", group="engine", name="drum", origin="unknown", before_is=before_is, after=notation.quantity(after))
    assert cause_of(part) == cause


@pytest.mark.parametrize(
    ("code", "monday"),
    [
        ("1423", datetime.date(2023, 4, 3)), ("2223", datetime.date(2023, 5, 29)), ("DOT XY 0125", datetime.date(2024, 12, 30)), ("367", None),
        (None, None), ("9923", None), ("0023", None),
    ],
)  # fmt: skip
def test_a_date_code_of_four_digits_is_the_monday_of_its_week(code: str | None, monday: datetime.date | None) -> None:
    assert week_of(code) == monday


def with_tyre(build: Build, code: str | None) -> Worked:
    life = replace(build.life, tyres=(Tyre(wheel="front", size="2.75-18", dot=code),))
    return worked_out(replace(build, life=life))["tyre_age.front"]


def test_an_undated_tyre_and_one_of_the_last_century_get_no_age_and_an_old_one_warns(build: Build) -> None:
    assert "decade unknown" in with_tyre(build, "367").no_verdict
    assert "undated" in with_tyre(build, None).no_verdict
    assert "look hard" in with_tyre(build, "1419").warnings[0].text


def test_a_lifed_part_past_its_limit_warns_by_share_and_by_what_is_left(build: Build) -> None:
    lifed = Lifed(id="L-1", part="springs", limit_hours=notation.quantity("3 h"), whose_limit="ours", since=datetime.date(2025, 3, 29))
    found = worked_out(replace(build, life=replace(build.life, lifed=(lifed,))))

    assert found["life_used.L-1"].value == pytest.approx(130)
    assert "not to be used" in found["life_left_in_hours.L-1"].warnings[0].text and found["life_used.L-1"].warnings


def test_hours_run_before_a_part_was_fitted_do_not_count_for_it(build: Build) -> None:
    lifed = Lifed(id="L-1", part="springs", limit_hours=notation.quantity("10 h"), whose_limit="ours", since=datetime.date(2025, 5, 9))
    found = worked_out(replace(build, life=replace(build.life, lifed=(lifed,))))

    # Run log before 9 May: 0.8 + 0.6 + 0.46 h; from then on 0.5 + 0.62 + 0.92 = 2.04 h.
    assert found["life_used_by_hours.L-1"].value == pytest.approx(20.4)


def test_nothing_that_happened_after_the_day_of_the_record_counts(build: Build) -> None:
    later = Run(date=datetime.date(2026, 1, 1), what="later", hours=notation.quantity("5 h"))
    running = replace(build.running, run_log=(*build.running.run_log, later))
    assert worked_out(replace(build, running=running))["running_hours"].value == pytest.approx(3.9)


def test_the_day_of_the_record_is_that_of_the_latest_revision_where_nobody_says(build: Build) -> None:
    (day,) = named(values_of(build), "day_of_record")
    assert day.on == max(one.date for one in build.custody.revisions)
    assert day.shown == (day.on - FIRST_DAY).days


def test_custody_without_holder_warns_and_two_holders_at_once_are_impossible(build: Build) -> None:
    first, second, third = build.custody.custody

    def gap(day: datetime.date) -> Worked:
        chain = (replace(first, until=day), second, third)
        return worked_out(replace(build, custody=replace(build.custody, custody=chain)))["custody_gap.2"]

    assert gap(datetime.date(2025, 6, 14)).value == 7 and gap(datetime.date(2025, 6, 14)).warnings
    assert gap(datetime.date(2025, 6, 22)).value is None and gap(datetime.date(2025, 6, 22)).warnings[0].code == "figure-impossible"


def test_a_cure_proved_before_the_fault_is_impossible_and_an_open_snag_counts(build: Build) -> None:
    odd = Snag(id="SN-9", symptom="weep", found=datetime.date(2025, 5, 2), verified=datetime.date(2025, 5, 1))
    left = Snag(id="SN-8", symptom="weep", found=datetime.date(2025, 5, 2))
    found = worked_out(replace(build, running=replace(build.running, snags=(odd, left))))

    assert found["snag_closure.SN-9"].value is None
    assert found["snags_open"].value == 1


def test_full_throttle_rows_of_a_data_log_stand_in_where_nobody_wrote_the_pair_down(build: Build) -> None:
    rows = (*((8640.0, 158.0, 100.0, 6.0), (8660.0, 158.0, 100.0, 6.0)) * 15, (5000.0, 60.0, 40.0, 6.0))
    columns = (("rpm", "rpm"), ("speed", "km/h"), ("throttle", "%"), ("gear", ""))
    log = LogTable("TS-9.data_log", "data_log", "Data log", columns, rows, (), "TS-9")
    session = Session(id="TS-9", date=datetime.date(2025, 6, 1), place="x", final="short")
    running = replace(build.running, sessions=(session,))

    values = values_of(replace(build, running=running, logs=(log,)), HANDED_OVER)
    ours = {one.name: one for one in values if ("session", "TS-9") in one.tags}
    assert ours["logged_rpm"].shown == 8650 and ours["logged_speed"].shown == 158
    assert ours["logged_rpm"].tags == (("gear", "6"), ("final", "short"), ("session", "TS-9"))


def test_a_worse_mean_than_best_lap_passes_and_a_better_one_is_impossible(build: Build) -> None:
    def session(mean: str) -> Worked:
        one = Session(id="TS-9", date=HANDED_OVER, place="x", best=notation.quantity("82.6 s"), mean=notation.quantity(mean))
        return worked_out(replace(build, running=replace(build.running, sessions=(one,))))["mean_over_best_lap.TS-9"]

    assert session("84.1 s").value == pytest.approx(84.1 / 82.6)
    assert session("81.0 s").value is None


def test_the_widest_uncertainty_of_an_items_readings_stands_against_its_tolerance(worked: dict[str, Worked]) -> None:
    assert worked["tolerance_to_uncertainty.D02"].value == pytest.approx(2.5)
    assert "tolerance_to_uncertainty.D25" not in worked


def test_a_tolerance_finer_than_its_evidence_warns(build: Build) -> None:
    items = tuple(
        replace(one, evidence_uncertainty=notation.quantity("15 mm")) if one.id == "D18" else one for one in build.specification.items
    )
    found = worked_out(replace(build, specification=replace(build.specification, items=items)))["evidence_fineness.D18"]

    assert found.value == pytest.approx(3) and "finer than the evidence" in found.warnings[0].text


def test_a_width_is_brought_to_the_unit_of_what_it_belongs_to() -> None:
    of = notation.quantity
    assert width_in(of("0.01 mm"), of("2.441 in")) == pytest.approx(0.01 / 25.4)
    assert width_in(of("2 %"), of("15 N/mm")) == pytest.approx(0.3)
    assert width_in(of("1 °C"), of("70 °F")) == pytest.approx(1.8)
    assert width_in(of("1 g"), of("15 N/mm")) is None


def test_an_entry_takes_its_own_uncertainty_before_its_instruments() -> None:
    gauge = Instrument(id="M1", name="gauge", u=notation.quantity("0.004 mm"))
    plain = Entry(what="bore", value=notation.quantity("62.012 mm"))

    assert of_entry(plain, Role.AS_BUILT, gauge).u == pytest.approx(0.004)
    assert of_entry(plain, Role.AS_BUILT, None).u is None
    assert of_entry(replace(plain, u=notation.quantity("10 µm")), Role.AS_BUILT, gauge).u == pytest.approx(0.010)


def test_what_only_the_owner_may_see_makes_values_and_figures_for_the_owner(build: Build, worked: dict[str, Worked]) -> None:
    values = values_of(build, HANDED_OVER)

    for name in ("hours_planned", "hours_actual", "hours_lost", "part_hours"):
        assert {one.audience for one in named(values, name)} == {Audience.OWNER}, name
    assert worked["total_hours_worked"].audience is Audience.OWNER
    assert worked["itemised_mass"].audience is Audience.PUBLIC


def test_a_record_kept_to_fewer_eyes_keeps_its_values_and_figures_there(build: Build) -> None:
    entries = tuple(replace(one, audience=Audience.WORKSHOP) if one.what == "stroke" else one for one in build.measurements.as_built)
    kept = replace(build, measurements=replace(build.measurements, as_built=entries))
    assert worked_out(kept)["swept_volume"].audience is Audience.WORKSHOP

    file = replace(build, parts=replace(build.parts, audience=Audience.OWNER))
    assert worked_out(file)["itemised_mass"].audience is Audience.OWNER
    item = build.specification.items[0]
    assert seen_by("declared", build.specification, replace(item, audience=Audience.OWNER)) is Audience.OWNER


def test_every_value_of_the_single_is_taken_in_too() -> None:
    single, problems = read_build(BUILDS / "kestrane-125-r")
    assert single is not None, problems
    found = worked_out(single, datetime.date(2024, 9, 1))

    # Kestrane vectors: 15.3 N·m at 11,600 rpm; 123.69942 cc; 13 m/s over 54 mm.
    assert found["sound_test_speed"].value == pytest.approx(7222.22222, abs=1e-5)
    assert found["premix_oil"].value == pytest.approx(50)
    power = [one.value for one in found.values() if one.name == "peak_power"]
    assert power == pytest.approx([18.58566], abs=5e-6)
    pressure = [one.value for one in found.values() if one.name == "brake_mean_effective_pressure"]
    assert pressure == pytest.approx([7.77148], abs=5e-6)
