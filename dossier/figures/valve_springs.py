"""Valve springs and valve to piston: forces, the room before the coils bind, and the room before the valve touches."""

from __future__ import annotations

from typing import Any

from dossier.figures.figure import Example, Input, figure
from dossier.model.quantity import Number, smallest
from dossier.model.results import Flag

_CLEARANCE = "HP Academy forum, How to degree a cam 7: measuring piston-to-valve clearance (0.080 in inlet, 0.100 in exhaust)"
_EXAMPLE = {"free": "41.2 mm", "fitted": "35.0 mm", "rate": "32 N/mm", "lift": "9.2 mm", "bound": "24.4 mm"}


def _spring(valve: str, title: str, formula: str, taken: str, gives: str, working: str, **facts: Any) -> dict[str, Any]:
    """Facts of a figure of the springs of one valve; `taken` names the inputs that go in."""
    at = (("valve", valve),)
    known = {
        "free": Input("free", "L_0", "mm", "Free length of the spring", name="valve_spring_free", at=at),
        "fitted": Input("fitted", "L_1", "mm", "Fitted length of the spring", name="valve_spring_fitted", at=at),
        "rate": Input("rate", "k", "N/mm", "Spring rate", name="valve_spring_rate", at=at),
        "bound": Input("bound", "L_b", "mm", "Length of the spring with its coils bound", name="valve_spring_bound", at=at),
        "lift": Input("lift", "l", "mm", f"{valve.capitalize()} valve lift", name=f"{valve}_lift", mean="cylinder"),
    }
    names = taken.split()
    return {
        "title": f"{title}, {valve}", "symbol": formula.split(" = ")[0], "formula": formula, "inputs": tuple(known[name] for name in names),
        "strokes": "4", "source": "spring rate times compression", "flag": Flag.GEOMETRY, "subject": "valve train",
        "example": Example({name: _EXAMPLE[name] for name in names}, gives, f"worked by hand: {working}"), "impossible": (0, None),
        "quiet": valve == "exhaust", "unit": "N", "decimals": 0, **facts,
    }  # fmt: skip


def _seat(valve: str) -> dict[str, Any]:
    return _spring(valve, "Spring force on the seat", "F_1 = (L_0 - L_1) * k", "free fitted rate", "198.4 N", "6.2 times 32")


def _open(valve: str) -> dict[str, Any]:
    taken = "free fitted lift rate"
    return _spring(valve, "Spring force at full lift", "F_2 = (L_0 - L_1 + l) * k", taken, "492.8 N", "15.4 times 32")


def _bind(valve: str) -> dict[str, Any]:
    return _spring(
        valve, "Room before the coils bind", "c_b = L_1 - l - L_b", "fitted lift bound", "1.4 mm", "25.8 - 24.4", unit="mm", decimals=2,
        source="fitted length less lift less length with the coils bound", usual=(1.0, None), usual_source="common practice, no source",
        says="the coils may bind",
    )  # fmt: skip


@figure(**_seat("inlet"))
def inlet_spring_seat_force(free: Number, fitted: Number, rate: Number) -> Number:
    """Force of the inlet valve spring with the valve shut."""
    return (free - fitted) * rate


@figure(**_seat("exhaust"))
def exhaust_spring_seat_force(free: Number, fitted: Number, rate: Number) -> Number:
    """Force of the exhaust valve spring with the valve shut."""
    return (free - fitted) * rate


@figure(**_open("inlet"))
def inlet_spring_open_force(free: Number, fitted: Number, lift: Number, rate: Number) -> Number:
    """Force of the inlet valve spring with the valve fully open."""
    return (free - fitted + lift) * rate


@figure(**_open("exhaust"))
def exhaust_spring_open_force(free: Number, fitted: Number, lift: Number, rate: Number) -> Number:
    """Force of the exhaust valve spring with the valve fully open."""
    return (free - fitted + lift) * rate


@figure(**_bind("inlet"))
def inlet_coil_bind_margin(fitted: Number, lift: Number, bound: Number) -> Number:
    """What is left between the coils of the inlet valve spring at full lift."""
    return fitted - lift - bound


@figure(**_bind("exhaust"))
def exhaust_coil_bind_margin(fitted: Number, lift: Number, bound: Number) -> Number:
    """What is left between the coils of the exhaust valve spring at full lift."""
    return fitted - lift - bound


def _valve_to_piston(valve: str, symbol: str, least: float, inches: str) -> dict[str, Any]:
    return {
        "title": f"Smallest {valve} valve to piston",
        "symbol": symbol,
        "unit": "mm",
        "formula": f"{symbol} = smallest(d)",
        "inputs": (
            Input("readings", "d", "mm", "Valve to piston while turning", name="valve_to_piston", at=(("valve", valve),), over="cylinder"),
        ),
        "strokes": "4",
        "source": f"smallest distance found while turning the engine; limits: {_CLEARANCE}",
        "flag": Flag.SEEN,
        "example": Example({"readings": ("2.9 mm", "2.7 mm")}, "2.7 mm", "the smaller of two readings"),
        "subject": "valve train",
        "usual": (least, None),
        "usual_source": f"{_CLEARANCE}; {inches} rounded to {least} mm",
        "says": "closer than the usual clearance",
        "impossible": (0, None),
        "decimals": 2,
    }


@figure(**_valve_to_piston("inlet", "c_vi", 2.0, "0.080 in"))
def inlet_valve_to_piston(readings: tuple[Number, ...]) -> Number:
    """Smallest distance between inlet valve and piston."""
    return smallest(readings)


@figure(**_valve_to_piston("exhaust", "c_ve", 2.5, "0.100 in"))
def exhaust_valve_to_piston(readings: tuple[Number, ...]) -> Number:
    """Smallest distance between exhaust valve and piston."""
    return smallest(readings)
