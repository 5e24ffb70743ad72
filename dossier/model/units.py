"""Units as people write them: their kind, and an exact factor to the coherent SI unit.

Factors are exact fractions times a power of pi. Source of the factors that are not exact by definition of the SI prefix:
NIST Special Publication 811 (2008 edition), Appendix B.8; the inch, pound and standard gravity are exact by definition there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

Dimension = tuple[int, int, int, int, int]
"""Exponents of length, mass, time, temperature, angle."""


@dataclass(frozen=True)
class Unit:
    """A unit: the sign printed for it, its kind of quantity, its exact factor to SI (times pi to the power `pi`), an offset in K."""

    sign: str
    kind: str
    factor: Fraction
    pi: int = 0
    offset: Fraction = Fraction(0)

    @cached_property
    def scale(self) -> float:
        """The factor to the coherent SI unit, as a float."""
        return float(self.factor) * math.pi**self.pi

    @cached_property
    def shift(self) -> float:
        """Where the scale begins, in the unit itself: 273.15 for °C, nought for all that are no scales of temperature."""
        return float(self.offset / self.factor)

    @property
    def dimension(self) -> Dimension:
        """The dimension of its kind."""
        return KINDS[self.kind]


KINDS: dict[str, Dimension] = {
    "ratio": (0, 0, 0, 0, 0),
    "length": (1, 0, 0, 0, 0),
    "area": (2, 0, 0, 0, 0),
    "volume": (3, 0, 0, 0, 0),
    "mass": (0, 1, 0, 0, 0),
    "time": (0, 0, 1, 0, 0),
    "temperature": (0, 0, 0, 1, 0),
    "angle": (0, 0, 0, 0, 1),
    "speed": (1, 0, -1, 0, 0),
    "acceleration": (1, 0, -2, 0, 0),
    "rotation speed": (0, 0, -1, 0, 1),
    "angular acceleration": (0, 0, -2, 0, 1),
    "frequency": (0, 0, -1, 0, 0),
    "force": (1, 1, -2, 0, 0),
    "pressure": (-1, 1, -2, 0, 0),
    "torque": (2, 1, -2, 0, 0),
    "power": (2, 1, -3, 0, 0),
    "spring rate": (0, 1, -2, 0, 0),
    "inertia": (2, 1, 0, 0, 0),
    "unbalance": (1, 1, 0, 0, 0),
    "specific power": (-1, 1, -3, 0, 0),
    "power per area": (0, 1, -3, 0, 0),
    "power per mass": (2, 0, -3, 0, 0),
    "density": (-3, 1, 0, 0, 0),
    "specific time-area": (-1, 0, 1, 0, 0),
    "expansion": (0, 0, 0, -1, 0),
}
"""Kinds of quantity and their dimensions."""

_INCH = Fraction(254, 10_000)
_FOOT = 12 * _INCH
_POUND = Fraction(45_359_237, 100_000_000)
_GRAVITY = Fraction(980_665, 100_000)
_LBF = _POUND * _GRAVITY
_KGF = _GRAVITY
_GALLON = Fraction(454_609, 100_000_000)
_MILE = 5280 * _FOOT


def _unit(kind: str, factor: Fraction | int | str, *signs: str, pi: int = 0, offset: str = "0") -> dict[str, Unit]:
    one = Unit(signs[0], kind, Fraction(factor), pi, Fraction(offset))
    return dict.fromkeys(signs, one)


UNITS: dict[str, Unit] = {
    **_unit("ratio", 1, "", "1", ":1", "in/in"),
    **_unit("ratio", 1, "sigma", "σ"),
    **_unit("ratio", "1/100", "%", "per cent"),
    **_unit("ratio", "1/1000", "‰", "per mille"),
    **_unit("ratio", "1/1000", "ml/l", "ml per litre"),
    **_unit("ratio", 1, "dE00", "ΔE00"),
    **_unit("ratio", 1, "HBW", "HB"),
    **_unit("ratio", 1, "HRC"),
    **_unit("ratio", 1, "HV"),
    **_unit("ratio", 1, "RON"),
    **_unit("ratio", 1, "teeth", "tooth"),
    **_unit("ratio", 1, "links", "link"),
    **_unit("ratio", 1, "laps", "lap"),
    **_unit("ratio", 1, "clicks", "click"),
    **_unit("ratio", 1, "turns", "turn"),
    **_unit("ratio", 1, "starts", "start"),
    **_unit("ratio", 1, "off"),
    **_unit("length", "1/1000", "mm"),
    **_unit("length", "1/1000000", "µm", "μm", "um", "micron"),
    **_unit("length", "1/1000000000", "nm"),
    **_unit("length", "1/100", "cm"),
    **_unit("length", 1, "m"),
    **_unit("length", 1000, "km"),
    **_unit("length", _INCH, "in", "inch", "inches", '"', "″"),
    **_unit("length", _INCH / 1_000_000, "microinch"),
    **_unit("length", _INCH / 1000, "thou", "mil"),
    **_unit("length", _FOOT, "ft"),
    **_unit("length", _MILE, "mile", "miles"),
    **_unit("area", "1/1000000", "mm²", "mm2", "mm^2"),
    **_unit("area", "1/10000", "cm²", "cm2", "cm^2"),
    **_unit("area", 1, "m²", "m2", "m^2"),
    **_unit("area", _INCH**2, "sq in", "in²", "in2"),
    **_unit("volume", "1/1000000", "cc", "cm³", "cm3", "cm^3", "ml", "mL"),
    **_unit("volume", "1/1000000000", "mm³", "mm3", "mm^3"),
    **_unit("volume", "1/1000", "l", "L", "litre", "litres"),
    **_unit("volume", 1, "m³", "m3", "m^3"),
    **_unit("volume", _INCH**3, "cu in", "in³", "in3", "cubic inch"),
    **_unit("volume", _GALLON, "imp gal", "gallon (imperial)"),
    **_unit("volume", _GALLON / 8, "imp pt"),
    **_unit("volume", 231 * _INCH**3, "US gal"),
    **_unit("mass", 1, "kg"),
    **_unit("mass", "1/1000", "g"),
    **_unit("mass", "1/1000000", "mg"),
    **_unit("mass", 1000, "t"),
    **_unit("mass", _POUND, "lb", "lbs"),
    **_unit("mass", _POUND / 16, "oz"),
    **_unit("time", 1, "s", "sec"),
    **_unit("time", "1/1000", "ms"),
    **_unit("time", 60, "min"),
    **_unit("time", 3600, "h", "hours", "hour"),
    **_unit("time", 86_400, "days", "day"),
    **_unit("time", "31557600", "years", "year", "a"),
    **_unit("temperature", 1, "°C", "degC", "C", offset="273.15"),
    **_unit("temperature", "5/9", "°F", "degF", "F", offset="45967/180"),
    **_unit("temperature", 1, "K"),
    **_unit("angle", "1/180", "°", "deg", "degrees", pi=1),
    **_unit("angle", "1/10800", "′", "arcmin", pi=1),
    **_unit("angle", 1, "rad"),
    **_unit("speed", 1, "m/s"),
    **_unit("speed", "1/1000", "mm/s"),
    **_unit("speed", "5/18", "km/h", "kph"),
    **_unit("speed", _MILE / 3600, "mph", "mile per hour"),
    **_unit("speed", _FOOT, "ft/s"),
    **_unit("speed", _FOOT / 60, "ft/min"),
    **_unit("acceleration", 1, "m/s²", "m/s2", "m/s^2"),
    **_unit("acceleration", _FOOT, "ft/s²", "ft/s2", "ft/s^2"),
    **_unit("rotation speed", "1/30", "rpm", "rev/min", "1/min", pi=1),
    **_unit("rotation speed", 1, "rad/s"),
    **_unit("angular acceleration", 1, "rad/s²", "rad/s2", "rad/s^2"),
    **_unit("frequency", 1, "Hz"),
    **_unit("force", 1, "N"),
    **_unit("force", 1000, "kN"),
    **_unit("force", _KGF, "kgf", "kp"),
    **_unit("force", _LBF, "lbf", "pound-force"),
    **_unit("pressure", 100_000, "bar"),
    **_unit("pressure", 100, "mbar", "hPa"),
    **_unit("pressure", 1, "Pa"),
    **_unit("pressure", 1000, "kPa"),
    **_unit("pressure", 1_000_000, "MPa", "N/mm²", "N/mm2"),
    **_unit("pressure", _LBF / _INCH**2, "psi", "lbf/in²", "pound-force per square inch"),
    **_unit("pressure", _KGF * 10_000, "kgf/cm²", "kgf/cm2", "kg/cm²", "kg/cm2"),
    **_unit("pressure", "101325/760", "mmHg", "Torr"),
    **_unit("pressure", "338638864/100000", "inHg"),
    **_unit("pressure", 101_325, "atm", "standard atmosphere"),
    **_unit("torque", 1, "N·m", "Nm", "N.m", "N m", "N*m"),
    **_unit("torque", _KGF, "kgf·m", "kgf m", "kgf.m", "kgfm", "kgm", "mkp", "kilogram-force metre"),
    **_unit("torque", _LBF * _FOOT, "lbf·ft", "lbf ft", "lbf.ft", "lb-ft", "lb·ft", "ft-lb", "ft·lbf", "ft lbf", "lbft", "pound-force foot"),
    **_unit("torque", _LBF * _INCH, "lbf·in", "lbf in", "lb-in", "in-lb", "in·lbf"),
    **_unit("power", 1000, "kW"),
    **_unit("power", 1, "W"),
    **_unit("power", 550 * _FOOT * _LBF, "hp", "bhp", "horsepower (550 ft lbf/s)"),
    **_unit("power", 75 * _KGF, "PS", "CV", "metric hp", "horsepower (metric)"),
    **_unit("spring rate", 1000, "N/mm"),
    **_unit("spring rate", 1, "N/m"),
    **_unit("spring rate", _LBF / _INCH, "lbf/in", "lb/in"),
    **_unit("spring rate", _KGF * 1000, "kgf/mm", "kg/mm"),
    **_unit("inertia", 1, "kg·m²", "kg m2", "kg·m2"),
    **_unit("inertia", "1/1000000", "kg·mm²", "kg mm2"),
    **_unit("unbalance", "1/1000000", "g·mm", "g mm", "gmm", "g.mm"),
    **_unit("unbalance", 1, "kg·m"),
    **_unit("unbalance", _POUND / 16 * _INCH, "oz·in", "oz in", "oz-in"),
    **_unit("specific power", 1_000_000, "kW/l", "kW/L"),
    **_unit("power per area", 10_000_000, "kW/cm²", "kW/cm2"),
    **_unit("power per mass", 1000, "kW/kg"),
    **_unit("density", 1, "kg/m³", "kg/m3"),
    **_unit("density", 1000, "g/cc", "g/cm³", "kg/l"),
    **_unit("specific time-area", 1, "s·m²/m³"),
    **_unit("specific time-area", 1, "s/m"),
    **_unit("specific time-area", 1000, "s·mm²/mm³"),
    **_unit("expansion", "1/1000000", "ppm/K", "µm/(m·K)"),
    **_unit("expansion", 1, "1/K"),
    **_unit("expansion", "9/5", "1/°F", "1/degF"),
}
"""Every spelling that is read, and the unit it means. The first spelling in each row is the one printed."""

# s·mm²/cc: 1e-6 m²·s per 1e-6 m³
UNITS["s·mm²/cc"] = Unit("s·mm²/cc", "specific time-area", Fraction(1))


def signs_of(kind: str) -> list[str]:
    """The signs printed for units of one kind, in table order."""
    seen = dict.fromkeys(unit.sign for unit in UNITS.values() if unit.kind == kind)
    return [sign for sign in seen if sign]
