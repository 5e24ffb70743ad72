"""Carries the recipes out on each set of values: declared, donor, as built; in order of need, once each, correlation kept."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from dossier.figures.carry_out import carry_out
from dossier.figures.figure import Figure, Input
from dossier.model.audience import Audience
from dossier.model.forms.measurements import Role
from dossier.model.notation import quantity
from dossier.model.quantity import from_si, mean, nominal, variable
from dossier.model.results import InputUsed, Missing, Tags, Value, Worked, tags_id
from dossier.model.units import UNITS

_FALLBACK = {
    Role.AS_BUILT: (Role.AS_BUILT, Role.NOTED, Role.DECLARED),
    Role.DECLARED: (Role.DECLARED, Role.NOTED),
    Role.DONOR: (Role.DONOR, Role.NOTED, Role.DECLARED),
}
_OWN = {Role.AS_BUILT: (), Role.DECLARED: (Role.DECLARED,), Role.DONOR: (Role.DONOR,)}
"""A set is worked out only where at least one input is its own; the as-built set always."""

Pool = dict[tuple[Role, str], list[Value]]


def work_out(values: Iterable[Value], recipes: Iterable[Figure], strokes: str, bench: bool = False) -> tuple[Worked, ...]:
    """Every recipe on every set of values that it has inputs for. `strokes` is "2" or "4": figures of the other kind are left out.

    `bench`: work out those, too, that no sheet of a build shows.
    """
    pool: Pool = {}
    for value in values:
        pool.setdefault((value.role, value.name), []).append(value)
    fitting = [recipe for recipe in in_order_of_need(recipes) if recipe.strokes in ("both", strokes) and (bench or not recipe.for_bench)]
    out = []
    for role in (Role.DECLARED, Role.DONOR, Role.AS_BUILT):
        for recipe in fitting:
            if recipe.compares and role is not Role.AS_BUILT:
                continue
            for one in _all_of(recipe, role, pool, strokes):
                out.append(one)
                if one.value is not None:
                    pool.setdefault((role, recipe.name), []).append(_as_value(one))
    return tuple(out)


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


def _all_of(recipe: Figure, role: Role, pool: Pool, strokes: str) -> list[Worked]:
    found = {one.param: _candidates(one, recipe, role, pool) for one in recipe.inputs}
    if not any(found.values()):
        return []
    own = _OWN[role]
    if own and not any(value.role in own for values in found.values() for value in values):
        return []
    axes = [_tags_along(axis, recipe, found) for axis in recipe.per]
    out = []
    for tags in itertools.product(*axes):
        at = tuple(tag for tag in tags if tag is not None)
        if not _occurs(recipe, at, found):
            continue
        one = _one(recipe, role, at, found, strokes)
        if not ((own and one.value is None) or (recipe.quiet and one.missing)):
            out.append(one)
    return out


def _occurs(recipe: Figure, at: Tags, found: Mapping[str, Sequence[Value]]) -> bool:
    """Whether the tags belong together: where all values of an input bear several of the axes, only their combinations count."""
    for values in found.values():
        sets = [{tag for tag in value.tags if tag[0] in recipe.per} for value in values]
        if sets and all(len(tags) > 1 for tags in sets) and not any(tags <= set(at) for tags in sets):
            return False
    return True


def _candidates(one: Input, recipe: Figure, role: Role, pool: Pool) -> list[Value]:
    for each in (one.role,) if one.role is not None else _FALLBACK[role]:
        values = [value for value in pool.get((each, one.takes), []) if set(one.at) <= set(value.tags)]
        written = [value for value in values if not value.of]
        if values:
            here = [replace(value, tags=tuple(tag for tag in value.tags if tag not in one.at)) for value in written or values]
            return _moved_back(here, one.next) if one.next else here
    return []


def _moved_back(values: Sequence[Value], axis: str) -> list[Value]:
    """The values each under the tag before its own along the axis; the first falls out."""
    order = list(dict.fromkeys(tag for value in values for tag in value.tags if tag[0] == axis))
    if all(name.isdigit() for _, name in order):
        order.sort(key=lambda tag: int(tag[1]))  # gears count upwards, in whatever order they were written
    before = {tag: earlier for earlier, tag in itertools.pairwise(order)}
    moved = [value for value in values if any(tag in before for tag in value.tags)]
    return [replace(value, tags=tuple(before.get(tag, tag) for tag in value.tags)) for value in moved]


def _tags_along(axis: str, recipe: Figure, found: Mapping[str, Sequence[Value]]) -> Sequence[tuple[str, str] | None]:
    """The tags an axis takes: None alone where there are none, None as well where an input stands there both with and without a tag."""
    taken = [one for one in recipe.inputs if axis not in one.gathers]
    following = [one for one in taken if one.next == axis and found[one.param]]
    tags: dict[tuple[str, str] | None, None] = {}
    for one in following or taken:
        each = [[tag for tag in value.tags if tag[0] == axis] for value in found[one.param]]
        if any(each) and not all(each):
            tags[None] = None
        tags.update(dict.fromkeys(tag for some in each for tag in some))
    return list(tags) or [None]


def _one(recipe: Figure, role: Role, at: Tags, found: Mapping[str, Sequence[Value]], strokes: str) -> Worked:
    used: dict[str, tuple[Value, ...]] = {}
    missing = []
    for one in recipe.inputs:
        values = _matching(one, at, found[one.param]) or _constant(one)
        if not values and not one.optional:
            missing.append(Missing(one.takes, one.title, one.file))
        used[one.param] = values
    blank = _blank(recipe, role, at, [_used(one, used[one.param]) for one in recipe.inputs if used[one.param]])
    if missing:
        return replace(blank, missing=tuple(missing))
    arguments = {one.param: _argument(one, used[one.param]) for one in recipe.inputs if used[one.param]}
    return carry_out(recipe, blank, arguments, strokes)


def _matching(one: Input, at: Tags, values: Sequence[Value]) -> tuple[Value, ...]:
    gathered = one.gathers
    fitting = []
    for value in values:
        free = [tag for tag in value.tags if tag[0] not in gathered]
        if all(tag in at for tag in free):
            fitting.append(value)
    if gathered or len(fitting) <= 1:
        return tuple(fitting)
    most = max(len(value.tags) for value in fitting)
    closest = [value for value in fitting if len(value.tags) == most]
    return tuple(closest[:1])


def _constant(one: Input) -> tuple[Value, ...]:
    if not one.constant:
        return ()
    taken = quantity(one.constant, one.measured_in.kind)
    value = Value(
        name=one.takes, tags=(), role=Role.NOTED, number=variable(taken.si, taken.u_si, one.title), unit=taken.unit.sign,
        shown=float(taken.number), u=float(taken.u or 0), decimals=taken.decimals, title=one.title, assumed="nobody wrote it down",
        audience=Audience.PUBLIC,
    )  # fmt: skip
    return (value,)


def _argument(one: Input, values: tuple[Value, ...]) -> Any:
    if one.words:
        return values[0].number
    if one.over:
        return tuple(value.number for value in values)
    return mean([value.number for value in values])


def _used(one: Input, values: tuple[Value, ...]) -> InputUsed:
    if one.words:
        return InputUsed(one.symbol, one.title, "", values, (), tuple(str(value.number) for value in values))
    unit = one.measured_in
    shown = tuple(from_si(nominal(value.number), unit) for value in values)
    printed = tuple(_printed(x, value, one.unit) for x, value in zip(shown, values, strict=True))
    if one.mean and len(values) > 1:
        return InputUsed(one.symbol, one.title, one.unit, values, shown, (_mean_printed(shown, values),))
    return InputUsed(one.symbol, one.title, one.unit, values, shown, printed)


def _printed(x: float, value: Value, unit: str) -> str:
    if UNITS[unit] == UNITS.get(value.unit):
        return f"{x:.{value.decimals}f}"
    return f"{x:.6g}"


def _mean_printed(shown: tuple[float, ...], values: tuple[Value, ...]) -> str:
    return f"{sum(shown) / len(shown):.{max(value.decimals for value in values) + 1}f}"


def _blank(recipe: Figure, role: Role, at: Tags, inputs: list[InputUsed]) -> Worked:
    values = [value for one in inputs for value in one.values]
    return Worked(
        id=tags_id(recipe.name, at), name=recipe.name, title=recipe.title, symbol=recipe.symbol, unit=recipe.measured_in.sign, role=role,
        tags=at, value=None, u=None, decimals=recipe.decimals, formula=recipe.formula, inputs=tuple(inputs), source=recipe.source,
        flag=recipe.flag, usual_source=recipe.usual_source, impossible=recipe.impossible, basis=recipe.basis, subject=recipe.subject,
        strokes=recipe.strokes,
        audience=max((value.audience for value in values), default=Audience.PUBLIC), unstated=_unstated(recipe, inputs),
    )  # fmt: skip


def _unstated(recipe: Figure, inputs: list[InputUsed]) -> tuple[str, ...]:
    exact = {one.symbol for one in recipe.inputs if one.exact}
    names: dict[str, None] = {}
    for one in inputs:
        if one.symbol in exact:
            continue
        for value in one.values:
            names.update(dict.fromkeys(value.unstated))
            if value.u is None and not value.of:
                names[value.title or one.title] = None
    return tuple(names)


def _as_value(one: Worked) -> Value:
    return Value(
        name=one.name, tags=one.tags, role=one.role, number=one.number, unit=one.unit, shown=one.value or 0.0, u=one.u, title=one.title,
        audience=one.audience, of=one.id, decimals=one.decimals, unstated=one.unstated,
    )  # fmt: skip
