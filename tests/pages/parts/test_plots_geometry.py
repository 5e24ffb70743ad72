"""What is drawn stands where its number says: places worked out by hand from the margins of each drawing."""

import math
import re
from datetime import date
from itertools import pairwise

import pytest

from dossier.pages.parts.plots import (
    days,
    deviation,
    dyno,
    evidence,
    gears,
    geometry,
    life,
    mass,
    origin,
    pen,
    slip,
    timing,
    work_line,
)

STAMP = pen.Stamp("HFW-07", "E")


def attributes(words: str, element: str, kind: str) -> list[dict[str, float]]:
    found = re.findall(rf'<{element} class="{kind}"([^>]*)/>', words)
    return [{k: float(v) for k, v in re.findall(r'(\w+)="(-?[\d.]+)"', one)} for one in found]


def paths(words: str, kind: str) -> list[str]:
    return re.findall(rf'<path class="{kind}"[^>]*? d="([^"]*)"', words)


def wide_of(words: str) -> str:
    return words.split("</svg>")[0]


def deviation_of(*rows: deviation.DeviationRow) -> str:
    return wide_of(deviation.deviation_chart(deviation.DeviationChart(rows), STAMP))


# The wide deviation chart runs from -130 per cent at 294 to +230 at 986 pixels.
PER_CENT = (986 - 294) / 360


def test_the_dot_stands_at_its_place_in_tolerance_and_the_bar_is_as_long_as_two_u():
    words = deviation_of(deviation.DeviationRow("D01", "Capacity", (deviation.Reading(9, 13),), guard=13))
    (dot,) = attributes(words, "circle", "f")
    assert dot["cx"] == pytest.approx(294 + (9 + 130) * PER_CENT, abs=0.06)
    start, end = map(float, re.match(r"M([\d.]+) [\d.]+H([\d.]+)", paths(words, "u")[0]).groups())
    assert end - start == pytest.approx(26 * PER_CENT, abs=0.11)


def test_the_guard_zones_are_as_wide_as_asked_at_both_ends_of_the_band():
    words = deviation_of(deviation.DeviationRow("D01", "Capacity", (), guard=40))
    (band,) = attributes(words, "rect", "band")
    assert (band["x"], band["width"]) == (
        pytest.approx(294 + 30 * PER_CENT, abs=0.06),
        pytest.approx(200 * PER_CENT, abs=0.06),
    )
    left, right = attributes(words, "rect", "hat")
    assert left["width"] == right["width"] == pytest.approx(40 * PER_CENT, abs=0.06)
    assert left["x"] == band["x"]
    assert right["x"] + right["width"] == pytest.approx(band["x"] + band["width"], abs=0.11)


def test_a_one_sided_tolerance_has_a_band_out_to_the_edge_and_one_guard_zone():
    upper = deviation_of(deviation.DeviationRow("D23", "Colour", (), lower=False, guard=20))
    lower = deviation_of(deviation.DeviationRow("D23", "Depth", (), upper=False, guard=20))
    for words, start, end in ((upper, -130, 100), (lower, -100, 230)):
        (band,), (guard,) = attributes(words, "rect", "band"), attributes(words, "rect", "hat")
        assert band["x"] == pytest.approx(294 + (start + 130) * PER_CENT, abs=0.06)
        assert band["width"] == pytest.approx((end - start) * PER_CENT, abs=0.11)
        assert (guard["x"] == band["x"]) == (start == -100)


def test_a_reading_that_decides_nothing_is_an_open_ring_and_a_far_one_an_arrow_with_its_number():
    words = deviation_of(deviation.DeviationRow("D05", "Choke", (deviation.Reading(90, 30, open=True),), guard=30))
    assert len(attributes(words, "circle", "o")) == 1 and not attributes(words, "circle", "f")
    far = deviation_of(deviation.DeviationRow("D28", "Far", (deviation.Reading(-1188, 20),), guard=30))
    assert not re.search("<circle", far) and ">−1,188<" in far and 'class="arrow"' in far


def test_the_axis_reaches_down_to_minus_230_when_a_reading_lies_low():
    words = deviation_of(deviation.DeviationRow("D05", "Low", (deviation.Reading(-150, 20),)))
    (dot,) = attributes(words, "circle", "f")
    assert dot["cx"] == pytest.approx(294 + (230 - 150) * 692 / 460, abs=0.06) and ">−200<" in words


def test_a_reading_without_uncertainty_has_no_bar():
    words = deviation_of(deviation.DeviationRow("D05", "Bare", (deviation.Reading(10),)))
    assert not paths(words, "u") and len(attributes(words, "circle", "f")) == 1


