"""What the piston's motion loads: the rings, the rod and the crank pin."""

from __future__ import annotations

from dossier.figures.figure import Example, Input, NoVerdict, figure
from dossier.model.quantity import Number, nominal
from dossier.model.results import Flag

ACCELERATION = Input("highest_piston_acceleration", "a_max", "m/s²", "Highest piston acceleration", also=("acceleration",))
RING = Input("ring_axial_thickness", "h", "mm", "Axial thickness of the ring")
FLUTTER = ((1.0e-3, 138_000), (1.2e-3, 106_000), (1.6e-3, 80_000), (2.4e-3, 53_000), (3.2e-3, 40_000))
"""Axial thickness of the ring (m) and the piston acceleration (ft/s²) above which it flutters."""
_FOOT = 0.3048
_TABLE = "Gordon Jennings, Two-Stroke Tuner's Handbook (1973): table of ring thickness and greatest piston acceleration"


def limit_of(thickness: Number) -> float:
    """Acceleration (m/s²) at which a ring (m) flutters: the row of the next thicker ring. NoVerdict outside the table."""
    wanted = nominal(thickness)
    if wanted >= FLUTTER[0][0] * (1 - 1e-9):
        for listed, limit in FLUTTER:
            if wanted <= listed * (1 + 1e-9):
                return limit * _FOOT
    raise NoVerdict(f"the published table runs from 1.0 to 3.2 mm; a ring of {wanted * 1000:.3g} mm lies outside it")


@figure(
    title="Piston acceleration at which the rings flutter",
    symbol="a_r",
    unit="m/s²",
    formula="a_r = a_table",
    inputs=(RING,),
    source=_TABLE,
    flag=Flag.SEEN,
    example=Example({"ring_axial_thickness": "1.0 mm"}, "42062.4 m/s²", "the table's own row: 138,000 ft/s²"),
    subject="motion",
    decimals=0,
    closed=False,
    tabled=True,
    basis="row of the next thicker ring in the table",
)
def flutter_limit(ring_axial_thickness: Number) -> Number:
    """Published limit of piston acceleration for a ring of this thickness."""
    return limit_of(ring_axial_thickness)


@figure(
    title="Use of the ring flutter limit",
    symbol="k_r",
    unit="%",
    formula="k_r = a_max / a_table * 100",
    inputs=(ACCELERATION, RING),
    source=_TABLE,
    flag=Flag.SEEN,
    example=Example(
        {"highest_piston_acceleration": "136063.887 ft/s²", "ring_axial_thickness": "1.0 mm"}, "98.6 %",
        "worked by hand: 136,064 over the table's 138,000 ft/s²",
    ),
    subject="motion",
    usual=(None, 95),
    usual_source=_TABLE + "; the margin of five per cent is common practice, no source",
    says="close to or above the limit at which rings flutter",
    decimals=0,
    closed=False,
    tabled=True,
    basis="row of the next thicker ring in the table",
)  # fmt: skip
def ring_flutter_use(highest_piston_acceleration: Number, ring_axial_thickness: Number) -> Number:
    """Highest piston acceleration as a share of the published limit for the ring."""
    return highest_piston_acceleration / limit_of(ring_axial_thickness)


@figure(
    title="Inertia force of one piston",
    symbol="F_r",
    unit="kN",
    formula="F_r = m_r * a_max / 1000000",
    inputs=(Input("reciprocating_mass", "m_r", "g", "Reciprocating mass of one cylinder"), ACCELERATION),
    source="mass times acceleration, at top dead centre and the rev limit",
    flag=Flag.GEOMETRY,
    example=Example(
        {"reciprocating_mass": "0.5 kg", "highest_piston_acceleration": "40000 m/s²"}, "20 kN", "worked by hand: 0.5 kg times 40,000 m/s²"
    ),
    subject="motion",
    impossible=(0, None),
)
def inertia_force(reciprocating_mass: Number, highest_piston_acceleration: Number) -> Number:
    """Force that the rod must bring up to turn the piston round at top dead centre."""
    return reciprocating_mass * highest_piston_acceleration
