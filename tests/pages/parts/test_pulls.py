"""Several pulls of one dynamometer run: their mean as a curve, how far they reach as upright strokes."""

import shutil
from pathlib import Path

import pytest

from dossier.audience import let_out
from dossier.model.audience import Audience
from dossier.pages.engine import engine
from dossier.pages.parts.plots import dyno
from dossier.record import make_record
from tests.publish.planted import BUILDS


def test_a_point_of_several_pulls_reaches_from_the_least_to_the_greatest() -> None:
    """By hand: 30 N·m at 8,000 rev/min is 25.13 kW, and 29 and 31 N·m are 24.29 and 25.97 kW."""
    point = dyno.DynoPoint(8000, 30.0, 25.1327, 29.0, 31.0)

    assert point.span(power=False) == (29.0, 31.0)
    assert point.span(power=True) == pytest.approx((24.295, 25.970), abs=0.001)


def test_the_pulls_of_a_run_are_drawn_about_their_mean(tmp_path: Path) -> None:
    for name in ("talvera-350-gp", "workshop.yaml"):
        (shutil.copytree if (BUILDS / name).is_dir() else shutil.copy)(BUILDS / name, tmp_path / name)
    log = tmp_path / "talvera-350-gp/logs/DY-2.dyno_run.csv"
    head, *rows = log.read_text(encoding="utf-8").strip().split("\n")
    pairs = [row.split(",") for row in rows]
    again = [",".join([*pair, "1"]) for pair in pairs] + [",".join([pair[0], str(float(pair[1]) + 1.0), "2"]) for pair in pairs]
    log.write_text("\n".join([f"{head},Pull", *again]) + "\n", encoding="utf-8")

    record, _ = make_record(tmp_path / "talvera-350-gp")
    page = engine(let_out(record, Audience.PUBLIC))

    assert page is not None
    assert dyno.PULLS in page.html
