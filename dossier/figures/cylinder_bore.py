"""Shape of the cylinder bore from readings at several heights, at each height along the crank and across it."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, largest, mean, smallest
from dossier.model.results import Flag

READINGS = Input("readings", "d", "mm", "Bore readings, at each height along then across", name="bore_reading", over="reading")
_EXAMPLE = ("62.013 mm", "62.011 mm", "62.014 mm", "62.012 mm", "62.012 mm", "62.010 mm")
_FRESH = "common practice, no source: up to 0.01 mm when fresh"


def pairs_of(readings: Sequence[Number]) -> list[tuple[Number, Number]]:
    """Readings (m) taken two by two, one pair at each height. ValueError when one is left over or there are none."""
    if not readings or len(readings) % 2:
        raise ValueError("bore readings come in pairs, along the crank and across")
    return list(zip(readings[::2], readings[1::2], strict=True))


@figure(
    title="Ovality of the bore",
    symbol="o",
    unit="mm",
    formula="o = largest(abs(d_along - d_across))",
    inputs=(READINGS,),
    per=("cylinder",),
    source="largest difference of the two readings at one height",
    flag=Flag.GEOMETRY,
    example=Example({"readings": _EXAMPLE}, "0.002 mm", "worked by hand: 62.013 - 62.011 and the same at the other heights"),
    subject="engine",
    usual=(None, 0.01),
    usual_source=_FRESH,
    decimals=3,
    closed=False,
    quiet=True,
)
def bore_ovality(readings: Sequence[Number]) -> Number:
    """How far the bore is from round, at its worst height."""
    return largest([one for along, across in pairs_of(readings) for one in (along - across, across - along)])


@figure(
    title="Taper of the bore",
    symbol="c",
    unit="mm",
    formula="c = largest(d_mean) - smallest(d_mean)",
    inputs=(READINGS,),
    per=("cylinder",),
    source="largest less smallest mean of the heights",
    flag=Flag.GEOMETRY,
    example=Example({"readings": _EXAMPLE}, "0.002 mm", "worked by hand: means 62.012, 62.013 and 62.011"),
    subject="engine",
    usual=(None, 0.01),
    usual_source=_FRESH,
    decimals=3,
    closed=False,
    quiet=True,
)
def bore_taper(readings: Sequence[Number]) -> Number:
    """How much wider the bore is at one height than at another."""
    means = [mean(pair) for pair in pairs_of(readings)]
    return largest(means) - smallest(means)
