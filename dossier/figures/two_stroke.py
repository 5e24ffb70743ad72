"""Two-stroke ports and crankcase: how long each port is open, what it passes, and how far the charge is squeezed below."""

from __future__ import annotations

import math
from typing import Any

from dossier.figures.compression import ONE_CYLINDER
from dossier.figures.engine import ROD, STROKE
from dossier.figures.figure import Example, Input, figure
from dossier.figures.motion import POWER_SPEED
from dossier.figures.travel import angle_of
from dossier.model.quantity import Number, implicit
from dossier.model.results import Flag

_PORT_EXACT = "a whole turn less twice the angle at which the piston edge reaches the port, exact crank and rod"
_MARTY = "Marty's Garage, Two-stroke port duration (transfer 120° at 6,000 to 128° at 10,000 rpm)"


@figure(
    title="Crankcase compression ratio",
    symbol="epsilon_k",
    unit=":1",
    formula="epsilon_k = (V_k + V_1) / V_k",
    inputs=(Input("crankcase_volume_bdc", "V_k", "cc", "Crankcase volume at bottom dead centre"), ONE_CYLINDER),
    strokes="2",
    source="by definition: volume below the piston at top dead centre over that at bottom dead centre",
    flag=Flag.GEOMETRY,
    example=Example({"crankcase_volume_bdc": "250 cc", "cylinder_volume": "125 cc"}, "1.5 :1", "worked by hand: 375 / 250"),
    subject="two-stroke",
    usual=(1.3, 1.6),
    usual_source=f"{_MARTY}: about 1.5; the width of the range is from memory",
    impossible=(1, None),
)
def crankcase_compression_ratio(crankcase_volume_bdc: Number, cylinder_volume: Number) -> Number:
    """How far the charge is squeezed in the crankcase, a pure number."""
    return (crankcase_volume_bdc + cylinder_volume) / crankcase_volume_bdc


def _port(port: str, symbol: str, low: float, high: float, height: str, gives: str) -> dict[str, Any]:
    top = Input("port_height", "x", "mm", f"Top of the {port} port below top dead centre", name=f"{port}_port_height",
                also=("port_edge_below_TDC",))  # fmt: skip
    return {
        "title": f"{port.capitalize()} port duration", "symbol": symbol, "unit": "°", "strokes": "2",
        "formula": f"{symbol} = 360*deg - 2*acos(((S/2)**2 + (S/2 + L - x)**2 - L**2) / (S*(S/2 + L - x)))", "inputs": (top, STROKE, ROD),
        "source": _PORT_EXACT, "flag": Flag.GEOMETRY, "subject": "two-stroke", "usual": (low, high), "impossible": (0, 360), "decimals": 1,
        "usual_source": f"{_MARTY}; widened from memory",
        "example": Example(
            {"port_height": height, "stroke": "54 mm", "rod_length": "105 mm"}, gives,
            "root of the exact piston position found numerically", within=0.02,
        ),
        "also": ("duration",),
    }  # fmt: skip


@figure(**_port("exhaust", "D_e", 170, 204, "24.0 mm", "207.13 °"))
def exhaust_duration(port_height: Number, stroke: Number, rod_length: Number) -> Number:
    """Crank angle during which the exhaust port is open."""
    return 2 * math.pi - 2 * angle_of(port_height, stroke, rod_length)


@figure(**_port("transfer", "D_t", 118, 136, "38.5 mm", "144.15 °"))
def transfer_duration(port_height: Number, stroke: Number, rod_length: Number) -> Number:
    """Crank angle during which the transfer ports are open."""
    return 2 * math.pi - 2 * angle_of(port_height, stroke, rod_length)


@figure(
    title="Blow-down",
    symbol="D_b",
    unit="°",
    formula="D_b = (D_e - D_t) / 2",
    inputs=(
        Input("exhaust_duration", "D_e", "°", "Exhaust port duration"),
        Input("transfer_duration", "D_t", "°", "Transfer port duration"),
    ),
    strokes="2",
    source="crank angle between the opening of the exhaust and of the transfer ports",
    flag=Flag.GEOMETRY,
    example=Example({"exhaust_duration": "194°", "transfer_duration": "128°"}, "33 °", "worked by hand: 66 / 2"),
    subject="two-stroke",
    usual=(24, 36),
    usual_source="from memory; Jennings (toostroke.blogspot.com, Piston accelerator 3) works an example with 29°",
    impossible=(0, None),
    decimals=1,
)
def blowdown(exhaust_duration: Number, transfer_duration: Number) -> Number:
    """Crank angle left for the burnt gas to go before the transfer ports open."""
    return (exhaust_duration - transfer_duration) / 2


