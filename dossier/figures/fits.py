"""Limits and fits: what a tolerance zone allows at a size, and the clearance of a hole and a shaft, cold and at running heat."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal
from typing import Any

from dossier.figures.figure import Example, Input, NoVerdict, figure
from dossier.model import iso_limits
from dossier.model.quantity import Number, nominal
from dossier.model.results import Flag

NOMINAL = Input("nominal", "D", "mm", "Nominal size", exact=True, also=("size",))
ZONE = Input("zone", "Z", "", "Tolerance zone", words=True)
FIT = Input("fit", "Z", "", "Fit, hole over shaft", words=True)
EXPANSION_HOLE = Input("hole_expansion", "alpha_h", "ppm/K", "Expansion of the housing")
EXPANSION_SHAFT = Input("shaft_expansion", "alpha_s", "ppm/K", "Expansion of the shaft or bearing")
_ISO = (
    "ISO 286-1:2010, tables of standard tolerances and fundamental deviations: from memory; holes N to Z seen to 225 mm at usefastener.com "
    "(EN ISO 286-1), shafts m to z to 160 mm in Machine Drawing, table 15.2 (issuhub.com/view/5590), the rest checked against two open "
    "packages and the corrigendum of 2006 to ISO 286-2"
)
_TWO_PACKAGES = "isofits 1.0 and pressfit 0.1.0 (packages of the Python index) print the same"
_FIT_SEEN = "pressfit 0.1.0 (package of the Python index), its own first example"


def _asked(ask: Callable[[], Decimal]) -> float:
    """A length in m from the standard's tables in mm; NoVerdict where they have no answer."""
    try:
        return float(ask()) / 1000
    except iso_limits.NoZone as reason:
        raise NoVerdict(str(reason)) from None


def _millimetres(size: Number) -> Decimal:
    return Decimal(f"{nominal(size) * 1000:.6f}").normalize()


def _of_table(**facts: Any) -> dict[str, Any]:
    common = {
        "unit": "mm", "source": _ISO, "flag": Flag.MEMORY, "subject": "measurement", "decimals": 4, "closed": False, "tabled": True,
        "for_bench": True,
    }  # fmt: skip
    return {**common, **facts}


@figure(
    **_of_table(
        title="Upper deviation of a tolerance zone", symbol="ES", formula="ES = ES_table", inputs=(NOMINAL, ZONE), unit="µm", decimals=1,
        example=Example({"nominal": "25 mm", "zone": "H7"}, "21 µm", _TWO_PACKAGES), also=("upper", "hole_upper", "shaft_upper"),
    )
)  # fmt: skip
def upper_deviation(nominal: Number, zone: str) -> Number:
    """Upper deviation from the nominal size that a zone such as H7 allows. NoVerdict outside the tables."""
    return _asked(lambda: iso_limits.zone_of(_millimetres(nominal), zone).upper)


@figure(
    **_of_table(
        title="Lower deviation of a tolerance zone", symbol="EI", formula="EI = EI_table", inputs=(NOMINAL, ZONE), unit="µm", decimals=1,
        example=Example({"nominal": "25 mm", "zone": "g6"}, "-20 µm", _TWO_PACKAGES), also=("lower", "shaft_lower"),
    )
)  # fmt: skip
def lower_deviation(nominal: Number, zone: str) -> Number:
    """Lower deviation from the nominal size that a zone such as g6 allows. NoVerdict outside the tables."""
    return _asked(lambda: iso_limits.zone_of(_millimetres(nominal), zone).lower)


def _parts(size: Number, fit: str) -> iso_limits.Fit:
    text = f"{_millimetres(size):f} {fit}"
    try:
        found = iso_limits.fit(text)
    except iso_limits.NoZone as reason:
        raise NoVerdict(str(reason)) from None
    if found is None:
        raise NoVerdict(f"{fit!r} is not a fit known here: write hole over shaft, as in H7/g6")
    return found


def _size_of(title: str, symbol: str, gives: str, **facts: Any) -> dict[str, Any]:
    example = Example({"nominal": "25 mm", "fit": "H7/g6"}, gives, _FIT_SEEN)
    return _of_table(title=title, symbol=symbol, formula=f"{symbol} = D + table", inputs=(NOMINAL, FIT), example=example, **facts)


@figure(**_size_of("Largest hole of a fit", "D_max", "25.021 mm", also=("hole_max",)))
def largest_hole(nominal: Number, fit: str) -> Number:
    """Largest size of the hole."""
    found = _parts(nominal, fit)
    return _asked(lambda: found.nominal + found.hole.upper)


@figure(**_size_of("Largest shaft of a fit", "d_max", "24.993 mm", also=("shaft_max",)))
def largest_shaft(nominal: Number, fit: str) -> Number:
    """Largest size of the shaft."""
    found = _parts(nominal, fit)
    return _asked(lambda: found.nominal + found.shaft.upper)


@figure(**_size_of("Smallest shaft of a fit", "d_min", "24.980 mm", also=("shaft_min",)))
def smallest_shaft(nominal: Number, fit: str) -> Number:
    """Smallest size of the shaft."""
    found = _parts(nominal, fit)
    return _asked(lambda: found.nominal + found.shaft.lower)


