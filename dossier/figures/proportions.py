"""Proportions of the cylinder: liner wall, bore to stroke, rod to stroke, and the piston in the bore."""

from __future__ import annotations

from dossier.figures.engine import BORE, LINER, MEAN_BORE, ROD, STEP, STROKE
from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, floor
from dossier.model.results import Flag

WALL = Input("least_liner_wall", "t_min", "mm", "Least liner wall allowed", exact=True, constant="2.0 mm")


@figure(
    title="Liner wall",
    symbol="t",
    unit="mm",
    formula="t = (D_o - B) / 2",
    inputs=(LINER, BORE),
    per=("cylinder",),
    source="half the difference of two diameters",
    flag=Flag.GEOMETRY,
    example=Example({"liner_outside_diameter": "67.60 mm", "bore": "62.014 mm"}, "2.793 mm", "worked by hand: 5.586 / 2"),
    subject="engine",
    usual=(2.0, None),
    usual_source="common practice, no source",
    impossible=(0, None),
    decimals=3,
)
def liner_wall(liner_outside_diameter: Number, bore: Number) -> Number:
    """Wall left in the liner, at the mean bore."""
    return (liner_outside_diameter - bore) / 2


@figure(
    title="Oversizes left in the liner",
    symbol="n_l",
    unit="",
    formula="n_l = floor((D_o - 2*t_min - B) / s)",
    inputs=(LINER, WALL, BORE, STEP),
    per=("cylinder",),
    source="whole steps until the liner wall is down to the least allowed; two millimetres is common practice, no source",
    flag=Flag.PRACTICE,
    example=Example(
        {"liner_outside_diameter": "67.60 mm", "least_liner_wall": "2.0 mm", "bore": "62.014 mm", "oversize_step": "0.25 mm"},
        "6", "worked by hand: (67.60 - 4.0 - 62.014) / 0.25 = 6.3",
    ),
    subject="engine",
    usual=(0, None),
    usual_source="common practice, no source",
    says="the liner is thinner than the least allowed",
    decimals=0,
)  # fmt: skip
def oversizes_in_liner(liner_outside_diameter: Number, least_liner_wall: Number, bore: Number, oversize_step: Number) -> Number:
    """How many oversize steps the liner wall still allows; a whole number."""
    return floor((liner_outside_diameter - 2 * least_liner_wall - bore) / oversize_step)


@figure(
    title="Bore to stroke",
    symbol="R_bs",
    unit="",
    formula="R_bs = B / S",
    inputs=(MEAN_BORE, STROKE),
    source="by definition",
    flag=Flag.GEOMETRY,
    example=Example({"bore": "62.013 mm", "stroke": "57.79 mm"}, "1.073", "worked by hand: 62.013 / 57.79"),
    subject="engine",
    usual=(0.7, 1.6),
    usual_source="from memory; sewercalculator.com (Bore to stroke ratio) has 0.8 to 1.5 for road machines of today",
    impossible=(0, None),
    decimals=3,
)
def bore_stroke_ratio(bore: Number, stroke: Number) -> Number:
    """Bore over stroke, a pure number; the mean bore stands for several cylinders."""
    return bore / stroke


@figure(
    title="Rod to stroke",
    symbol="R_ls",
    unit="",
    formula="R_ls = L / S",
    inputs=(ROD, STROKE),
    source="by definition: rod length between centres over stroke",
    flag=Flag.GEOMETRY,
    example=Example({"rod_length": "112 mm", "stroke": "57.79 mm"}, "1.938", "worked by hand: 112 / 57.79"),
    subject="engine",
    usual=(1.6, 2.4),
    usual_source="from memory; Kevin Cameron (Cycle World, quoted at motorcycleriders.net, topic 5546) finds 2.0 to 2.2 most common, "
    "HP Academy (Rod to stroke ratio) 1.4 to 1.8 and more in production engines and well over 2 in racing",
    impossible=(0.5, None),
    decimals=3,
)
def rod_ratio(rod_length: Number, stroke: Number) -> Number:
    """Rod length over stroke, a pure number; at one half the crank could not turn."""
    return rod_length / stroke


