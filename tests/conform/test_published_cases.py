"""Decisions and probabilities against published cases; each source stands beside its case in data/conformity.yaml."""

from pathlib import Path

import pytest
import yaml

from tests.conform.small_build import item, reading, verdict

CASES = yaml.safe_load((Path(__file__).parent.parent / "data" / "conformity.yaml").read_text("utf-8"))
CHANCES = [case for case in CASES if "probability" in case]
DECISIONS = [case for case in CASES if "outcome" in case]


def _judged(case, u_expanded):
    limits = f"{case['lower']} to {case['upper']} mm" if case["upper"] is not None else f"at least {case['lower']} mm"
    return verdict(item(said=None, allowed=limits), reading(f"{case['reading']} ± {u_expanded} mm"))


@pytest.mark.parametrize("case", CHANCES, ids=lambda case: f"{case['id']} {case['title']}")
def test_the_probability_of_conformity_is_the_one_printed(case):
    found = _judged(case, 2 * case["u"]).judged[0].probability

    assert found == pytest.approx(case["probability"], abs=case["tolerance"])


@pytest.mark.parametrize("case", DECISIONS, ids=lambda case: f"{case['id']} {case['title']}")
def test_the_decision_is_the_one_that_follows_from_the_rule(case):
    assert _judged(case, case["U"]).raw.value == case["outcome"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["id"])
def test_every_case_names_its_source_and_how_it_was_obtained(case):
    assert case["source"] and case["obtained"]
