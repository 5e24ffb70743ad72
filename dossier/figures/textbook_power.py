"""Power and force as textbooks ask for them: mean pressure from power, a weather factor from humidity, a force in a book's own pounds."""

from __future__ import annotations

from math import pi

from dossier.figures.figure import Example, Input, figure
from dossier.figures.motion import SPEED
from dossier.figures.weather import humid_vapour_pressure, weather_factor_j607
from dossier.model.quantity import Number
from dossier.model.results import Flag

_FOSSEE = "(FOSSEE Python Textbook Companions)"


@figure(
    title="Mean effective pressure from power",
    symbol="p_me",
    unit="bar",
    formula="p_me = 300 * z * P / (V / 1000 * N)",
    inputs=(
        Input("power", "P", "kW", "Power"),
        SPEED,
        Input("swept_volume", "V", "cc", "Swept volume"),
        Input("strokes", "z", "", "Strokes of a cycle", exact=True, constant="4", file="machine.yaml"),
    ),
    source="work of one cycle over the swept volume: a cycle takes as many half turns as it has strokes",
    flag=Flag.GEOMETRY,
    example=Example(
        {"power": "66 kW", "engine_speed": "2400 rpm", "swept_volume": "5103.517 cc", "strokes": "4"},
        "6.466 bar",
        f"Mathur and Sharma, Internal Combustion Engine, Ex. 18.8 p. 388 {_FOSSEE}",
    ),
    subject="power",
    for_bench=True,
    impossible=(0, 25),
    also=("bmep",),
)
def mean_pressure_from_power(power: Number, engine_speed: Number, swept_volume: Number, strokes: Number) -> Number:
    """Brake mean effective pressure of a power at a speed."""
    return power * pi * strokes / (engine_speed * swept_volume)


@figure(
    title="Weather factor, SAE J607, from humidity",
    symbol="alpha_607",
    unit="",
    formula="alpha_607 = 101.325 / (p - p_v) * ((t + 273.15) / 288.73)**0.5",
    inputs=(
        Input("barometer", "p", "kPa", "Pressure of the air"),
        Input("temperature", "t", "°C", "Temperature of the air taken in"),
        Input("humidity", "h", "%", "Relative humidity", also=("relative_humidity",)),
    ),
    source="as the weather factor of SAE J607, the vapour pressure by Tetens (1930)",
    flag=Flag.SEEN,
    example=Example(
        {"barometer": "28.85 inHg", "temperature": "85 °F", "humidity": "85 %"},
        "1.1005",
        "teamzr1.com, Dyno correction standards",
        within=0.001,
    ),
    subject="power",
    closed=False,
    tabled=True,
    for_bench=True,
    decimals=4,
    also=("correction_factor",),
)
def weather_factor_of_humid_day(barometer: Number, temperature: Number, humidity: Number) -> Number:
    """Factor to the day of SAE J607 (a pure number) from a barometer, a thermometer and a hygrometer; Pa and K in."""
    return weather_factor_j607(barometer - humid_vapour_pressure(humidity, temperature, 610.78), temperature)


@figure(
    title="Force left unbalanced, in the weight of a book",
    symbol="F",
    unit="N",
    formula="F = (1 - b) * m * r / 1000 * (pi*N/30)**2 * g_0 / g",
    inputs=(
        Input("reciprocating", "m", "kg", "Reciprocating mass"),
        Input("balance_factor", "b", "", "Balance factor", exact=True),
        Input("crank_radius", "r", "mm", "Crank radius"),
        SPEED,
        Input("gravity", "g", "m/s²", "Fall of a free body in the book", exact=True, also=("g",)),
        Input("standard_gravity", "g_0", "m/s²", "Standard fall", exact=True, constant="9.80665 m/s²"),
    ),
    source=f"the largest force left along the bore (Bevan, Theory of Machines, Ex. 14.5 p. 500 {_FOSSEE}): pounds of force by the book's own gravity",
    flag=Flag.SEEN,
    example=Example(
        {
            "reciprocating": "150 lb",
            "balance_factor": "0.5",
            "crank_radius": "7.5 in",
            "engine_speed": "300 rpm",
            "gravity": "32.2 ft/s²",
            "standard_gravity": "9.80665 m/s²",
        },
        "1436 lbf",
        f"Bevan, Theory of Machines, Ex. 14.5 p. 500 {_FOSSEE}",
        within=1.0,
    ),
    subject="balance",
    for_bench=True,
    decimals=0,
    also=("residual_force",),
)
def residual_force_in_book(
    reciprocating: Number, balance_factor: Number, crank_radius: Number, engine_speed: Number, gravity: Number, standard_gravity: Number
) -> Number:
    """Largest primary force left along the bore, where a book reckons its pounds of force with a gravity of its own."""
    return (1 - balance_factor) * reciprocating * crank_radius * engine_speed**2 * standard_gravity / gravity