def test_a_change_up_picks_up_at_the_published_drop():
    # Ratios 1.933 and 1.556 (29/15, 28/18): 9,800 x 1.5556/1.9333 = 7,885 rev/min, worked by hand.
    chart = gears.GearChart((gears.GearLine("1st", 15 / 29), gears.GearLine("2nd", 18 / 28)), 10200, 9800)
    assert gears.picks_up_at(chart) == [pytest.approx(9800 * (28 / 18) / (29 / 15))]
    words = wide_of(gears.gear_chart(chart, STAMP))
    (ring,), (dot,) = attributes(words, "circle", "o"), attributes(words, "circle", "f")
    assert ring["cy"] == dot["cy"] and ">7,885<" in words
    start = float(re.match(r"M([\d.]+)", paths(words, "line")[0])[1])
    end = float(re.findall(r"[ L]([\d.]+) [\d.]+$", paths(words, "line")[0])[-1])
    assert dot["cx"] == pytest.approx(start + (end - start) * (9800 - 4000) / (10200 - 4000), abs=0.1)


def test_the_hatched_bar_spans_from_the_expected_to_the_logged_speed():
    words = wide_of(slip.slip_bars(slip.SlipBars((slip.SlipRow("Before", "", 8100, 8600, 5.8),)), STAMP))
    (bar,), (dot,) = attributes(words, "rect", "gain"), attributes(words, "circle", "f")
    first, second = re.findall(r'<text class="t-num" x="([\d.]+)"[^>]*>(8,[02468]00)<', words)[:2]
    scale = (float(second[0]) - float(first[0])) / (
        float(second[1].replace(",", "")) - float(first[1].replace(",", ""))
    )
    assert bar["width"] == pytest.approx(500 * scale, abs=0.2)
    assert dot["cx"] == pytest.approx(bar["x"] + bar["width"], abs=0.11)


def test_steps_of_the_waterfall_hang_together_and_close():
    fall = mass.MassWaterfall(
        108752, tuple(mass.MassStep(*s) for s in (("a", -2917), ("b", -16777), ("c", -1265), ("d", 4380)))
    )
    assert fall.levels[-1] == 92173
    words = wide_of(mass.mass_waterfall(fall, STAMP))
    loss, (gain,) = attributes(words, "rect", "loss"), attributes(words, "rect", "gain")
    for upper, lower in pairwise(loss):
        assert upper["y"] + upper["height"] == pytest.approx(lower["y"], abs=0.11)
    assert gain["y"] + gain["height"] == pytest.approx(loss[-1]["y"] + loss[-1]["height"], abs=0.11)
    assert loss[1]["height"] / gain["height"] == pytest.approx(16777 / 4380, rel=0.01)


def test_the_grams_of_a_step_stand_above_its_bar():
    fall = mass.MassWaterfall(108752, (mass.MassStep("a", -16777), mass.MassStep("b", 4380)))
    words = wide_of(mass.mass_waterfall(fall, STAMP))
    bars = {"−16,777": attributes(words, "rect", "loss")[0], "+4,380": attributes(words, "rect", "gain")[0]}
    for grams, bar in bars.items():
        x, y = map(
            float, re.search(rf'x="([\d.]+)" y="([\d.]+)" text-anchor="middle">{re.escape(grams)}<', words).groups()
        )
        assert x == pytest.approx(bar["x"] + bar["width"] / 2, abs=0.11) and y == pytest.approx(bar["y"] - 8, abs=0.11)


def test_an_axis_that_is_cut_says_so_and_bears_break_strokes_and_one_from_nought_does_not():
    cut = wide_of(mass.mass_waterfall(mass.MassWaterfall(108752, (mass.MassStep("a", -9000),)), STAMP))
    whole = wide_of(mass.mass_waterfall(mass.MassWaterfall(25000, (mass.MassStep("a", -15000),)), STAMP))
    assert "kg, axis from" in cut and len(paths(cut, "brk")) == 4
    assert ">kg<" in whole and not paths(whole, "brk")


@pytest.mark.parametrize(
    ("angle", "words"),
    [
        (-52, "52° BTDC"),
        (256, "76° ABDC"),
        (102, "78° BBDC"),
        (406, "46° ATDC"),
        (82.94, "82.9° ATDC"),
        (180, "0° ABDC"),
    ],
)
def test_a_crank_angle_is_said_from_the_nearest_dead_centre(angle, words):
    assert timing.angle_words(angle) == words


