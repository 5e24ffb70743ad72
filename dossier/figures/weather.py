"""The air of the day: weather factor of a dynamometer run, and how dense the air was on the track."""

from __future__ import annotations

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

TEMPERATURE = Input("air_temperature", "t", "°C", "Air temperature", file="running.yaml")
PRESSURE = Input("air_pressure", "p", "kPa", "Air pressure", file="running.yaml")
VAPOUR = Input("vapour_pressure", "p_v", "kPa", "Vapour pressure of the air", file="running.yaml")
_ATMOSPHERE = "ISO 2533 standard atmosphere at sea level: 101.325 kPa, 15 °C; density of dry air goes with pressure over temperature"


def number_in_si(value: Number) -> Number:
    """The bare number of a value in coherent SI: empirical formulas are bound to their units, so a units library's sign is taken off."""
    return getattr(value, "magnitude", value)


@figure(
    title="Weather factor, ISO 1585",
    symbol="alpha",
    unit="",
    formula="alpha = (99 / (p - p_v))**1.2 * ((t + 273) / 298)**0.6",
    inputs=(PRESSURE, VAPOUR, TEMPERATURE),
    per=("run",),
    source="ISO 1585, spark-ignition engines without supercharging: 99 kPa dry, 298 K (Bosch Automotive Handbook, 4th edition, "
    "as quoted at bikeboy.org/dynocorrectionfactors.html, and the exponents in open code; the standard itself was not reached)",
    flag=Flag.SEEN,
    example=Example(
        {"air_pressure": "100.8 kPa", "vapour_pressure": "1.0 kPa", "air_temperature": "14.0 °C"}, "0.9683",
        "worked by hand: (99 / 99.8) to the power 1.2 is 0.99039; (287 / 298) to the power 0.6 is 0.97769",
    ),
    subject="power",
    usual=(0.93, 1.07),
    usual_source="ISO 1585, from memory: outside, the runs are not comparable",
    impossible=(0, None),
    basis="ISO 1585: 99 kPa dry, 25 °C. Other standards have other days (DIN 70020: 1013 mbar, 20 °C) and give other factors",
    decimals=3,
    also=("ISO1585",),
)  # fmt: skip
def weather_factor(air_pressure: Number, vapour_pressure: Number, air_temperature: Number) -> Number:
    """Factor from the day of the run to the standard day, a pure number; pressures and temperature absolute."""
    dry = number_in_si(air_pressure - vapour_pressure)
    kelvin = number_in_si(air_temperature) - 0.15  # the standard counts from 273
    return (99_000 / dry) ** 1.2 * (kelvin / 298) ** 0.6


def _density(pressure: Number, temperature: Number) -> Number:
    return number_in_si(pressure) / 101_325 * (288.15 / number_in_si(temperature))


_DENSITY_EXAMPLE = "worked by hand: 101.2 / 101.325 = 0.99877; 288.15 / 291.15 = 0.98970"


@figure(
    title="Relative air density on the run",
    symbol="rho_r",
    unit="%",
    formula="rho_r = 100 * p / 101.325 * (288.15 / (t + 273.15))",
    inputs=(PRESSURE, TEMPERATURE),
    per=("run",),
    source=_ATMOSPHERE,
    flag=Flag.GEOMETRY,
    example=Example({"air_pressure": "101.2 kPa", "air_temperature": "18 °C"}, "98.85 %", _DENSITY_EXAMPLE),
    subject="power",
    usual=(88, 106),
    usual_source="from memory",
    impossible=(0, None),
    decimals=1,
)
def relative_air_density(air_pressure: Number, air_temperature: Number) -> Number:
    """Density of the air against that of the standard atmosphere; humidity left out of account."""
    return _density(air_pressure, air_temperature)


@figure(
    title="Relative air density on the track",
    symbol="rho_r",
    unit="%",
    formula="rho_r = 100 * p / 101.325 * (288.15 / (t + 273.15))",
    inputs=(
        Input("air_pressure", "p", "kPa", "Air pressure", name="session_air_pressure", file="running.yaml"),
        Input("air_temperature", "t", "°C", "Air temperature", name="session_air_temperature", file="running.yaml"),
    ),
    per=("session",),
    source=_ATMOSPHERE,
    flag=Flag.GEOMETRY,
    example=Example({"air_pressure": "101.2 kPa", "air_temperature": "18 °C"}, "98.85 %", _DENSITY_EXAMPLE),
    subject="power",
    usual=(88, 106),
    usual_source="from memory",
    impossible=(0, None),
    decimals=1,
    quiet=True,
)
def session_air_density(air_pressure: Number, air_temperature: Number) -> Number:
    """Density of the air on a test day against that of the standard atmosphere; humidity left out of account."""
    return _density(air_pressure, air_temperature)
