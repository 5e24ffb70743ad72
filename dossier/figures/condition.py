"""How the engine stands on the day: leak-down, compression, the sound test, oil in the fuel, and how far a tank goes."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, largest, smallest
from dossier.model.results import Flag


@figure(
    title="Leak-down",
    symbol="L",
    unit="%",
    formula="L = 100 * (1 - p_c / p_s)",
    inputs=(
        Input("leakdown_cylinder", "p_c", "bar", "Pressure in the cylinder", also=("cylinder",)),
        Input("leakdown_supply", "p_s", "bar", "Pressure of the supply", also=("supply",)),
    ),
    per=("cylinder",),
    source="share of the supply that is lost; it depends on the tester's orifice, so only readings of one tester compare "
    "(FAA Advisory Circular 43.13-1B, ch. 8, par. 8-14)",
    flag=Flag.SEEN,
    example=Example(
        {"leakdown_cylinder": "60 psi", "leakdown_supply": "80 psi"}, "25 %",
        "FAA Advisory Circular 43.13-1B, ch. 8, par. 8-14: the lowest acceptable reading of 60/80",
    ),
    subject="power",
    usual=(None, 5),
    usual_source="5 % fresh, 20 % strip: common practice, no source; 10 % ordinary (gts-1000 owners' mailing list, message 00492)",
    impossible=(-1e-9, 100),
    decimals=1,
    also=("leakage",),
)  # fmt: skip
def leak_down(leakdown_cylinder: Number, leakdown_supply: Number) -> Number:
    """Share of the supply pressure that the cylinder does not hold."""
    return 1 - leakdown_cylinder / leakdown_supply


@figure(
    title="Spread of compression",
    symbol="Delta_p",
    unit="%",
    formula="Delta_p = 100 * (largest(p) - smallest(p)) / largest(p)",
    inputs=(Input("compression_pressure", "p", "bar", "Compression pressure", over="cylinder"),),
    source="difference of the best and the worst cylinder, over the best (common practice, no source)",
    flag=Flag.PRACTICE,
    example=Example({"compression_pressure": ("12.4 bar", "12.1 bar")}, "2.4 %", "worked by hand: 0.3 / 12.4"),
    subject="power",
    usual=(None, 10),
    usual_source="common practice, no source",
    decimals=1,
)
def compression_spread(compression_pressure: Sequence[Number]) -> Number:
    """How far the worst cylinder lies below the best."""
    return (largest(compression_pressure) - smallest(compression_pressure)) / largest(compression_pressure)


@figure(
    title="Engine speed of the standing sound test",
    symbol="n_s",
    unit="rpm",
    formula="n_s = 30000 * c_m / S",
    inputs=(
        Input("sound_test_piston_speed", "c_m", "m/s", "Mean piston speed of the test", exact=True),
        Input("stroke", "S", "mm", "Stroke"),
    ),
    source="N = 30 000 c_m / l in a motocross club's rule (challengequebecmotocross.com/sons.htm); 11 m/s for four-strokes "
    "(FIM 2.14, quoted at sporthoj.com); 13 m/s for two-strokes from memory, looked for and not found",
    flag=Flag.SEEN,
    example=Example({"sound_test_piston_speed": "13 m/s", "stroke": "54.00 mm"}, "7222 rpm", "worked by hand: 390,000 / 54"),
    subject="power",
    basis="a club may fix another speed",
    impossible=(0, None),
    decimals=0,
)  # fmt: skip
def sound_test_speed(sound_test_piston_speed: Number, stroke: Number) -> Number:
    """Engine speed at which the mean piston speed is that of the sound test."""
    return pi * sound_test_piston_speed / stroke


@figure(
    title="Oil in the fuel",
    symbol="q_o",
    unit="ml/l",
    formula="q_o = 1000 / k",
    inputs=(Input("premix_ratio", "k", "", "Fuel to oil", exact=True, file="work.yaml"),),
    source="by definition of the ratio, fuel to oil by volume",
    flag=Flag.GEOMETRY,
    example=Example({"premix_ratio": "20"}, "50 ml/l", "worked by hand: 1000 / 20"),
    subject="two-stroke",
    strokes="2",
    usual=(25, 62.5),
    usual_source="16 : 1 to 40 : 1, common practice, no source",
    impossible=(0, None),
    decimals=0,
)
def premix_oil(premix_ratio: Number) -> Number:
    """Oil for each unit of fuel."""
    return 1 / premix_ratio


@figure(
    title="Fuel for one lap",
    symbol="q_l",
    unit="l",
    formula="q_l = Q / n_l",
    inputs=(
        Input("fuel_used", "Q", "l", "Fuel used", file="running.yaml"),
        Input("laps", "n_l", "", "Laps", exact=True, file="running.yaml"),
    ),
    per=("session",),
    source="by definition",
    flag=Flag.GEOMETRY,
    example=Example({"fuel_used": "6.0 l", "laps": "20"}, "0.30 l", "worked by hand: 6 / 20"),
    subject="power",
    impossible=(0, None),
    quiet=True,
)  # fmt: skip
def session_fuel_per_lap(fuel_used: Number, laps: Number) -> Number:
    """Fuel used on a test day for each lap."""
    return fuel_used / laps


@figure(
    title="Laps on a tank",
    symbol="n_t",
    unit="laps",
    formula="n_t = Q_t / q_l",
    inputs=(
        Input("tank_volume", "Q_t", "l", "Tank volume"),
        Input("fuel_per_lap", "q_l", "l", "Fuel for one lap", file="running.yaml"),
    ),
    source="tank over consumption, to the last drop: leave a reserve",
    flag=Flag.GEOMETRY,
    example=Example({"tank_volume": "13.8 l", "fuel_per_lap": "0.30 l"}, "46 laps", "worked by hand: 13.8 / 0.3"),
    subject="power",
    impossible=(0, None),
    decimals=1,
)  # fmt: skip
def range_in_laps(tank_volume: Number, fuel_per_lap: Number) -> Number:
    """Laps that a full tank lasts, without reserve."""
    return tank_volume / fuel_per_lap
