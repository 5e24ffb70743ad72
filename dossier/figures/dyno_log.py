"""How far the pulls of one dynamometer run repeat, and whether its weather lies within what the correction is meant for."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, NoVerdict, figure
from dossier.model.quantity import Number, mean
from dossier.model.results import Flag


@figure(
    title="Repeatability of the pulls",
    symbol="U_r",
    unit="N·m",
    formula="U_r = 2 * root(mean(s**2))",
    inputs=(Input("pull_deviation", "s", "N·m", "Standard deviation of the pulls at one engine speed", over="point", exact=True, file="logs"),),
    per=("run",),
    source="two pooled standard deviations of the pulls' torques, speed by speed (JCGM 100:2008, GUM, 4.2.4 and H.3.6)",
    flag=Flag.SEEN,
    example=Example({"pull_deviation": ("0.3 N·m", "0.4 N·m")}, "0.71 N·m", "worked by hand: 2 x root((0.09 + 0.16) / 2) = 0.707"),
    subject="power",
    closed=False,
    quiet=True,
)
def pull_repeatability(pull_deviation: Sequence[Number]) -> Number:
    """Half-width of the band in which one pull lies, from pulls repeated on one day."""
    if not pull_deviation:
        raise NoVerdict("the run has one pull only")
    return 2 * mean([one * one for one in pull_deviation]) ** 0.5
