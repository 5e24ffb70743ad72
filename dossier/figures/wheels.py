"""How true the wheels and brake drums run, from the dial and from what was written down."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number
from dossier.model.results import Flag

_HAND = "worked by hand"


@figure(
    title="Runout, from the dial",
    symbol="e_t",
    unit="mm",
    formula="e_t = largest(e) - smallest(e)",
    inputs=(Input("dial_reading", "e", "mm", "Reading of the dial", name="rim_dial_reading", over="reading"),),
    per=("wheel", "plane"),
    source="largest less smallest reading over one turn",
    flag=Flag.GEOMETRY,
    example=Example({"dial_reading": ("0.10 mm", "0.32 mm", "-0.08 mm", "0.02 mm")}, "0.40 mm", f"{_HAND}: 0.32 + 0.08"),
    subject="chassis",
)
def dial_runout(dial_reading: Sequence[Number]) -> Number:
    """Total reading of the dial over one turn."""
    return max(dial_reading) - min(dial_reading)


@figure(
    title="Largest runout of the rim",
    symbol="e_max",
    unit="mm",
    formula="e_max = largest(e)",
    inputs=(Input("rim_runout", "e", "mm", "Runout of the rim", over="plane"),),
    per=("wheel",),
    source="the larger of radial and lateral runout",
    flag=Flag.GEOMETRY,
    example=Example({"rim_runout": ("0.7 mm", "0.6 mm")}, "0.7 mm", "read off by eye"),
    subject="chassis",
    usual=(None, 1.0),
    usual_source="1.0 mm radial and axial in a maker's manual (kawninja.net, wheel inspection); racing 0.5 mm: common practice",
    impossible=(-1e-9, None),
    decimals=1,
)
def largest_rim_runout(rim_runout: Sequence[Number]) -> Number:
    """The larger of a wheel's runouts."""
    return max(rim_runout)


@figure(
    title="Ovality of the drum, change by the cure",
    symbol="Delta_o",
    unit="mm",
    formula="Delta_o = o_a - o_b",
    inputs=(
        Input("ovality_after", "o_a", "mm", "Ovality after", name="brake_drum_ovality", at=(("state", "after"),)),
        Input("ovality_before", "o_b", "mm", "Ovality before", name="brake_drum_ovality", at=(("state", "before"),)),
    ),
    per=("wheel",),
    source="ovality after less before",
    flag=Flag.GEOMETRY,
    example=Example({"ovality_after": "0.02 mm", "ovality_before": "0.09 mm"}, "-0.07 mm", f"{_HAND}: 0.02 - 0.09"),
    subject="chassis",
    usual=(None, 0),
    usual_source="by definition",
    says="the drum is worse than before",
    quiet=True,
)
def drum_ovality_change(ovality_after: Number, ovality_before: Number) -> Number:
    """How the ovality of a brake drum changed; negative: better."""
    return ovality_after - ovality_before