PISTON = Input("piston_diameter", "D_p", "mm", "Piston diameter at the gauge point")


@figure(
    title="Piston clearance",
    symbol="c_p",
    unit="mm",
    formula="c_p = B - D_p",
    inputs=(BORE, PISTON),
    per=("cylinder",),
    source="bore less piston, measured across the pin at the maker's gauge point",
    flag=Flag.GEOMETRY,
    example=Example({"bore": "62.012 mm", "piston_diameter": "61.952 mm"}, "0.060 mm", "worked by hand: 62.012 - 61.952"),
    subject="engine",
    impossible=(0, None),
    decimals=3,
)
def piston_clearance(bore: Number, piston_diameter: Number) -> Number:
    """Clearance of the piston in its bore, on the diameter."""
    return bore - piston_diameter


@figure(
    title="Piston clearance for its bore",
    symbol="c_rel",
    unit="‰",
    formula="c_rel = (B - D_p) / B * 1000",
    inputs=(BORE, PISTON),
    per=("cylinder",),
    source="clearance over bore",
    flag=Flag.GEOMETRY,
    example=Example({"bore": "62.012 mm", "piston_diameter": "61.952 mm"}, "0.968 ‰", "worked by hand: 60 / 62.012"),
    subject="engine",
    usual=(0.7, 1.3),
    usual_source="from memory: forged piston in an air-cooled barrel; kxriders.com (topic 7575) wants 0.075 mm or more at 73 mm",
    impossible=(0, None),
    basis="forged piston, air-cooled",
)
def piston_clearance_share(bore: Number, piston_diameter: Number) -> Number:
    """Piston clearance as a share of the bore, so that sizes can be compared."""
    return (bore - piston_diameter) / bore


@figure(
    title="Ring gap for its bore",
    symbol="g_rel",
    unit="",
    formula="g_rel = g / B",
    inputs=(Input("ring_gap", "g", "mm", "Ring gap"), BORE),
    per=("cylinder",),
    source="end gap in the bore over the bore",
    flag=Flag.GEOMETRY,
    example=Example({"ring_gap": "0.28 mm", "bore": "62.014 mm"}, "0.0045", "worked by hand: 0.28 / 62.014 = 0.004515"),
    subject="engine",
    usual=(0.0040, None),
    usual_source="trade-school answer sheet (engineproblem.com.au, knowledge test 1.49): 0.004 in for each inch of bore",
    impossible=(0, None),
    decimals=5,
)
def ring_gap_ratio(ring_gap: Number, bore: Number) -> Number:
    """Ring gap over bore, a pure number."""
    return ring_gap / bore


@figure(
    title="Ring gap against its rule",
    symbol="g_use",
    unit="%",
    formula="g_use = g / (k_g * B) * 100",
    inputs=(
        Input("ring_gap", "g", "mm", "Ring gap"),
        BORE,
        Input("ring_gap_rule", "k_g", "", "Ring gap wanted for each unit of bore", exact=True, constant="0.0040"),
    ),
    per=("cylinder",),
    source="rule of 0.0040 to 0.0045 of the bore for the top ring by use (Chevy High Performance, table in: File fitting piston rings); "
    "up to half as much again does no harm (engineproblem.com.au, knowledge test 1.49)",
    flag=Flag.SEEN,
    example=Example(
        {"ring_gap": "0.28 mm", "bore": "62.014 mm", "ring_gap_rule": "0.0045"}, "100.3 %", "worked by hand: the rule gives 0.27906 mm"
    ),
    subject="engine",
    usual=(100, 150),
    usual_source="trade-school answer sheet (engineproblem.com.au, knowledge test 1.49)",
    says="a ring that butts will seize; a gap far over the rule leaks",
    impossible=(0, None),
    decimals=0,
)
def ring_gap_use(ring_gap: Number, bore: Number, ring_gap_rule: Number) -> Number:
    """Ring gap as a share of the gap that the rule wants for this bore."""
    return ring_gap / (ring_gap_rule * bore)
