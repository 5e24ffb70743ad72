"""The air of the day: weather factor of a dynamometer run, and how dense the air was on the track."""

from __future__ import annotations

from dossier.figures.figure import Example, Input, NoVerdict, figure
from dossier.model.quantity import Number, nominal
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
    usual_source="ISO 1585, from memory, its text not found; the NOx Technical Code (imorules.com) has the same bounds: outside, not comparable",
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
    usual_source="from memory; looked for, no published range found",
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
    usual_source="from memory; looked for, no published range found",
    impossible=(0, None),
    decimals=1,
    quiet=True,
)
def session_air_density(air_pressure: Number, air_temperature: Number) -> Number:
    """Density of the air on a test day against that of the standard atmosphere; humidity left out of account."""
    return _density(air_pressure, air_temperature)


_DAY = (Input("dry_pressure", "p_d", "kPa", "Pressure of the dry air"), Input("inlet_temperature", "t", "°C", "Temperature of the air taken in"))
_OTHER = "not ISO 1585: for comparison with runs that were corrected so"


@figure(
    title="Vapour pressure from humidity",
    symbol="p_v",
    unit="kPa",
    formula="p_v = p_0 * 10**(7.5 * t / (t + 237.3)) * h / 100",
    inputs=(
        Input("humidity", "h", "%", "Relative humidity"),
        Input("temperature", "t", "°C", "Temperature of the air"),
        Input("freezing_pressure", "p_0", "kPa", "Vapour pressure at 0 °C", exact=True, constant="0.61078 kPa"),
    ),
    source="Tetens (1930), within 1 Pa up to 35 °C above freezing (Monteith and Unsworth, Principles of Environmental Physics, 3rd edition)",
    flag=Flag.SEEN,
    example=Example(
        {"humidity": "100 %", "temperature": "20 °C", "freezing_pressure": "0.61078 kPa"}, "2.34 kPa", "steam tables: 2.339 kPa at 20 °C, from memory"
    ),
    subject="power",
    impossible=(0, None),
)
def humid_vapour_pressure(humidity: Number, temperature: Number, freezing_pressure: Number) -> Number:
    """Vapour pressure of moist air; no verdict outside 0 to 35 °C, where the formula was proved."""
    celsius = number_in_si(temperature) - 273.15
    if not -1e-9 <= nominal(celsius) <= 35 + 1e-9:
        raise NoVerdict("the formula for the vapour pressure was proved from 0 to 35 °C only")
    return freezing_pressure * 10 ** (7.5 * celsius / (celsius + 237.3)) * humidity


@figure(
    title="Weather factor, SAE J607",
    symbol="alpha_607",
    unit="",
    formula="alpha_607 = 101.325 / p_d * ((t + 273.15) / 288.73)**0.5",
    inputs=_DAY,
    source="29.92 over the dry pressure in inches of mercury, times the root of (459.7 + °F) / 519.7 (diy_efi mailing list, 1 March 1995)",
    flag=Flag.SEEN,
    example=Example({"dry_pressure": "101.325 kPa", "inlet_temperature": "15.58 °C"}, "1.000", "the standard's own day: 29.92 inHg, 60 °F"),
    subject="power",
    impossible=(0, None),
    basis=_OTHER,
    decimals=3,
)
def weather_factor_j607(dry_pressure: Number, inlet_temperature: Number) -> Number:
    """Factor to the day of SAE J607, a pure number."""
    return 101_325 / number_in_si(dry_pressure) * (number_in_si(inlet_temperature) / 288.73) ** 0.5


@figure(
    title="Weather factor, SAE J1349",
    symbol="alpha_1349",
    unit="",
    formula="alpha_1349 = 1.18 * 99 / p_d * ((t + 273) / 298)**0.5 - 0.18",
    inputs=_DAY,
    source="SAE J1349 (June 1990), as quoted at passionford.com (post 6282141) and for 990 mbar and 25 °C at teamzr1.com; the standard not seen",
    flag=Flag.SEEN,
    example=Example({"dry_pressure": "99 kPa", "inlet_temperature": "25 °C"}, "1.000", "the standard's own day"),
    subject="power",
    impossible=(0, None),
    basis=_OTHER,
    decimals=3,
    also=("SAEJ1349",),
)
def weather_factor_j1349(dry_pressure: Number, inlet_temperature: Number) -> Number:
    """Factor to the day of SAE J1349, a pure number."""
    return 1.18 * 99_000 / number_in_si(dry_pressure) * ((number_in_si(inlet_temperature) - 0.15) / 298) ** 0.5 - 0.18


@figure(
    title="Weather factor, DIN 70020",
    symbol="alpha_din",
    unit="",
    formula="alpha_din = 101.3 / p * ((t + 273) / 293)**0.5",
    inputs=(Input("pressure", "p", "kPa", "Air pressure, not dry"), Input("inlet_temperature", "t", "°C", "Temperature of the air taken in")),
    source="DIN 70020 as told at corsa-d.de, thread 2830 (1013 over the pressure, times the root of 273 + t over 293); the standard not seen",
    flag=Flag.SEEN,
    example=Example({"pressure": "101.3 kPa", "inlet_temperature": "20 °C"}, "1.000", "the standard's own day"),
    subject="power",
    impossible=(0, None),
    basis=_OTHER,
    decimals=3,
    also=("DIN70020",),
)
def weather_factor_din70020(pressure: Number, inlet_temperature: Number) -> Number:
    """Factor to the day of DIN 70020, a pure number."""
    return 101_300 / number_in_si(pressure) * ((number_in_si(inlet_temperature) - 0.15) / 293) ** 0.5
