"""Numbers against limits: the comparison with its uncertainty, the place in tolerance, the probability of conformity."""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

from dossier.conform.rules import SIMPLE, Rule
from dossier.model.forms.specification import Item
from dossier.model.quantity import Quantity, from_si
from dossier.model.results import Outcome
from dossier.model.units import Unit

SLACK = 1e-9
"""Room for the rounding of floats, in the item's own unit: a reading exactly on the guard limit conforms."""


@dataclass(frozen=True)
class Band:
    """What is allowed, in the item's own unit: limits and nominal may each be absent. `decimals` as the limits were written."""

    unit: Unit
    lower: float | None = None
    upper: float | None = None
    nominal: float | None = None
    decimals: int = 0

    @property
    def limited(self) -> bool:
        """Whether there is any limit."""
        return self.lower is not None or self.upper is not None

    @property
    def width(self) -> float | None:
        """T, from limit to limit; None where it is open on one side."""
        return None if self.lower is None or self.upper is None else self.upper - self.lower

    @property
    def half(self) -> float | None:
        """Half the width; on one side only, from nominal to limit where a nominal is declared."""
        if self.width is not None:
            return self.width / 2
        side = self.upper if self.upper is not None else self.lower
        return None if side is None or self.nominal is None else abs(side - self.nominal)


def band_of(item: Item) -> Band | None:
    """The band of an item: limits of its own first, else those declared beside the nominal. None where no number is declared."""
    declared = item.declared
    limits = item.limits or (declared.limits if declared else None)
    nominal = declared.nominal if declared else None
    if limits is None:
        return None if nominal is None else Band(nominal.unit, nominal=float(nominal.number), decimals=nominal.decimals)
    sides = [None if side is None else Quantity(side, limits.unit) for side in (limits.lower, limits.upper)]
    middle = in_unit(nominal.si, limits.unit) if nominal is not None and nominal.kind == limits.unit.kind else None
    if nominal is not None and nominal.unit == limits.unit:
        middle = float(nominal.number)
    low, high = (None if side is None else float(side.number) for side in sides)
    return Band(limits.unit, low, high, middle, max(side.decimals for side in sides if side is not None))


def in_unit(si: float, unit: Unit) -> float:
    """A value in the coherent SI unit, in `unit`."""
    return from_si(si, unit)


def span_in(quantity: Quantity, unit: Unit) -> float | None:
    """A difference (such as an uncertainty) in `unit`: no offset is added. None when it is of another kind."""
    if quantity.kind != unit.kind:
        return None
    return float(Fraction(quantity.number) * quantity.unit.factor / unit.factor) * math.pi ** (quantity.unit.pi - unit.pi)


def compare(y: float, u: float | None, band: Band, rule: Rule) -> Outcome:
    """The raw verdict on one reading, both in the item's unit, from unrounded values. Sources stand with the rules."""
    if not band.limited:
        return Outcome.NO_TOLERANCE
    if u is None:
        return Outcome.UNSTATED
    guard = 0.0 if rule is SIMPLE else u
    past = overshoot(y, band)
    if past <= -guard + SLACK:
        return Outcome.CONFORMS
    return Outcome.FAILS if past > guard + SLACK else Outcome.UNDECIDED


def overshoot(y: float, band: Band) -> float:
    """How far the reading lies beyond the nearer limit; negative inside. Minus infinity without limits."""
    below = -math.inf if band.lower is None else band.lower - y
    above = -math.inf if band.upper is None else y - band.upper
    return max(below, above)


def beyond_upper(y: float, band: Band) -> bool:
    """Whether it is the upper limit that the reading is nearest to, or beyond."""
    return band.upper is not None and (band.lower is None or y - band.upper >= band.lower - y)


def place(y: float, band: Band) -> float | None:
    """Place in tolerance in per cent of half the width: 0 the middle, ±100 the limits. None where a side is open or nothing is between."""
    if band.lower is None or band.upper is None or band.upper <= band.lower:
        return None
    return (y - (band.lower + band.upper) / 2) / ((band.upper - band.lower) / 2) * 100


def probability(y: float, u: float | None, band: Band) -> float | None:
    """Probability of conformity (JCGM 106:2012, 7): normal about y, standard uncertainty U / 2. None without U or limits."""
    if u is None or not band.limited:
        return None
    if u == 0:
        return float(overshoot(y, band) <= SLACK)
    below = 0.0 if band.lower is None else _normal((band.lower - y) / (u / 2))
    above = 1.0 if band.upper is None else _normal((band.upper - y) / (u / 2))
    return above - below


def _normal(z: float) -> float:
    return math.erfc(-z / math.sqrt(2)) / 2


def ratio(u: float | None, band: Band) -> float | None:
    """Tolerance over uncertainty, T / 2U (figure 103); None without U, with U = 0, or where a side is open."""
    return None if not u or band.width is None else band.width / (2 * u)


def deciding_u(y: float, band: Band) -> float:
    """The expanded uncertainty with which the same reading would be decided: its distance from the nearer limit."""
    return abs(overshoot(y, band))
