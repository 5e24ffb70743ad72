"""Forces of a V-twin with one crank pin: the largest and smallest primary and the largest secondary, round a turn of the crank."""

from __future__ import annotations

from typing import Any

from dossier.figures.figure import Example, Input, figure
from dossier.figures.motion import SPEED
from dossier.model.quantity import Number, cos, largest, sin, smallest, sqrt
from dossier.model.results import Flag

MASS = Input("reciprocating_each", "m", "kg", "Reciprocating mass of each cylinder", also=("reciprocating_per_cylinder",))
THROW = Input("crank_radius", "r", "mm", "Crank radius")
ROD = Input("rod_length", "L", "mm", "Rod length between centres", also=("rod",))
BANK = Input("bank_angle", "beta", "°", "Angle between the cylinders", exact=True)
_MATHEMATICS = (
    "the forces along both bores added as vectors, first harmonic: 2 cos² and 2 sin² of half the angle, along and across the middle line"
)
_KHURMI = "Khurmi and Gupta, Theory of Machines, example of a 60° V-engine (from memory)"
_ENGINE = {"reciprocating_each": "1.5 kg", "crank_radius": "50 mm", "engine_speed": "2500 rpm", "bank_angle": "60°"}


def _force(**facts: Any) -> dict[str, Any]:
    common: dict[str, Any] = {
        "unit": "N",
        "flag": Flag.GEOMETRY,
        "subject": "balance",
        "for_bench": True,
        "decimals": 0,
        "source": _MATHEMATICS,
        "inputs": (MASS, THROW, SPEED, BANK),
        "basis": "no counterweight; both rods on one crank pin",
    }
    return {**common, **facts}


def _primary(reciprocating_each: Number, crank_radius: Number, engine_speed: Number) -> Number:
    return 2 * reciprocating_each * crank_radius * engine_speed**2


@figure(
    **_force(
        title="Largest primary force of a V-twin",
        symbol="F_max",
        also=("primary_max",),
        formula="F_max = 2 * m * r / 1000 * (pi*N/30)**2 * largest(cos(beta/2)**2, sin(beta/2)**2)",
        closed=False,
        example=Example(_ENGINE, "7710.7 N", _KHURMI, within=1.5),
    )
)
def largest_primary_of_v(reciprocating_each: Number, crank_radius: Number, engine_speed: Number, bank_angle: Number) -> Number:
    """Largest primary force round a turn."""
    half = bank_angle / 2
    return _primary(reciprocating_each, crank_radius, engine_speed) * largest([cos(half) ** 2, sin(half) ** 2])


@figure(
    **_force(
        title="Smallest primary force of a V-twin",
        symbol="F_min",
        also=("primary_min",),
        formula="F_min = 2 * m * r / 1000 * (pi*N/30)**2 * smallest(cos(beta/2)**2, sin(beta/2)**2)",
        closed=False,
        example=Example(_ENGINE, "2570.2 N", _KHURMI, within=0.6),
    )
)
def smallest_primary_of_v(reciprocating_each: Number, crank_radius: Number, engine_speed: Number, bank_angle: Number) -> Number:
    """Smallest primary force round a turn."""
    half = bank_angle / 2
    return _primary(reciprocating_each, crank_radius, engine_speed) * smallest([cos(half) ** 2, sin(half) ** 2])


@figure(
    **_force(
        title="Largest secondary force of a V-twin",
        symbol="F_s",
        also=("secondary",),
        inputs=(MASS, THROW, ROD, SPEED, BANK),
        closed=False,
        formula="F_s = 2 * m * r / 1000 * (pi*N/30)**2 * r / L * largest(cos(beta/2)*cos(beta), sin(beta/2)*sin(beta))",
        source="the forces along both bores added as vectors, second harmonic",
        example=Example({**_ENGINE, "rod_length": "250 mm"}, "890.3 N", _KHURMI, within=0.3),
    )
)
def largest_secondary_of_v(
    reciprocating_each: Number, crank_radius: Number, rod_length: Number, engine_speed: Number, bank_angle: Number
) -> Number:
    """Largest secondary force round a turn."""
    half = bank_angle / 2
    along, across = cos(half) * cos(bank_angle), sin(half) * sin(bank_angle)
    sizes = [sqrt(along**2), sqrt(across**2)]
    return _primary(reciprocating_each, crank_radius, engine_speed) * crank_radius / rod_length * largest(sizes)
