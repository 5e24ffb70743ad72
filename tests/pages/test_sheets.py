"""Engine, drive line and chassis as they read: numbers known from outside, doors that lead somewhere, and silence where nothing is known."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from dossier.model.audience import Audience
from dossier.model.build import Build
from dossier.pages.chassis import chassis
from dossier.pages.drive_line import drive_line
from dossier.pages.engine import engine
from dossier.pages.figures import figures
from dossier.pages.page import write_pages
from dossier.pages.parts.findings import Side, findings, line
from dossier.pages.parts.measured import reading
from tests.pages.demo import demo, plain, row

SHEETS = {"engine": engine, "drive line": drive_line, "chassis": chassis}


def html(sheet, edition):
    page = SHEETS[sheet](edition)
    assert page is not None
    return page.html


@pytest.mark.parametrize("slug", ["talvera", "kestrane"])
@pytest.mark.parametrize("audience", list(Audience))
def test_every_door_leads_to_a_working_on_the_sheet_of_figures(slug, audience):
    edition = demo(slug, audience)
    whole = figures(edition)
    doors = {door for sheet in SHEETS for door in re.findall(r'href="figures\.html#([^"]+)"', html(sheet, edition))}
    assert len(doors) > 20
    assert doors <= set(re.findall(r'id="([^"]+)"', whole.html))


@pytest.mark.parametrize("slug", ["talvera", "kestrane"])
def test_no_id_stands_twice_on_a_sheet(slug):
    for page in write_pages(demo(slug)):
        ids = re.findall(r' id="([^"]+)"', page.html)
        assert len(ids) == len(set(ids)), page.slug


@pytest.mark.parametrize("slug", ["talvera", "kestrane"])
def test_every_named_section_has_its_heading(slug):
    for sheet in SHEETS:
        page = SHEETS[sheet](demo(slug))
        assert [id for id, _ in page.sections] == re.findall(r'<h2 id="([^"]+)"', page.html)


def test_the_road_speeds_are_those_of_the_teeth_and_the_wheel():
    # by hand: 9800 / 60 × 1.905 × 3.6 ÷ (60/24 × 40/17) = 190.4 in sixth, and ÷ (60/24 × 38/18) = 212.2
    cells = row(html("drive line", demo("talvera")), "Sixth")
    assert cells == ["24/24", "1.000", "5.88", "5.28", "190.4", "212.2"]


def test_a_change_up_picks_up_at_the_speed_over_the_step():
    # by hand: 9800 × (28/18) ÷ (29/15) = 7885; 10200 less the same share = 1993
    cells = row(html("drive line", demo("talvera")), "1st to 2nd")
    assert cells == ["1.243", "7,885", "1,993 rev/min", "−393 rev/min"]


def test_slip_before_and_after_stands_with_the_snag_that_explains_it():
    text = html("drive line", demo("talvera"))
    # by hand: 158 / 3.6 / 1.905 × 60 × 5.88235 = 8131; 1 − 8131 / 8640 = 5.9 %
    assert row(text, "TS-1")[1:] == ["158.0", "8,131", "8,640", "5.9 %"]
    assert row(text, "TS-3")[1:] == ["171.0", "8,800", "8,860", "0.7 %"]
    assert "Before, TS-1" in text and "After, TS-3" in text and 'href="snags.html#SN-01"' in text


def test_the_clutch_is_shown_as_found_and_as_mended():
    # by hand: 0.14 × 6 × 150 × 14 × 0.056 = 98.8 N·m, with 205 N 135.0; over 91.7 = 1.08 and 1.47
    text = html("drive line", demo("talvera"))
    assert row(text, "Clutch capacity")[:2] == ["98.8 N·m", "135.0 N·m"]
    assert row(text, "Clutch reserve")[:2] == ["1.08", "1.47"]
    assert row(text, "Torque at the clutch")[:2] == ["91.7 N·m", "the same"]


def test_how_slip_is_read_says_that_it_has_no_source():
    assert "Common practice, no source" in plain(html("drive line", demo("talvera")))


def test_the_engine_shows_both_cylinders_beside_what_was_declared():
    cells = row(html("engine", demo("talvera")), "Compression ratio, full stroke")
    # (V + v) / v with 174.54 cc over 17.7 cc, and 174.55 over 17.9
    assert cells[:3] == ["10.80", "10.86 ± 0.09", "10.75 ± 0.09"] and cells[3].endswith("D04")


def test_bore_readings_stand_as_they_were_taken():
    text = html("engine", demo("talvera"))
    assert row(text, "Middle") == ["62.014", "62.012", "62.016", "62.014"]
    assert "19 November 2024" in plain(text)


def test_the_engine_says_that_no_oversize_is_left():
    # by hand: π/4 × 2 × 62.263² × 57.79 = 351.9, over the class limit of 350 cc
    assert "No oversize is left in the class" in plain(html("engine", demo("talvera")))


def test_the_power_table_holds_every_logged_point():
    # P = T × 2π × n / 60: 31.8 N·m at 9800 rev/min is 32.6 kW
    assert row(html("engine", demo("talvera")), "9,800") == ["29.1", "29.9", "31.8", "32.6"]


def test_the_curves_say_their_factor_and_that_it_is_not_applied():
    assert "factor 0.975, not applied" in html("engine", demo("talvera"))


def test_a_two_stroke_has_ports_and_no_valves():
    text = html("engine", demo("kestrane"))
    assert "Port timing" in text and "Valve springs" not in text
    assert row(text, "Exhaust port duration")[:2] == ["194°", "194.1 ± 1.0°"]


def test_another_front_wheel_moves_the_trail_and_leaves_the_built_one_alone():
    text = html("chassis", demo("talvera"))
    # by hand: (298.6 sin 27.2° − 47) / cos 27.2° = 100.6; with 311.3 mm and 27.75° 110.7
    as_built, asked = rows(text, "Trail")
    assert as_built[0].startswith("100.6")
    assert [cell.split()[0] for cell in asked[:3]] == ["100.6", "110.7", "+10.1"]


def rows(text, head):
    lines = [one.strip() for one in plain(text).split("\n") if one.strip().startswith(f"{head}|")]
    return [[cell.strip() for cell in one.split("|")][1:-1] for one in lines]


def test_brakes_stand_with_their_agreement_and_their_cautions():
    text = plain(html("chassis", demo("talvera")))
    assert "200.72 ± 0.05 mm" in text and "by agreement C-01" in text
    for caution in ("Caution, drum brakes.", "Caution, asbestos.", "Caution, old magnesium."):
        assert caution in text


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_build_of_which_nothing_is_known_has_no_such_sheet(sheet):
    edition = demo("kestrane")
    bare = Build(slug="bare", machine=edition.build.machine, workshop=edition.build.workshop)
    assert SHEETS[sheet](replace(edition, build=bare, worked=(), verdicts=(), what_if=(), renditions={})) is None


def test_a_value_that_bears_no_cylinder_is_not_printed_as_taken_twice():
    sides = [Side("Left", "left", shared=True), Side("Right", "right", shared=True)]
    text = findings(demo("talvera"), "Lift", [line("inlet_lift")], sides)
    assert row(text, "Inlet lift") == ["9.2 mm", "the same"]


def test_a_reading_that_no_figure_takes_in_is_still_shown():
    assert reading(demo("talvera"), "gasket_thickness").text == "0.4 mm"
    assert reading(demo("talvera"), "no_such_thing") is None


def test_an_assumed_value_is_marked_as_assumed():
    found = reading(demo("talvera"), "clutch_friction")
    assert found.assumed and "assumed" in found.remark


def test_a_table_of_nothing_is_no_table():
    assert findings(demo("talvera"), "Nothing", [line("no_such_thing")]) == ""


def test_what_is_worked_out_of_both_cylinders_is_no_cylinders_own():
    # by hand: (30.05 / 27)² − 1 = 23.9 % and (30.09 / 27)² − 1 = 24.2 %; the gain printed, 24.0 %, is that of the mean choke
    cells = row(html("engine", demo("talvera")), "Gain in choke area")
    assert cells[cells.index("24.0 %") + 1] == "both together"


def test_readings_written_under_an_item_stand_beside_its_verdict():
    cells = row(html("engine", demo("talvera")), "Inlet valve head")
    assert any("33.98" in one for one in cells) and any("33.97" in one for one in cells)
