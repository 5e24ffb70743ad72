"""One figure worked out on the bench, from what a person types: `swept_volume bore='62 mm' stroke='57.8 mm' cylinders=2`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from dossier.figures import typed
from dossier.figures.figure import FIGURES, Figure, Input
from dossier.figures.value import of_quantity, with_uncertainty
from dossier.figures.work_out import work_out
from dossier.model.forms.measurements import Role
from dossier.model.notation import Unreadable
from dossier.model.problems import Place, Problem, Severity, did_you_mean
from dossier.model.quantity import K
from dossier.model.results import Change, InputUsed, Missing, Tags, Value, Worked

TYPED = Place("command line")
SAME = 1e-12
"""Two results closer than this share of their size are the same figure."""
KINDS = {"2": "two-stroke", "4": "four-stroke"}
_STANDARD = "u_"


def bench_list() -> list[Figure]:
    """All recipes, by name."""
    return sorted(FIGURES.gather(), key=lambda recipe: recipe.name)


def on_the_bench(name: str, words: Sequence[str]) -> tuple[list[Worked], list[Problem]]:
    """Work out the figure `name` from `key=value` words; a later word for the same key replaces an earlier one unless values are gathered.

    `name` is a figure's own or another that it goes by; `u_name` asks for its standard uncertainty, and `u_key=` states that of an input.
    Returns the worked figure (one for each of several where the inputs say so) and problems: unknown names, unreadable values, missing
    inputs; beside a worked figure only notes. Of several figures of one name the one counts that the words make most of.
    """
    called = _called(name)
    wants_u = not called and name.startswith(_STANDARD)
    called = called or (_called(name.removeprefix(_STANDARD)) if wants_u else [])
    if not called:
        known = [one for recipe in FIGURES.gather() for one in (recipe.name, *recipe.also)]
        return [], [Problem("id-unknown", f"there is no figure {name!r}", TYPED, did_you_mean(name, known, "`dossier figure --list` names them all"))]
    tries = [_Try(recipe, words) for recipe in called]
    best = max(tries, key=lambda one: one.worth)
    return [_standard(one) for one in best.found] if wants_u else best.found, best.problems


def instead_on_the_bench(name: str, words: Sequence[str], others: Sequence[str]) -> tuple[list[Change], list[Problem]]:
    """The figure `name`, and after it every other that the words give and that changes, before and after `others` stand in their place."""
    before, problems = on_the_bench(name, words)
    if not before:
        return [], problems
    keys = {other.partition("=")[0] for other in others}
    replaced = [*(word for word in words if word.partition("=")[0] not in keys), *others]
    after, faults = on_the_bench(name, replaced)
    if not after:
        return [], faults
    then = {one.id: one for one in after}
    asked = [Change(one, then[one.id]) for one in before if one.id in then]
    recipe = FIGURES[before[0].name]
    now, later = (_all_of(recipe, some) for some in (words, replaced))
    changed = [Change(now.get(id), one) for id, one in later.items() if one.name != recipe.name and differs(now.get(id), one)]
    return asked + changed, problems


def _all_of(recipe: Figure, words: Sequence[str]) -> dict[str, Worked]:
    """Every figure of a build's sheets that the values typed for one figure give, and those that it takes in, by id."""
    bench = _Bench(recipe)
    bench.inputs = {**{one.takes: one for each in FIGURES.gather() for one in each.inputs}, **bench.inputs}
    bench.take(words)
    return {one.id: one for one in (*bench.work(needed_by(recipe)), *bench.work(list(FIGURES.gather()), bench=False))}


def differs(before: Worked | None, after: Worked) -> bool:
    """Whether a figure has another value after than before, or one where it had none, or none where it had one."""
    if after.value is None or before is None or before.value is None:
        return (after.value is None) != (before is None or before.value is None)
    return abs(after.value - before.value) > SAME * max(abs(after.value), abs(before.value))


def _called(name: str) -> list[Figure]:
    return [*([FIGURES[name]] if name in FIGURES else []), *(one for one in FIGURES.gather() if name in one.also and one.name != name)]


