"""What is to be looked at again about an item, that is no verdict."""

import datetime

import pytest

from dossier.conform.warned import roots
from dossier.model.forms.workshop import Calibration, Instrument
from dossier.model.notation import quantity
from dossier.model.results import Outcome
from tests.conform.small_build import evidence, item, reading, verdict


def codes(found):
    return {one.code for one in found.warnings}


def test_a_method_as_wide_as_the_tolerance_can_never_show_conformity():
    found = verdict(item(), reading("30.00 ± 0.11 mm"))

    assert found.raw is Outcome.UNDECIDED
    assert [one.text for one in found.warnings if one.code == "uncertainty-too-wide"] == [
        "this method, good to ±0.11 mm, can never show conformity"
    ]


@pytest.mark.parametrize(("u", "warned"), [("0.025", False), ("0.03", True), ("0.10", True), ("0.11", False)])
def test_a_tolerance_of_less_than_four_times_the_uncertainty_is_noted(u, warned):
    # half the tolerance is 0.10 mm: 0.025 gives exactly 4, 0.10 exactly 1
    assert ("uncertainty-wide" in codes(verdict(item(), reading(f"30.00 ± {u} mm")))) is warned


def test_exactly_four_times_is_enough_though_floats_fall_short_of_it():
    # 0.3 - 0.1 is a hair less than 0.2 in floats
    assert "uncertainty-wide" not in codes(verdict(item(said=None, allowed="0.1 to 0.3 mm"), reading("0.2 ± 0.025 mm")))


@pytest.mark.parametrize(("u", "warned"), [("15 mm", True), ("2 mm", False), ("1.5 cm", True), ("15 kg", False)])
def test_a_tolerance_finer_than_its_evidence_is_pointed_out(u, warned):
    one = item(said="1310 mm", allowed="1308 to 1312 mm", evidence_uncertainty=quantity(u))

    assert ("tolerance-finer-than-evidence" in codes(verdict(one, reading("1310 ± 0.1 mm")))) is warned


SOURCES = {one.id: one for one in (
    evidence("E02", derived_from="E05"), evidence("E05"), evidence("E17", derived_from="E06"), evidence("E06"),
    evidence("E20", derived_from="E21"), evidence("E21", derived_from="E20"),
)}  # fmt: skip


@pytest.mark.parametrize(("cited", "count"), [
    ((), 0), (("E05",), 1), (("E05", "E02"), 1), (("E02", "E17"), 2), (("E17", "E06", "E05"), 2), (("E20", "E21"), 1),
])  # fmt: skip
def test_copies_of_one_source_count_once(cited, count):
    assert len(roots(cited, SOURCES)) == count


def test_an_item_on_one_source_says_so_and_one_on_none_says_that():
    def on(*ids, **more):
        return verdict(item(evidence=ids, **more), evidence=tuple(SOURCES.values()))

    assert (on("E02", "E05").independent_sources, codes(on("E02", "E05")) & {"single-source"}) == (1, {"single-source"})
    assert "single-source" not in codes(on("E05", "E06"))
    assert "no-evidence" in codes(on())
    assert "no-evidence" not in codes(on(assumption="A1"))


@pytest.mark.parametrize(("day", "warned"), [((2025, 9, 3), True), ((2025, 9, 2), False), (None, False)])
def test_a_reading_after_the_calibration_was_due_is_pointed_out(day, warned):
    gauge = Instrument(id="M1", name="gauge", u=quantity("0.004 mm"), next_calibration=datetime.date(2025, 9, 2))
    taken = (("M1", datetime.date(*day) if day else None),)

    found = verdict(item(), reading("30.00 ± 0.01 mm", taken=taken), instruments=(gauge,))

    assert ("calibration-out" in codes(found)) is warned


@pytest.mark.parametrize(("day", "warned"), [((2025, 9, 3), True), ((2025, 9, 5), False), (None, True)])
def test_a_reading_with_an_instrument_that_failed_afterwards_is_pointed_out(day, warned):
    failed = Calibration(on=datetime.date(2025, 9, 4), result="failed")
    gauge = Instrument(id="M1", name="gauge", u=quantity("0.004 mm"), calibrations=(failed,), calibrated=datetime.date(2025, 9, 5))
    taken = (("M1", datetime.date(*day) if day else None),)

    found = verdict(item(), reading("30.00 ± 0.01 mm", taken=taken), instruments=(gauge,))

    assert ("calibration-failed" in codes(found)) is warned
