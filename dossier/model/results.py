"""What was worked out and what was decided: Value, Worked, Verdict."""

from __future__ import annotations

import datetime
import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from decimal import Decimal
from enum import Enum
from functools import cached_property, lru_cache
from typing import Any, TypeVar

from dossier.model.audience import Audience
from dossier.model.forms.measurements import Role
from dossier.model.quantity import from_si, nominal
from dossier.model.units import UNITS

T = TypeVar("T")
Tags = tuple[tuple[str, str], ...]
"""Of which of several: (axis, tag) pairs, as in (("cylinder", "left"),)."""


def tags_id(name: str, tags: Tags) -> str:
    """The id under which a value or figure is linked: `compression_ratio.left`."""
    return ".".join([name, *(_id_part(tag) for _, tag in tags)]) if tags else name


@lru_cache(4096)
def _id_part(tag: str) -> str:
    return re.sub(r"[^\w-]+", "-", tag).strip("-")


def at_once(form: type[T], facts: dict[str, Any]) -> T:
    """A frozen value made in one go: `facts` become its fields as they stand, where setting one after the other takes ten times as long.

    Fields left out keep their default; every field without one must be given, and nothing else may hold on to `facts`.
    """
    made = object.__new__(form)
    object.__setattr__(made, "__dict__", facts)
    return made


@dataclass(frozen=True)
class Share:
    """What one independent input brings to the uncertainty: expanded, in the figure's unit, and its share of the square."""

    title: str
    u: float
    share: float


@dataclass(frozen=True)
class Value:
    """A named value that figures can take in: its number in the coherent SI unit (with its own variable of uncertainty), and who says so.

    `unit` is the sign it was written in; `u` its expanded uncertainty (k = 2) in that unit, None when not stated, 0
    when it is exact (a count).
    `of` is the id of the figure it was worked out by, empty for a value that was written down.
    """

    name: str
    tags: Tags
    role: Role
    number: Any = field(compare=False)
    unit: str
    shown: float
    u: float | None = None
    decimals: int = 3
    """Digits after the point with which `shown` is printed."""
    unstated: tuple[str, ...] = ()
    """Titles of the inputs behind it whose uncertainty nobody stated."""
    title: str = ""
    by: str = ""
    with_: str = ""
    on: datetime.date | None = None
    where: str = ""
    count: int = 1
    assumed: str = ""
    photo: str = ""
    audience: Audience = Audience.WORKSHOP
    of: str = ""
    source: str = ""
    """Id of the record it comes from (item, part, session), where it has one."""
    dof: float | None = None
    """Effective degrees of freedom of `u`, None where they are infinite: nothing in it rests on a few repeats."""
    parts: tuple[Share, ...] = ()
    """What `u` is made of, where it is more than one thing: expanded, in `unit`."""


@dataclass(frozen=True)
class InputUsed:
    """An input as it went into a figure: symbol, title and unit from the recipe, and the values; `mean`: their mean went in.

    How it is shown is worked out when it is first asked for.
    """

    symbol: str
    title: str
    unit: str
    values: tuple[Value, ...]
    mean: bool = False

    @cached_property
    def shown(self) -> tuple[float, ...]:
        """Each value in `unit`; none where it is words."""
        unit = UNITS.get(self.unit)
        numbers = [value for value in self.values if not isinstance(value.number, str)]
        return tuple(one.shown if unit is None or one.unit == self.unit else from_si(nominal(one.number), unit) for one in numbers)

    @cached_property
    def printed(self) -> tuple[str, ...]:
        """The same as printed, with the digits they were written with; words as they are."""
        if not self.shown:
            return tuple(str(value.number) for value in self.values)
        if self.mean and len(self.values) > 1:
            return (f"{sum(self.shown) / len(self.shown):.{max(value.decimals for value in self.values) + 1}f}",)
        unit = UNITS.get(self.unit)
        same = [unit is None or UNITS.get(value.unit) == unit for value in self.values]
        return tuple(f"{x:.{v.decimals}f}" if own else f"{x:.6g}" for x, v, own in zip(self.shown, self.values, same, strict=True))


@dataclass(frozen=True)
class Missing:
    """An input that nobody wrote down: its name, title, and the sheet that would supply it."""

    name: str
    title: str
    file: str


class Flag(Enum):
    """On what a formula rests."""

    SEEN = "published source seen"
    MEMORY = "from memory"
    PRACTICE = "common practice, no source"
    GEOMETRY = "follows from geometry"


@dataclass(frozen=True)
class Warned:
    """Something to look at again, that is not a verdict: code and one sentence."""

    code: str
    text: str