def _standard(one: Worked) -> Worked:
    u = None if one.u is None else one.u / K
    return replace(one, title=f"Standard uncertainty of {one.title[0].lower()}{one.title[1:]}", value=u, u=None, shares=(), warnings=())


def needed_by(recipe: Figure) -> list[Figure]:
    """The recipe and all those it takes in, directly or through others."""
    wanted, stack = {}, [recipe]
    while stack:
        one = stack.pop()
        if one.name not in wanted:
            wanted[one.name] = one
            stack += [FIGURES[each.takes] for each in one.inputs if each.takes in FIGURES]
    return list(wanted.values())


def inputs_for(recipe: Figure) -> dict[str, Input]:
    """Every name under which something can be typed for a figure, its own inputs before those of the figures that it takes in."""
    own = {name: one for one in recipe.inputs for name in (*one.also, one.param)}
    others = {name: one for each in needed_by(recipe) for one in each.inputs for name in (*one.also, one.takes)}
    return {**others, **own}


class _Try:
    """One recipe tried on the words."""

    def __init__(self, recipe: Figure, words: Sequence[str]) -> None:
        bench = _Bench(recipe)
        self.found: list[Worked] = []
        self.problems = bench.take(words)
        if not any(one.severity is Severity.ERROR for one in self.problems):
            own = [one for one in bench.work(needed_by(recipe)) if one.name == recipe.name]
            whole = [one for one in own if not one.missing]
            self.found = [bench.in_their_unit(one) for one in whole]
            self.problems += [] if whole else _absent(recipe, own)
        self.worth = (bool(self.found), any(one.value is not None for one in self.found), bench.used)


