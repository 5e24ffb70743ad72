"""Forms filled in from trees: paths, advice, near names, and that a faulty record does not take its neighbours with it."""

from __future__ import annotations

from typing import Any

import pytest

from dossier.model.forms.measurements import Measurements
from dossier.model.forms.parts import Parts
from dossier.model.forms.photos import Photos
from dossier.model.forms.specification import Specification
from dossier.model.problems import Problem
from dossier.read.places import read_tree
from dossier.read.specs import Sheet, fill_in


def sheet(form: type[Any], text: str) -> Sheet:
    root, problems = read_tree(text.encode(), "f.yaml")
    assert problems == []
    assert root is not None
    return fill_in(form, root, "f.yaml")


def only(form: type[Any], text: str) -> Problem:
    (problem,) = sheet(form, text).problems
    return problem


def entry(text: str) -> str:
    return f"as_built:\n  - {{what: bore, {text}}}\n"


def item(text: str) -> str:
    return f"items:\n  - {{id: D02, title: Bore, kind: numeric, {text}}}\n"


def test_a_record_with_a_fault_is_left_out_and_the_others_stay():
    part = "  - {{id: {}, group: cycle, name: Frame, origin: {}}}\n"
    read = sheet(Parts, "parts:\n" + part.format("P01", "reproduction") + part.format("P02", "stolen") + part.format("P03", "unknown"))
    assert [one.id for one in read.form.parts] == ["P01", "P03"]
    assert [(one.code, one.field, one.place.line) for one in read.problems] == [("choice-unknown", "parts[1].origin", 3)]


def test_the_choices_are_offered_and_near_ones_first():
    problem = only(Parts, "parts:\n  - {id: P01, group: cycle, name: Frame, origin: reprodction}\n")
    assert problem.instead.startswith("did you mean reproduction?")
    assert "modern substitute" in problem.instead


def test_a_missing_key_names_the_words_it_may_have():
    problem = only(Parts, "rejected:\n  - {id: R01, name: Liner, found: 0.04 under, outcome: scrapped}\n")
    assert (problem.code, problem.field) == ("key-missing", "rejected[0].origin")
    assert "newly made in house" in problem.instead


def test_keys_are_written_without_the_underscore_that_python_needs():
    read = sheet(Measurements, entry("value: 62.013 mm, with: M1"))
    assert (read.problems, read.form.as_built[0].with_) == ([], "M1")
    assert only(Measurements, entry("value: 62.013 mm, with_: M1")).instead == "did you mean with?"


@pytest.mark.parametrize("key", ["written", "facts"])
def test_what_reading_fills_in_cannot_be_written_by_hand(key: str):
    text = f"photos:\n  - {{id: PH-1, file: a.jpg, shows: The frame bare, seen_by: public, {key}: x}}\n"
    assert only(Photos, text).code == "key-unknown"


def test_an_unknown_key_is_told_also_when_nothing_stands_behind_it():
    assert only(Parts, "parts:\n  - {id: P01, group: cycle, name: Frame, origin: unknown, colour: }\n").code == "key-unknown"


def test_a_blank_missing_after_the_colon_is_seen():
    problem = sheet(Parts, "parts:\n  - {id:P01, group: cycle, name: Frame, origin: unknown}\n").problems
    assert "id: P01" in {one.code: one.instead for one in problem}["key-unknown"]


@pytest.mark.parametrize(
    ("text", "readings"),
    [
        ("readings: [62.013, 62.011], unit: mm", ["62.013 mm", "62.011 mm"]),
        ("readings: [62.013 mm, 62.011 mm]", ["62.013 mm", "62.011 mm"]),
        ("readings: [62.013 ± 0.004, 62.011], unit: mm", ["62.013 ± 0.004 mm", "62.011 mm"]),
        ("readings: [58, 60, 59], unit: 1", ["58", "60", "59"]),
        ("readings: [3 cm3, 4 cm3]", ["3 cm3", "4 cm3"]),
        ("value: 62.013, unit: mm", ["62.013 mm"]),
        ("value: 24", ["24"]),
        ("readings: [5/8, 1 1/2], unit: in", ["5/8 in", "1 1/2 in"]),
    ],
)
def test_a_common_unit_joins_the_bare_numbers(text: str, readings: list[str]):
    read = sheet(Measurements, entry(text))
    assert read.problems == []
    assert [str(one) for one in read.form.as_built[0].quantities] == readings


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("readings: [62.013, 62.011]", "unit-missing"),
        ("readings: [62.013, 62.011 mm], unit: mm", "unit-twice"),
        ("readings: [62.013, 62.011], unit: mn", "unit-unknown"),
        ("readings: []", "entry-empty"),
        ("value: 62.0 mm, not_measured: no gauge", "entry-ambiguous"),
        ("readings: [62.0 mm], found: round", "entry-ambiguous"),
        ("value: 1e3, unit: mm", "number-form"),
    ],
)
def test_a_unit_missing_or_given_twice_is_told_once(text: str, code: str):
    assert [one.code for one in sheet(Measurements, entry(text)).problems] == [code]


def test_a_timing_card_in_a_what_if_is_laid_out_too():
    read = sheet(Measurements, "what_if:\n  - id: W1\n    title: Other cam\n    instead: [{what: valve_timing, timing: 50-70 / 70-50}]\n")
    assert read.problems == []
    assert [one.what for one in read.form.what_if[0].instead] == ["inlet_opens", "inlet_closes", "exhaust_opens", "exhaust_closes"]


def test_a_timing_card_under_another_name_is_told_where_the_name_stands():
    problem = only(Measurements, "as_built:\n  - {what: inlet_opens, timing: 52-76 / 78-46}\n")
    assert (problem.code, problem.place.column) == ("timing-form", 12)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("declared: 62", None),
        ("declared: 62.0 mm, limits: 61.9 to 62.1 mm", None),
        ("declared: 2.441 in, limits: 61.9 to 62.1 mm", None),
        ("limits: at most 2.0 dE00", None),
        ("withdrawn: B", None),
        ("declared: about 62 mm", "number-form"),
        ("declared: 62.0 mn", "unit-unknown"),
        ("declared: 348 to 350 cc", "number-form"),
        ("declared: 62.0 mm, limits: 1 to 2 kg", "dimension-wrong"),
        ("declared: 62.0 mm, evidence_uncertainty: 1 kg", "dimension-wrong"),
        ("declared: 62.0 ± 0.1 mm, limits: 61 to 63 mm", "limits-twice"),
        ("declared: 62.0 ± 0.1 mm, limits: 61.9 to 62.1 mm", None),
        ("note: nothing declared", "item-empty"),
    ],
)
def test_a_numeric_item_has_a_number_or_limits_of_one_kind(text: str, code: str | None):
    assert [one.code for one in sheet(Specification, item(text)).problems] == ([code] if code else [])


def test_a_number_with_a_decimal_comma_keeps_its_own_fault_in_a_numeric_item():
    problem = only(Specification, "items:\n  - id: D02\n    title: Bore\n    kind: numeric\n    declared: 62,0 mm\n")
    assert (problem.code, problem.place.line, problem.field) == ("decimal-comma", 5, "declared")


def test_declared_words_stay_words_where_the_item_is_a_choice():
    read = sheet(Specification, "items:\n  - {id: D14, title: Springs, kind: choice, declared: '6 off, 2.4 mm wire'}\n")
    assert read.problems == []
    assert (read.form.items[0].declared.text, read.form.items[0].declared.nominal) == ("6 off, 2.4 mm wire", None)
