"""Problems as they are printed and handed to machines."""

from __future__ import annotations

import pytest

from dossier.model.problems import Place, Problem, Severity, did_you_mean, in_order, near

LINE = "  - {id: D02, declared: 62,0 mm}"


def test_a_problem_prints_its_place_its_code_the_line_with_a_caret_and_what_to_write_instead():
    problem = Problem("decimal-comma", "'62,0' has a comma", Place("a/b.yaml", 3, 25, LINE), "write 62.0")
    assert problem.lines() == [
        "a/b.yaml:3:25: error decimal-comma: '62,0' has a comma",
        "    " + LINE,
        " " * 28 + "^",
        "    instead: write 62.0",
    ]


def test_the_caret_stands_under_its_sign_also_behind_tabs():
    problem = Problem("yaml-tab", "a tab", Place("b.yaml", 1, 3, "\t\tid: x"))
    assert problem.lines()[2] == "    \t\t^"


def test_a_problem_of_a_whole_file_has_no_line():
    assert Problem("file-empty", "nothing is written", Place("b.yaml")).lines() == ["b.yaml: note file-empty: nothing is written"]


def test_a_code_that_is_not_in_the_table_is_our_own_fault():
    with pytest.raises(KeyError):
        Problem("no-such-code", "x")


def test_for_machines_a_problem_is_a_flat_record():
    problem = Problem("key-unknown", "there is no key", Place("b.yaml", 2, 5, "x"), "did you mean y?", "parts[0].x")
    assert problem.severity is Severity.ERROR
    assert problem.as_dict() == {
        "code": "key-unknown", "severity": "error", "file": "b.yaml", "line": 2, "column": 5, "field": "parts[0].x",
        "message": "there is no key", "instead": "did you mean y?",
    }  # fmt: skip


def test_problems_are_told_in_the_order_of_the_files_and_never_twice():
    late, early = Problem("key-unknown", "b", Place("b.yaml", 9, 1)), Problem("key-unknown", "a", Place("b.yaml", 2, 1))
    other = Problem("key-unknown", "c", Place("a.yaml", 30, 1))
    assert in_order([late, early, other, late]) == [other, early, late]


def test_near_names_are_offered_nearest_first_and_far_ones_not_at_all():
    assert near("tilte", ["frame", "tiles", "title"])[0] == "title"
    assert did_you_mean("tilte", ["title"]) == "did you mean title?"
    assert did_you_mean("xyz", ["title"], "keys: title") == "keys: title"
