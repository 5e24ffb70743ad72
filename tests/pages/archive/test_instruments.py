"""Instruments: a reading is in doubt when nobody can say that its gauge was right."""

from __future__ import annotations

import pytest

from dossier.model.audience import Audience
from dossier.model.calibration import doubt
from dossier.model.entry import UNKNOWN, CalibrationEntry, InstrumentEntry, ItemEntry, ReadingEntry, RestsOn, Taken
from dossier.model.results import Outcome
from dossier.pages.archive.instruments import instruments
from dossier.pages.work import work
from tests.pages.archive.made import DAY, entry, html_of
from tests.pages.demo import demo, plain, row


def known(*said: str) -> tuple[CalibrationEntry, ...]:
    """`2025-01-01 failed` and so on."""
    pairs = [one.split() for one in said]
    return tuple(sorted((CalibrationEntry(DAY(day), word == "passed") for day, word in pairs), key=lambda one: (one.date, one.passed)))


# ISO 9001:2015, 7.1.5.2: results since the instrument was last known to be right are to be looked into
@pytest.mark.parametrize(
    "on, calibrations, why",
    [
        ("2025-03-01", ("2024-01-01 passed", "2025-06-01 failed"), "before"),
        ("2025-03-01", ("2024-01-01 passed", "2025-04-01 passed", "2025-06-01 failed"), None),
        ("2025-03-01", ("2025-03-01 passed", "2025-06-01 failed"), None),
        ("2025-03-01", ("2025-06-01 failed", "2025-06-01 passed"), "before"),  # set right that day: too late for this reading
        ("2025-06-01", ("2025-06-01 failed", "2025-06-01 passed"), "before"),  # which came first nobody knows
        ("2025-07-01", ("2025-06-01 failed", "2025-06-01 passed"), None),
        ("2025-07-01", ("2025-06-01 failed",), "after"),
        ("2025-07-01", ("2025-06-01 failed", "2025-07-01 passed"), None),
        ("2025-07-01", ("2025-06-01 failed", "2025-08-01 passed"), "after"),
        ("2025-03-01", ("2024-01-01 passed", "2026-01-01 passed"), None),
        ("2025-03-01", (), None),
        (None, ("2024-01-01 passed", "2025-06-01 failed", "2025-06-02 passed"), "undated"),
        (None, ("2024-01-01 passed",), None),
    ],
)
def test_a_reading_is_in_doubt_until_a_pass_stands_between_it_and_the_failure(on, calibrations, why):
    found = doubt(DAY(on) if on else None, [(one.date, one.passed) for one in known(*calibrations)])
    assert (found is None) if why is None else (found is not None and why in found.why)


def used(item: str, on: str, *calibrations: str) -> InstrumentEntry:
    return InstrumentEntry(
        "M1", "bore gauge", "0.004 mm", None, known(*calibrations), (ReadingEntry("bore left", "as built", "62.012 mm", DAY(on)),),
        (RestsOn(item, (DAY(on),)),),
    )  # fmt: skip


def item(id: str, *instruments: str) -> ItemEntry:
    return ItemEntry(id, "Bore", "62.00 mm", Outcome.CONFORMS, "mm", 3, readings=(Taken("left", 62.012, 0.004, instruments),))


def test_every_verdict_that_rests_on_a_failed_gauge_is_listed_with_its_machine_and_no_other():
    first = entry("one", items=(item("D02", "M1"), item("D03", "M2")), instruments=(used("D02", "2025-03-01", "2025-06-01 failed"),))
    second = entry("two", items=(item("D02", "M1"),), instruments=(used("D02", "2025-07-01", "2025-06-01 failed", "2025-06-02 passed"),))
    page = plain(html_of(instruments([first, second])))
    again = page.split("Readings in doubt")[0]
    assert "One verdict to be looked at again" in page
    assert "D02 Bore" in again and "ONE" in again and "taken before it was found wrong, 1 June 2025" in again
    assert "TWO" not in again and "D03" not in page


def test_a_failure_that_one_dossier_does_not_know_yet_counts_for_its_readings_too():
    old = entry("old", items=(item("D02", "M1"),), instruments=(used("D02", "2025-03-01", "2024-01-01 passed"),))
    new = entry("new", items=(item("D02", "M1"),), instruments=(used("D02", "2025-07-01", "2025-06-01 failed", "2025-06-02 passed"),))
    again = plain(html_of(instruments([old, new]))).split("Readings in doubt")[0]
    assert "OLD" in again and "NEW" not in again


def test_instruments_of_two_workshops_with_one_number_are_two():
    mine = entry("mine", items=(item("D02", "M1"),), instruments=(used("D02", "2025-03-01", "2025-06-01 failed"),))
    theirs = entry(
        "theirs", workshop="Other Works", items=(item("D02", "M1"),), instruments=(used("D02", "2025-03-01", "2024-01-01 passed"),)
    )
    page = plain(html_of(instruments([mine, theirs])))
    assert "THEIRS" not in page.split("All instruments")[0] and "Other Works" in page


def test_verdicts_of_which_nobody_can_tell_are_counted():
    page = plain(html_of(instruments([entry("one", items=(item("D05", UNKNOWN),), instruments=(used("D02", "2025-03-01"),))])))
    assert "No verdict is to be looked at again" in page and "One verdict rests in part on readings that do not say" in page


def test_there_is_no_such_page_where_no_reading_names_an_instrument():
    assert list(instruments([entry("one", items=(item("D05", UNKNOWN),))])) == []


def test_a_dossier_says_itself_that_one_of_its_gauges_failed():
    # the demo's workshop.yaml
    page = work(demo("talvera", Audience.PUBLIC))
    assert page is not None
    assert row(page.html, "M5")[2] == "2 October 2025failed 8 September 2025, reads 0.06 mm over at 100 mm"
