"""Probability of conformity and risks of decision against published values."""

from __future__ import annotations

from statistics import NormalDist
from typing import Any

import pytest

from dossier.figures.bench import on_the_bench
from dossier.figures.conformity import below, false_risks
from tests.figures.cases import BY_ID, label, line, written


def expects(case_id: str, name: str) -> Any:
    expected = BY_ID[case_id]["expected"][name]
    return pytest.approx(expected["value"], abs=expected["tol"])


@pytest.mark.parametrize("case_id", ["CNF-01", "CNF-03"], ids=lambda one: label(BY_ID[one]))
def test_the_probability_of_conformity_is_as_printed(case_id: str) -> None:
    worked, problems = on_the_bench("p_c", line(BY_ID[case_id]))

    assert not problems
    assert worked[0].value == expects(case_id, "p_c")


@pytest.mark.parametrize("name", BY_ID["CNF-05"]["expected"])
def test_cnf_05_one_sided_factors_of_jcgm_106_table_1(name: str) -> None:
    z = BY_ID["CNF-05"]["expected"][name]["value"]

    assert below(z) == pytest.approx(float(name.removeprefix("z_").replace("_", ".")) / 100, abs=0.0006)


def test_cnf_07_false_accept_and_refuse_by_deaver_p_7() -> None:
    accept, refuse = false_risks(2, 4)

    assert (accept, refuse) == (expects("CNF-07", "false_accept"), expects("CNF-07", "false_reject"))


def test_cnf_08_the_same_with_wider_limits_by_deaver_p_7() -> None:
    assert false_risks(2.5, 4)[0] == expects("CNF-08", "false_accept_TUR4")
    assert false_risks(2.5, 1)[0] == expects("CNF-08", "false_accept_TUR1")


@pytest.mark.parametrize("case_id", ["CNF-T1", "CNF-T2"], ids=lambda one: label(BY_ID[one]))
def test_false_accept_table_of_ncsli_rp_19(case_id: str) -> None:
    inside = BY_ID[case_id]["inputs"]["in_tolerance_probability"]["value"]
    limit = NormalDist().inv_cdf((1 + inside) / 2)

    accept, refuse = false_risks(limit, BY_ID[case_id]["inputs"]["TUR"]["value"])

    assert 100 * accept == expects(case_id, "PFA")
    assert 100 * accept / (inside - refuse + accept) == expects(case_id, "conditional_PFA")


@pytest.mark.parametrize(("name", "bands"), [("w0", 0), ("w0.83U", 0.83), ("w1U", 1), ("w1.5U", 1.5)])
def test_cnf_11_risk_at_the_guard_bands_of_ilac_g8(name: str, bands: float) -> None:
    assert 100 * below(-2 * bands) == expects("CNF-11", name)


def test_numbers_of_the_cases_are_written_without_powers_of_ten() -> None:
    assert written(1.15e-05) == "0.0000115"