@figure(
    title="Inlet port duration",
    symbol="D_i",
    unit="°",
    formula="D_i = 2 * theta_i",
    inputs=(Input("inlet_opens_before_tdc", "theta_i", "°", "Inlet opens before top dead centre"),),
    strokes="2",
    source="a port uncovered by the piston skirt opens and closes at the same angle",
    flag=Flag.GEOMETRY,
    example=Example({"inlet_opens_before_tdc": "82°"}, "164 °", "worked by hand: twice 82"),
    subject="two-stroke",
    usual=(140, 200),
    usual_source="from memory; Jennings (toostroke.blogspot.com, Piston accelerator 3) has 160° for a road machine; Marty's Garage 120° at 6,000 rpm",
    impossible=(0, 360),
    decimals=0,
    basis="port governed by the piston skirt",
)
def inlet_port_duration(inlet_opens_before_tdc: Number) -> Number:
    """Crank angle during which a piston-governed inlet port is open."""
    return 2 * inlet_opens_before_tdc


def opening_integral(height: float, ratio: float) -> float:
    """Port opening over crank radius, added up over the crank angle while it is open (rad).

    `height` is the port's top below top dead centre over crank radius, `ratio` crank radius over rod length. Simpson's rule.
    """
    reach = 1 + 1 / ratio - height
    start = math.acos((1 + reach**2 - 1 / ratio**2) / (2 * reach))
    steps = 400
    width = (math.pi - start) / steps

    def open_at(angle: float) -> float:
        return 1 - math.cos(angle) + (1 - math.sqrt(1 - (ratio * math.sin(angle)) ** 2)) / ratio - height

    heights = [open_at(start + i * width) for i in range(steps + 1)]
    return 2 * width / 3 * (heights[0] + heights[-1] + 4 * sum(heights[1:-1:2]) + 2 * sum(heights[2:-1:2]))


def _time_area(port: str, symbol: str) -> dict[str, Any]:
    return {
        "title": f"{port.capitalize()} port time-area", "symbol": symbol, "unit": "s·mm²/cc", "strokes": "2",
        "formula": f"{symbol} = 30/(pi*N) * w/V_1 * integral(x(theta) - x_p, theta_open, theta_shut)",
        "inputs": (
            Input("port_width", "w", "mm", f"Width of the {port} ports along the bore, all together", name=f"{port}_port_width"),
            Input("port_height", "x_p", "mm", f"Top of the {port} port below top dead centre", name=f"{port}_port_height"),
            STROKE, ROD, ONE_CYLINDER, POWER_SPEED,
        ),
        "source": "open area added up over the time it is open, over the swept volume; Gordon Jennings takes the area at "
        "half the angle and wants 0.014 to 0.015 for the exhaust, 0.008 to 0.010 for the transfers (quoted at dirtrider.net, thread 180640)",
        "flag": Flag.SEEN, "subject": "two-stroke", "impossible": (0, None), "decimals": 5, "closed": False, "quiet": True,
        "basis": "rectangular port, its bottom level with the crown at bottom dead centre; to compare builds only",
        "example": Example(
            {"port_width": "40 mm", "port_height": "27 mm", "stroke": "54 mm", "rod_length": "110 mm", "cylinder_volume": "123.7 cc",
             "rpm_max_power": "11600 rpm"},
            "0.01589 s·mm²/cc", "the same integral by scipy.integrate.quad",
        ),
    }  # fmt: skip


def _time_area_of(width: Number, height: Number, stroke: Number, rod: Number, volume: Number, speed: Number) -> Number:
    crank = stroke / 2
    return width * crank * implicit(opening_integral, height / crank, crank / rod) / (speed * volume)


@figure(**_time_area("exhaust", "A_e"))
def exhaust_time_area(
    port_width: Number, port_height: Number, stroke: Number, rod_length: Number, cylinder_volume: Number, rpm_max_power: Number
) -> Number:
    """Exhaust port area times the time it is open, for each unit of swept volume, at greatest power."""
    return _time_area_of(port_width, port_height, stroke, rod_length, cylinder_volume, rpm_max_power)


@figure(**_time_area("transfer", "A_t"))
def transfer_time_area(
    port_width: Number, port_height: Number, stroke: Number, rod_length: Number, cylinder_volume: Number, rpm_max_power: Number
) -> Number:
    """Transfer port area times the time it is open, for each unit of swept volume, at greatest power."""
    return _time_area_of(port_width, port_height, stroke, rod_length, cylinder_volume, rpm_max_power)
