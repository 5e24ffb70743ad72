"""What a figure is: a pure function with title, unit, formula, inputs, source and example; without source or example it is refused."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, Literal

from dossier.model import formula as formulas
from dossier.model.forms.measurements import Role
from dossier.model.registry import Registry
from dossier.model.results import Flag, Tags
from dossier.model.units import UNITS, Unit

Range = tuple[float | None, float | None]
Strokes = Literal["both", "2", "4"]
UnitAs = Literal["own", "none", "typed", "typed squared", "coherent"]


class NoVerdict(Exception):
    """Raised by a figure that has no answer here, such as outside a published table; the text says why."""


@dataclass(frozen=True)
class Input:
    """An input of a figure.

    `param` is the function's parameter, `symbol` stands in the formula, `unit` is the formula's (the function itself gets coherent SI).
    `name` is the quantity or figure taken (default: param). `over` gathers all values along an axis into a tuple, `mean` takes their mean.
    `at` fixes tags, `role` takes the value of another role than the one being worked out. `exact` inputs are counts without uncertainty.
    Several axes to gather are written with blanks between. `next` takes the value of the tag that follows along an axis: the next gear's.
    `constant` is what is taken, and said to be taken, where nobody wrote a value down. `also` are other names for it on the bench.
    `words` goes in as text and not as a number, such as a tolerance zone.
    """

    param: str
    symbol: str
    unit: str
    title: str
    name: str = ""
    over: str = ""
    mean: str = ""
    at: Tags = ()
    role: Role | None = None
    exact: bool = False
    optional: bool = False
    file: str = "measurements.yaml"
    constant: str = ""
    also: tuple[str, ...] = ()
    next: str = ""
    words: bool = False

    @cached_property
    def gathers(self) -> tuple[str, ...]:
        """The axes along which all values are gathered."""
        return tuple((self.over or self.mean).split())

    @property
    def takes(self) -> str:
        """Name of the quantity or figure that goes in."""
        return self.name or self.param

    @cached_property
    def measured_in(self) -> Unit:
        """The unit of the formula."""
        return UNITS[self.unit]


_NEVER_BELOW = ("volume", "rotation speed", "time")
_SIZE = re.compile(
    r"bore|stroke|rod_length|wheelbase|cylinders|u|mass|(piston|rod|rider|crank|rotor)\w*_mass|\w+_pressure|"
    r"\w*(_u|_diameter|_radius|_circumference|_pitch|_teeth|_links|_laps)"
)


@dataclass(frozen=True)
class Example:
    """A worked example from outside: inputs and result as a person writes them, and where they are from."""

    given: Mapping[str, str | tuple[str, ...]]
    gives: str
    source: str
    within: float = 0.0
    """Allowed difference in the result's unit; nought: half a unit of the last digit written in `gives`."""


@dataclass(frozen=True)
class Figure:
    """A recipe: what is worked out, from what, by which formula, on whose word, and within which bounds it is to be believed."""

    name: str
    title: str
    symbol: str
    unit: str
    formula: str
    inputs: tuple[Input, ...]
    source: str
    flag: Flag
    example: Example
    work: Callable[..., Any]
    subject: str
    per: tuple[str, ...] = ()
    strokes: Strokes = "both"
    usual: Range = (None, None)
    usual_by_strokes: Mapping[str, Range] = field(default_factory=dict)
    usual_source: str = ""
    impossible: Range = (None, None)
    """Outside this the value is impossible: a problem, and no value."""
    decimals: int = 2
    basis: str = ""
    closed: bool = True
    """False where the formula printed names a root or a maximum, so that it cannot be evaluated as it stands."""
    also: tuple[str, ...] = ()
    """Other names under which it may be asked for on the bench."""
    implausible: Range = (None, None)
    """Outside this a slip of the pen is likelier than the truth."""
    says: str = ""
    """What the warning says outside the usual range, in place of `unusual, look again`."""
    nought: bool = False
    """A difference that ought to be nought: a warning where it is not so within its own uncertainty."""
    tabled: bool = False
    """Read off a published table, so that its unit is the table's and its dimension cannot be proved."""
    for_bench: bool = False
    """Worked out only where somebody asks for it, never for the sheets of a build."""
    quiet: bool = False
    """Left out of a build's sheet, rather than reported as missing, where its inputs were not written down."""

    unit_as: UnitAs = "own"
    """Else, on the bench, inputs are taken in any unit: the result has none, theirs, its square, or the coherent SI unit of their kind."""

    @cached_property
    def printed(self) -> dict[str, Any]:
        """What of it stands beside every value worked out, and room for what is worked out; to be copied, not changed."""
        names = ("name", "title", "symbol", "decimals", "formula", "source", "flag", "usual_source", "impossible", "basis", "subject", "strokes")
        room = ("id", "role", "tags", "value", "u", "number", "audience", "usual")
        empty: dict[str, Any] = {"inputs": (), "missing": (), "unstated": (), "shares": (), "warnings": ()}
        return {**{name: getattr(self, name) for name in names}, "unit": self.measured_in.sign, **dict.fromkeys(room), **empty}

    @cached_property
    def picks(self) -> bool:
        """Whether it takes the largest or smallest of several, or a size without its sign, which bends where they are near to one another."""
        return any(word in self.formula for word in ("est(", "max(", "min(", "abs("))

    @property
    def compares(self) -> bool:
        """Whether it sets one role against another; such a figure is worked out once, with the as-built set."""
        return any(one.role is not None for one in self.inputs)

    @cached_property
    def measured_in(self) -> Unit:
        """The unit of the result."""
        return UNITS[self.unit]

    @cached_property
    def never_below(self) -> tuple[tuple[str, str], ...]:
        """Parameters and titles of inputs that nothing has less than nought of: by their kind, and sizes and masses by their names."""
        numbers = [one for one in self.inputs if not one.words]
        return tuple((one.param, one.title) for one in numbers if one.measured_in.kind in _NEVER_BELOW or _SIZE.fullmatch(one.takes))

    @cached_property
    def between_limits(self) -> bool:
        """Whether it takes a lower and an upper limit."""
        return {"lower", "upper"} <= {one.param for one in self.inputs}

    def usual_for(self, strokes: str) -> Range:
        """The usual range, for two- or four-strokes where they differ."""
        return self.usual_by_strokes.get(strokes, self.usual)


FIGURES: Registry[Figure] = Registry("figure", "dossier.figures")


def figure(**facts: Any) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Declare the decorated pure function (coherent SI in, coherent SI out) as a figure; facts are the fields of Figure.

    ValueError when source or example is missing, a unit is unknown, or the formula speaks of symbols that are no inputs.
    """

    def declare(work: Callable[..., Any]) -> Callable[..., Any]:
        recipe = Figure(name=work.__name__, work=work, **facts)
        _refuse_unfit(recipe)
        FIGURES.add(recipe.name, recipe, work.__code__.co_filename)
        return work

    return declare


def _refuse_unfit(recipe: Figure) -> None:
    if not recipe.source or not recipe.example.source:
        raise ValueError(f"figure {recipe.name} has no source or no example")
    if missing := [sign for sign in (recipe.unit, *(one.unit for one in recipe.inputs)) if sign not in UNITS]:
        raise ValueError(f"figure {recipe.name} uses unknown units {missing}")
    stray = set(formulas.symbols(recipe.formula)) - {one.symbol for one in recipe.inputs}
    if recipe.closed and stray:
        raise ValueError(f"the formula of figure {recipe.name} speaks of {sorted(stray)}, which are no inputs")
