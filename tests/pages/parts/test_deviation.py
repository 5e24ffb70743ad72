"""Places of readings in the deviation chart: one-sided limits are measured in units of U, the worst single reading decides."""

from __future__ import annotations

import pytest

from dossier.model.results import Judged, Outcome, Verdict, Warned
from dossier.pages.parts.deviation import _row
from dossier.pages.parts.verdicts import deciding, unproven_words
from tests.pages.demo import demo, plain


def _verdict(one: Judged, lower: float | None, upper: float | None) -> Verdict:
    return Verdict("D01", "Clearance", one.outcome, "", "", "A", "mm", lower, upper, judged=(one,))


def test_a_reading_one_u_above_its_only_lower_limit_lies_a_quarter_inside_it() -> None:
    row = _row(_verdict(Judged("", 10.02, 0.02, Outcome.CONFORMS, place=100.0), 10.0, None), "Clearance")
    assert (row.lower, row.upper, row.mark) == (True, False, "one-sided")
    assert (row.readings[0].place, row.readings[0].u, row.guard) == pytest.approx((-75.0, 25.0, 25.0))


def test_a_reading_one_u_below_its_only_upper_limit_lies_a_quarter_inside_it() -> None:
    row = _row(_verdict(Judged("", 200.95, 0.05, Outcome.CONFORMS), None, 201.0), "Diameter")
    assert (row.readings[0].place, row.readings[0].u) == pytest.approx((75.0, 25.0))


def test_the_dot_stands_at_the_single_reading_that_decides() -> None:
    one = Judged("", 30.0667, 0.02, Outcome.FAILS, mean_of=3, least=30.0, most=30.2)
    verdict = _verdict(one, 29.9, 30.1)
    assert deciding(verdict, one) == 30.2
    assert _row(verdict, "Bore").readings[0].place == pytest.approx(200.0)


def test_an_agreement_that_is_not_shown_to_hold_says_so() -> None:
    edition = demo("")
    doubt = Warned("concession-unproven", "C-01: nobody measured the run-out, on which it rests")
    verdict = Verdict("D01", "Clearance", Outcome.FAILS, "", "", "A", warnings=(doubt,))
    assert "Not shown to hold: C-01: nobody measured the run-out" in plain(unproven_words(edition, verdict))
