"""What is true of every plot: well formed, of one style sheet, deterministic, legible, named."""

import html
import re
import xml.etree.ElementTree as ElementTree
from collections import Counter
from datetime import date
from pathlib import Path

import pytest

from dossier.pages.parts.plots import (
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
SVG = "{http://www.w3.org/2000/svg}"
SHEET = Path(__file__).parents[3] / "site_template" / "assets" / "plots.css"


def _gears():
    slopes = (0.01005, 0.01249, 0.0144, 0.01644, 0.01788, 0.01943)
    lines = tuple(gears.GearLine(f"{n}th", slope) for n, slope in enumerate(slopes, 1))
    return gears.gear_chart(gears.GearChart(lines, 10200, 9800, (gears.GearLine("6th on 18/38", 0.02166),)), STAMP)


def _few_gears():
    lines = (gears.GearLine("1st", 0.0053), gears.GearLine("2nd", 0.0055), gears.GearLine("3rd", 0.0056))
    return gears.gear_chart(gears.GearChart(lines, 12000, 11600), STAMP)


def _deviation():
    reading = deviation.Reading
    rows = (
        deviation.DeviationRow("D02", "Bore & <liner>", (reading(20, 40), reading(40, 40)), guard=40),
        deviation.DeviationRow(
            "D05",
            "Carburettor choke",
            (reading(50, 30), reading(90, 30, open=True)),
            guard=30,
            mark="cannot be decided",
            strong=True,
        ),
        deviation.DeviationRow(
            "D17", "Front brake drum diameter", (reading(188, 20),), guard=20, mark="by agreement C-01", strong=True
        ),
        deviation.DeviationRow("D23", "Fairing colour", (reading(70, 20),), lower=False, guard=20),
        deviation.DeviationRow("D25", "Exhaust primary pipe length", guard=20, mark="not yet measured"),
        deviation.DeviationRow(
            "D28",
            "A name that goes on and on far past all the room there is",
            (reading(1188, 20),),
            mark="does not conform",
            strong=True,
        ),
    )
    return deviation.deviation_chart(deviation.DeviationChart(rows), STAMP)


def _timing():
    inlet, exhaust = timing.Opening.inlet_valve, timing.Opening.exhaust_valve
    rings = (
        timing.TimingRing("Inlet", inlet(52, 76), (("left", inlet(51, 77)), ("right", inlet(52, 76)))),
        timing.TimingRing("Exhaust", exhaust(78, 46), (("left", exhaust(78, 46)), ("right", exhaust(77, 47)))),
    )
    return timing.timing_diagram(timing.TimingDiagram(rings, "taken at 1.0 mm lift"), STAMP)


def _ports():
    bdc, tdc = timing.Opening.about_bdc, timing.Opening.about_tdc
    rings = (
        timing.TimingRing("Exhaust", bdc(194), (("", bdc(194.1)),)),
        timing.TimingRing("Transfer", None, (("", bdc(128.2)),)),
        timing.TimingRing("Inlet", tdc(164)),
    )
    return timing.timing_diagram(timing.TimingDiagram(rings, title="Port timing"), STAMP)


def _slip():
    rows = (
        slip.SlipRow("Before, TS-1", "158.0 km/h in 6th", 8131, 8640, 5.89),
        slip.SlipRow("After, TS-3", "171.0 km/h in 6th", 8800, 8860, 0.67),
    )
    return slip.slip_bars(slip.SlipBars(rows), STAMP)


def _mass():
    steps = (
        mass.MassStep("Reworked", -2917),
        mass.MassStep("Replaced", -16777),
        mass.MassStep("Deleted", -1265),
        mass.MassStep("Added", 4380),
    )
    return mass.mass_waterfall(mass.MassWaterfall(108752, steps), STAMP)


def _origin():
    classes = (
        "From the machine itself",
        "From another machine",
        "Period accessory",
        "Reproduction",
        "Made in house",
        "Modern substitute",
        "Unknown",
    )
    bars = (
        origin.OriginBar("By count", (0, 31, 10.3, 24.1, 27.6, 6.9, 0)),
        origin.OriginBar("By mass", (0.5, 40, 10, 30, 9, 1.5, 9)),
    )
    return origin.origin_bars(origin.OriginBars(classes, bars), STAMP)


def _dyno():
    run = tuple(
        dyno.DynoPoint(rpm, nm, nm * rpm / 9549.3)
        for rpm, nm in ((6000, 25.0), (8600, 33.0), (9800, 31.8), (10200, 28.9))
    )
    worse = tuple(dyno.DynoPoint(p.rpm, p.torque - 2, p.power - 2) for p in run)
    return dyno.dyno_chart(
        dyno.DynoChart((dyno.DynoRun("DY-2", run, "factor 0.975, not applied"), dyno.DynoRun("DY-1", worse))), STAMP
    )


def _evidence():
    source = evidence.Source
    sources = (
        source("E03", "grid, left side", date(1967, 6, 11)),
        source("E05", "machine sheet 3 of 5", date(1967, 3, 14), "type"),
        source("E06", "notebook", date(1967, 9, 3)),
        source("E08", "frame of a sister machine", date(1967, 12, 31), "sister"),
        source("E10", "interview, tape", date(1998, 4, 12)),
        source("E15", "drawing, undated", None, "type"),
        source("E18", "anonymous post", date(2024, 2, 2), "type"),
    )
    return evidence.evidence_timeline(evidence.EvidenceTimeline(sources, date(1967, 6, 11)), STAMP)


def _work():
    event = work_line.WorkEvent
    lanes = (
        work_line.WorkLane(
            "Operations", (event("OP-11", "crack test", date(2024, 5, 16)), event("OP-41", "paint", date(2025, 2, 20)))
        ),
        work_line.WorkLane(
            "Snags",
            (
                event("SN-01", "revs flare", date(2025, 4, 26), date(2025, 5, 12), date(2025, 5, 31)),
                event("SN-03", "front brake snatches", date(2025, 5, 17), open=True),
            ),
        ),
        work_line.WorkLane("Empty", ()),
    )
    return work_line.work_line(work_line.WorkLine(lanes), STAMP)


def _life():
    rows = (
        life.LifeRow("connecting rods", 19.5, "3.9 of 20 h"),
        life.LifeRow("tyres", 112, "past 5 years"),
        life.LifeRow("fuel hoses of no known age", None, "start not recorded"),
        life.LifeRow("hub", 1130),
    )
    return life.life_bars(life.LifeBars(rows), STAMP)


def _geometry():
    built, other = geometry.Stance(1312, 27.2, 100.6, 298.6, 304.6), geometry.Stance(1312, 27.75, 110.7, 311.3, 304.6)
    return geometry.geometry_outline(
        geometry.GeometryOutline(built, other, "as built, 18 inch", "with a 19 inch wheel"), STAMP
    )


_ALL = (
    _deviation,
    _gears,
    _few_gears,
    _slip,
    _timing,
    _ports,
    _mass,
    _origin,
    _dyno,
    _evidence,
    _work,
    _life,
    _geometry,
)
PLOTS = {f.__name__.strip("_"): f for f in _ALL}
WORDS = {
    "deviation": [
        "Bore & <liner>",
        "cannot be decided",
        "by agreement C-01",
        "not yet measured",
        "+1,188",
        "lower limit",
    ],
    "gears": ["km/h", "engine speed, rev/min", "limit 10,200", "greatest power 9,800"],
    "few_gears": ["each at 11,600", "1st 61 km/h"],
    "slip": ["8,131", "8,640", "slip 5.89 %", "engine speed, rev/min"],
    "timing": ["TDC", "BDC", "Inlet opens", "declared 52° BTDC", "left 51° BTDC, right 52° BTDC"],
    "ports": ["Transfer opens", "as built 82.9° ATDC", "not yet measured"],
    "mass": ["108,752", "−2,917", "+4,380", "92,173", "Replaced", "kg, axis from 80"],
    "origin": ["By count", "31.0", "Unknown", "Made in house"],
    "evidence": [
        "same day",
        "+84 days",
        "−89 days",
        "+20,690 days",
        "undated",
        "reference day, 11 June 1967",
        "of a sister machine",
    ],
    "work": ["Operations", "OP-11", "crack test", "16 May", "open"],
    "life": ["limit", "112", "1,130", "not known", "3.9 of 20 h", "life used, per cent of the limit"],
    "geometry": ["wheelbase 1,312 mm", "27.2°", "trail 101", "trail 111", "with a 19 inch wheel"],
    "dyno": ["factor 0.975, not applied", "33.0 N m at 8,600", "32.6 kW at 9,800", "torque, N m"],
}


def drawings(words: str) -> list[ElementTree.Element]:
    parts = re.findall(r"<svg.*?</svg>", words)
    assert "".join(parts) == words
    return [
        ElementTree.fromstring(part.replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)) for part in parts
    ]


