"""Valve train: the cam timing card and what follows from it, clearances and springs."""

from __future__ import annotations

from collections.abc import Sequence
from math import pi
from typing import Any

from dossier.figures.figure import Example, Input, figure
from dossier.model.forms.measurements import Role
from dossier.model.quantity import Number, largest, smallest
from dossier.model.results import Flag

IVO = Input("inlet_opens", "IVO", "°", "Inlet opens before top dead centre", also=("IO",))
IVC = Input("inlet_closes", "IVC", "°", "Inlet closes after bottom dead centre", also=("IC",))
EVO = Input("exhaust_opens", "EVO", "°", "Exhaust opens before bottom dead centre", also=("EO",))
EVC = Input("exhaust_closes", "EVC", "°", "Exhaust closes after top dead centre", also=("EC",))
AT_LIFT = "at the lift at which it was checked"
_CARD = "timing card of a printed page (forabodiesonly.com, post 1970493881): inlet 6 before to 42 after, exhaust to 12 after"
_DEFINED = "definition of duration and lobe centre (forabodiesonly.com, post 1970493881; a cam grinder's page, camshafteng.com.au, calc)"

_CENTRES = "106 to 108° racing, 110 to 114° road (mustangandfords.com, Engine building, part 3); widened from memory"
_DURATIONS = "270 to 310° and more (specialenginecar.blogspot.com, Performance camshafts); widened from memory"


def _timing(**facts: Any) -> dict[str, Any]:
    common = {
        "unit": "°", "per": ("cylinder",), "strokes": "4", "source": _DEFINED, "flag": Flag.SEEN, "subject": "valve train",
        "basis": AT_LIFT, "decimals": 1, "usual_source": _CENTRES,
    }  # fmt: skip
    return {**common, **facts}


@figure(
    **_timing(
        title="Inlet duration", symbol="D_i", formula="D_i = IVO + 180*deg + IVC", inputs=(IVO, IVC), usual=(250, 330),
        usual_source=_DURATIONS, impossible=(0, 720),
        example=Example({"inlet_opens": "6°", "inlet_closes": "42°"}, "228 °", _CARD),
    )
)  # fmt: skip
def inlet_duration(inlet_opens: Number, inlet_closes: Number) -> Number:
    """Crank angle during which the inlet valve is open."""
    return inlet_opens + pi + inlet_closes


@figure(
    **_timing(
        title="Exhaust duration", symbol="D_e", formula="D_e = EVO + 180*deg + EVC", inputs=(EVO, EVC), usual=(250, 330),
        usual_source=_DURATIONS, impossible=(0, 720),
        example=Example(
            {"exhaust_opens": "40°", "exhaust_closes": "20°"}, "240 °", "a cam grinder's page of definitions (camshafteng.com.au, calc)"
        ), also=("exhaust_duration",),
    )
)  # fmt: skip
def exhaust_valve_duration(exhaust_opens: Number, exhaust_closes: Number) -> Number:
    """Crank angle during which the exhaust valve is open."""
    return exhaust_opens + pi + exhaust_closes


@figure(
    **_timing(
        title="Inlet lobe centre", symbol="C_i", formula="C_i = (180*deg + IVC - IVO) / 2", inputs=(IVO, IVC), usual=(98, 112),
        example=Example({"inlet_opens": "6°", "inlet_closes": "42°"}, "108 °", _CARD), also=("inlet_centre",),
    )
)  # fmt: skip
def inlet_lobe_centre(inlet_opens: Number, inlet_closes: Number) -> Number:
    """Crank angle after top dead centre at the middle of the inlet opening: half the duration less the opening."""
    return (pi + inlet_closes - inlet_opens) / 2


@figure(
    **_timing(
        title="Exhaust lobe centre", symbol="C_e", formula="C_e = (180*deg + EVO - EVC) / 2", inputs=(EVO, EVC), usual=(98, 112),
        example=Example(
            {"exhaust_opens": "60°", "exhaust_closes": "20°"}, "110 °",
            "symmetric card 20-60 / 60-20 of a camshaft article (ausmini.com, topic 237565)",
        ), also=("exhaust_centre",),
    )
)  # fmt: skip
def exhaust_lobe_centre(exhaust_opens: Number, exhaust_closes: Number) -> Number:
    """Crank angle before top dead centre at the middle of the exhaust opening: half the duration less the closing."""
    return (pi + exhaust_opens - exhaust_closes) / 2


@figure(
    **_timing(
        title="Lobe separation", symbol="LSA", formula="LSA = (C_i + C_e) / 2",
        inputs=(
            Input("inlet_lobe_centre", "C_i", "°", "Inlet lobe centre"), Input("exhaust_lobe_centre", "C_e", "°", "Exhaust lobe centre"),
        ),
        usual=(98, 112), basis="degrees of the cam, not of the crank",
        example=Example(
            {"inlet_lobe_centre": "110°", "exhaust_lobe_centre": "110°"}, "110 °",
            "symmetric card 20-60 / 60-20 of a camshaft article (ausmini.com, topic 237565)",
        ),
    )
)  # fmt: skip
def lobe_separation(inlet_lobe_centre: Number, exhaust_lobe_centre: Number) -> Number:
    """Angle between the lobes, in degrees of the cam."""
    return (inlet_lobe_centre + exhaust_lobe_centre) / 2


