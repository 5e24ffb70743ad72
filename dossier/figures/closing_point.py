"""What the inlet's closing leaves of the stroke: swept volume and ratio from there, and the textbook estimates that rest on a ratio."""

from __future__ import annotations

from math import pi
from typing import Any

from dossier.figures.compression import ONE_CYLINDER
from dossier.figures.engine import BORE, ROD, STROKE
from dossier.figures.figure import Example, Input, figure
from dossier.figures.travel import travel_of
from dossier.model.quantity import Number
from dossier.model.results import Flag

CLOSES = Input("inlet_closes", "phi", "°", "Inlet closes after bottom dead centre", also=("IC",))
HEIGHT = Input("piston_at_inlet_closing", "x_c", "mm", "Piston below top dead centre as the inlet closes")
CLEARANCE = Input("clearance_for_ratio", "V_w", "cc", "Clearance volume of the full-stroke ratio")
_BUILT = "an invented engine, crank circle cut with the rod numerically and checked to thirty digits"
_FOSSEE = "(FOSSEE Python Textbook Companions)"
_ESTIMATE = "Wikipedia, Compression ratio (copied at altsci.com): an estimate, no standard"


def _bench(**facts: Any) -> dict[str, Any]:
    common: dict[str, Any] = {"flag": Flag.GEOMETRY, "subject": "engine", "for_bench": True, "impossible": (0, None)}
    return {**common, **facts}


@figure(
    **_bench(
        title="Piston position as the inlet closes",
        symbol="x_c",
        unit="mm",
        decimals=3,
        inputs=(STROKE, ROD, CLOSES),
        also=("piston_from_TDC",),
        formula="x_c = S/2 * (1 + cos(phi)) + L - sqrt(L**2 - (S/2 * sin(phi))**2)",
        source="crank and rod as a right triangle, exact",
        example=Example({"stroke": "82 mm", "rod_length": "155 mm", "inlet_closes": "45°"}, "72.727 mm", _BUILT),
    )
)
def piston_at_inlet_closing(stroke: Number, rod_length: Number, inlet_closes: Number) -> Number:
    """Piston below top dead centre as the inlet closes."""
    return travel_of(pi - inlet_closes, stroke, rod_length)


@figure(
    **_bench(
        title="Volume swept after the inlet closes",
        symbol="V_e",
        unit="cc",
        formula="V_e = pi/4 * B**2 * x_c / 1000",
        inputs=(BORE, HEIGHT),
        source="area of the bore times what is left of the stroke",
        also=("effective_swept",),
        per=("cylinder",),
        example=Example({"bore": "76 mm", "piston_at_inlet_closing": "72.72681 mm"}, "329.92 cc", _BUILT),
    )
)
def swept_after_closing(bore: Number, piston_at_inlet_closing: Number) -> Number:
    """Volume swept by one piston after its inlet has closed."""
    return pi / 4 * bore**2 * piston_at_inlet_closing


@figure(
    **_bench(
        title="Compression ratio from inlet closing, by the full-stroke ratio",
        symbol="epsilon_c",
        unit=":1",
        formula="epsilon_c = (V_e + V_w) / V_w",
        inputs=(Input("swept_after_closing", "V_e", "cc", "Volume swept after the inlet closes"), CLEARANCE),
        per=("cylinder",),
        source="by definition, with the swept volume that is left",
        also=("dynamic_ratio",),
        impossible=(1, None),
        decimals=3,
        example=Example({"swept_after_closing": "329.9222 cc", "clearance_for_ratio": "43.7646 cc"}, "8.539 :1", _BUILT),
    )
)
def ratio_from_closing(swept_after_closing: Number, clearance_for_ratio: Number) -> Number:
    """Compression ratio from the point at which the inlet closes."""
    return (swept_after_closing + clearance_for_ratio) / clearance_for_ratio


