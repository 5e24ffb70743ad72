"""What must hold for each figure in the registry, whatever it is."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pint
import pytest

from dossier.figures.figure import FIGURES, Figure
from dossier.figures.work_out import in_order_of_need
from dossier.model import formula, notation
from dossier.model.quantity import Quantity, from_si
from dossier.model.units import UNITS

RECIPES = list(FIGURES.gather())
ureg = pint.UnitRegistry()
SI = ("m", "kg", "s", "K", "rad")


def given(recipe: Figure) -> dict[str, tuple[Quantity, ...]]:
    out = {}
    for one in recipe.inputs:
        if one.param in recipe.example.given:
            raw = recipe.example.given[one.param]
            if one.words:
                out[one.param] = ()
                continue
            texts = raw if isinstance(raw, tuple) else (raw,)
            out[one.param] = tuple(notation.quantity(text, one.measured_in.kind) for text in texts)
    return out


def arguments(recipe: Figure, wrap=lambda quantity: quantity.si) -> dict[str, object]:
    out = {}
    for one in recipe.inputs:
        if one.param in given(recipe):
            if one.words:
                out[one.param] = recipe.example.given[one.param]
                continue
            values = tuple(wrap(quantity) for quantity in given(recipe)[one.param])
            out[one.param] = values if one.over else values[0]
    return out


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda r: r.name)
def test_the_published_example_comes_out(recipe: Figure) -> None:
    expected = notation.quantity(recipe.example.gives, recipe.measured_in.kind)
    within = recipe.example.within or 0.5 * 10 ** -len((re.search(r"\.(\d+)", recipe.example.gives) or [" ", ""])[1])

    value = from_si(recipe.work(**arguments(recipe)), UNITS[expected.unit.sign])

    assert value == pytest.approx(float(expected.number), abs=within * (1 + 1e-9))


@pytest.mark.parametrize("recipe", [r for r in RECIPES if r.closed], ids=lambda r: r.name)
def test_the_formula_printed_is_the_formula_worked(recipe: Figure) -> None:
    scope: dict[str, object] = {}
    for one in recipe.inputs:
        if one.param in given(recipe):
            radians = one.measured_in.kind == "angle"
            values = [q.si if radians else from_si(q.si, one.measured_in) for q in given(recipe)[one.param]]
            scope[one.symbol] = values if one.over else values[0]
    worked = recipe.work(**arguments(recipe))

    printed = formula.evaluate(recipe.formula, scope)

    assert printed == pytest.approx(worked if recipe.measured_in.kind == "angle" else from_si(worked, recipe.measured_in), rel=1e-9)


@pytest.mark.parametrize("recipe", [r for r in RECIPES if not r.tabled], ids=lambda r: r.name)
def test_its_dimensions_are_proved_by_a_units_library(recipe: Figure) -> None:
    def wrap(quantity: Quantity) -> object:
        unit = ureg.Unit("dimensionless")
        for base, power in zip(SI, quantity.unit.dimension, strict=True):
            unit = unit * ureg.Unit(base) ** power
        return ureg.Quantity(quantity.si, unit)

    result = recipe.work(**arguments(recipe, wrap))

    wanted = ureg.Unit("dimensionless")
    for base, power in zip(SI, recipe.measured_in.dimension, strict=True):
        wanted = wanted * ureg.Unit(base) ** power
    assert ureg.Quantity(1, result.units if hasattr(result, "units") else "dimensionless").dimensionality == wanted.dimensionality


def test_no_ring_among_figures() -> None:
    assert len(in_order_of_need(RECIPES)) == len(RECIPES)


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda r: r.name)
def test_it_says_source_flag_and_bounds(recipe: Figure) -> None:
    assert recipe.source and recipe.example.source and recipe.work.__doc__
    assert recipe.title[0].isupper() and recipe.subject
    bounded = bool(recipe.usual_by_strokes) or recipe.usual != (None, None)
    assert recipe.usual_source or not bounded
    # what rests on memory says besides what was looked for and found or not found
    assert recipe.usual_source.strip() != "from memory"


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda r: r.name)
def test_its_formula_can_be_shown_with_symbols_and_with_numbers(recipe: Figure) -> None:
    numbers = {one.symbol: ("1.5", "2.5") if one.over else ("1.5",) for one in recipe.inputs}

    for shown in (formula.plain(recipe.formula), formula.plain(recipe.formula, numbers)):
        assert shown and "**" not in shown and shown.count("(") == shown.count(")")
    for shown in (formula.mathml(recipe.formula), formula.mathml(recipe.formula, numbers)):
        ElementTree.fromstring(shown)


def test_the_square_of_a_sum_is_not_shown_as_the_sum_of_squares() -> None:
    assert formula.plain("y = sqrt(sum(m*r)**2)") == "y = √((Σ m·r)²)"
    assert formula.plain("y = sum(m**2)") == "y = Σ m²"
    assert "<mo>(</mo>" in formula.mathml("y = sum(m*r)**2")
