"""How logs are drawn: every kind has its place, a long log is thinned, what was left out is said, and laps that stand apart are named."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from dossier.audience import let_out
from dossier.model.audience import Audience
from dossier.model.build import LogTable
from dossier.pages.page import write_pages
from dossier.pages.parts.logs.chart import MOST, Chart, Cloud, Line, log_chart, thinned
from dossier.pages.parts.logs.drawn import DRAWN, left_out_words, rows_table
from dossier.pages.parts.plots.pen import Stamp
from dossier.read.logs.kind import LOG_KINDS
from dossier.record import make_record

BUILDS = Path(__file__).resolve().parents[3] / "builds"
STAMP = Stamp("HFW-07", "E")
ELSEWHERE = {"bore_readings", "dyno_run", "run_log"}
"""Kinds whose rows stand in sections of their own: bores, power, engine hours."""


@pytest.fixture(scope="module")
def pages() -> dict[str, str]:
    record, _ = make_record(BUILDS / "talvera-350-gp")
    assert record is not None
    return {page.slug: page.html for page in write_pages(let_out(record, Audience.WORKSHOP))}


def test_every_kind_of_log_is_drawn_somewhere():
    assert set(DRAWN.names()) | ELSEWHERE == set(LOG_KINDS.names())


@pytest.mark.parametrize("build", ["talvera-350-gp", "kestrane-125-r"])
def test_both_demo_builds_carry_at_least_eight_kinds_of_log(build: str):
    record, _ = make_record(BUILDS / build)
    assert record is not None
    assert len({log.kind for log in record.build.logs}) >= 8


@pytest.mark.parametrize(
    ("page", "heading"),
    [("drive-line", "log-data-log"), ("engine", "log-cam-readings"), ("engine", "log-leak-down"), ("chassis", "log-wheel-truing"),
     ("chassis", "log-spoke-check"), ("chassis", "log-spring-test"), ("work", "log-colour-readings"), ("mass", "log-weigh-sheet")],
)  # fmt: skip
def test_logs_stand_beside_what_they_prove(page: str, heading: str, pages: dict[str, str]):
    assert f'id="{heading}"' in pages[page]


def test_slip_in_top_stands_before_and_after_the_cure(pages: dict[str, str]):
    section = re.search(r'id="slip".*?(?=<h2)', pages["drive-line"], re.S)
    assert section
    assert "slip 5.89 %" in section[0]
    assert "slip 0.67 %" in section[0]
    assert "3rd" not in section[0]


def test_laps_that_stand_apart_are_kept_and_named(pages: dict[str, str]):
    assert "lap 8, 1:52.4 (traffic)" in pages["running"]
    assert "20 laps" in pages["running"]


def test_no_cloud_on_a_page_has_more_readings_than_can_be_seen(pages: dict[str, str]):
    for path in re.findall(r'<path class="(?:line|mark-line)" d="([^"]*)"', pages["drive-line"]):
        assert path.upper().count("M") <= MOST


@pytest.mark.parametrize("count", [1, MOST, MOST + 1, 10 * MOST + 3])
def test_thinning_keeps_the_first_and_the_last_and_their_order(count: int):
    points = [(float(n), 0.0) for n in range(count)]
    kept = thinned(points)
    assert len(kept) == min(count, MOST)
    assert (kept[0], kept[-1]) == (points[0], points[-1])
    assert list(kept) == sorted(kept)


def test_a_chart_names_its_axes_and_bears_the_stamp():
    text = log_chart(Chart("T", "time, s", "lift, mm", (Line(((0.0, 1.0), (1.0, 2.0)), "line", "inlet"),), (Cloud(((0.5, 1.5),)),)), STAMP, "x")
    assert text.count("time, s") >= 2
    assert text.count("lift, mm") >= 2
    assert text.count("REPLICA") == 2


def test_a_chart_of_nothing_is_refused():
    with pytest.raises(ValueError, match="no readings"):
        log_chart(Chart("T", "x", "y"), STAMP, "x")


def test_what_was_left_out_and_found_out_is_said():
    log = LogTable("TS-1.data_log", "data_log", "t", (), (), ((4, "why"), (9, "why")), "TS-1", ("read with decimal commas",))
    words = left_out_words([log])
    assert "two rows left out (line 4, 9)" in words
    assert "read with decimal commas" in words
    assert left_out_words([LogTable("a", "b", "t", (), ())]) == ""


def test_a_long_log_is_not_printed_row_by_row():
    rows = tuple((float(n),) for n in range(50))
    assert rows_table("T", LogTable("a", "b", "t", (("lap", ""),), rows)) == ""
    assert "<td" in rows_table("T", LogTable("a", "b", "t", (("lap", ""), ("x", "mm")), tuple((float(n), 1.5) for n in range(3))))
