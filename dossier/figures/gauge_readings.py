"""Readings taken one after the other with a gauge: tone and tension of spokes, thickness of paint, temperatures."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, largest, mean, smallest
from dossier.model.results import Flag

_HAND = "worked by hand"
_ALIKE = "common practice, no source: the same note all round"


def _spokes(name: str, title: str, symbol: str, unit: str) -> dict[str, Any]:
    return {
        "inputs": (Input(name, symbol, unit, title, over="spoke", file="logs"),), "per": ("wheel", "side"), "flag": Flag.GEOMETRY,
        "subject": "chassis", "quiet": True,
    }  # fmt: skip


@figure(
    **_spokes("spoke_tone", "Tone of each spoke", "f", "Hz"), title="Tone of the spokes, mean", symbol="f_m", unit="Hz", formula="f_m = mean(f)",
    source="mean of the spokes on one side", example=Example({"spoke_tone": ("420 Hz", "430 Hz", "425 Hz")}, "425 Hz", _HAND), decimals=0,
)  # fmt: skip
def mean_spoke_tone(spoke_tone: Sequence[Number]) -> Number:
    """Mean tone of the spokes on one side of a wheel."""
    return mean(spoke_tone)


@figure(
    **_spokes("spoke_tone", "Tone of each spoke", "f", "Hz"), title="Tone of the spokes, spread", symbol="Delta_f", unit="%",
    formula="Delta_f = 100 * (largest(f) - smallest(f)) / mean(f)", source="highest less lowest of one side, over their mean; "
    "tension goes with the square of the tone",
    example=Example({"spoke_tone": ("420 Hz", "430 Hz", "425 Hz")}, "2.4 %", f"{_HAND}: 10 / 425"), usual=(None, 10),
    usual_source=_ALIKE, decimals=1,
)  # fmt: skip
def spoke_tone_spread(spoke_tone: Sequence[Number]) -> Number:
    """How far the tones on one side of a wheel lie apart."""
    return (largest(spoke_tone) - smallest(spoke_tone)) / mean(spoke_tone)


@figure(
    **_spokes("spoke_tension", "Tension of each spoke", "T", "N"), title="Tension of the spokes, mean", symbol="T_m", unit="N",
    formula="T_m = mean(T)", source="mean of the spokes on one side",
    example=Example({"spoke_tension": ("700 N", "720 N", "740 N")}, "720 N", _HAND), decimals=0,
)  # fmt: skip
def mean_spoke_tension(spoke_tension: Sequence[Number]) -> Number:
    """Mean tension of the spokes on one side of a wheel."""
    return mean(spoke_tension)


@figure(
    **_spokes("spoke_tension", "Tension of each spoke", "T", "N"), title="Tension of the spokes, spread", symbol="Delta_T", unit="%",
    formula="Delta_T = 100 * (largest(T) - smallest(T)) / mean(T)", source="highest less lowest of one side, over their mean",
    example=Example({"spoke_tension": ("700 N", "720 N", "740 N")}, "5.6 %", f"{_HAND}: 40 / 720"), usual=(None, 20),
    usual_source=_ALIKE, decimals=1,
)  # fmt: skip
def spoke_tension_spread(spoke_tension: Sequence[Number]) -> Number:
    """How far the tensions on one side of a wheel lie apart."""
    return (largest(spoke_tension) - smallest(spoke_tension)) / mean(spoke_tension)


@figure(
    title="Thickness of the coating, mean", symbol="t_m", unit="µm", formula="t_m = mean(t)",
    inputs=(Input("coating_thickness", "t", "µm", "Thickness at each place", over="place", file="logs"),), per=("part",),
    source="mean of the readings on one part", flag=Flag.GEOMETRY,
    example=Example({"coating_thickness": ("110 µm", "120 µm", "118 µm")}, "116 µm", _HAND), subject="finish", decimals=0, quiet=True,
)  # fmt: skip
def mean_coating_thickness(coating_thickness: Sequence[Number]) -> Number:
    """Mean thickness of the coating of a part."""
    return mean(coating_thickness)


@figure(
    title="Highest temperature", symbol="t_max", unit="°C", formula="t_max = largest(t)",
    inputs=(Input("logged_temperature", "t", "°C", "Temperature as logged", over="reading", file="logs"),), per=("session", "place"),
    source="highest of the readings at one place", flag=Flag.GEOMETRY,
    example=Example({"logged_temperature": ("78 °C", "94 °C", "91 °C")}, "94 °C", "read off by eye"), subject="life", decimals=0, quiet=True,
)  # fmt: skip
def highest_temperature(logged_temperature: Sequence[Number]) -> Number:
    """Highest temperature at one place during a session."""
    return largest(logged_temperature)
