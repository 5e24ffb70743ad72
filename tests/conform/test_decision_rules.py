"""The decision rules against the same rules worked out in exact decimal arithmetic."""

from dataclasses import replace
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dossier.conform.rules import rule_named
from dossier.model.forms.workshop import HouseRules
from dossier.model.results import WORST_FIRST, Outcome
from tests.conform.small_build import build, item, reading, verdict

STEPS = st.integers(0, 400)
UNITS = {"mm": "mm", "in": "in", "kg": "kg", "bar": "bar", "°C": "°C", "°F": "°F", "N·m": "N·m", "kW": "kW", "%": "%"}


def exactly(y: Decimal, u: Decimal, lower: Decimal | None, upper: Decimal | None) -> Outcome:
    """LL + U <= y <= UL - U conforms; y < LL - U or y > UL + U does not; otherwise it cannot be decided (ISO 14253-1 as paraphrased)."""
    if (lower is None or lower + u <= y) and (upper is None or y <= upper - u):
        return Outcome.CONFORMS
    if (lower is not None and y < lower - u) or (upper is not None and y > upper + u):
        return Outcome.FAILS
    return Outcome.UNDECIDED


def _limits(lower, upper, unit):
    if lower is None:
        return f"at most {upper} {unit}"
    return f"at least {lower} {unit}" if upper is None else f"{lower} to {upper} {unit}"


@given(
    base=st.integers(0, 5000), low=STEPS, width=STEPS, at=st.integers(0, 1200), u=STEPS, decimals=st.integers(0, 4),
    sides=st.sampled_from(("both", "lower", "upper")), unit=st.sampled_from(sorted(UNITS)),
)  # fmt: skip
def test_the_guard_band_decides_as_exact_arithmetic_does(base, low, width, at, u, decimals, sides, unit):
    step = Decimal(1).scaleb(-decimals)
    lower, upper = ((base + 400 + low) * step, (base + 400 + low + width) * step)
    y, expanded = (base + at) * step, u * step
    lower, upper = (None if sides == "upper" else lower), (None if sides == "lower" else upper)

    found = verdict(item(said=None, allowed=_limits(lower, upper, unit)), reading(f"{y} ± {expanded} {unit}"))

    assert found.raw is exactly(y, expanded, lower, upper)


@given(st.lists(st.tuples(st.integers(-60, 60), st.integers(0, 30)), min_size=1, max_size=4))
def test_another_reading_never_makes_a_verdict_better(pairs):
    readings = [reading(f"{Decimal(3000 + y).scaleb(-2)} ± {Decimal(u).scaleb(-2)} mm", str(n)) for n, (y, u) in enumerate(pairs)]
    ranks = [WORST_FIRST.index(verdict(item(), *readings[: n + 1]).raw) for n in range(len(readings))]

    assert ranks == sorted(ranks, reverse=True)


@given(y=st.integers(2900, 3100), u=st.integers(1, 40))
def test_a_better_instrument_never_unsettles_a_verdict(y, u):
    wide, fine = (verdict(item(), reading(f"{Decimal(y).scaleb(-2)} ± {Decimal(v).scaleb(-3)} mm")).raw for v in (u, max(1, u // 2)))

    assert wide in (fine, Outcome.UNDECIDED)


@given(y=st.integers(2900, 3100), u=st.integers(1, 40))
def test_what_conforms_has_a_probability_above_and_what_fails_one_below_the_risk_of_two_standard_uncertainties(y, u):
    found = verdict(item(), reading(f"{Decimal(y).scaleb(-2)} ± {Decimal(u).scaleb(-3)} mm"))

    chance = found.judged[0].probability
    # both tails beyond two standard uncertainties hold 4.55 per cent (normal distribution, GUM table G.1)
    assert chance >= 0.9544 if found.raw is Outcome.CONFORMS else True
    assert chance <= 0.0228 if found.raw is Outcome.FAILS else True


@pytest.mark.parametrize("rule", ["guard band", "simple acceptance"])
def test_the_rule_and_its_source_are_named_with_the_verdict(rule):
    found = verdict(item(rule=rule), reading("30.00 ± 0.01 mm"))

    assert found.rule.startswith(rule)
    assert "ILAC-G8:09/2019" in found.source


@pytest.mark.parametrize(
    ("house", "own", "named"),
    [
        (None, None, "guard band"),
        ("simple acceptance", None, "simple acceptance"),
        ("simple acceptance", "guard band", "guard band"),
        ("guard band", "simple acceptance", "simple acceptance"),
    ],
)
def test_an_item_is_judged_by_its_own_rule_else_by_the_house_rule_else_by_the_guard_band(house, own, named):
    one = item(rule=own)
    made = build(one)
    if house:
        made = replace(made, workshop=replace(made.workshop, house_rules=HouseRules(decision_rule=house)))

    assert rule_named(made, one) == named
