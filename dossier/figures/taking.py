"""Which values go into a figure: found on one set by name and role, looked up by what they are of, and made ready once."""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from dossier.figures.figure import Figure, Input
from dossier.model.audience import Audience
from dossier.model.forms.measurements import Role
from dossier.model.notation import quantity
from dossier.model.quantity import K, mean, variable
from dossier.model.results import InputUsed, Missing, Tags, Value, at_once

FALLBACK = {
    Role.AS_BUILT: (Role.AS_BUILT, Role.NOTED, Role.DECLARED),
    Role.DECLARED: (Role.DECLARED, Role.NOTED),
    Role.DONOR: (Role.DONOR, Role.NOTED, Role.DECLARED),
}
Pool = Mapping[tuple[Role, str], Sequence[Value]]
Bound = Tags
"""Of which of several a value is, in alphabetical order."""
Groups = dict[Bound, list[tuple[int, Value]]]
NOTHING: Bound = ()
SMALL = 0.05
"""Standard uncertainty over value: where all stay below, second-order terms of these closed forms are a hundredth of the first at most."""


class Taken(NamedTuple):
    """What one input takes: the values as they are shown, and as they are handed to the figure's function.

    `coarse`: one of them is uncertain enough for second-order terms to be looked at.
    """

    used: InputUsed
    argument: Any
    audience: Audience
    unstated: tuple[str, ...]
    coarse: bool


class Set(NamedTuple):
    """What all inputs take for one set of tags, or which of them are missing."""

    arguments: dict[str, Any]
    inputs: tuple[InputUsed, ...]
    missing: tuple[Missing, ...]
    unstated: tuple[str, ...]
    audience: Audience
    coarse: bool


class Found:
    """The values that the inputs of a recipe can take on one set; what is shared by several figures is made ready once."""

    def __init__(self, recipe: Figure, role: Role, pool: Pool, others: Mapping[str, Figure] | None = None) -> None:
        """`others`: recipes by name, so that what is missing is what somebody could write down and not what is worked out of it."""
        self.recipe, self._role, self._pool, self._others = recipe, role, pool, others or {}
        self.values = {one.param: _candidates(one, recipe, role, pool) for one in recipe.inputs}
        self._plan: list[tuple[str, Input, Groups, dict[Any, Taken | None]]] = []

    def tags(self) -> list[Tags]:
        """Of what the figure is to be worked out: one set of tags for each of several, an empty one where there is one only."""
        per = self.recipe.per
        axes = [_tags_along(axis, self.recipe, self.values) for axis in per]
        every = [tuple([tag for tag in tags if tag is not None]) for tags in itertools.product(*axes)]
        together = [bound for values in self.values.values() if len(per) > 1 and (bound := _bound_together(values, per))]
        if not together:
            return every
        # where all values of an input bear several of the axes, only their combinations count
        return [at for at in every if all(any(one in bound for one in within_of(at)) for bound in together)]

    def at(self, at: Tags) -> Set:
        """What goes in for some tags."""
        plan = self._plan = self._plan or [(one.param, one, _grouped(self.values[one.param], one.gathers), {}) for one in self.recipe.inputs]
        within = within_of(at)
        arguments: dict[str, Any] = {}
        inputs: list[InputUsed] = []
        missing: list[Missing] = []
        unstated: tuple[str, ...] = ()
        audience, coarse = Audience.PUBLIC, False
        for param, one, groups, ready in plan:
            hit = [bound for bound in within if bound in groups]
            if len(hit) == 1 == len(at) and hit[0]:  # nobody else has this one: not worth keeping
                taken = _made_ready(one, _chosen(one, [groups[hit[0]]]))
            elif (key := tuple(hit)) in ready:
                taken = ready[key]
            else:
                taken = ready[key] = _made_ready(one, _chosen(one, [groups[bound] for bound in hit]))
            if taken is None:
                missing += [] if one.optional else self._behind(one, (self.recipe.name,))
                continue
            used, arguments[param], seen, silent, rough = taken
            inputs.append(used)
            unstated += silent
            coarse = coarse or rough
            audience = audience if seen is audience else max(audience, seen)
        return Set(arguments, tuple(inputs), tuple(dict.fromkeys(missing)), tuple(dict.fromkeys(unstated)) if unstated else (), audience, coarse)

    def _behind(self, one: Input, path: tuple[str, ...]) -> list[Missing]:
        """What nobody wrote down: the input itself, or where it is worked out, what that lacks in turn."""
        itself = [Missing(one.takes, one.title, one.file)]
        other = self._others.get(one.takes)
        if other is None or one.takes in path:
            return itself
        wanting = [put for put in other.inputs if not (put.optional or put.constant or _candidates(put, other, self._role, self._pool))]
        return [lack for put in wanting for lack in self._behind(put, (*path, one.takes))] or itself