@figure(
    **_timing(
        title="Overlap", symbol="O", formula="O = IVO + EVC", inputs=(IVO, EVC), usual=(40, 120),
        usual_source="from memory: racing engines; looked for, no published range found",
        example=Example({"inlet_opens": "6°", "exhaust_closes": "12°"}, "18 °", _CARD),
    )
)  # fmt: skip
def overlap(inlet_opens: Number, exhaust_closes: Number) -> Number:
    """Crank angle during which both valves are open; from the opening of the inlet and the closing of the exhaust."""
    return inlet_opens + exhaust_closes


@figure(
    title="Lobe centre from two degree-wheel readings",
    symbol="C",
    unit="°",
    formula="C = (theta_1 + theta_2) / 2",
    inputs=(
        Input("first_reading", "theta_1", "°", "Reading on the way up", also=("reading_1",)),
        Input("second_reading", "theta_2", "°", "Reading at the same lift on the way down", also=("reading_2",)),
    ),
    strokes="4",
    source="mean of the two angles at equal lift (degree-wheel instruction, blog.decatech.com)",
    flag=Flag.SEEN,
    example=Example(
        {"first_reading": "60°", "second_reading": "145.5°"}, "102.75 °", "degree-wheel instruction, blog.decatech.com"
    ),
    subject="valve train",
    decimals=2,
    for_bench=True,
    also=("centre",),
)  # fmt: skip
def lobe_centre_from_readings(first_reading: Number, second_reading: Number) -> Number:
    """Lobe centre as the middle between two readings at one lift."""
    return (first_reading + second_reading) / 2


def _error(event: Input, title: str, symbol: str) -> dict[str, Any]:
    declared = Input("declared", f"{symbol}_d", "°", "The same as declared", name=event.param, role=Role.DECLARED)
    return _timing(
        title=f"Timing error, {title}", symbol=f"Delta_{symbol}", formula=f"Delta_{symbol} = {symbol} - {symbol}_d",
        inputs=(Input("measured", symbol, "°", event.title, name=event.param), declared), source="measured less declared",
        flag=Flag.GEOMETRY, usual=(-2, 2), usual_source="common practice, no source",
        example=Example({"measured": "51°", "declared": "52°"}, "-1 °", "worked by hand: 51 - 52"),
    )  # fmt: skip


@figure(**_error(IVO, "inlet opens", "IVO"))
def inlet_opening_error(measured: Number, declared: Number) -> Number:
    """How much earlier than declared the inlet valve opens."""
    return measured - declared


@figure(**_error(IVC, "inlet closes", "IVC"))
def inlet_closing_error(measured: Number, declared: Number) -> Number:
    """How much later than declared the inlet valve closes."""
    return measured - declared


@figure(**_error(EVO, "exhaust opens", "EVO"))
def exhaust_opening_error(measured: Number, declared: Number) -> Number:
    """How much earlier than declared the exhaust valve opens."""
    return measured - declared


@figure(**_error(EVC, "exhaust closes", "EVC"))
def exhaust_closing_error(measured: Number, declared: Number) -> Number:
    """How much later than declared the exhaust valve closes."""
    return measured - declared


def _spread(event: Input, title: str, symbol: str) -> dict[str, Any]:
    readings = Input("readings", symbol, "°", event.title, name=event.param, over="cylinder")
    return _timing(
        title=f"Timing between cylinders, {title}", symbol=f"{symbol}_s", formula=f"{symbol}_s = largest({symbol}) - smallest({symbol})",
        inputs=(readings,), per=(), source="largest less smallest of the cylinders", flag=Flag.GEOMETRY, usual=(None, 2), quiet=True,
        usual_source="common practice, no source", example=Example({"readings": ("51°", "52°")}, "1 °", "worked by hand: 52 - 51"),
    )  # fmt: skip


@figure(**_spread(IVO, "inlet opens", "IVO"))
def inlet_opening_spread(readings: Sequence[Number]) -> Number:
    """How far the cylinders differ in the opening of the inlet valve."""
    return largest(readings) - smallest(readings)


@figure(**_spread(IVC, "inlet closes", "IVC"))
def inlet_closing_spread(readings: Sequence[Number]) -> Number:
    """How far the cylinders differ in the closing of the inlet valve."""
    return largest(readings) - smallest(readings)


@figure(**_spread(EVO, "exhaust opens", "EVO"))
def exhaust_opening_spread(readings: Sequence[Number]) -> Number:
    """How far the cylinders differ in the opening of the exhaust valve."""
    return largest(readings) - smallest(readings)


@figure(**_spread(EVC, "exhaust closes", "EVC"))
def exhaust_closing_spread(readings: Sequence[Number]) -> Number:
    """How far the cylinders differ in the closing of the exhaust valve."""
    return largest(readings) - smallest(readings)
