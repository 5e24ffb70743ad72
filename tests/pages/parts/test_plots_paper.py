"""A plot for print engines: one whole SVG document with nothing left to look up."""

import re
import xml.etree.ElementTree as ElementTree
from pathlib import Path

import pytest

from dossier.pages.parts.plots import pen, slip
from dossier.pages.parts.plots.paper import Inks, paper_drawing

SHEET = (Path(__file__).parents[3] / "site_template" / "assets" / "plots.css").read_text(encoding="utf-8")
PLOT = slip.slip_bars(slip.SlipBars((slip.SlipRow("Before", "a > b", 8131, 8640, 5.89),)), pen.Stamp("HFW-07", "E"))


def test_the_paper_drawing_is_one_well_formed_document_with_its_own_rules():
    drawing = ElementTree.fromstring(paper_drawing(PLOT, SHEET, Inks("#14513b")))
    assert drawing.get("width") == "1000" and drawing.tag == "{http://www.w3.org/2000/svg}svg"
    rules = drawing.find("{http://www.w3.org/2000/svg}style").text
    assert "var(" not in rules and "@media" not in rules and "only-" not in rules and "svg.plot" not in rules
    assert "path.line{stroke:#14513b" in rules and "font-family:'Archivo Narrow'" in rules
    assert not re.search(r"opacity|rgba|currentColor", rules)


def test_the_paper_drawing_holds_the_same_words_as_the_page():
    letters = "{http://www.w3.org/2000/svg}text"
    words = [node.text for node in ElementTree.fromstring(paper_drawing(PLOT, SHEET, Inks("#14513b"))).iter(letters)]
    assert words == [w.replace("&gt;", ">") for w in re.findall(r"<text[^>]*>(.*?)</text>", PLOT.split("</svg>")[0])]


def test_anything_but_a_plot_is_refused():
    with pytest.raises(ValueError, match="no plot"):
        paper_drawing("<p>words</p>", SHEET, Inks("#14513b"))
