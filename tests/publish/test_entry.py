"""The archive's entry of a build: complete for its audience, nothing beyond, and read back as it was written."""

from __future__ import annotations

import dataclasses
import datetime

import pytest

from dossier.model.audience import Audience
from dossier.model.entry import UNKNOWN, Entry
from dossier.model.forms.specification import Item
from dossier.model.forms.workshop import Calibration
from dossier.publish.entry import EntryError, entry_of, from_bytes, to_bytes
from tests.pages.demo import demo


@pytest.fixture(scope="module")
def talvera() -> Entry:
    return entry_of(demo("talvera"), [("index", "Front sheet")])


@pytest.mark.parametrize("slug", ["talvera", "kestrane"])
@pytest.mark.parametrize("audience", list(Audience), ids=lambda one: one.word)
def test_an_entry_is_read_back_as_it_was_written(slug, audience):
    entry = entry_of(demo(slug, audience), [("index", "Front sheet")])
    assert from_bytes(to_bytes(entry)) == entry
    assert len(to_bytes(entry)) < 50_000


@pytest.mark.parametrize("data", [b"", b"{}", b"[1]", b'{"form": "1"}', b"\xff\xfe"])
def test_what_is_no_entry_is_refused(data):
    with pytest.raises(EntryError, match="not an archive entry"):
        from_bytes(data)


def test_an_entry_of_a_later_form_is_refused_by_its_number(talvera):
    with pytest.raises(EntryError, match="form 99"):
        from_bytes(to_bytes(dataclasses.replace(talvera, form=99)))


def test_a_verdict_rests_on_every_gauge_behind_its_figures(talvera):
    # the demo's measurements.yaml: bores with M1, stroke with M5, clearance volume with M3; chokes name none
    found = {item.id: {name for one in item.readings for name in one.instruments} for item in talvera.items}
    assert found["D01"] == {"M1", "M5"}
    assert found["D02"] == {"M1"} and found["D03"] == {"M5"}
    assert found["D04"] == {"M1", "M3", "M5"}
    assert found["D05"] == {UNKNOWN}
    gauges = {one.id: {rests.item: rests.days for rests in one.verdicts} for one in talvera.instruments}
    assert gauges["M3"] == {"D04": (datetime.date(2024, 7, 6),)}
    assert gauges["M5"].keys() == {"D01", "D03", "D04"} and gauges["M5"]["D03"] == (None,)


def test_a_gauge_knows_its_calibrations_that_it_failed_and_the_one_that_is_only_dated(talvera):
    # the demo's workshop.yaml
    caliper = next(one for one in talvera.instruments if one.id == "M5")
    assert [(each.date.isoformat(), each.passed) for each in caliper.calibrations] == [
        ("2024-09-02", True), ("2025-09-08", False), ("2025-10-02", True)]  # fmt: skip
    gauge = next(one for one in talvera.instruments if one.id == "M1")
    assert [(each.date.isoformat(), each.passed) for each in gauge.calibrations] == [("2024-09-02", True)]


def test_a_wrench_s_readings_are_the_joints_it_tightened(talvera):
    wrench = next(one for one in talvera.instruments if one.id == "M8")
    assert {one.role for one in wrench.readings} == {"tightened"} and all(one.on for one in wrench.readings)


def test_a_certificate_s_number_and_a_supplier_s_code_are_not_in_an_entry(talvera):
    assert b"S-02" not in to_bytes(talvera)
    edition = demo("talvera")
    marked = Calibration(on=datetime.date(2025, 9, 8), result="failed", certificate="ZZ-CERT")
    tools = tuple(dataclasses.replace(one, calibrations=(marked,)) for one in edition.build.workshop.instruments)
    build = dataclasses.replace(edition.build, workshop=dataclasses.replace(edition.build.workshop, instruments=tools))
    assert b"ZZ-CERT" not in to_bytes(entry_of(dataclasses.replace(edition, build=build)))


@pytest.mark.parametrize("audience", [Audience.PUBLIC, Audience.OWNER], ids=lambda one: one.word)
def test_only_the_workshop_s_entry_names_suppliers_or_what_was_refused(talvera, audience):
    assert talvera.refused and any(part.supplier for part in talvera.parts)
    lesser = entry_of(demo("talvera", audience))
    assert not lesser.refused and not any(part.supplier for part in lesser.parts)


def test_what_the_edition_does_not_hold_is_not_in_its_entry():
    edition = demo("talvera", Audience.PUBLIC)
    items: tuple[Item, ...] = edition.build.specification.items[1:]
    build = dataclasses.replace(edition.build, specification=dataclasses.replace(edition.build.specification, items=items))
    fewer = entry_of(dataclasses.replace(edition, build=build, verdicts=edition.verdicts[1:]))
    assert len(fewer.items) == len(edition.verdicts) - 1 and "Capacity" not in {item.title for item in fewer.items}


def test_the_day_of_a_limit_is_the_day_its_dossier_states(talvera):
    # the demo’s life.yaml, worked by hand: from its day on, 365.25 days for each year of the limit
    hub = next(one for one in talvera.due if one.id == "L-05")
    assert hub.until == datetime.date(2026, 5, 24)
