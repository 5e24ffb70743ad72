"""Many sets of values worked out at once give what each gives by itself."""

from __future__ import annotations

import math

import pytest

from dossier.figures.figure import FIGURES, Figure
from dossier.figures.work_out import MANY, work_out
from dossier.model.forms.measurements import Role
from dossier.model.quantity import contributions, many_at_once, nominal, variable
from dossier.model.results import Value, Worked
from tests.figures.test_every_figure import arguments

SMOOTH = [one for one in FIGURES.gather() if one.closed and not one.picks and not any(put.over or put.words for put in one.inputs)]


@pytest.mark.parametrize("recipe", SMOOTH, ids=lambda one: one.name)
def test_a_column_of_examples_gives_what_each_gives_alone_in_value_and_budget(recipe: Figure) -> None:
    given = arguments(recipe)
    exact = {one.param for one in recipe.inputs if one.exact}
    rows = [
        {name: variable(x * (1 + n * 1e-6), None if name in exact else abs(x) * 1e-3, name) for name, x in given.items()} for n in range(5)
    ]

    many = many_at_once(recipe.work, rows)

    for row, found in zip(rows, many, strict=True):
        if found is None:
            continue  # not every function can be taken through columns; those are worked out one by one
        alone = recipe.work(**row)
        assert nominal(found) == pytest.approx(nominal(alone), rel=1e-12)
        whole = math.hypot(*contributions(alone).values())
        assert contributions(found) == pytest.approx(contributions(alone), rel=1e-9, abs=1e-9 * whole)


def test_most_closed_forms_can_be_taken_through_columns() -> None:
    taken = 0
    for recipe in SMOOTH:
        row = {name: variable(x, abs(x) * 1e-3, name) for name, x in arguments(recipe).items()}
        taken += many_at_once(recipe.work, [row, row])[0] is not None

    assert taken > 0.8 * len(SMOOTH)


def value(name: str, number: float, u: float, tag: str) -> Value:
    return Value(
        name=name, tags=(("cylinder", tag),), role=Role.AS_BUILT, number=variable(number, u, f"{name} {tag}"), unit="m", shown=number, u=u, title=name
    )


def rods(count: int) -> dict[str, Worked]:
    """Bores and pistons of an engine of so many cylinders, the last with a piston larger than its bore."""
    values = []
    for n in range(count):
        values += [value("bore", 0.062 + n * 1e-7, 4e-6, str(n)), value("piston_diameter", 0.0619 if n < count - 1 else 0.0625, 3e-6, str(n))]
    return {one.id: one for one in work_out(values, [FIGURES["piston_clearance"], FIGURES["bore_stroke_ratio"]], "4")}


def test_figures_of_many_cylinders_are_those_of_few() -> None:
    many, few = rods(MANY + 2), rods(4)

    for n in range(3):
        here, there = many[f"piston_clearance.{n}"], few[f"piston_clearance.{n}"]
        assert (here.value, here.u) == (pytest.approx(there.value), pytest.approx(there.u))
        assert [share.title for share in here.shares] == [share.title for share in there.shares]


def test_an_impossible_one_among_many_is_found_by_itself() -> None:
    many = rods(MANY + 2)

    last = many[f"piston_clearance.{MANY + 1}"]
    assert last.value is None
    assert [warned.code for warned in last.warnings] == ["figure-impossible"]


def test_what_two_arguments_share_stays_shared() -> None:
    bore = variable(62.0, 0.004, "bore")

    found = many_at_once(lambda a, b: a - b, [{"a": bore, "b": bore}] * 3)

    assert contributions(found[0]) == {"bore": 0}


def test_a_function_with_a_corner_or_an_answer_for_one_only_is_left_to_be_worked_out_singly() -> None:
    rows = [{"x": variable(2.0, 0.1, "x")}, {"x": variable(-2.0, 0.1, "x")}]

    assert many_at_once(lambda x: abs(x), rows) == [None, None]
    assert many_at_once(lambda x: x if x > 0 else -x, rows) == [None, None]
    assert many_at_once(lambda x: 3.0, rows) == [None, None]
