"""Whether a difference is real: numbers worked by hand."""

from __future__ import annotations

import pytest

from dossier.model.entry import UNKNOWN, Taken
from dossier.pages.archive.difference import Real, difference


def taken(value: float | None, u: float | None, *instruments: str, words: str = "") -> Taken:
    return Taken("", value, u, instruments, words)


def test_uncertainties_of_two_instruments_add_in_squares():
    # 3-4-5: the root of the sum of squares is exactly 5 (normalized error of interlaboratory comparisons)
    found = difference(taken(100.0, 3.0, "M1"), taken(105.1, 4.0, "M2"))
    assert (found.real, found.u, found.independent) == (Real.REAL, 5.0, True)
    assert difference(taken(100.0, 3.0, "M1"), taken(104.9, 4.0, "M2")).real is Real.NOT_SHOWN


@pytest.mark.parametrize(
    "mine, theirs", [(("M1",), ("M1",)), (("M1", "M2"), ("M2", "M3")), ((UNKNOWN,), ("M2",)), ((), ("M2",)), (("M1", UNKNOWN), ("M2",))]
)
def test_one_instrument_or_an_unknown_one_adds_them_plainly(mine, theirs):
    # with correlation unknown the most they can come to is 3 + 4 (JCGM 100:2008, 5.2.2)
    found = difference(taken(100.0, 3.0, *mine), taken(106.9, 4.0, *theirs))
    assert (found.real, found.u, found.independent) == (Real.NOT_SHOWN, 7.0, False)
    assert difference(taken(100.0, 3.0, *mine), taken(92.9, 4.0, *theirs)).real is Real.REAL


def test_an_unstated_uncertainty_shows_nothing_however_large_the_difference():
    found = difference(taken(100.0, None, "M1"), taken(500.0, 4.0, "M2"))
    assert (found.real, found.value, found.u) == (Real.NO_U, 400.0, None)


def test_counts_that_are_exact_differ_or_are_the_same():
    assert difference(taken(36.0, 0.0), taken(36.0, 0.0)).real is Real.SAME
    assert difference(taken(36.0, 0.0), taken(40.0, 0.0)).real is Real.REAL


def test_words_are_the_same_whatever_their_capitals():
    assert difference(taken(None, None, words="Set C"), taken(None, None, words="set c")).real is Real.SAME
    assert difference(taken(None, None, words="set C"), taken(None, None, words="set B")).real is Real.WORDS
    assert difference(taken(6.0, 0.0), taken(None, None, words="six")) is None


def test_a_difference_as_large_as_its_uncertainty_is_not_shown_whatever_the_last_digit_of_a_float_says():
    # 0.1 + 0.2 is not 0.3 in binary
    assert difference(taken(0.0, 0.1, "M1"), taken(0.1 + 0.2, 0.2, "M1")).real is Real.NOT_SHOWN


def test_the_other_s_unit_is_carried_over_uncertainty_and_all():
    # one inch is 25.4 mm by definition
    found = difference(taken(25.4, 0.1, "M1"), taken(1.01, 0.01, "M1"), ratio=25.4)
    assert (round(found.value, 9), round(found.u, 9), found.real) == (0.254, 0.354, Real.NOT_SHOWN)