@dataclass(frozen=True)
class Worked:
    """A recipe carried out on one set of values.

    `value` and `u` (expanded, k = 2) are in `unit`; `value` is None when an input is missing or the result is
    impossible or outside a published table.
    `unstated` names inputs whose uncertainty nobody stated, so that `u` covers the others only.
    """

    id: str
    name: str
    title: str
    symbol: str
    unit: str
    role: Role
    tags: Tags
    value: float | None
    u: float | None
    decimals: int
    formula: str
    inputs: tuple[InputUsed, ...] = ()
    shares: tuple[Share, ...] = ()
    missing: tuple[Missing, ...] = ()
    unstated: tuple[str, ...] = ()
    warnings: tuple[Warned, ...] = ()
    no_verdict: str = ""
    """Why there is no value although nothing is missing."""
    source: str = ""
    flag: Flag = Flag.MEMORY
    usual: tuple[float | None, float | None] = (None, None)
    usual_source: str = ""
    impossible: tuple[float | None, float | None] = (None, None)
    basis: str = ""
    """Lift, bore mean, assumption: whatever the value cannot be read without."""
    method: str = "linear propagation"
    dof: float | None = None
    """Effective degrees of freedom of `u`, None where they are infinite."""
    k95: float | None = None
    """Coverage factor for 95 % with so many degrees of freedom."""
    subject: str = ""
    """The sheet it belongs to: engine, drive line, chassis …"""
    strokes: str = "both"
    """Whether it is a figure of two-strokes ("2"), of four-strokes ("4"), or of both."""
    audience: Audience = Audience.WORKSHOP
    number: Any = field(default=None, compare=False, repr=False)

    @property
    def numbers(self) -> dict[str, list[str]]:
        """For each symbol the numbers to put in for it, as printed: a true minus, and angles with their sign."""
        put_in = {one.symbol: [text.replace("-", "−") + ("°" if one.unit == "°" else "") for text in one.printed] for one in self.inputs}
        for one in self.inputs:
            if any(f"{one.symbol}_{word}" in self.formula for word in ("along", "across", "mean")):
                put_in = _by_pairs(one.symbol, one.printed) | put_in
        return put_in


def _by_pairs(symbol: str, printed: Sequence[str]) -> dict[str, list[str]]:
    """Readings that come in pairs, along and across, as the formula names them: each way by itself, and the mean of each pair."""
    along, across = list(printed[::2]), list(printed[1::2])
    means = [str((Decimal(one) + Decimal(other)) / 2) for one, other in zip(along, across, strict=False)]
    return {f"{symbol}_along": along, f"{symbol}_across": across, f"{symbol}_mean": means}


@dataclass(frozen=True)
class Change:
    """A figure before and after some values were put in place of others; `before` is None where it could not be worked out."""

    before: Worked | None
    after: Worked


class Outcome(Enum):
    """The words of a verdict."""

    WITHDRAWN = "withdrawn"
    CONFLICTING = "evidence conflicting"
    NOT_MEASURED = "not yet measured"
    CONFORMS = "conforms"
    FAILS = "does not conform"
    UNDECIDED = "cannot be decided"
    UNSTATED = "uncertainty not stated"
    NO_TOLERANCE = "declared without tolerance"
    BY_AGREEMENT = "deviates by agreement"


@dataclass(frozen=True)
class Judged:
    """One reading against the limits, in the item's unit.

    `place` is its place in tolerance (per cent of half its width, 0 the middle); `probability` that of conformity.
    """

    label: str
    value: float | None
    u: float | None
    outcome: Outcome
    place: float | None = None
    probability: float | None = None
    figure: str = ""
    words: str = ""
    mean_of: int = 1
    least: float | None = None
    most: float | None = None
    as_measured: str = ""
    """The reading as it was written, where it was taken in another unit than the item's."""


@dataclass(frozen=True)
class Verdict:
    """A decision on one declared item. `raw` stands for ever; `concession` is laid over it."""

    item: str
    title: str
    raw: Outcome
    rule: str
    source: str
    revision: str
    unit: str = ""
    lower: float | None = None
    upper: float | None = None
    nominal: float | None = None
    judged: tuple[Judged, ...] = ()
    worst: int | None = None
    deviation: float | None = None
    deviation_u: float | None = None
    concession: str = ""
    lapsed: str = ""
    """Why a concession that names this item no longer holds."""
    conflict: str = ""
    assumption: str = ""
    safety: bool = False
    says: str = ""
    """One sentence for the worst-first list: what is wrong and what would decide or mend it."""
    warnings: tuple[Warned, ...] = ()
    independent_sources: int = 0
    agreement: Audience = Audience.PUBLIC
    """Who may know of the agreements that were looked at; for others the raw verdict stands alone."""
    audience: Audience = Audience.WORKSHOP

    @property
    def outcome(self) -> Outcome:
        """The verdict with any concession laid over."""
        return Outcome.BY_AGREEMENT if self.concession else self.raw


WORST_FIRST = (
    Outcome.FAILS, Outcome.UNDECIDED, Outcome.UNSTATED, Outcome.CONFLICTING, Outcome.NOT_MEASURED, Outcome.BY_AGREEMENT,
    Outcome.NO_TOLERANCE, Outcome.CONFORMS, Outcome.WITHDRAWN,
)  # fmt: skip
"""The order in which verdicts are always listed."""
