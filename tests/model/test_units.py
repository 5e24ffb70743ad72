"""Every unit's factor against a units library, and the published factors against ours."""

from __future__ import annotations

from pathlib import Path

import pint
import pytest
import yaml

from dossier.model.quantity import from_si
from dossier.model.units import KINDS, UNITS, Unit

ureg = pint.UnitRegistry()
BASE = ("m", "kg", "s", "K", "rad")
IN_PINT = {
    "°C": "kelvin", "°F": "delta_degree_Fahrenheit", "K": "kelvin", "°": "degree", "′": "arcminute", "µm": "micrometer", "thou": "thou",
    "mile": "mile", "mm²": "mm**2", "cm²": "cm**2", "m²": "m**2", "sq in": "inch**2", "cc": "cm**3", "mm³": "mm**3", "l": "liter", "m³": "m**3",
    "cu in": "inch**3", "imp gal": "imperial_gallon", "imp pt": "imperial_pint", "US gal": "gallon", "t": "metric_ton", "lb": "pound",
    "oz": "ounce", "min": "minute", "h": "hour", "days": "day", "years": "year", "km/h": "km/hour", "mph": "mile/hour", "ft/s": "foot/s",
    "ft/min": "foot/minute", "m/s²": "m/s**2", "ft/s²": "foot/s**2", "rpm": "revolution/minute", "Hz": "1/s", "kgf": "kgf",
    "kgf/cm²": "kgf/cm**2", "psi": "psi", "mmHg": "torr", "inHg": "conventional_inHg", "N·m": "N*m", "kgf·m": "kgf*m", "lbf·ft": "lbf*foot",
    "lbf·in": "lbf*inch", "hp": "horsepower", "PS": "metric_horsepower", "lbf/in": "lbf/inch", "kgf/mm": "kgf/mm", "kg·m²": "kg*m**2",
    "kg·mm²": "kg*mm**2", "g·mm": "g*mm", "kg·m": "kg*m", "oz·in": "ounce*inch", "kW/l": "kW/liter", "kW/cm²": "kW/cm**2", "kW/kg": "kW/kg",
    "kg/m³": "kg/m**3", "g/cc": "g/cm**3", "s·m²/m³": "s/m", "s/m": "s/m", "s·mm²/mm³": "s/mm", "s·mm²/cc": "s*mm**2/cm**3",
    "ppm/K": "1e-6/K", "1/K": "1/K", "mbar": "mbar", "in": "inch", "ft": "foot",
    "nm": "nanometer", "microinch": "1e-6 inch", "1/°F": "1/delta_degree_Fahrenheit",
}  # fmt: skip
"""How the units library writes ours; where nothing stands here it writes them as we do."""
BY_TABLE = ("inHg",)
"""Checked against a printed table instead: the units library rounds it otherwise."""
ALL = {id(unit): unit for unit in UNITS.values() if unit.kind != "ratio" and unit.sign not in BY_TABLE}.values()


@pytest.mark.parametrize("unit", ALL, ids=lambda unit: unit.sign)
def test_the_factor_is_that_of_a_units_library(unit: Unit) -> None:
    there = ureg.Quantity(1, ureg.Unit("")) * ureg(IN_PINT.get(unit.sign, unit.sign))
    base = ureg.Unit("")
    for name, power in zip(BASE, unit.dimension, strict=True):
        base = base * ureg.Unit(name) ** power

    assert unit.scale == pytest.approx(there.to(base).magnitude, rel=1e-12)


@pytest.mark.parametrize("sign", ["°C", "°F"])
def test_a_scale_of_temperature_begins_where_the_units_library_says(sign: str) -> None:
    there = {"°C": "degC", "°F": "degF"}[sign]
    for reading in (-40.0, 0.0, 85.0):
        kelvin = ureg.Quantity(reading, there).to("kelvin").magnitude
        assert reading * UNITS[sign].scale + float(UNITS[sign].offset) == pytest.approx(kelvin, rel=1e-12)
        assert from_si(kelvin, UNITS[sign]) == pytest.approx(reading, abs=1e-9)


def test_every_kind_of_quantity_has_a_unit_and_every_unit_a_kind() -> None:
    assert {unit.kind for unit in UNITS.values()} == set(KINDS)


CASES = [
    case for case in yaml.safe_load((Path(__file__).parents[1] / "data" / "cases.yaml").read_text())
    if case["computation"].startswith("14 ")
]  # fmt: skip
SIGNS = {
    "inch": "in", "cubic inch": "cu in", "pound-force": "lbf", "pound-force foot": "lbf·ft", "kilogram-force metre": "kgf·m",
    "pound-force per square inch": "psi", "horsepower (550 ft lbf/s)": "hp", "horsepower (metric)": "PS", "mile per hour": "mph",
    "standard atmosphere": "atm", "gallon (imperial)": "imp gal", "in3": "cu in", "L": "l", "N m": "N·m", "m3": "m³", "mm3": "mm³",
}  # fmt: skip
MICRO = {"microinch": (1e-6, "in")}


def test_there_are_seventeen_published_factors() -> None:
    assert len(CASES) == 17


@pytest.mark.parametrize("case", CASES, ids=lambda case: f"{case['id']} {case['source'][:60]}")
def test_the_factor_is_the_published_one(case: dict) -> None:
    said = case["inputs"]["value"]
    share, sign = MICRO.get(said["unit"], (1, SIGNS.get(said["unit"], said["unit"])))
    expected = next(iter(case["expected"].values()))

    found = from_si(float(said["value"]) * share * UNITS[sign].scale, UNITS[SIGNS.get(expected["unit"], expected["unit"])])

    assert found == pytest.approx(float(expected["value"]), abs=expected["tol"] * (1 + 1e-6))


def test_an_inch_of_mercury_is_that_of_the_published_table() -> None:
    # NIST SP 811 (2008), appendix B.8: inch of mercury, conventional (inHg): 3.386 389 E+03 Pa.
    assert UNITS["inHg"].scale == pytest.approx(3386.389, abs=0.0005)