def test_the_arc_of_a_valve_begins_and_ends_at_its_angles():
    ring = timing.TimingRing("Inlet", timing.Opening.inlet_valve(52, 76))
    words = wide_of(timing.timing_diagram(timing.TimingDiagram((ring,)), STAMP))
    arc = next(d for d in paths(words, "thin") if d.count("C") > 3)
    numbers = [float(n) for n in re.findall(r"-?[\d.]+", arc)]
    turns = [math.degrees(math.atan2(x - 500, 254 - y)) % 360 for x, y in (numbers[:2], numbers[-2:])]
    assert turns == [pytest.approx(360 - 52, abs=0.05), pytest.approx(180 + 76, abs=0.05)]
    assert all(math.hypot(x - 500, y - 254) == pytest.approx(206, abs=0.1) for x, y in (numbers[:2], numbers[-2:]))


def test_durations_follow_from_the_angles():
    assert timing.Opening.inlet_valve(52, 76).duration == 308
    assert timing.Opening.exhaust_valve(78, 46).duration == 304
    assert timing.Opening.about_bdc(194.1).duration == pytest.approx(194.1)


def test_shares_fill_the_bar_from_end_to_end_in_order():
    bars = origin.OriginBars(("Genuine", "Reproduction", "Unknown"), (origin.OriginBar("By count", (50, 30, 20)),))
    words = wide_of(origin.origin_bars(bars, STAMP))
    boxes = sorted(
        (b for kind in ("loss", "gain", "open") for b in attributes(words, "rect", kind) if b["height"] == 26),
        key=lambda b: b["x"],
    )
    assert [b["width"] for b in boxes] == [pytest.approx(829 * s, abs=0.11) for s in (0.5, 0.3, 0.2)]
    assert boxes[0]["x"] == 170


def test_a_bar_without_one_share_for_each_class_is_refused():
    with pytest.raises(ValueError, match="share"):
        origin.origin_bars(origin.OriginBars(("a", "b"), (origin.OriginBar("x", (100,)),)), STAMP)


def test_the_ring_marks_the_greatest_power_and_the_greatest_torque():
    points = tuple(
        dyno.DynoPoint(*p) for p in ((6000, 25, 15.7), (8600, 33, 29.7), (9800, 31.8, 32.6), (10200, 28.9, 30.9))
    )
    words = wide_of(dyno.dyno_chart(dyno.DynoChart((dyno.DynoRun("DY-2", points),)), STAMP))
    power, torque = attributes(words, "circle", "o")
    assert power["cx"] == pytest.approx(44 + 926 * 3800 / 4200, abs=0.06)
    assert torque["cx"] == pytest.approx(44 + 926 * 2600 / 4200, abs=0.06)
    assert "no correction factor stated" in words


def test_a_source_stands_left_of_the_reference_day_when_it_is_older_and_on_it_when_of_the_same_day():
    reference = date(1967, 6, 11)
    sources = tuple(
        evidence.Source(f"E{n}", "x", d) for n, d in enumerate((date(1967, 3, 14), reference, date(1967, 9, 3)))
    )
    words = wide_of(evidence.evidence_timeline(evidence.EvidenceTimeline(sources, reference), STAMP))
    line = float(re.match(r"M([\d.]+)", paths(words, "lim")[0])[1])
    before, same, after = (dot["cx"] for dot in attributes(words, "circle", "f") if dot["cy"] > 40)
    assert same == pytest.approx(line, abs=0.06)
    # 89 days before, 84 after: on one unbroken scale the distances are in that proportion.
    assert (line - before) / (after - line) == pytest.approx(89 / 84, rel=0.002)


def test_sources_are_listed_by_date_and_undated_ones_last():
    reference = date(1967, 6, 11)
    given = {"E01": date(1967, 9, 3), "E02": None, "E03": date(1967, 3, 14)}
    sources = tuple(evidence.Source(name, "x", day) for name, day in given.items())
    words = wide_of(evidence.evidence_timeline(evidence.EvidenceTimeline(sources, reference), STAMP))
    assert re.findall(r">(E\d\d)<", words) == ["E03", "E01", "E02"]


def test_elements_are_drawn_in_the_order_of_the_calls_whatever_field_they_stand_in():
    board = pen.Board(pen.WIDE, 100, STAMP)
    field = board.field(0, 0, 100, 100, (0, 1), (0, 1))
    field.strokes("grid", [(0, 0), (1, 1)])
    board.sheet.box_at("band", (0, 0), (10, 10))
    field.dots("f", [(0.5, 0.5)], 3)
    board.sheet.strokes("lim", [(0, 0), (5, 5)])
    drawn = re.findall(r'<(?:path|rect|circle) class="(\w+)"', board.svg("t", "title", "words"))
    assert drawn == ["grid", "band", "f", "lim"]