def bound_of(tags: Tags) -> Bound:
    """Tags in alphabetical order, so that the same ones are the same key."""
    return tags if len(tags) < 2 else tuple(sorted(tags))


def within_of(at: Tags) -> list[Bound]:
    """All subsets of some tags, the largest first."""
    if len(at) < 2:
        return [at, NOTHING] if at else [NOTHING]
    return [some for size in range(len(at), -1, -1) for some in itertools.combinations(sorted(at), size)]


def _candidates(one: Input, recipe: Figure, role: Role, pool: Pool) -> list[Value]:
    for each in (one.role,) if one.role is not None else FALLBACK[role]:
        values = pool.get((each, one.takes), ())
        if one.at:
            fixed = set(one.at)
            values = [replace(v, tags=tuple(tag for tag in v.tags if tag not in one.at)) for v in values if fixed <= set(v.tags)]
        if values:
            here = [value for value in values if not value.of] or list(values)
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


def _grouped(values: Sequence[Value], gathers: tuple[str, ...]) -> Groups:
    """Values by the tags that they are bound to, those along gathered axes left out, each with its place in the order written."""
    groups: Groups = {}
    for place, value in enumerate(values):
        tags = tuple([tag for tag in value.tags if tag[0] not in gathers]) if gathers else value.tags
        groups.setdefault(bound_of(tags), []).append((place, value))
    return groups


def _bound_together(values: Sequence[Value], per: tuple[str, ...]) -> set[Bound]:
    sets = [bound_of(tuple(tag for tag in value.tags if tag[0] in per)) for value in values]
    return set(sets) if sets and all(len(tags) > 1 for tags in sets) else set()


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


def _chosen(one: Input, groups: Sequence[list[tuple[int, Value]]]) -> tuple[Value, ...]:
    """All values of the groups where the input gathers, in the order written; else the first of those most closely bound."""
    if len(groups) == 1 and len(groups[0]) == 1:
        return (groups[0][0][1],)
    pairs = [pair for group in groups for pair in group]
    if one.gathers:
        return tuple(value for _, value in sorted(pairs, key=lambda pair: pair[0]))
    return (min(pairs, key=lambda pair: (-len(pair[1].tags), pair[0]))[1],) if pairs else ()


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


def _made_ready(one: Input, values: tuple[Value, ...]) -> Taken | None:
    values = values or _constant(one)
    if not values:
        return None
    argument: Any = values[0].number
    if one.over and not one.words:
        argument = tuple([value.number for value in values])
    elif len(values) > 1 and not one.words:
        argument = mean([value.number for value in values])
    audience, coarse = values[0].audience, False
    unstated: tuple[str, ...] = ()
    for value in values:
        audience = audience if value.audience is audience else max(audience, value.audience)
        u = value.u
        coarse = coarse or bool(u and u > K * SMALL * abs(value.shown))
        if not one.exact:
            unstated += (*value.unstated, value.title or one.title) if u is None and not value.of else value.unstated
    unit, gathered = "" if one.words else one.unit, bool(one.mean)
    used = at_once(InputUsed, {"symbol": one.symbol, "title": one.title, "unit": unit, "values": values, "mean": gathered})
    return Taken(used, argument, audience, unstated, coarse)


def flat(argument: Any) -> Sequence[Any]:
    """The numbers of an argument, gathered or single."""
    return argument if isinstance(argument, tuple) else (argument,)
