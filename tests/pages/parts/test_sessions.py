"""Test days side by side, and jets by the density of the air."""

from dataclasses import replace
from decimal import Decimal

from dossier.audience import let_out
from dossier.model.audience import Audience
from dossier.pages.parts.sessions import jets_by_density, sessions_table
from dossier.record import make_record
from tests.publish.planted import BUILDS


def edition(change=lambda sessions: sessions):
    record, _ = make_record(BUILDS / "talvera-350-gp")
    running = replace(record.build.running, sessions=change(record.build.running.sessions))
    return let_out(replace(record, build=replace(record.build, running=running)), Audience.PUBLIC)


def test_jets_stand_with_the_densities_they_ran_in_densest_first():
    """By hand: 100 · p / 101.325 · 288.15 / T gives 101.3 at 101.6 kPa and 12 °C, 99.1 at 101.1 and 17, 97.3 at 100.6 and 21."""
    densities = [
        Decimal(p) / Decimal("101.325") * Decimal("288.15") / Decimal(t) * 100
        for p, t in (("101.6", "285.15"), ("101.1", "290.15"), ("100.6", "294.15"))
    ]

    assert [f"{one:.1f}" for one in densities] == ["101.3", "99.1", "97.3"]
    assert (
        jets_by_density(edition()).replace("\N{NO-BREAK SPACE}", " ").replace("&nbsp;", " ")
        == "125 / 125: 101.3 %; 130 / 130: 97.3 to 99.1 %"
    )


def test_a_single_test_day_has_nothing_to_stand_beside():
    assert sessions_table(edition(lambda sessions: sessions[:1])) == ""


def test_each_test_day_has_a_row_with_its_weather_pressures_jets_and_laps():
    html = sessions_table(edition())

    for said in ("TS-1", "TS-2", "TS-3", "damp then dry", "1:41.8", "125 / 125", "2.05 / 2.2", "Median lap"):
        assert said in html
    assert "Fuel a lap" not in html