def test_a_scale_of_days_is_cut_only_where_more_than_a_year_is_empty():
    whole = days.DayScale([date(1967, 1, 1), date(1968, 1, 1)], 0, 900, pen.WIDE)
    cut = days.DayScale([date(1967, 1, 1), date(1967, 6, 1), date(1998, 4, 12)], 0, 900, pen.WIDE)
    assert len(whole.stretches) == 1 and len(cut.stretches) == 2
    assert cut.stretches[0].right < cut.stretches[1].left
    places = [cut.at(d) for d in (date(1967, 1, 1), date(1967, 6, 1), date(1998, 4, 12))]
    assert places == sorted(places) and places[0] == 0 and places[-1] <= 900


def test_marks_of_a_scale_of_days_stand_on_the_first_of_a_month_and_name_their_year_once():
    scale = days.DayScale([date(2024, 1, 15), date(2025, 1, 10), date(2025, 10, 4)], 0, 900, pen.WIDE)
    marks = scale.marks()
    assert [year for _, _, year in marks if year] == ["2024", "2025"]
    (january,) = [x for x, month, _ in marks if month == "Jan"]
    assert january == pytest.approx(
        900 * (date(2025, 1, 1) - date(2024, 1, 15)).days / (date(2025, 10, 4) - date(2024, 1, 15)).days
    )


def test_a_date_is_printed_as_the_sheets_print_it():
    assert days.day_words(date(1967, 6, 11)) == "11 June 1967"
    assert days.day_words(date(2024, 12, 1)) == "1 December 2024"


def test_a_snag_is_hatched_until_mended_and_ringed_when_proved_and_an_open_one_bears_an_arrow():
    mended = work_line.WorkEvent("SN-01", "flare", date(2025, 4, 1), date(2025, 4, 11), date(2025, 4, 21))
    open_ = work_line.WorkEvent("SN-02", "weep", date(2025, 4, 11), open=True)
    words = wide_of(work_line.work_line(work_line.WorkLine((work_line.WorkLane("Snags", (mended, open_)),)), STAMP))
    first, second = attributes(words, "rect", "gain")
    (ring,) = attributes(words, "circle", "o")
    assert first["x"] + first["width"] == pytest.approx((first["x"] + ring["cx"]) / 2, abs=0.11)
    assert second["x"] == pytest.approx(first["x"] + first["width"], abs=0.11)
    assert words.count('class="arrow"') == 1


def test_life_used_is_as_long_as_its_share_and_hatched_beyond_the_limit():
    words = wide_of(life.life_bars(life.LifeBars((life.LifeRow("rods", 50), life.LifeRow("tyres", 120))), STAMP))
    half, full = attributes(words, "rect", "span")
    (beyond,) = attributes(words, "rect", "gain")
    assert half["width"] * 2 == pytest.approx(full["width"], abs=0.2)
    assert beyond["width"] == pytest.approx(full["width"] / 5, abs=0.2)


@pytest.mark.parametrize(("used", "words"), [(99.6, "99.6"), (100.4, "100.4"), (98.6, "99"), (39, "39")])
def test_a_share_near_the_limit_never_reads_as_on_its_other_side(used, words):
    assert f">{words}<" in life.life_bars(life.LifeBars((life.LifeRow("rods", used),)), STAMP)


def test_the_outline_is_to_scale_and_the_steering_axis_meets_the_ground_ahead_of_the_wheel_by_the_trail():
    stance = geometry.Stance(1312, 27.2, 100.6, 298.6, 304.6)
    words = wide_of(geometry.geometry_outline(geometry.GeometryOutline(stance), STAMP))
    rear, front = attributes(words, "circle", "hub")
    scale = (front["cx"] - rear["cx"]) / 1312
    assert rear["cy"] - front["cy"] == pytest.approx((298.6 - 304.6) * scale, abs=0.11)
    axis = next(d for d in paths(words, "lim"))
    foot_x, foot_y, head_x, head_y = (float(n) for n in re.findall(r"[\d.]+", axis))
    assert foot_x - front["cx"] == pytest.approx(100.6 * scale, abs=0.11)
    assert foot_y - front["cy"] == pytest.approx(298.6 * scale, abs=0.11)
    assert math.degrees(math.atan2(foot_x - head_x, foot_y - head_y)) == pytest.approx(27.2, abs=0.05)
