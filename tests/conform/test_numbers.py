"""Readings against limits: guard band, slack, sets of readings, missing uncertainty."""

import datetime
from dataclasses import replace

import pytest

from dossier.conform.judge import judge
from dossier.model.audience import Audience
from dossier.model.forms.measurements import Entry
from dossier.model.forms.running import Running, Session
from dossier.model.forms.workshop import Instrument
from dossier.model.notation import quantity
from dossier.model.results import Outcome
from tests.conform.small_build import Held, build, item, reading, verdict


@pytest.mark.parametrize(("y", "outcome"), [
    ("29.93", Outcome.CONFORMS),      # exactly LL + U
    ("30.07", Outcome.CONFORMS),      # exactly UL - U
    ("30.08", Outcome.UNDECIDED),
    ("29.92", Outcome.UNDECIDED),
    ("30.13", Outcome.UNDECIDED),     # exactly UL + U
    ("30.14", Outcome.FAILS),
    ("29.87", Outcome.UNDECIDED),     # exactly LL - U
    ("29.86", Outcome.FAILS),
])  # fmt: skip
def test_a_reading_is_decided_only_when_it_is_clear_of_the_limit_by_u(y, outcome):
    assert verdict(item(), reading(f"{y} ± 0.03 mm")).raw is outcome


def test_a_reading_exactly_u_beyond_the_limit_is_undecided_though_floats_put_it_further():
    assert verdict(item(said=None, allowed="at most 0.1 mm"), reading("0.17 ± 0.07 mm")).raw is Outcome.UNDECIDED


def test_a_reading_in_inches_on_the_guard_limit_conforms_in_millimetres():
    # 1.25 in is exactly 31.75 mm; float rounding on the way through metres must not decide
    one = item(said="31.75 mm", allowed="31.65 to 31.80 mm")

    assert verdict(one, reading("1.25 in", u=0.05e-3)).raw is Outcome.CONFORMS


@pytest.mark.parametrize(("allowed", "y", "outcome"), [
    ("at most 2.0 dE00", "1.4", Outcome.CONFORMS),
    ("at most 2.0 dE00", "1.8", Outcome.UNDECIDED),
    ("at most 2.0 dE00", "2.5", Outcome.FAILS),
    ("at least 2.0 dE00", "2.5", Outcome.CONFORMS),
    ("at least 2.0 dE00", "0.1", Outcome.FAILS),
])  # fmt: skip
def test_a_limit_on_one_side_leaves_the_other_open(allowed, y, outcome):
    found = verdict(item(said="colour difference", allowed=allowed, kind="finish"), reading(f"{y} ± 0.4 dE00"))

    assert (found.raw, found.judged[0].place) == (outcome, None)


def test_limits_may_stand_beside_the_nominal_and_may_be_lopsided():
    found = verdict(item(said="62.000 +0.020/-0 mm", allowed=None), reading("62.014 ± 0.004 mm"))

    assert (found.raw, found.lower, found.upper, found.nominal) == (Outcome.CONFORMS, 62.0, 62.02, 62.0)
    assert found.judged[0].place == pytest.approx(40)
    assert found.deviation == pytest.approx(0.014)
    assert found.deviation_u == pytest.approx(0.004)


def test_the_worst_of_two_cylinders_decides_and_both_are_kept():
    left, right = reading("30.05 ± 0.03 mm", "left"), reading("30.09 ± 0.03 mm", "right")

    found = verdict(item(), left, right)

    assert [one.outcome for one in found.judged] == [Outcome.CONFORMS, Outcome.UNDECIDED]
    assert (found.raw, found.worst) == (Outcome.UNDECIDED, 1)
    assert found.judged[1].place == pytest.approx(90)


