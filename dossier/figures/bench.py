"""One figure worked out on the bench, from what a person types: `swept_volume bore='62 mm' stroke='57.8 mm' cylinders=2`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from dossier.figures.figure import FIGURES, Figure, Input
from dossier.figures.value import of_quantity
from dossier.figures.work_out import work_out
from dossier.model.forms.measurements import Role
from dossier.model.notation import Unreadable, quantity
from dossier.model.problems import Place, Problem, did_you_mean
from dossier.model.results import Tags, Value, Worked

TYPED = Place("command line")


def bench_list() -> list[Figure]:
    """All recipes, by name."""
    return sorted(FIGURES.gather(), key=lambda recipe: recipe.name)


def on_the_bench(name: str, typed: Sequence[str]) -> tuple[list[Worked], list[Problem]]:
    """Work out the figure `name` from `key=value` words; a later word for the same key replaces an earlier one unless values are gathered.

    Returns the worked figure (one for each of several where the inputs say so) and problems: unknown names, unreadable values, missing inputs.
    """
    recipe = _named(name, [word.partition("=")[0] for word in typed])
    if recipe is None:
        known = [one.name for one in FIGURES.gather()]
        return [], [
            Problem(
                "id-unknown", f"there is no figure {name!r}", TYPED, did_you_mean(name, known, "`dossier figure --list` names them all")
            )
        ]
    inputs = _inputs_for(recipe)
    values: dict[tuple[str, Role], list[Value]] = {}
    problems = []
    for word in typed:
        key, equals, text = word.partition("=")
        if not equals:
            problems.append(Problem("value-form", f"{word!r} is not name=value", TYPED, "write as in bore='62.0 mm'"))
        elif key not in inputs:
            problems.append(
                Problem(
                    "key-unknown", f"{recipe.name} takes no {key!r}", TYPED, did_you_mean(key, inputs, "it takes: " + ", ".join(inputs))
                )
            )
        else:
            problems += _take(inputs[key], text, values, recipe)
    if problems:
        return [], problems
    strokes = recipe.strokes if recipe.strokes != "both" else "4"
    worked = work_out([one for many in values.values() for one in many], needed_by(recipe), strokes, bench=True)
    found = [one for one in worked if one.name == recipe.name and one.role is Role.AS_BUILT]
    return (found, _absent(recipe, found)) if any(not one.missing for one in found) else ([], _absent(recipe, found))


def _named(name: str, keys: Iterable[str]) -> Figure | None:
    """The figure of that name, or one that is also called so; of several, the one that takes the inputs typed."""
    called = [*([FIGURES[name]] if name in FIGURES else []), *(one for one in FIGURES.gather() if name in one.also)]
    return max(called, key=lambda one: sum(key in _inputs_for(one) for key in set(keys)), default=None)


def needed_by(recipe: Figure) -> list[Figure]:
    """The recipe and all those it takes in, directly or through others."""
    wanted, stack = {}, [recipe]
    while stack:
        one = stack.pop()
        if one.name not in wanted:
            wanted[one.name] = one
            stack += [FIGURES[each.takes] for each in one.inputs if each.takes in FIGURES]
    return list(wanted.values())


def _inputs_for(recipe: Figure) -> dict[str, Input]:
    own = {name: one for one in recipe.inputs for name in (*one.also, one.param)}
    others = {name: one for each in needed_by(recipe) for one in each.inputs for name in (*one.also, one.takes)}
    return {**others, **own}


def _take(one: Input, text: str, values: dict[tuple[str, Role], list[Value]], recipe: Figure) -> list[Problem]:
    role = one.role or Role.AS_BUILT
    if one.words:
        said = Value(name=one.takes, tags=(), role=role, number=text, unit="", shown=0.0, u=0.0, decimals=0, title=one.title)
        values[(one.param, role)] = [said]
        return []
    try:
        read = quantity(text, one.measured_in.kind)
    except Unreadable as fault:
        return [Problem(fault.code, fault.message, TYPED, fault.instead, one.param)]
    many = values.setdefault((one.param, role), [])
    axis = next(iter(one.gathers), "")
    if not axis:
        many.clear()
    place = _place_along(one, recipe)
    tags = (*one.at, *place, *([(axis, str(len(many) + 1))] if axis else []))
    many.append(of_quantity(one.takes, read, role, tags, exact=one.exact))
    return []


def _place_along(one: Input, recipe: Figure) -> Tags:
    """Where a figure takes a value and the one after it along an axis: first and second place."""
    if one.next:
        return ((one.next, "2"),)
    following = [other.next for other in recipe.inputs if other.next and other.takes == one.takes]
    return ((following[0], "1"),) if following else ()


def _absent(recipe: Figure, found: Iterable[Worked]) -> list[Problem]:
    names = {missing.name: missing.title for one in found for missing in one.missing}
    if not found:
        names = {one.param: one.title for one in recipe.inputs if not one.optional}
    return [Problem("key-missing", f"{recipe.name} needs {title.lower()}", TYPED, f"add {name}='…'") for name, title in names.items()]
