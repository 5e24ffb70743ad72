"""A number with its unit and its uncertainty, and the arithmetic that keeps track of both.

This is the one file that knows the `uncertainties` library: a variable used twice is the same variable, so correlation is kept.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

import uncertainties
from uncertainties import umath

from dossier.model.units import UNITS, Unit

K = 2
"""Coverage factor: expanded uncertainty U is K standard uncertainties unless a record says otherwise."""


@dataclass(frozen=True)
class Quantity:
    """A value as somebody wrote it: number with its digits, unit as measured, expanded uncertainty `u` in that unit (None: not stated)."""

    number: Decimal
    unit: Unit
    u: Decimal | None = None
    text: str = ""

    @property
    def kind(self) -> str:
        """Kind of quantity: length, mass, pressure …"""
        return self.unit.kind

    @property
    def si(self) -> float:
        """The value in the coherent SI unit; one rounding only."""
        return float(Fraction(self.number) * self.unit.factor + self.unit.offset) * math.pi**self.unit.pi

    @property
    def u_si(self) -> float | None:
        """Expanded uncertainty in the coherent SI unit, or None."""
        return None if self.u is None else float(Fraction(self.u) * self.unit.factor) * math.pi**self.unit.pi

    @property
    def decimals(self) -> int:
        """Digits written after the point."""
        exponent = self.number.as_tuple().exponent
        return max(0, -exponent) if isinstance(exponent, int) else 0

    def to(self, sign: str) -> float:
        """The value in another unit of the same kind, as a float. ValueError when the kinds differ."""
        return from_si(self.si, unit_of(sign, self.kind))

    def __str__(self) -> str:
        return self.text or f"{self.number} {self.unit.sign}".strip()


@dataclass(frozen=True)
class Limits:
    """What is allowed: a lower and an upper limit, either of which may be absent, in one unit. `text` is as written."""

    lower: Decimal | None
    upper: Decimal | None
    unit: Unit
    text: str = ""

    @property
    def si(self) -> tuple[float | None, float | None]:
        """Both limits in the coherent SI unit."""
        low, high = (None if side is None else Quantity(side, self.unit).si for side in (self.lower, self.upper))
        return low, high


@dataclass(frozen=True)
class Declared:
    """A declared value as written: words, and where they state a number, its nominal and its limits."""

    text: str
    nominal: Quantity | None = None
    limits: Limits | None = None


def unit_of(sign: str, kind: str = "") -> Unit:
    """The unit written `sign`. KeyError when unknown; ValueError when it is not of `kind`."""
    unit = UNITS[sign]
    if kind and unit.kind != kind:
        raise ValueError(f"{sign} is a unit of {unit.kind}, not of {kind}")
    return unit


def from_si(value: float, unit: Unit) -> float:
    """A value in the coherent SI unit, expressed in `unit`."""
    return value / unit.scale - unit.shift


# ---------------------------------------------------------------- arithmetic with uncertainty

Number = Any
"""A float, a value with uncertainty, or (in tests) a quantity of a units library: figures do not care which."""


class _Source(str):
    """The name of a variable, with the degrees of freedom of its uncertainty."""

    __slots__ = ("freedom",)
    freedom: float


def variable(value: float, u: float | None, name: str, freedom: float = math.inf) -> Number:
    """An independent variable: `value` with expanded uncertainty `u` (k = 2) in the same unit; a plain float when u is None or zero.

    `freedom`: degrees of freedom of the uncertainty, infinite where it is known from elsewhere than from a few repeats.
    """
    if not u:
        return value
    source = _Source(name)
    source.freedom = freedom
    return uncertainties.Variable(value, u / K, source)


def nominal(value: Number) -> float:
    """The best value, without its uncertainty."""
    return value.nominal_value if isinstance(value, uncertainties.core.AffineScalarFunc) else float(value)


def standard(value: Number) -> float:
    """The standard uncertainty (k = 1); zero for a plain float."""
    return value.std_dev if isinstance(value, uncertainties.core.AffineScalarFunc) else 0.0


def contributions(value: Number) -> dict[str, float]:
    """Standard uncertainty that each independent variable brings, by its name; parts add as squares."""
    return budget(value)[1]


def budget(value: Number) -> tuple[float, dict[str, float], list[tuple[float, float]]]:
    """The best value; the standard uncertainty that each independent variable brings, by its name; and where any of these rests on a few
    repeats, the parts each with its degrees of freedom."""
    if not isinstance(value, uncertainties.core.AffineScalarFunc):
        return float(value), {}, []
    parts: dict[str, float] = {}
    freedoms = []
    finite = False
    for source, slope in value.derivatives.items():
        part, name = abs(slope) * source._std_dev, source.tag
        freedom = getattr(name, "freedom", math.inf)
        freedoms.append((part, freedom))
        finite = finite or freedom != math.inf
        parts[name] = math.hypot(parts[name], part) if name in parts else part
    return value.nominal_value, parts, freedoms if finite else []


def _through(name: str, value: Number) -> Number:
    if isinstance(value, (int, float)):
        return getattr(math, name)(value)
    if isinstance(value, uncertainties.core.AffineScalarFunc):
        return getattr(umath, name)(value)
    import numpy

    return getattr(numpy, {"asin": "arcsin", "acos": "arccos", "atan": "arctan"}.get(name, name))(value)


def sin(x: Number) -> Number:
    """Sine of an angle in radians."""
    return _through("sin", x)


def cos(x: Number) -> Number:
    """Cosine of an angle in radians."""
    return _through("cos", x)


def tan(x: Number) -> Number:
    """Tangent of an angle in radians."""
    return _through("tan", x)


def asin(x: Number) -> Number:
    """Angle in radians whose sine is x; ValueError outside -1 to 1."""
    return _through("asin", x)


def acos(x: Number) -> Number:
    """Angle in radians whose cosine is x; ValueError outside -1 to 1."""
    return _through("acos", x)


def atan(x: Number) -> Number:
    """Angle in radians whose tangent is x."""
    return _through("atan", x)


def sqrt(x: Number) -> Number:
    """Square root; ValueError below zero."""
    return _through("sqrt", x)


def floor(x: Number) -> float:
    """The whole number below a pure number; it carries no uncertainty."""
    return float(math.floor(nominal(x) if isinstance(x, (int, float, uncertainties.core.AffineScalarFunc)) else float(x)))


def smallest(values: Sequence[Number]) -> Number:
    """The smallest of several numbers; of drawn ones, draw by draw."""
    return _outermost(values, min, "minimum")


def largest(values: Sequence[Number]) -> Number:
    """The largest of several numbers; of drawn ones, draw by draw."""
    return _outermost(values, max, "maximum")


def _outermost(values: Sequence[Number], pick: Any, name: str) -> Number:
    if not any(hasattr(value, "dtype") and getattr(value, "ndim", 0) for value in values):
        plain = all(isinstance(value, (int, float, uncertainties.core.AffineScalarFunc)) for value in values)
        return pick(values, key=nominal) if plain else pick(values)
    import numpy

    return functools.reduce(getattr(numpy, name), values)


def mean(values: Sequence[Number]) -> Number:
    """Arithmetic mean, correlation kept."""
    return sum(values[1:], values[0]) / len(values)


def implicit(function: Any, *args: Number) -> Number:
    """A numerically given function of floats carried over to values with uncertainty, by numerical derivatives.

    For roots and maxima that have no closed form: `function(*floats) -> float` is called on the best values and
    stepped for the derivatives. The arguments are pure numbers: form ratios before.
    """
    if not any(isinstance(arg, uncertainties.core.AffineScalarFunc) for arg in args):
        return function(*(float(arg) for arg in args))
    return uncertainties.wrap(function)(*args)


_STEP = 1e-30
"""Step along the imaginary axis: so small that its square vanishes, so that slopes come out exact."""


def many_at_once(function: Any, rows: Sequence[Mapping[str, Number]]) -> list[Number | None]:
    """A function of numbers by name worked out on many rows at once, correlation kept; None where a row must be worked out by itself.

    For functions that numpy can take whole columns through, and that are smooth: slopes are taken along the imaginary axis (Squire and
    Trapp, SIAM Review 40, 1998, 110) and checked against the first row by itself. All rows must have the same names.
    """
    import numpy

    names = list(rows[0])
    best = {name: numpy.array([nominal(row[name]) for row in rows]) for name in names}
    uncertain = [name for name in names if any(isinstance(row[name], uncertainties.core.AffineScalarFunc) for row in rows)]
    try:
        with numpy.errstate(all="ignore"):
            values = function(**best)
            slopes = {name: numpy.imag(function(**{**best, name: best[name] + _STEP * 1j})) / _STEP for name in uncertain}
        first = function(**rows[0])
    except (TypeError, ValueError, ArithmeticError):
        return [None] * len(rows)
    if numpy.shape(values) != (len(rows),) or numpy.iscomplexobj(values):
        return [None] * len(rows)
    sound = numpy.isfinite(values)
    for slope in slopes.values():
        sound &= numpy.isfinite(slope)
    columns = [(name, slopes[name].tolist()) for name in uncertain]
    out = [_affine(value, [(slope[i], row[name]) for name, slope in columns]) if sound[i] else None
           for i, (row, value) in enumerate(zip(rows, values.tolist(), strict=True))]  # fmt: skip
    return out if _agree(out[0], first) else [None] * len(rows)


def _affine(value: float, terms: Sequence[tuple[float, Number]]) -> Number:
    """A number whose slopes along the variables behind its arguments are added up already."""
    total: dict[Any, float] = {}
    for slope, x in terms:
        if isinstance(x, uncertainties.core.AffineScalarFunc):
            for source, part in x.derivatives.items():
                total[source] = total[source] + slope * part if source in total else slope * part
    return uncertainties.core.AffineScalarFunc(value, uncertainties.core.LinearCombination(total)) if total else value


def _agree(one: Number | None, other: Number) -> bool:
    """Whether two numbers are the same to a thousand million millionth of their size, in value and in every part of the uncertainty."""
    if one is None or not math.isclose(nominal(one), nominal(other), rel_tol=1e-12, abs_tol=1e-300):
        return False
    here, there = contributions(one), contributions(other)
    whole = math.hypot(*there.values())
    return all(math.isclose(here.get(name, 0.0), part, rel_tol=1e-9, abs_tol=1e-12 * whole) for name, part in there.items())


def draw(values: Sequence[Number], deviates: Any) -> list[Any]:
    """The values with each independent variable behind them replaced by drawn ones.

    `deviates()` gives an array of standard normal deviates; it is called once for each variable, in order of first use, so that what
    several values share is drawn once. Values without uncertainty come back as floats.
    """
    pool: dict[Any, Any] = {}
    out = []
    for value in values:
        drawn: Any = nominal(value)
        if isinstance(value, uncertainties.core.AffineScalarFunc):
            for source, slope in value.derivatives.items():
                if source not in pool:
                    pool[source] = deviates() * source.std_dev
                drawn = drawn + slope * pool[source]
        out.append(drawn)
    return out