def test_every_single_reading_of_a_set_counts_though_the_mean_would_conform():
    found = verdict(item(), reading("30.00 ± 0.01 mm", each=("29.90 mm", "30.00 mm", "30.12 mm")))

    one = found.judged[0]
    assert (found.raw, one.value, one.least, one.most, one.mean_of) == (
        Outcome.FAILS, pytest.approx(30.0), pytest.approx(29.90), pytest.approx(30.12), 3,
    )  # fmt: skip
    assert "one reading of 3 lies above the upper limit by 0.02 mm" in found.says.lower()


@pytest.mark.parametrize("y", ["30.00", "30.50"])
def test_without_a_stated_uncertainty_nothing_is_shown_either_way(y):
    found = verdict(item(), reading(f"{y} mm"))

    assert (found.raw, found.judged[0].probability) == (Outcome.UNSTATED, None)
    assert "not stated" in found.says


def test_a_figure_with_an_input_of_unstated_uncertainty_is_not_plainly_conforming():
    found = verdict(item(), reading("30.00 ± 0.01 mm", unstated=("Rod length",)))

    assert found.raw is Outcome.UNSTATED
    assert "Rod length" in found.says


def test_simple_acceptance_ignores_u_and_says_what_it_risks():
    found = verdict(item(rule="simple acceptance"), reading("30.10 ± 0.03 mm"))

    assert found.raw is Outcome.CONFORMS
    assert "simple acceptance" in found.rule
    assert [one.text for one in found.warnings if one.code == "simple-acceptance"] == [
        "judged by simple acceptance, whatever the uncertainty; the chance that it lies outside is 50 per cent"
    ]


def test_simple_acceptance_still_refuses_a_reading_outside():
    assert verdict(item(rule="simple acceptance"), reading("30.11 ± 0.03 mm")).raw is Outcome.FAILS


def test_a_number_without_limits_is_reported_with_its_deviation_only():
    found = verdict(item(said="118.0 kg", allowed=None), reading("119.4 ± 0.3 kg"))

    assert found.raw is Outcome.NO_TOLERANCE
    assert found.deviation == pytest.approx(1.4)
    assert found.says == "1.4 kg above the declared value, ±0.3 kg; declared without a tolerance."


def test_an_item_nobody_read_says_how_good_a_reading_must_be():
    found = verdict(item(said="720 mm", allowed="710 to 730 mm"))

    assert (found.raw, found.says) == (Outcome.NOT_MEASURED, "When it is read, U must stay below ±10 mm.")


def test_a_reason_for_not_measuring_is_passed_on():
    entry = Entry(what="D01", not_measured="the pipe comes off in winter")

    found = verdict(item(said="720 mm", allowed="710 to 730 mm"), entries=(entry,))

    assert found.says == "The pipe comes off in winter. When it is read, U must stay below ±10 mm."


def test_one_cylinder_read_and_the_other_not_is_not_yet_measured():
    found = verdict(item(), reading("30.00 ± 0.01 mm", "left", tags=(("cylinder", "left"),)))

    assert (found.raw, [one.label for one in found.judged]) == (Outcome.NOT_MEASURED, ["left", "right"])


def test_a_figure_that_lacks_an_input_is_not_yet_measured():
    found = verdict(item(), reading("30 mm", number=None, why="not written down: Bore (measurements.yaml)"))

    assert found.raw is Outcome.NOT_MEASURED
    assert found.says.startswith("Not written down: Bore (measurements.yaml).")


def test_a_value_that_was_assumed_is_no_measurement():
    found = verdict(item(), reading("30.00 ± 0.01 mm", assumed="as its twin"))

    assert (found.raw, "assumed, not measured" in found.says.lower()) == (Outcome.NOT_MEASURED, True)


def test_a_mass_is_never_compared_with_a_length():
    found = verdict(item(), reading("30.00 ± 0.01 kg"))

    assert (found.raw, "dimension-wrong" in {one.code for one in found.warnings}) == (Outcome.NOT_MEASURED, True)


def test_a_temperature_is_judged_with_its_offset_and_its_uncertainty_without():
    found = verdict(item(said="20 °C", allowed="18 to 22 °C"), reading("69.8 ± 1.8 °F"))

    assert found.judged[0].value == pytest.approx(21.0)
    assert found.judged[0].u == pytest.approx(1.0)
    assert found.raw is Outcome.CONFORMS


