"""Words against words, and the order of the verdicts that come before any comparison."""

import datetime

import pytest

from dossier.model.forms.evidence import Conflict
from dossier.model.forms.measurements import Entry
from dossier.model.results import Outcome
from tests.conform.small_build import DAY, evidence, item, reading, verdict


def found_as(words, said="set C", kind="choice", **more):
    by = more.pop("by", "MH")
    return verdict(item(said=said, allowed=None, kind=kind, **more), entries=(Entry(what="D01", found=words, by=by),))


@pytest.mark.parametrize(("words", "outcome"), [
    ("set C", Outcome.CONFORMS), ("  Set  c ", Outcome.CONFORMS), ("set B", Outcome.FAILS), ("set C, modern", Outcome.FAILS),
])  # fmt: skip
def test_words_conform_when_equal_letter_case_and_blanks_aside(words, outcome):
    assert found_as(words).raw is outcome


def test_a_different_choice_says_what_was_found_in_place_of_what():
    assert found_as("set B").says == "Set B in place of set C. Nobody has agreed to it."


def test_a_choice_that_is_none_of_the_alternatives_is_pointed_out():
    assert "choice-unlisted" in {one.code for one in found_as("set X", options=("set A", "set C")).warnings}


@pytest.mark.parametrize(("words", "outcome"), [
    ("matches by eye", Outcome.CONFORMS),
    ("Matches E03 by eye in daylight", Outcome.CONFORMS),
    ("matches, except the 4", Outcome.UNDECIDED),
    ("matchesque", Outcome.FAILS),
    ("black on cream", Outcome.FAILS),
])  # fmt: skip
def test_a_finish_judged_by_eye_must_match_without_reservation(words, outcome):
    found = found_as(words, said="41, black on white", kind="finish")

    assert (found.raw, found.rule) == (outcome, "judged by eye")


def test_by_eye_means_nothing_for_a_choice():
    assert found_as("matches by eye").raw is Outcome.FAILS


def test_a_finish_judged_by_eye_asks_who_looked():
    assert "eye-unnamed" in {one.code for one in found_as("matches by eye", kind="finish", by=None).warnings}
    assert "eye-unnamed" not in {one.code for one in found_as("matches by eye", kind="finish").warnings}


def test_a_finish_with_a_number_for_its_limit_is_not_settled_by_eye():
    one = item(said="as E12", allowed="at most 2.0 dE00", kind="finish")

    found = verdict(one, entries=(Entry(what="D01", found="matches by eye"),))

    assert (found.raw, found.says) == (Outcome.NOT_MEASURED, "So far only judged in words: matches by eye.")


def test_presence_with_nothing_declared_has_nothing_to_compare_with():
    found = found_as("fitted", said=None, kind="presence")

    assert (found.raw, found.says) == (Outcome.NO_TOLERANCE, "Nothing is declared to compare it with.")


def test_words_nobody_wrote_are_not_yet_measured():
    assert verdict(item(said="set C", allowed=None, kind="choice")).raw is Outcome.NOT_MEASURED


K02 = Conflict(id="K02", item="D01", between=("E03", "E04"), what="scoop", status="open", meanwhile="scoop on two screws")


def test_an_open_conflict_comes_before_any_comparison_and_names_its_sources():
    same_day = (evidence("E03", shows=datetime.date(1967, 6, 11)), evidence("E04", shows=datetime.date(1967, 6, 11)))

    found = verdict(item(), reading("40 ± 0.01 mm"), conflicts=(K02,), evidence=same_day)

    assert (found.raw, found.conflict, len(found.judged)) == (Outcome.CONFLICTING, "K02", 1)
    assert found.says == "Two sources of the same day disagree (E03, E04). K02 is open. Meanwhile: Scoop on two screws."


def test_sources_of_different_days_are_not_said_to_be_of_one():
    apart = (evidence("E03", shows=DAY), evidence("E04"))

    assert verdict(item(), conflicts=(K02,), evidence=apart).says.startswith("Two sources disagree (E03, E04).")


def test_a_resolved_conflict_no_longer_stands_in_the_way():
    settled = Conflict(id="K01", item="D01", between=("E01", "E06"), what="w", status="resolved")

    found = verdict(item(conflict="K01"), reading("30 ± 0.01 mm"), conflicts=(settled,))

    assert (found.raw, found.conflict) == (Outcome.CONFORMS, "K01")


def test_withdrawn_comes_before_an_open_conflict():
    found = verdict(item(withdrawn="D"), conflicts=(K02,))

    assert (found.raw, found.says) == (Outcome.WITHDRAWN, "Withdrawn at revision D.")
