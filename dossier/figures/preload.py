"""How far a bolt's preload scatters by the way it was tightened."""

from __future__ import annotations

from dossier.figures.figure import Example, Input, NoVerdict, figure
from dossier.model.quantity import Number, nominal
from dossier.model.results import Flag

SCATTER = {1: 0.30, 3: 0.05}
"""Largest scatter of preload by way of tightening: 1 torque wrench 25 to 30 %, 3 stretch 1 to 5 %."""


@figure(
    title="Scatter of the preload",
    symbol="s_F",
    unit="%",
    formula="s_F = table(m)",
    inputs=(Input("tightening_method", "m", "", "Way of tightening: 1 torque, 2 angle, 3 stretch", exact=True, file="work.yaml"),),
    per=("joint",),
    source="torque wrench ± 25 to 30 %, stretch ± 1 to 5 % (leadergt.com, preload accuracy; bands of VDI 2230, 1986, at trfastenings.com); "
    "the larger of each is taken",
    flag=Flag.SEEN,
    example=Example({"tightening_method": "3"}, "5 %", "leadergt.com, preload accuracy: 1 to 5 % by stretch"),
    subject="measurement",
    basis="plus or minus; lubricant and thread alter it further",
    closed=False,
    decimals=0,
)
def preload_scatter(tightening_method: Number) -> Number:
    """By how much the preload may lie off either way; no verdict for a way of tightening that the table has not."""
    method = round(nominal(getattr(tightening_method, "magnitude", tightening_method)))
    if method not in SCATTER:
        raise NoVerdict("the published bands seen have no figure for this way of tightening")
    return SCATTER[method]
