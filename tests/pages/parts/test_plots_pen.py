"""The pen refuses what it cannot draw, takes words as words, and is not moved by settings outside."""

import subprocess
import sys
import xml.etree.ElementTree as ElementTree
from datetime import date

import matplotlib
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
from dossier.pages.parts.plots.spare import PATTERNS

STAMP = pen.Stamp("HFW-07", "E")
SVG = "{http://www.w3.org/2000/svg}"


def _mass():
    steps = (mass.MassStep("Replaced", -16777), mass.MassStep("Added", 4380))
    return mass.mass_waterfall(mass.MassWaterfall(108752, steps), STAMP)


def test_a_number_that_is_not_finite_is_refused():
    rows = (slip.SlipRow("Before", "", float("nan"), 8640, 5.9),)
    with pytest.raises(ValueError):
        slip.slip_bars(slip.SlipBars(rows), STAMP)


def test_an_unknown_kind_of_stroke_or_hatch_is_refused():
    board = pen.Board(pen.WIDE, 100, STAMP)
    with pytest.raises(ValueError, match="style sheet"):
        board.sheet.strokes("crimson", [(0, 0), (1, 1)])
    with pytest.raises(ValueError, match="hatch"):
        board.sheet.box_at("hat", (0, 0), (1, 1), "tartan")


def test_words_of_a_user_are_never_markup_nor_formula():
    board = pen.Board(pen.WIDE, 100, STAMP)
    board.write(10, 20, 'a $x^2$ <b>&amp;\x00\x07 "q"\n]]>')
    drawing = ElementTree.fromstring(
        board.svg("t", "T <i>", "D & d").replace("<svg ", '<svg xmlns="http://www.w3.org/2000/svg" ', 1)
    )
    assert drawing.find(f"{SVG}title").text == "T <i>"
    assert 'a $x^2$ <b>&amp; "q" ]]>' in [node.text for node in drawing.iter(f"{SVG}text")]
    assert not list(drawing.iter(f"{SVG}b"))


def test_every_pattern_is_well_formed():
    for name, words in PATTERNS.items():
        assert ElementTree.fromstring(words.format(id=name)).get("id") == name


def test_a_matplotlibrc_of_the_user_changes_nothing():
    plain = _mass()
    with matplotlib.rc_context(
        {
            "savefig.bbox": "tight",
            "lines.linestyle": "--",
            "path.simplify": True,
            "font.size": 40,
            "figure.dpi": 300,
            "axes.xmargin": 0.3,
        }
    ):
        assert _mass() == plain


NOTHING = [
    (deviation.deviation_chart, deviation.DeviationChart(())),
    (gears.gear_chart, gears.GearChart((), 1, 1)),
    (slip.slip_bars, slip.SlipBars(())),
    (timing.timing_diagram, timing.TimingDiagram(())),
    (mass.mass_waterfall, mass.MassWaterfall(1, ())),
    (origin.origin_bars, origin.OriginBars((), ())),
    (dyno.dyno_chart, dyno.DynoChart(())),
    (evidence.evidence_timeline, evidence.EvidenceTimeline((), date(1967, 6, 11))),
    (work_line.work_line, work_line.WorkLine((work_line.WorkLane("Empty", ()),))),
    (life.life_bars, life.LifeBars(())),
    (geometry.geometry_outline, geometry.GeometryOutline(geometry.Stance(1300, 0, 100, 300, 300))),
]


@pytest.mark.parametrize(("draw", "nothing"), NOTHING, ids=[draw.__name__ for draw, _ in NOTHING])
def test_a_plot_of_nothing_is_refused(draw, nothing):
    with pytest.raises(ValueError):
        draw(nothing, STAMP)


def test_the_modules_of_the_plots_load_without_matplotlib():
    names = (
        "deviation",
        "gears",
        "slip",
        "mass",
        "timing",
        "origin",
        "dyno",
        "evidence",
        "work_line",
        "life",
        "geometry",
    )
    loads = "; ".join(f"import dossier.pages.parts.plots.{name}" for name in names)
    done = subprocess.run(
        [sys.executable, "-c", f"import sys; {loads}; print('matplotlib' in sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stdout.strip() == "False"
