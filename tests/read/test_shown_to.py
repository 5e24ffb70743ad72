"""Measured values and logs of subjects that are the owner's, and what opens them."""

import datetime
from dataclasses import replace
from pathlib import Path

import pytest

from dossier.model.audience import Audience
from dossier.model.build import Build, LogTable
from dossier.model.forms.custody import Custody, Release
from dossier.model.forms.measurements import Entry, Measurements
from dossier.model.forms.specification import Specification
from dossier.model.forms.workshop import WorkshopFile
from dossier.read.folder import read_build
from dossier.read.shown_to import shown_to
from tests.conform.small_build import item, machine

BUILDS = Path(__file__).parent.parent.parent / "builds"


def entries(*names, **sheets):
    build = Build("b", machine(), WorkshopFile(form=1, name="w"), **sheets)
    return replace(build, measurements=Measurements(as_built=tuple(Entry(what=name) for name in names)))


def line(what, to):
    return Release(what=what, to=to, by="owner", on=datetime.date(2025, 6, 1))


def rungs(build):
    return [one.audience for one in shown_to(build).measurements.as_built]


@pytest.mark.parametrize(
    "name", ["clutch_spring_force", "valve_spring_rate", "fork_rider_sag", "spring_test_force", "ignition_advance", "logged_rpm"]
)
def test_springs_clutch_ignition_and_what_a_data_log_showed_are_the_owners(name):
    assert rungs(entries(name, "bore")) == [Audience.OWNER, None]


def test_a_declared_item_opens_the_quantity_it_judges():
    declared = Specification(items=(item("D09", quantity="ignition_advance"),))

    assert rungs(entries("ignition_advance", specification=declared)) == [None]


def test_a_release_line_opens_a_quantity_and_a_log_and_no_line_closes_one():
    logs = (LogTable("TS-1.data_log", "data_log", "t", (), (), audience=Audience.OWNER),)
    logs += (LogTable("DY-1.dyno_run", "dyno_run", "t", (), (), audience=Audience.PUBLIC),)
    lines = (line("clutch_lift", Audience.PUBLIC), line("TS-1.data_log", Audience.PUBLIC), line("DY-1.dyno_run", Audience.OWNER))

    opened = shown_to(replace(entries("clutch_lift", "clutch_plates"), logs=logs, custody=Custody(releases=lines)))

    assert [one.audience for one in opened.measurements.as_built] == [Audience.PUBLIC, Audience.OWNER]
    assert [one.audience for one in opened.logs] == [Audience.PUBLIC, Audience.PUBLIC]


def test_a_record_that_says_itself_who_may_see_it_is_left_so():
    build = entries()
    kept = replace(build, measurements=Measurements(as_built=(Entry(what="clutch_lift", audience=Audience.WORKSHOP),)))

    assert rungs(kept) == [Audience.WORKSHOP]


def test_data_and_spring_logs_of_the_demo_are_open_by_release_and_its_torque_log_is_the_owners():
    build, _ = read_build(BUILDS / "talvera-350-gp")
    rung = {log.id: log.audience for log in build.logs}

    assert (rung["TS-1.data_log"], rung["rear.spring_test"], rung["build.torque_log"]) == (Audience.PUBLIC, Audience.PUBLIC, Audience.OWNER)


def test_a_release_line_that_names_nothing_is_said(tmp_path):
    import shutil

    folder = tmp_path / "talvera-350-gp"
    shutil.copytree(BUILDS / "talvera-350-gp", folder)
    shutil.copy(BUILDS / "workshop.yaml", tmp_path)
    papers = folder / "custody.yaml"
    said = papers.read_text(encoding="utf-8")
    papers.write_text(
        said.replace("what: logged_rpm", "what: logged_rmp").replace("what: TS-3.data_log", "what: P05.prize"), encoding="utf-8"
    )

    found = [one for one in read_build(folder)[1] if one.severity.value == "error"]

    assert [(one.code, one.field) for one in found] == [("release-unknown", "what")] * 2
    assert "logged_rpm" in found[1].instead
