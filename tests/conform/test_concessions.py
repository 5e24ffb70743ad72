"""Agreements laid over a verdict, and how they lapse."""

import datetime

import pytest

from dossier.model.audience import Audience
from dossier.model.forms.measurements import Entry
from dossier.model.forms.specification import Change
from dossier.model.results import Outcome
from tests.conform.small_build import concession, item, reading, verdict

DRUM = {"said": "200.0 mm", "allowed": "200.0 to 200.5 mm"}


def drum(y="200.72 ± 0.05 mm", holds="at most 201.0 mm", safety=True, history=(), **more):
    plain = {"opinion": "brake specialist's letter", "reversible": False, "limit": "drum not above 201.0 mm"}
    return verdict(item(**DRUM, safety=safety, history=history), reading(y), concessions=(concession(holds=holds, **(plain | more)),))


def test_an_agreement_is_laid_over_and_the_raw_verdict_stands():
    found = drum()

    assert (found.raw, found.outcome, found.concession, found.lapsed) == (Outcome.FAILS, Outcome.BY_AGREEMENT, "C-01", "")
    assert found.says == (
        "Safety item. C-01, 24 May 2025: drum not above 201.0 mm. Brake specialist's letter. Cannot be undone."
    )  # fmt: skip


def test_an_agreement_lapses_when_the_reading_goes_beyond_its_limit():
    found = drum("201.01 ± 0.05 mm", safety=False)

    assert (found.outcome, found.concession) == (Outcome.FAILS, "")
    assert found.lapsed == "C-01 no longer holds: the reading lies outside its limit, at most 201.0 mm."
    assert found.lapsed in found.says
    assert "concession-lapsed" in {one.code for one in found.warnings}


def test_where_safety_hangs_on_it_the_reading_must_be_shown_to_lie_within():
    assert drum("200.97 ± 0.05 mm").outcome is Outcome.FAILS
    assert drum("200.97 ± 0.05 mm", safety=False).outcome is Outcome.BY_AGREEMENT


def test_a_doubtful_agreement_is_pointed_out_where_safety_does_not_hang_on_it():
    assert "concession-unproven" in {one.code for one in drum("200.97 ± 0.05 mm", safety=False).warnings}


def test_a_safety_item_needs_a_written_opinion():
    found = drum(opinion="  ")

    assert (found.outcome, "written opinion" in found.lapsed) == (Outcome.FAILS, True)


def test_an_agreement_lapses_when_the_item_changed_after_the_revision_it_names():
    assert drum(history=(Change(rev="D", was="w"),)).outcome is Outcome.FAILS
    assert drum(history=(Change(rev="C", was="w"),)).outcome is Outcome.BY_AGREEMENT


def test_an_agreement_that_nobody_signed_for_does_not_hold():
    assert "nobody is named" in drum(agreed_by=()).lapsed


def springs(*readings):
    entry = Entry(what="D01", found="2.6 mm wire")
    return verdict(
        item(said="2.4 mm wire", allowed=None, kind="choice"), entries=(entry,), named={"spring_force": readings},
        concessions=(concession(holds="200 to 215 N", holds_for="spring_force"),),
    )  # fmt: skip


def test_an_agreement_may_rest_on_another_quantity():
    assert springs(reading("205 ± 2 N")).outcome is Outcome.BY_AGREEMENT
    assert springs(reading("190 ± 2 N")).lapsed.startswith("C-01 no longer holds: spring force lies outside its limit")


def test_what_was_found_before_the_cure_does_not_end_the_agreement():
    before = reading("150 ± 2 N", tags=(("state", "found"),))
    after = reading("205 ± 2 N", tags=(("state", "fixed"),))

    assert springs(before, after).outcome is Outcome.BY_AGREEMENT
    assert springs(before).outcome is Outcome.FAILS


def test_an_agreement_whose_quantity_nobody_measured_is_pointed_out():
    found = springs()

    assert (found.outcome, "concession-unproven" in {one.code for one in found.warnings}) == (Outcome.BY_AGREEMENT, True)


@pytest.mark.parametrize("y", ["200.25 ± 0.05 mm"])
def test_no_agreement_is_laid_over_what_conforms(y):
    found = drum(y)

    assert (found.outcome, found.concession, found.lapsed) == (Outcome.CONFORMS, "", "")


@pytest.mark.parametrize("y", ["200.48 ± 0.05 mm", "200.6 mm"])
def test_an_agreement_covers_what_cannot_be_decided_or_is_unstated(y):
    assert drum(y, safety=False).outcome is Outcome.BY_AGREEMENT


def test_the_younger_agreement_is_taken_and_the_older_when_the_younger_lapsed():
    old = concession("C-01", date=datetime.date(2024, 1, 1))
    young = concession("C-02", holds="at most 200.6 mm")

    found = verdict(item(**DRUM), reading("200.72 ± 0.05 mm"), concessions=(old, young))

    assert found.concession == "C-01"
    both = verdict(item(**DRUM), reading("200.55 ± 0.01 mm"), concessions=(old, young))
    assert both.concession == "C-02"


def test_a_raw_verdict_says_who_may_know_of_the_agreement_over_it():
    assert drum(audience=Audience.OWNER).agreement is Audience.OWNER
