"""Every verified published case typed on the bench in its own words, by the name of its result; those that no line can state, with why."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from click.testing import CliRunner

from dossier import cli
from dossier.model.quantity import from_si
from dossier.model.units import UNITS
from tests.figures.cases import CASES, label

VERIFIED = [case for case in CASES if case["status"] == "verified"]
NOTHING_GIVEN = "the case gives no inputs: a constant or a table"
IN_THE_NAME = "what is asked for stands in the name of the result and is no input"
WORDS = "its inputs are sentences and no values"
NOT_STATED = {
    ("SWV-ALL", ""): "a file of 201 cars; each row is a line of its own, and a test of its own runs them all",
    ("KIN-C1", "x_30"): IN_THE_NAME, ("KIN-C1", "x_90"): IN_THE_NAME, ("KIN-C1", "x_150"): IN_THE_NAME, ("TYR-13", ""): IN_THE_NAME,
    ("TYR-M1", "circumference_over_diameter"): "measured on the road; no formula gives it",
    ("TYR-M2", "circumference_over_diameter"): "measured on the road; no formula gives it",
    ("TYR-M3", "circumference_over_diameter"): "measured on the road; no formula gives it",
    ("SWV-X3", "flag"): "a word: the warning beside the figure, tested with it",
    ("SWV-X135", "flag"): "a word: the warning beside the figure, tested with it",
    ("BAL-04", ""): "a list of triples under one name; typed as masses, radii and angles",
    ("BAL-09", ""): "the angle between the cylinders stands in the title alone; with bank_angle=60° it is typed below",
    ("DYN-09", ""): NOTHING_GIVEN, ("DYN-12", ""): WORDS, ("CNF-05", ""): NOTHING_GIVEN, ("CNF-11", ""): NOTHING_GIVEN, ("BQG-02", ""): NOTHING_GIVEN,
    ("CNF-08", ""): "two finenesses under one input; each is typed below",
    ("CNF-C1", ""): "a verdict in words, not a figure; the decision rules are tested where they are",
    ("CNF-C2", ""): "a verdict in words, not a figure; the decision rules are tested where they are",
    ("UNC-01", ""): "an end gauge with eight influences, three of them rectangular: tested on the engine of uncertainty itself",
    ("UNC-07", ""): "the engine of uncertainty itself: four inputs without a quantity",
    ("UNC-09", ""): "amperes, which no figure here takes",
    ("UNC-05", "dof"): "read beside the figure y, not asked for by itself; tested below",
    ("UNC-05", "U95"): "read beside the figure y, not asked for by itself; tested below",
    ("STA-06", ""): "two numbers under one name; typed as sd and mean",
}  # fmt: skip
"""Results that one line cannot state in the words of the case; an empty name stands for all of them."""
PAIRS = [(case, name) for case in VERIFIED for name in case["expected"]]
STATED = [(case, name) for case, name in PAIRS if not {(case["id"], ""), (case["id"], name)} & set(NOT_STATED)]
EXPECTED_UNITS = {
    "lb/in": "lbf/in", "deg cam": "deg", "deg ATDC": "deg", "g mm/kg": "µm", "lbf in": "lbf·in", "lbf ft": "lbf·ft",
    "degF": "°F",
}  # fmt: skip
NO_UNIT = ("text", "code")


def run(*words: str) -> Any:
    done = CliRunner().invoke(cli.main, ["figure", *words, "--json"])
    assert done.exit_code == 0, done.output
    return json.loads(done.stdout)


def line(case: dict[str, Any]) -> list[str]:
    """All inputs as `name=value unit`, the unit spelt as the case spells it; a pure number without its 1."""
    words = []
    for name, said in case["inputs"].items():
        unit = "" if said["unit"] in NO_UNIT else re.sub(r"^1(?![/0-9])", "", str(said["unit"]))
        words.append(f"{name}={said['value']}{'' if unit.startswith(',') else ' '}{unit}".rstrip())
    return words


def in_unit(told: dict[str, Any], unit: str) -> float:
    """The value told, in the unit expected."""
    unit = EXPECTED_UNITS.get(unit, unit)
    if told["unit"].replace("²", "2") == unit:
        return told["value"]
    ours, theirs = UNITS[told["unit"]], UNITS[unit]
    if ours.kind == "temperature":  # a rise
        return told["value"] * ours.scale / theirs.scale
    return from_si(told["value"] * ours.scale + float(ours.offset), theirs)


@pytest.mark.parametrize(("case", "name"), STATED, ids=lambda one: label(one) if isinstance(one, dict) else str(one))
def test_the_case_typed_in_its_own_words_gives_the_printed_result(case: dict[str, Any], name: str) -> None:
    expected = case["expected"][name]

    told = run(name, *line(case))

    assert in_unit(told, expected["unit"]) == pytest.approx(expected["value"], abs=expected["tol"] * (1 + 1e-6))


def test_what_cannot_be_stated_is_counted_and_each_has_a_reason() -> None:
    named = {(case["id"], name) for case, name in PAIRS} | {(case["id"], "") for case in VERIFIED}

    assert set(NOT_STATED) <= named
    assert all(NOT_STATED.values())
    assert (len(PAIRS), len(STATED)) == (277, 218)
    assert (len(VERIFIED), len({case["id"] for case, _ in STATED})) == (148, 132)


def test_a_v_twin_is_typed_with_the_angle_that_its_title_gives() -> None:
    case = next(one for one in VERIFIED if one["id"] == "BAL-09")
    for name, expected in case["expected"].items():
        assert run(name, *line(case), "bank_angle=60°")["value"] == pytest.approx(expected["value"], abs=expected["tol"])


@pytest.mark.parametrize("fineness", ["4", "1"])
def test_the_risk_at_wider_limits_is_typed_for_each_fineness(fineness: str) -> None:
    expected = next(one for one in VERIFIED if one["id"] == "CNF-08")["expected"][f"false_accept_TUR{fineness}"]

    assert run("false_accept", "limit=2.5 sigma", f"TUR={fineness}")["value"] / 100 == pytest.approx(expected["value"], abs=expected["tol"])


def test_unc_05_degrees_of_freedom_and_the_interval_for_95_per_cent_stand_beside_the_figure() -> None:
    case = next(one for one in VERIFIED if one["id"] == "UNC-05")

    told = run("y", *line(case))

    assert told["dof"] == pytest.approx(case["expected"]["dof"]["value"], abs=case["expected"]["dof"]["tol"])
    assert told["u95"] == pytest.approx(case["expected"]["U95"]["value"], abs=case["expected"]["U95"]["tol"])


@pytest.mark.parametrize(("which", "pair"), [("cv_1", ("0.0152", "3.92")), ("cv_2", ("0.0086", "1.54"))])
def test_sta_06_variation_from_deviation_and_mean(which: str, pair: tuple[str, str]) -> None:
    expected = next(one for one in VERIFIED if one["id"] == "STA-06")["expected"][which]

    assert run("cv", f"sd={pair[0]} mm", f"mean={pair[1]} mm")["value"] == pytest.approx(expected["value"], abs=expected["tol"])


@pytest.mark.parametrize("angle", [30, 90, 150])
def test_kin_c1_piston_travel_with_the_angle_as_an_input(angle: int) -> None:
    case = next(one for one in VERIFIED if one["id"] == "KIN-C1")
    expected = case["expected"][f"x_{angle}"]

    assert run("piston_from_TDC", *line(case), f"angle={angle} deg ATDC")["value"] == pytest.approx(expected["value"], abs=expected["tol"])


def test_bal_04_four_masses_in_one_plane_typed_one_after_the_other() -> None:
    case = next(one for one in VERIFIED if one["id"] == "BAL-04")
    words = [f"{name}={part} {sign}" for m, r, a in case["inputs"]["masses"]["value"] for name, part, sign in
             (("masses", m, "lb"), ("radii", r, "in"), ("angles", a, "deg"))]  # fmt: skip

    told = run("plane_balance_mass", *words, "balance_radius=24 in")

    assert in_unit(told, "lb") == pytest.approx(case["expected"]["balance_weight"]["value"], abs=case["expected"]["balance_weight"]["tol"])


@pytest.mark.parametrize("case_id", ["SWV-X3", "SWV-X135"])
def test_a_capacity_that_does_not_follow_from_bore_and_stroke_is_called_implausible_on_the_bench(case_id: str) -> None:
    case = next(one for one in VERIFIED if one["id"] == case_id)

    assert "implausible" in run("deviation_of_computed", *line(case))["warnings"][0]