class _Bench:
    """Takes in words for one recipe and works it out."""

    def __init__(self, recipe: Figure) -> None:
        self.recipe = recipe
        self.inputs = inputs_for(recipe)
        self.values: dict[tuple[str, Role], list[Value]] = {}
        self.strokes = recipe.strokes if recipe.strokes != "both" else "4"
        self.unit = ""
        self.used = 0

    def take(self, words: Sequence[str]) -> list[Problem]:
        """Read the words into values; problems, of which those that are no errors stop nothing."""
        problems: list[Problem] = []
        for key, text in self._pairs(words, problems):
            one = self.inputs.get(key)
            if one is None:
                problems += self._other(key, text)
            elif not (one.optional and text.split(" ")[0] in typed.ENDLESS):
                self.used += 1
                problems += self._one(one, text)
        return problems

    def work(self, recipes: Sequence[Figure], bench: bool = True) -> list[Worked]:
        """The recipes on the values taken in, as built."""
        values = [one for many in self.values.values() for one in many]
        return [one for one in work_out(values, recipes, self.strokes, bench=bench) if one.role is Role.AS_BUILT]

    def _pairs(self, words: Sequence[str], problems: list[Problem]) -> list[tuple[str, str]]:
        """Keys and texts, lists taken apart, and where inputs may stand in any unit, all brought to one."""
        pairs = []
        for word in words:
            key, equals, text = word.partition("=")
            if not equals:
                problems.append(Problem("value-form", f"{word!r} is not name=value", TYPED, "write as in bore='62.0 mm'"))
            pairs += [(key, part) for part in typed.many(text)] if equals else []
        if self.recipe.unit_as in ("own", "coherent"):
            return pairs
        try:
            numbers, self.unit = typed.in_one_unit([text for _, text in pairs])
        except Unreadable as fault:
            problems.append(Problem(fault.code, fault.message, TYPED, fault.instead))
            return []
        return [(key, number) for (key, _), number in zip(pairs, numbers, strict=True)]

    def _other(self, key: str, text: str) -> list[Problem]:
        """A key that is no input: the kind of engine, a standard uncertainty, something for another figure, or a slip."""
        if key == "strokes":
            return self._of_strokes(text)
        if key.startswith(_STANDARD) and (one := self.inputs.get(key.removeprefix(_STANDARD))):
            return self._standard(one, text)
        if any(key in (one.param, one.takes, *one.also) for recipe in FIGURES.gather() for one in recipe.inputs):
            return [Problem("value-feeds-nothing", f"{self.recipe.name} does not need {key}", TYPED)]
        listed = did_you_mean(key, self.inputs, "it takes: " + ", ".join(self.inputs))
        return [Problem("key-unknown", f"{self.recipe.name} takes no {key!r}", TYPED, listed)]

    def _of_strokes(self, text: str) -> list[Problem]:
        if text not in KINDS:
            return [Problem("choice-unknown", f"there is no engine of {text!r} strokes here", TYPED, "write strokes=2 or strokes=4")]
        if self.recipe.strokes not in ("both", text):
            said = f"{self.recipe.name} is a figure of the {KINDS[self.recipe.strokes]}; a {KINDS[text]} has no such thing"
            return [Problem("strokes-other", said, TYPED, "take the figure of the engine that it is")]
        self.strokes = "2" if text == "2" else "4"
        return []

    def _one(self, one: Input, text: str) -> list[Problem]:
        role = one.role or Role.AS_BUILT
        if one.words:
            said = Value(name=one.takes, tags=(), role=role, number=text, unit="", shown=0.0, u=0.0, decimals=0, title=one.title)
            self.values[(one.param, role)] = [said]
            return []
        coherent = self.recipe.unit_as == "coherent"
        try:
            read = typed.read(text, one, free=coherent)
        except Unreadable as fault:
            return [Problem(fault.code, fault.message, TYPED, fault.instead, one.param)]
        if coherent:
            self.unit = typed.coherent_sign(read.quantity.kind)
        many = self.values.setdefault((one.param, role), [])
        axis = next(iter(one.gathers), "")
        if not axis:
            many.clear()
        place = _place_along(one, self.recipe)
        tags = (*one.at, *place, *([(axis, str(len(many) + 1))] if axis else []))
        many.append(of_quantity(one.takes, read.quantity, role, tags, exact=one.exact, freedom=read.freedom))
        return []

    def _standard(self, one: Input, text: str) -> list[Problem]:
        """The standard uncertainty of an input typed before it."""
        stated = self.values.get((one.param, one.role or Role.AS_BUILT))
        try:
            read = typed.read(text, one).quantity
        except Unreadable as fault:
            return [Problem(fault.code, fault.message, TYPED, fault.instead, one.param)]
        if not stated:
            return [Problem("value-form", f"the uncertainty of {one.param} stands before its value", TYPED, f"type {one.param}= first")]
        stated[-1] = with_uncertainty(stated[-1], K * float(read.number) * read.unit.scale)
        return []

    def in_their_unit(self, one: Worked) -> Worked:
        """A figure whose inputs may stand in any unit, with that unit."""
        how = self.recipe.unit_as
        if how == "own":
            return one
        inputs = one.inputs if how == "coherent" else tuple(self._typed_in(used) for used in one.inputs)
        unit = "" if how == "none" else self.unit + ("²" if self.unit and how == "typed squared" else "")
        return replace(one, unit=unit, inputs=inputs)

    def _typed_in(self, used: InputUsed) -> InputUsed:
        return replace(used, unit=self.unit, values=tuple(replace(value, unit=self.unit) for value in used.values))


def _place_along(one: Input, recipe: Figure) -> Tags:
    """Where a figure takes a value and the one after it along an axis: first and second place."""
    if one.next:
        return ((one.next, "2"),)
    following = [other.next for other in recipe.inputs if other.next and other.takes == one.takes]
    return ((following[0], "1"),) if following else ()


def _absent(recipe: Figure, found: Iterable[Worked]) -> list[Problem]:
    names = {missing.name: missing for one in found for missing in one.missing}
    if not found:
        names = {one.param: Missing(one.takes, one.title, one.file) for one in recipe.inputs if not one.optional and not one.constant}
    needs = f"{recipe.name} needs "
    return [
        Problem("key-missing", needs + one.title[0].lower() + one.title[1:], TYPED, f"add {name}='…'; in a build it stands in {one.file}")
        for name, one in names.items()
    ]
