"""What the uncertainty of a reading is made of, each part worked by hand."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from dossier.figures.figure import FIGURES
from dossier.figures.reading_uncertainty import made_of
from dossier.figures.value import of_entry, of_readings
from dossier.figures.work_out import work_out
from dossier.model.forms.measurements import Entry, Role
from dossier.model.forms.workshop import Instrument
from dossier.model.notation import quantity
from dossier.model.results import Worked
from tests.figures.bench import value

MICROMETER = Instrument(id="M1", name="micrometer", u=quantity("0.004 mm"))
GRADUATED = replace(MICROMETER, resolution=quantity("0.01 mm"))
PLAIN = Entry(what="bore", value=quantity("62.012 mm"))
FIVE = Entry(what="bore", readings=tuple(quantity(f"62.0{n} mm") for n in (12, 14, 11, 13, 15)), repeats=True)
"""Mean 62.013; deviations -1, +1, -2, 0, +2 µm: sum of squares 10, variance 2.5, deviation 1.5811 µm, of the mean 0.70711 µm."""
POSITIONS = replace(FIVE, repeats=False)


def test_the_instruments_record_alone_is_one_part_and_no_table() -> None:
    made = made_of(PLAIN, MICROMETER)

    assert made.u == pytest.approx(0.004)
    assert made.parts == () and made.dof is None


def test_a_resolution_on_record_adds_the_rectangle_of_one_step() -> None:
    """JCGM 100:2008, F.2.2.1: standard uncertainty 0.29 of the step."""
    made = made_of(PLAIN, GRADUATED)

    assert made.u == pytest.approx(2 * math.sqrt(0.002**2 + (0.29 * 0.01) ** 2), rel=0.005)
    assert [part.title for part in made.parts] == ["record of M1, micrometer", "resolution of M1, 0.01 mm"]
    assert sum(part.share for part in made.parts) == pytest.approx(1)


def test_what_is_stated_with_the_value_takes_the_place_of_the_instrument() -> None:
    stated = replace(PLAIN, u=quantity("0.006 mm"))

    assert made_of(stated, GRADUATED).u == pytest.approx(0.006)


def test_repeats_bring_their_spread_over_the_root_of_their_number_and_degrees_of_freedom() -> None:
    made = made_of(FIVE, MICROMETER)

    of_mean = 0.0015811 / math.sqrt(5)
    assert made.u == pytest.approx(2 * math.hypot(0.002, of_mean), rel=1e-4)
    # Welch-Satterthwaite with four degrees of freedom for the spread and infinitely many for the record
    assert made.dof == pytest.approx((0.002**2 + of_mean**2) ** 2 / (of_mean**4 / 4), rel=1e-4)


def test_readings_at_several_places_are_no_repeats() -> None:
    assert made_of(POSITIONS, MICROMETER).u == pytest.approx(0.004)
    assert len(list(of_readings(POSITIONS, Role.AS_BUILT, MICROMETER))) == 5
    assert not list(of_readings(FIVE, Role.AS_BUILT, MICROMETER))


def test_a_mean_of_n_with_its_spread_is_the_same_as_the_repeats_themselves() -> None:
    mean = Entry(what="bore", value=quantity("62.013 mm"), n=5, spread=quantity("0.0015811 mm"))

    assert made_of(mean, MICROMETER).u == pytest.approx(made_of(FIVE, MICROMETER).u, rel=1e-4)
    assert made_of(mean, MICROMETER).dof == pytest.approx(made_of(FIVE, MICROMETER).dof, rel=1e-3)


def test_a_number_of_readings_without_their_spread_says_nothing_about_it() -> None:
    assert made_of(replace(PLAIN, n=5), MICROMETER).u == pytest.approx(0.004)


def test_a_fine_length_read_warm_carries_the_doubt_of_its_expansion() -> None:
    """62.012 mm at 24 °C, 11.5 ppm/K: four kelvins anywhere is 2.8526 µm half-wide, over root three 1.6469 µm."""
    warm = replace(PLAIN, at=quantity("24 °C"), expansion=quantity("11.5 ppm/K"))

    made = made_of(warm, MICROMETER)

    assert made.u == pytest.approx(2 * math.hypot(0.002, 0.0016469), rel=1e-4)
    assert "24 °C" in made.parts[1].title


def test_doubt_about_the_temperature_itself_counts_at_twenty_degrees_too() -> None:
    """62.012 mm at 20 ± 2 °C (k = 2), 23 ppm/K taken: one kelvin is 1.4263 µm."""
    made = made_of(replace(PLAIN, at=quantity("20 ± 2 °C")), MICROMETER)

    assert made.u == pytest.approx(2 * math.hypot(0.002, 0.0014263), rel=1e-4)
    assert "taken for a light alloy" in made.parts[1].title


@pytest.mark.parametrize("at", [None, "20 °C"])
def test_at_twenty_degrees_sharp_or_with_none_written_warmth_adds_nothing(at: str | None) -> None:
    entry = PLAIN if at is None else replace(PLAIN, at=quantity(at))

    assert made_of(entry, MICROMETER).u == pytest.approx(0.004)


def test_a_coarse_length_is_not_asked_how_warm_it_was() -> None:
    warm = replace(PLAIN, at=quantity("35 °C"), u=quantity("0.05 mm"))

    assert made_of(warm, None).u == pytest.approx(0.05)


def test_repeats_with_no_instrument_named_say_that_the_instrument_is_not_in_it() -> None:
    found = of_entry(FIVE, Role.AS_BUILT, None)

    assert found.u == pytest.approx(2 * 0.00070711, rel=1e-4)
    assert found.unstated == ("the instrument for bore",)


def worked_out(entry: Entry) -> Worked:
    values = [of_entry(entry, Role.AS_BUILT, MICROMETER), value("stroke", "57.79 ± 0.02 mm"), value("cylinders", "1")]
    return next(one for one in work_out(values, FIGURES.gather(), "4") if one.name == "swept_volume")


def test_a_figure_carries_the_degrees_of_freedom_of_the_repeats_behind_it() -> None:
    two = Entry(what="bore", readings=(quantity("62.00 mm"), quantity("62.02 mm")), repeats=True)
    of_mean = 0.01  # deviation 14.142 µm over root two
    bore, stroke = 2 * math.hypot(0.002, of_mean) / 2 / 62.01, 0.01 / 57.79
    of_the_bore = math.hypot(0.002, of_mean) ** 4 / of_mean**4  # one degree of freedom

    worked = worked_out(two)

    relative = math.hypot(2 * bore, stroke)
    assert worked.dof == pytest.approx(relative**4 / ((2 * bore) ** 4 / of_the_bore), rel=1e-3)
    assert worked.k95 is not None and worked.k95 > 2


def test_without_repeats_a_figure_has_no_degrees_of_freedom_to_tell() -> None:
    assert worked_out(POSITIONS).dof is None


def test_the_parts_stand_on_the_page_and_on_the_bench() -> None:
    from dossier.audience.results import PASSES
    from dossier.model.results import Value
    from dossier.pages.parts.workings import freedom_words
    from dossier.publish.bench_sheet import bench_sheet, figure_record

    worked = worked_out(FIVE)

    assert "effective degrees of freedom" in bench_sheet(worked) and "k = 1.96" in freedom_words(worked)
    [made] = figure_record(worked)["inputs"][0]["made_of"]
    assert [one["from"] for one in made] == ["record of M1, micrometer", "spread of 5 repeats"]
    assert "parts" in PASSES[Value]


def test_a_build_with_a_resolution_and_repeats_shows_the_table_in_its_working(tmp_path: Path) -> None:
    import shutil

    from dossier.audience import open_builds
    from dossier.model.audience import Audience
    from dossier.pages.figures import figures

    builds = Path(__file__).resolve().parents[2] / "builds"
    shutil.copytree(builds / "kestrane-125-r", tmp_path / "kestrane-125-r")
    shutil.copy(builds / "workshop.yaml", tmp_path)
    file = tmp_path / "kestrane-125-r" / "measurements.yaml"
    repeated = "{what: bore, readings: [54.006, 54.008, 54.005], unit: mm, repeats: yes, with: M1, on: 2024-09-10"
    file.write_text(file.read_text("utf-8").replace("{what: bore, value: 54.006 mm, u: 0.004 mm", repeated), "utf-8")

    opened, problems = open_builds(tmp_path / "kestrane-125-r")
    assert not [str(one) for one in problems if one.severity.value == "error"]
    page = figures(opened[0].edition(Audience.PUBLIC))

    assert page is not None
    assert "What the uncertainty of a reading is made of" in page.html
    assert "spread of 3 repeats" in page.html and "record of M1" in page.html
    assert "effective degrees of freedom" in page.html
