"""The as-built values of a build as judging asks for them."""

import datetime

import pytest

from dossier.conform.judge import judge
from dossier.conform.lookup import Lookup
from dossier.model.audience import Audience
from dossier.model.forms.measurements import Entry, Role
from dossier.model.notation import quantity
from dossier.model.quantity import variable
from dossier.model.results import InputUsed, Missing, Outcome, Value, Worked
from tests.conform.small_build import build, item

LEFT = (("cylinder", "left"),)
DAY = datetime.date(2024, 11, 19)


def value(name="bore", number=0.062013, u=0.004, tags=LEFT, **more):
    plain = {"role": Role.AS_BUILT, "unit": "mm", "shown": number * 1000, "audience": Audience.PUBLIC}
    return Value(**(plain | {"name": name, "tags": tags, "number": variable(number, u and u / 1000, name), "u": u} | more))


def figure(name="swept_volume", value=349.09, **more):
    plain = {
        "title": "t", "symbol": "V", "unit": "cc", "role": Role.AS_BUILT, "tags": (), "u": 0.12, "decimals": 2, "formula": "",
        "audience": Audience.PUBLIC,
    }  # fmt: skip
    return Worked(id=name, name=name, value=value, **(plain | more))


def test_a_value_is_read_in_si_with_each_single_reading_beside_it():
    entry = Entry(what="bore", cylinder="left", readings=(quantity("62.012 mm"), quantity("62.014 mm")), with_="M1", on=DAY)

    (one,) = Lookup(build(entries=(entry,)), [value(count=2, with_="M1", on=DAY)], []).readings_of(item(quantity="bore"))

    assert (one.label, one.number, one.u) == ("left", pytest.approx(0.062013), pytest.approx(4e-6))
    assert (one.each, one.mean_of, one.kind, one.taken) == (pytest.approx((0.062012, 0.062014)), 2, "length", (("M1", DAY),))


def test_what_was_written_down_goes_before_what_was_worked_out():
    asked = item(quantity="swept_volume")
    written = value("swept_volume", 349e-6, None, (), unit="cc", shown=349.0)

    assert [one.figure for one in Lookup(build(), [written], [figure()]).readings_of(asked)] == [""]
    assert [one.figure for one in Lookup(build(), [], [figure()]).readings_of(asked)] == ["swept_volume"]


def test_a_value_under_the_items_own_id_is_found_too():
    assert len(Lookup(build(), [value("D01")], []).readings_of(item("D01", quantity="bore"))) == 1


def test_only_as_built_counts():
    lookup = Lookup(build(), [value(role=Role.DECLARED), value(of="bore")], [figure(role=Role.DONOR)])

    assert lookup.readings_named("bore") == lookup.readings_named("swept_volume") == ()


def test_a_figure_is_judged_by_its_number_in_si():
    (one,) = Lookup(build(), [], [figure()]).readings_named("swept_volume")

    assert (one.number, one.u) == (pytest.approx(349.09e-6), pytest.approx(0.12e-6))


def test_a_figure_that_lacks_an_input_says_which():
    lacking = figure(value=None, u=None, missing=(Missing("stroke", "Stroke", "measurements.yaml"),))

    (one,) = Lookup(build(), [], [lacking]).readings_named("swept_volume")

    assert (one.number, one.why) == (None, "not written down: Stroke (measurements.yaml)")


def test_a_figure_names_the_instruments_behind_it():
    use = InputUsed("B", "Bore", "mm", (value(with_="M1", on=DAY), value(with_="M1", on=DAY)))

    (one,) = Lookup(build(), [], [figure(inputs=(use,))]).readings_named("swept_volume")

    assert one.taken == (("M1", DAY),)


def test_a_temperature_figure_keeps_its_offset():
    (one,) = Lookup(build(), [], [figure("t", 20.0, unit="°C", u=1.0)]).readings_named("t")

    assert (one.number, one.u) == (pytest.approx(293.15), pytest.approx(1.0))


def test_judging_takes_the_lookup_as_it_is():
    spec = item(said="349 cc", allowed="348 to 350 cc", quantity="swept_volume")

    (found,) = judge(build(spec), Lookup(build(spec), [], [figure()]), "E")

    assert (found.raw, found.judged[0].figure) == (Outcome.CONFORMS, "swept_volume")
    assert found.judged[0].place == pytest.approx(9)


def test_a_reading_taken_in_another_unit_than_the_items_is_kept_as_it_was_written():
    """1.1830 in is 30.0482 mm (1 in = 25.4 mm exactly, NIST SP 811)."""
    for text, unit, shown, kept in (("1.1830 in", "in", 1.1830, "1.1830 in"), ("30.05 mm", "mm", 30.05, "")):
        held = build(item(quantity="choke"), entries=(Entry(what="choke", value=quantity(text)),))
        known = value("choke", shown * (0.0254 if unit == "in" else 0.001), 0.0004, (), unit=unit, shown=shown)

        (judged,) = judge(held, Lookup(held, [known], []), "E")[0].judged

        assert judged.as_measured == kept
        assert judged.value == pytest.approx(30.0482 if kept else 30.05)


def test_a_figure_that_rests_on_a_declared_value_shows_nothing_of_the_machine_as_built():
    """Directly, or through another figure."""
    stroke = value("stroke", 0.0578, None, (), role=Role.DECLARED, title="Stroke")
    volume = figure(inputs=(InputUsed("S", "Stroke", "mm", (stroke,)),))
    through = value("swept_volume", 349e-6, None, (), of="swept_volume", unit="cc", shown=349.0)
    ratio = figure("compression_ratio", 10.8, unit="", inputs=(InputUsed("V", "Swept volume", "cc", (through,)),))
    held = build(
        item("D01", "349.0 cc", "348.0 to 350.0 cc", quantity="swept_volume"),
        item("D04", "10.8", "10.6 to 11.0", quantity="compression_ratio"),
    )

    for verdict in judge(held, Lookup(held, [], [volume, ratio]), "E"):
        assert verdict.raw is Outcome.NOT_MEASURED
        assert "rests on declared values, not measured: stroke" in verdict.judged[0].words