def test_the_reading_before_the_work_no_longer_counts():
    before = reading("30.50 ± 0.01 mm", "before", tags=(("state", "before"),))
    after = reading("30.00 ± 0.01 mm", "after", tags=(("state", "after"),))

    assert verdict(item(), before, after).raw is Outcome.CONFORMS
    assert verdict(item(), before).raw is Outcome.FAILS


def test_a_count_given_as_a_number_is_exact():
    six = item(said="6", allowed=None, kind="count")

    assert verdict(six, reading("6")).raw is Outcome.CONFORMS
    assert verdict(six, reading("5")).raw is Outcome.FAILS


def test_above_the_limit_says_by_how_much_and_that_nobody_agreed():
    found = verdict(item(said="118.0 kg", allowed="117.0 to 119.0 kg"), reading("119.4 ± 0.3 kg"))

    assert found.says == "Above the upper limit by 0.4 kg. Nobody has agreed to it."


def test_what_cannot_be_decided_says_what_would_decide_it():
    found = verdict(item(), reading("30.09 ± 0.03 mm"))

    assert found.says == "The uncertainty reaches past the upper limit. A reading good to ±0.01 mm would decide it."


def test_the_uncertainty_that_is_said_to_decide_does_decide():
    for y in ("30.083", "30.0999", "29.9371", "30.1234"):
        says = verdict(item(), reading(f"{y} ± 0.05 mm")).says
        better = says.split("±")[1].split(" mm")[0]
        assert verdict(item(), reading(f"{y} ± {better} mm")).raw is not Outcome.UNDECIDED


def test_a_reading_on_the_limit_is_said_to_need_an_agreement():
    assert "only an agreement" in verdict(item(), reading("30.10 ± 0.03 mm")).says


def test_what_is_planned_is_said_after_the_fault():
    found = verdict(item(plan="lighter seat in winter"), reading("30.50 ± 0.03 mm"))

    assert found.says.endswith("Nobody has agreed to it. Lighter seat in winter.")


def test_a_safety_item_that_cannot_be_decided_is_said_to_be_treated_as_failing():
    found = verdict(item(safety=True), reading("30.09 ± 0.03 mm"))

    assert found.safety
    assert found.says.startswith("Safety item: treated as not conforming until decided.")


def test_items_are_judged_in_their_order_and_name_the_revision():
    found = judge(build(item("D02"), item("D01")), Held({}), "E")

    assert [(one.item, one.revision) for one in found] == [("D02", "E"), ("D01", "E")]


def test_a_verdict_is_kept_to_the_strictest_audience_of_what_it_was_made_from():
    assert verdict(item(), reading("30 ± 0.01 mm")).audience is Audience.PUBLIC
    assert verdict(item(audience=Audience.OWNER), reading("30 ± 0.01 mm")).audience is Audience.OWNER
    private = reading("30 ± 0.01 mm", audience=Audience.WORKSHOP)
    assert verdict(item(), reading("30 ± 0.01 mm"), private).audience is Audience.WORKSHOP


def test_a_verdict_is_as_private_as_the_instrument_it_was_read_with_and_the_session_it_is_of():
    gauge = Instrument(id="M1", name="n", u=quantity("0.01 mm"), audience=Audience.OWNER)
    day = Session(id="TS-1", date=datetime.date(2025, 4, 26), place="p", audience=Audience.WORKSHOP)
    narrow = replace(build(item(), instruments=(gauge,)), running=Running(sessions=(day,)))

    def judged(**more):
        return judge(narrow, Held({"D01": (reading("30 ± 0.01 mm", **more),)}), "E")[0].audience

    assert judged() is Audience.PUBLIC
    assert judged(taken=(("M1", None),)) is Audience.OWNER
    assert judged(tags=(("session", "TS-1"),)) is Audience.WORKSHOP