@pytest.mark.parametrize("name", PLOTS)
def test_each_plot_is_two_well_formed_named_drawings_of_one_line(name):
    words = PLOTS[name]()
    assert "\n" not in words and "html" not in words and "DOCTYPE" not in words
    wide, narrow = drawings(words)
    for drawing, klass, width in ((wide, "plot only-wide", "1000"), (narrow, "plot only-narrow", "340")):
        assert drawing.get("class") == klass and drawing.get("viewBox").split()[2] == width
        assert drawing.get("role") == "img" and drawing.get("data-search-exclude") == ""
        assert [child.tag for child in drawing][:2] == [f"{SVG}title", f"{SVG}desc"]
        assert all(len(drawing.find(f"{SVG}{tag}").text) > 5 for tag in ("title", "desc"))
        assert drawing.get("aria-labelledby").split() == [
            drawing.find(f"{SVG}{tag}").get("id") for tag in ("title", "desc")
        ]


@pytest.mark.parametrize("name", PLOTS)
def test_ids_are_unique_and_begin_with_the_drawings_prefix(name):
    ids = [node.get("id") for drawing in drawings(PLOTS[name]()) for node in drawing.iter() if node.get("id")]
    assert ids and max(Counter(ids).values()) == 1
    used = re.findall(r"url\(#([^)]+)\)", PLOTS[name]())
    assert set(used) <= set(ids)
    assert all(re.match(r"[a-z]+-[wn]-", i) for i in ids)