@figure(
    **_bench(
        title="Volume of one cylinder at bottom dead centre",
        symbol="V_t",
        unit="cc",
        formula="V_t = V_1 + V_w",
        inputs=(ONE_CYLINDER, CLEARANCE),
        source="swept and clearance volume together",
        also=("total",),
        per=("cylinder",),
        decimals=1,
        example=Example(
            {"cylinder_volume": "9424.778 cc", "clearance_for_ratio": "628.3185 cc"},
            "10053.10 cc",
            f"H. N. Gupta, Fundamentals of Internal Combustion Engines, Ex. 2.4 p. 48, printed 0.01005 m³ {_FOSSEE}",
        ),
    )
)
def volume_at_bottom(cylinder_volume: Number, clearance_for_ratio: Number) -> Number:
    """Swept and clearance volume of one cylinder together."""
    return cylinder_volume + clearance_for_ratio


@figure(
    **_bench(
        title="Air-standard efficiency",
        symbol="eta",
        unit="%",
        formula="eta = 100 * (1 - epsilon**(1 - gamma))",
        flag=Flag.SEEN,
        decimals=1,
        inputs=(
            Input("compression_ratio", "epsilon", ":1", "Compression ratio, full stroke"),
            Input("heat_ratio", "gamma", "", "Ratio of the specific heats", constant="1.4", exact=True, also=("gamma",)),
        ),
        source=f"ideal constant-volume cycle (Mathur and Sharma, Internal Combustion Engine, Ex. 18.14 p. 418 {_FOSSEE})",
        also=("air_standard_efficiency",),
        basis="of the ideal cycle; no engine reaches it",
        per=("cylinder",),
        example=Example(
            {"compression_ratio": "6.744 :1", "heat_ratio": "1.4"},
            "53.5 %",
            f"Mathur and Sharma, Ex. 18.14 p. 418 {_FOSSEE}",
            within=0.2,
        ),
    )
)
def ideal_efficiency(compression_ratio: Number, heat_ratio: Number) -> Number:
    """Efficiency of the ideal constant-volume cycle."""
    return 1 - compression_ratio ** (1 - heat_ratio)


_PRESSURE = (
    Input("dynamic_ratio", "epsilon_d", ":1", "Compression ratio from inlet closing", exact=True),
    Input("exponent", "n", "", "Exponent of the compression", exact=True, constant="1.3"),
    Input("atmosphere", "p_0", "bar", "Pressure of the air"),
)


@figure(
    **_bench(
        title="Compression pressure, estimated, absolute",
        symbol="p_a",
        unit="bar",
        formula="p_a = p_0 * epsilon_d**n",
        inputs=_PRESSURE,
        source=_ESTIMATE,
        flag=Flag.SEEN,
        basis="an estimate, no standard",
        also=("absolute",),
        example=Example({"dynamic_ratio": "7.5 :1", "exponent": "1.3", "atmosphere": "14.7 psi"}, "201.8 psi", _ESTIMATE),
    )
)
def compression_pressure_estimate(dynamic_ratio: Number, exponent: Number, atmosphere: Number) -> Number:
    """Pressure that a compression by a power of the ratio would give, above nothing."""
    return atmosphere * dynamic_ratio**exponent


@figure(
    **_bench(
        title="Compression pressure, estimated, as a gauge reads",
        symbol="p_g",
        unit="bar",
        formula="p_g = p_0 * (epsilon_d**n - 1)",
        inputs=_PRESSURE,
        source=_ESTIMATE,
        flag=Flag.SEEN,
        basis="an estimate, no standard",
        also=("gauge",),
        example=Example({"dynamic_ratio": "7.5 :1", "exponent": "1.3", "atmosphere": "14.7 psi"}, "187.1 psi", _ESTIMATE),
    )
)
def gauge_pressure_estimate(dynamic_ratio: Number, exponent: Number, atmosphere: Number) -> Number:
    """The same above the pressure of the air."""
    return atmosphere * (dynamic_ratio**exponent - 1)
