"""What a figure lacks is named, with the sheet that would supply it."""

from __future__ import annotations

from pathlib import Path

from dossier.audience import open_builds
from dossier.model.audience import Audience
from dossier.model.results import Worked
from dossier.pages.figures import figures
from tests.figures.bench import carried_out, value

BUILDS = Path(__file__).resolve().parents[2] / "builds"


def lacks(one: Worked) -> list[tuple[str, str]]:
    return [(missing.name, missing.file) for missing in one.missing]


def test_an_input_that_nobody_wrote_down_is_named_with_its_sheet() -> None:
    found = carried_out([value("bore", "62 mm"), value("stroke", "57.8 mm")])

    assert found["swept_volume"].value is None
    assert lacks(found["swept_volume"]) == [("cylinders", "machine.yaml")]


def test_of_an_input_that_is_worked_out_what_it_lacks_in_turn_is_named() -> None:
    """Oversizes left need the largest bore of the class, which needs the class limit."""
    found = carried_out([value("bore", "62 mm"), value("stroke", "57.8 mm"), value("cylinders", "2"), value("oversize_step", "0.25 mm")])

    assert lacks(found["oversizes_left"]) == [("class_limit", "machine.yaml")]


def test_an_input_whose_figure_came_out_impossible_is_named_itself() -> None:
    found = carried_out([value("bore", "62 mm"), value("stroke", "-57.8 mm"), value("clearance_volume", "17 cc")])

    assert found["cylinder_volume"].value is None
    assert lacks(found["compression_ratio"]) == [("cylinder_volume", "measurements.yaml")]


def test_the_figures_page_lists_what_is_missing_and_where_it_would_stand() -> None:
    [opened], _ = open_builds(BUILDS / "kestrane-125-r")

    page = figures(opened.edition(Audience.PUBLIC))

    assert page is not None
    part = page.html.split("Not worked out")[-1]
    assert "Liner wall" in part and "liner outside diameter" in part and "measurements.yaml" in part
    assert "class limit" in part and "machine.yaml" in part