@pytest.mark.parametrize("name", PLOTS)
def test_no_colour_and_no_width_of_a_stroke_stands_in_a_drawing(name):
    for drawing in drawings(PLOTS[name]()):
        for node in drawing.iter():
            assert not {"fill", "stroke", "stroke-width", "font-size", "clip-path", "opacity"} & set(node.keys())
            assert re.fullmatch(r"|fill:url\(#[a-z-]+\)", node.get("style", ""))
    assert not re.search(
        r"#[0-9a-f]{6}|#[0-9a-f]{3}\b|rgb|black|white",
        re.sub(r"<(title|desc|text).*?</\1>|url\(#[^)]*\)", "", PLOTS[name]()),
    )


@pytest.mark.parametrize("name", PLOTS)
def test_every_class_of_a_drawing_is_in_the_style_sheet(name):
    sheet = SHEET.read_text(encoding="utf-8")
    known = set(re.findall(r"\.([a-z][a-z0-9-]*)", sheet)) | {"t-lab"}
    for drawing in drawings(PLOTS[name]()):
        for node in drawing.iter():
            assert set(node.get("class", "").split()) <= known, node.get("class")


@pytest.mark.parametrize("name", PLOTS)
def test_the_same_values_give_the_same_bytes(name):
    assert PLOTS[name]() == PLOTS[name]()


@pytest.mark.parametrize("name", PLOTS)
def test_all_numbers_are_finite_and_the_drawing_is_small(name):
    words = PLOTS[name]()
    for part in words.split("</svg>")[:2]:
        assert len(part.encode()) < 40_000
    geometry = " ".join(
        " ".join(node.get(k, "") for k in ("d", "x", "y", "cx", "cy", "r", "width", "height"))
        for d in drawings(words)
        for node in d.iter()
    )
    assert "nan" not in geometry and "inf" not in geometry
    assert all(abs(float(n)) < 5000 for n in re.findall(r"-?\d+\.?\d*", geometry))


@pytest.mark.parametrize("name", PLOTS)
def test_the_labels_are_text_and_the_stamp_stands_at_the_lower_left(name):
    for drawing in drawings(PLOTS[name]()):
        texts = list(drawing.iter(f"{SVG}text"))
        stamp = next(node for node in texts if node.text.startswith("REPLICA · HFW-07 · revision E"))
        assert stamp.get("x") == "0" and float(stamp.get("y")) > 0.9 * float(drawing.get("viewBox").split()[3])
        lowest = max(float(node.get("y")) for node in texts)
        assert float(stamp.get("y")) == lowest
    wide = {node.text for node in drawings(PLOTS[name]())[0].iter(f"{SVG}text")}
    for words in WORDS[name]:
        assert words in wide or html.unescape(words) in wide, (words, sorted(wide))


@pytest.mark.parametrize("name", PLOTS)
def test_no_label_runs_off_the_drawing_and_no_two_labels_touch(name, monkeypatch):
    boards: list[pen.Board] = []
    first = pen.Board.svg
    monkeypatch.setattr(pen.Board, "svg", lambda board, *rest: (boards.append(board), first(board, *rest))[1])
    PLOTS[name]()
    assert len(boards) == 2
    for board in boards:
        for n, box in enumerate(board.texts):
            assert box.left >= -0.5 and box.right <= board.form.width + 0.5, box
            assert box.top >= -1 and box.bottom <= board.height, box
            for other in board.texts[:n]:
                apart = (
                    box.left >= other.right
                    or other.left >= box.right
                    or box.top >= other.bottom
                    or other.top >= box.bottom
                )
                assert apart, (box, other)


@pytest.mark.parametrize("name", PLOTS)
def test_a_strict_html_parser_takes_every_plot_inside_a_page(name):
    import html5lib

    head = '<!DOCTYPE html><html lang="en"><head><title>x</title></head>'
    html5lib.HTMLParser(strict=True).parse(f"{head}<body><figure>{PLOTS[name]()}</figure></body></html>")
