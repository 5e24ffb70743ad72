"""Carries the recipes out on each set of values: declared, donor, as built; in order of need, once each, correlation kept."""

from __future__ import annotations

import gc
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from dossier.figures.carry_out import carry_out
from dossier.figures.figure import Figure, Range
from dossier.figures.taking import Found, Set
from dossier.model.forms.measurements import Role
from dossier.model.quantity import many_at_once
from dossier.model.results import Tags, Value, Worked, at_once, tags_id

_OWN = {Role.AS_BUILT: (), Role.DECLARED: (Role.DECLARED,), Role.DONOR: (Role.DONOR,)}
"""A set is worked out only where at least one input is its own; the as-built set always."""

MANY = 48
"""From so many sets of values on, a recipe is worked out on all of them at once; the demo builds never come to it."""
Pool = dict[tuple[Role, str], list[Value]]


def work_out(values: Iterable[Value], recipes: Iterable[Figure], strokes: str, bench: bool = False) -> tuple[Worked, ...]:
    """Every recipe on every set of values that it has inputs for. `strokes` is "2" or "4": figures of the other kind are left out.

    `bench`: work out those, too, that no sheet of a build shows.
    """
    with _collector_at_rest():
        return tuple(_in_order(values, recipes, strokes, bench))


def _in_order(values: Iterable[Value], recipes: Iterable[Figure], strokes: str, bench: bool) -> list[Worked]:
    pool: Pool = {}
    for value in values:
        pool.setdefault((value.role, value.name), []).append(value)
    fitting = [recipe for recipe in in_order_of_need(recipes) if recipe.strokes in ("both", strokes) and (bench or not recipe.for_bench)]
    taken_in = {one.takes for recipe in fitting for one in recipe.inputs}
    others = {} if bench else {recipe.name: recipe for recipe in fitting}
    out: list[Worked] = []
    for role in (Role.DECLARED, Role.DONOR, Role.AS_BUILT):
        for recipe in fitting:
            if recipe.compares and role is not Role.AS_BUILT:
                continue
            found = _all_of(Found(recipe, role, pool, others), role, strokes)
            out += found
            if recipe.name in taken_in and (as_values := [_as_value(one) for one in found if one.value is not None]):
                pool.setdefault((role, recipe.name), []).extend(as_values)
    return out


@contextmanager
def _collector_at_rest() -> Iterator[None]:
    """Everything made here stays, and the collector would walk all of it again and again: half the time of ten thousand figures."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def in_order_of_need(recipes: Iterable[Figure]) -> list[Figure]:
    """Recipes sorted so that a figure comes after those it takes in. ValueError on a ring."""
    left = {recipe.name: recipe for recipe in recipes}
    done: list[Figure] = []
    while left:
        ready = [recipe for recipe in left.values() if not any(one.takes in left for one in recipe.inputs if one.takes != recipe.name)]
        if not ready:
            raise ValueError(f"these figures need one another in a ring: {sorted(left)}")
        done.extend(left.pop(recipe.name) for recipe in ready)
    return done


def _all_of(found: Found, role: Role, strokes: str) -> list[Worked]:
    recipe = found.recipe
    own = _OWN[role]
    if not any(value.role in own if own else True for values in found.values.values() for value in values):
        return []
    usual = recipe.usual_for(strokes)
    tags = found.tags()
    ready = [found.at(at) for at in tags]
    numbers = _all_numbers(recipe, ready) if len(ready) >= MANY else [None] * len(ready)
    out = [_one(recipe, role, at, one, usual, number) for at, one, number in zip(tags, ready, numbers, strict=True)]
    return [one for one in out if not ((own and one.value is None) or (recipe.quiet and one.missing))]


def _all_numbers(recipe: Figure, ready: Sequence[Set]) -> Sequence[Any]:
    """The results of many sets at once where the recipe is smooth and every input single; None for those to be worked out singly."""
    names = list(ready[0].arguments)
    if recipe.picks or not recipe.closed or any(one.over or one.words for one in recipe.inputs):
        return [None] * len(ready)
    if any(one.missing or list(one.arguments) != names for one in ready):
        return [None] * len(ready)
    return many_at_once(recipe.work, [one.arguments for one in ready])


def _one(recipe: Figure, role: Role, at: Tags, ready: Set, usual: Range, number: Any) -> Worked:
    facts = recipe.printed.copy()
    facts["id"], facts["role"], facts["tags"], facts["usual"] = tags_id(recipe.name, at), role, at, usual
    facts["inputs"], facts["missing"], facts["unstated"], facts["audience"] = ready.inputs, ready.missing, ready.unstated, ready.audience
    return at_once(Worked, facts) if ready.missing else carry_out(recipe, facts, ready.arguments, ready.coarse, number)


def _as_value(one: Worked) -> Value:
    return Value(
        name=one.name, tags=one.tags, role=one.role, number=one.number, unit=one.unit, shown=one.value or 0.0, u=one.u, title=one.title,
        audience=one.audience, of=one.id, decimals=one.decimals, unstated=one.unstated,
    )  # fmt: skip