@figure(**_size_of("Smallest clearance of a fit", "c_min", "0.007 mm", also=("clearance_min",), basis="negative: interference"))
def smallest_clearance(nominal: Number, fit: str) -> Number:
    """Smallest hole less largest shaft; negative is the largest interference."""
    return _asked(lambda: _parts(nominal, fit).smallest_clearance)


@figure(**_size_of("Largest clearance of a fit", "c_max", "0.041 mm", also=("clearance_max",), basis="negative: interference"))
def largest_clearance(nominal: Number, fit: str) -> Number:
    """Largest hole less smallest shaft; negative is the smallest interference."""
    return _asked(lambda: _parts(nominal, fit).largest_clearance)


def _hot(title: str, symbol: str, cold: str, cold_symbol: str, gives: str, working: str) -> dict[str, Any]:
    when_cold = Input(cold, cold_symbol, "mm", title.replace("running heat", "20 °C"))
    inputs = (when_cold, NOMINAL, EXPANSION_HOLE, EXPANSION_SHAFT)
    return {
        "title": title, "symbol": symbol, "unit": "mm", "inputs": (*inputs, Input("heating", "Delta_t", "K", "Heating above 20 °C")),
        "formula": f"{symbol} = {cold_symbol} + D * (alpha_h - alpha_s) * Delta_t / 1000000", "flag": Flag.GEOMETRY, "decimals": 4,
        "source": "each size grows by its own expansion; sizes are given at 20 °C (ISO 1:2016)", "subject": "measurement", "for_bench": True,
        "basis": "negative: interference; hole and shaft equally hot",
        "example": Example(
            {cold: "-0.030 mm", "nominal": "52 mm", "hole_expansion": "26 ppm/K", "shaft_expansion": "11.5 ppm/K", "heating": "60 K"},
            gives, working,
        ),
    }  # fmt: skip


@figure(
    **_hot(
        "Smallest clearance at running heat", "c_minh", "smallest_clearance", "c_min", "0.01524 mm",
        "worked by hand: 52 times 14.5e-6 times 60 is 0.04524; a bearing held by 0.03 mm cold is loose in magnesium",
    )
)  # fmt: skip
def smallest_clearance_hot(
    smallest_clearance: Number, nominal: Number, hole_expansion: Number, shaft_expansion: Number, heating: Number
) -> Number:
    """Smallest clearance of the fit at running heat; a bearing in its housing must stay below nought."""
    return smallest_clearance + nominal * (hole_expansion - shaft_expansion) * heating


@figure(
    **_hot(
        "Largest clearance at running heat", "c_maxh", "largest_clearance", "c_max", "0.01524 mm",
        "worked by hand: 52 times 14.5e-6 times 60 is 0.04524; less 0.03",
    )
)  # fmt: skip
def largest_clearance_hot(
    largest_clearance: Number, nominal: Number, hole_expansion: Number, shaft_expansion: Number, heating: Number
) -> Number:
    """Largest clearance of the fit at running heat."""
    return largest_clearance + nominal * (hole_expansion - shaft_expansion) * heating


def _held(title: str, symbol: str, gives: str, also: str) -> dict[str, Any]:
    example = Example({"nominal": "50 mm", "fit": "H7/s6"}, gives, "Bhandari, Machine Design, Ex. 3.3 (FOSSEE Scilab textbook companions)")
    facts = {"title": title, "symbol": symbol, "formula": f"{symbol} = table", "inputs": (NOMINAL, FIT), "also": (also,)}
    return _of_table(**facts, example=example, unit="µm", decimals=1)


@figure(**_held("Largest interference of a fit", "i_max", "59 µm", "max_interference"))
def largest_interference(nominal: Number, fit: str) -> Number:
    """Largest shaft less smallest hole; negative is clearance."""
    return _asked(lambda: -_parts(nominal, fit).smallest_clearance)


@figure(**_held("Smallest interference of a fit", "i_min", "18 µm", "min_interference"))
def smallest_interference(nominal: Number, fit: str) -> Number:
    """Smallest shaft less largest hole; negative is clearance."""
    return _asked(lambda: -_parts(nominal, fit).largest_clearance)


@figure(**_held("Upper deviation of the hole of a fit", "ES_f", "25 µm", "hole_upper"))
def upper_of_hole(nominal: Number, fit: str) -> Number:
    """Upper deviation of the hole."""
    return _asked(lambda: _parts(nominal, fit).hole.upper)


@figure(**_held("Upper deviation of the shaft of a fit", "es_f", "59 µm", "shaft_upper"))
def upper_of_shaft(nominal: Number, fit: str) -> Number:
    """Upper deviation of the shaft."""
    return _asked(lambda: _parts(nominal, fit).shaft.upper)


@figure(**_held("Lower deviation of the shaft of a fit", "ei_f", "43 µm", "shaft_lower"))
def lower_of_shaft(nominal: Number, fit: str) -> Number:
    """Lower deviation of the shaft."""
    return _asked(lambda: _parts(nominal, fit).shaft.lower)
