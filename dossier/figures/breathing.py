"""Breathing of the engine: how large the valves and the choke are for the piston, and how fast the gas goes through them."""

from __future__ import annotations

from math import pi
from typing import Any

from dossier.figures.engine import MEAN_BORE
from dossier.figures.figure import Example, Input, figure
from dossier.model.forms.measurements import Role
from dossier.model.quantity import Number
from dossier.model.results import Flag

SPEED_AT_POWER = Input("mean_piston_speed_at_power", "u_P", "m/s", "Mean piston speed at greatest power", also=("piston_speed",))
INLET_VALVES = Input("inlet_valves", "n_v", "", "Inlet valves in one cylinder", exact=True, constant="1", also=("valves",))
INLET_HEAD = Input("inlet_valve_head", "d_i", "mm", "Inlet valve head diameter", mean="cylinder")
CHOKE = Input("carburettor_choke", "d_c", "mm", "Carburettor choke, mean of the carburettors", mean="cylinder", also=("choke",))
_CONTINUITY = "continuity: piston area times piston speed, over the area that the gas goes through (derived at ecomodder.com, post 161403)"


@figure(
    title="Inlet valve area to piston area",
    symbol="R_v",
    unit="",
    formula="R_v = n_v * d_i**2 / B**2",
    inputs=(INLET_VALVES, INLET_HEAD, MEAN_BORE),
    strokes="4",
    source="areas of two circles",
    flag=Flag.GEOMETRY,
    example=Example({"inlet_valves": "1", "inlet_valve_head": "34 mm", "bore": "62.013 mm"}, "0.3006", "worked by hand: 1156 / 3845.61"),
    subject="breathing",
    usual=(0.25, 0.40),
    usual_source="from memory: two valves to a cylinder; meksta.com (Valve/cylinder ratio) works an example at 33 %, no range found",
    impossible=(0, 1),
    decimals=3,
    basis="valve head diameter",
)
def valve_area_ratio(inlet_valves: Number, inlet_valve_head: Number, bore: Number) -> Number:
    """Area of the inlet valve heads of one cylinder over the piston's, a pure number."""
    return inlet_valves * inlet_valve_head**2 / bore**2


def _lift_figure(valve: str, lift: str, head: str, gives: str, working: str) -> dict[str, Any]:
    return {
        "title": f"{valve.capitalize()} valve lift to head diameter",
        "unit": "",
        "strokes": "4",
        "source": "by definition",
        "flag": Flag.GEOMETRY,
        "example": Example({f"{valve}_lift": lift, f"{valve}_valve_head": head}, gives, working),
        "subject": "breathing",
        "usual": (0.22, 0.35),
        "usual_source": "0.24 to 0.32 by valve size (specialenginecar.blogspot.com, Performance camshafts); widened from memory",
        "impossible": (0, None),
        "decimals": 3,
    }


@figure(
    symbol="R_li",
    formula="R_li = l_i / d_i",
    inputs=(Input("inlet_lift", "l_i", "mm", "Inlet valve lift", mean="cylinder"), INLET_HEAD),
    **_lift_figure("inlet", "9.2 mm", "34 mm", "0.271", "worked by hand: 9.2 / 34"),
)
def inlet_lift_ratio(inlet_lift: Number, inlet_valve_head: Number) -> Number:
    """Lift of the inlet valve over its head diameter, a pure number."""
    return inlet_lift / inlet_valve_head


@figure(
    symbol="R_le",
    formula="R_le = l_e / d_e",
    inputs=(
        Input("exhaust_lift", "l_e", "mm", "Exhaust valve lift", mean="cylinder"),
        Input("exhaust_valve_head", "d_e", "mm", "Exhaust valve head diameter", mean="cylinder"),
    ),
    **_lift_figure("exhaust", "8.6 mm", "30 mm", "0.287", "worked by hand: 8.6 / 30"),
)
def exhaust_lift_ratio(exhaust_lift: Number, exhaust_valve_head: Number) -> Number:
    """Lift of the exhaust valve over its head diameter, a pure number."""
    return exhaust_lift / exhaust_valve_head


@figure(
    title="Inlet curtain area",
    symbol="A_c",
    unit="mm²",
    formula="A_c = pi * d_i * l_i",
    inputs=(INLET_HEAD, Input("inlet_lift", "l_i", "mm", "Inlet valve lift", mean="cylinder")),
    strokes="4",
    source="side of the cylinder between the valve head and its seat at full lift",
    flag=Flag.GEOMETRY,
    example=Example({"inlet_valve_head": "34 mm", "inlet_lift": "9.2 mm"}, "982.7 mm²", "worked by hand: 312.8 times pi"),
    subject="breathing",
    impossible=(0, None),
    decimals=0,
    basis="valve head diameter, full lift",
)
def curtain_area(inlet_valve_head: Number, inlet_lift: Number) -> Number:
    """Area of the ring-shaped opening of one inlet valve at full lift."""
    return pi * inlet_valve_head * inlet_lift


@figure(
    title="Mean gas speed at the inlet valve",
    symbol="v_v",
    unit="m/s",
    formula="v_v = u_P * B**2 / (n_v * d_i**2)",
    inputs=(SPEED_AT_POWER, MEAN_BORE, INLET_VALVES, INLET_HEAD),
    strokes="4",
    source=_CONTINUITY,
    flag=Flag.GEOMETRY,
    example=Example(
        {"mean_piston_speed_at_power": "18.87807 m/s", "bore": "62.013 mm", "inlet_valves": "1", "inlet_valve_head": "34 mm"},
        "62.80 m/s", "worked by hand: 18.878 times 3845.61 / 1156",
    ),
    subject="breathing",
    usual=(45, 90),
    usual_source="from memory: racing engines; meksta.com (Valve/cylinder ratio) sets its ceiling of 130 m/s and more by another area",
    impossible=(0, None),
    decimals=1,
    basis="area of the valve head, mean piston speed at greatest power; other authors take other areas and get twice as much",
)  # fmt: skip
def valve_gas_speed(mean_piston_speed_at_power: Number, bore: Number, inlet_valves: Number, inlet_valve_head: Number) -> Number:
    """Mean speed of the gas through a hole as large as the inlet valve heads of one cylinder."""
    return mean_piston_speed_at_power * bore**2 / (inlet_valves * inlet_valve_head**2)


@figure(
    title="Mean gas speed in the choke",
    symbol="v_c",
    unit="m/s",
    formula="v_c = u_P * (B / d_c)**2",
    inputs=(SPEED_AT_POWER, MEAN_BORE, CHOKE),
    source=_CONTINUITY,
    flag=Flag.GEOMETRY,
    example=Example(
        {"mean_piston_speed_at_power": "18.87807 m/s", "bore": "62.013 mm", "carburettor_choke": "27 mm"}, "99.6 m/s",
        "worked by hand: 18.878 times the square of 2.29678",
    ),
    subject="breathing",
    usual=(65, 115),
    usual_source="from memory; afinados.io (Intake sizing) calls 60 to 130 m/s of peak speed healthy, and the mean is less",
    impossible=(0, None),
    decimals=1,
    basis="one carburettor to each cylinder, mean piston speed at greatest power",
)  # fmt: skip
def choke_gas_speed(mean_piston_speed_at_power: Number, bore: Number, carburettor_choke: Number) -> Number:
    """Mean speed of the gas through the choke of the carburettor."""
    return mean_piston_speed_at_power * (bore / carburettor_choke) ** 2


@figure(
    title="Gain in choke area",
    symbol="Delta_A_c",
    unit="%",
    formula="Delta_A_c = ((d_c / d_0)**2 - 1) * 100",
    inputs=(CHOKE, Input("donor_choke", "d_0", "mm", "Choke before", name="carburettor_choke", mean="cylinder", role=Role.DONOR)),
    source="areas of two circles",
    flag=Flag.GEOMETRY,
    example=Example({"carburettor_choke": "30.07 mm", "donor_choke": "27.0 mm"}, "24.03 %", "worked by hand: 904.205 / 729 less one"),
    subject="breathing",
    decimals=1,
    quiet=True,
)
def choke_area_gain(carburettor_choke: Number, donor_choke: Number) -> Number:
    """Share by which the choke area has grown from the donor's."""
    return (carburettor_choke / donor_choke) ** 2 - 1


@figure(
    title="Inlet Mach index",
    symbol="Z",
    unit="",
    formula="Z = u_P * B**2 / (a_0 * C_i * n_v * d_i**2)",
    inputs=(
        SPEED_AT_POWER,
        MEAN_BORE,
        Input("speed_of_sound", "a_0", "m/s", "Speed of sound in the air drawn in, 20 °C", exact=True, constant="343 m/s"),
        Input("inlet_flow_coefficient", "C_i", "", "Mean inlet flow coefficient"),
        INLET_VALVES,
        INLET_HEAD,
    ),
    strokes="4",
    source="piston area times mean piston speed over mean effective valve area times speed of sound "
    "(Japan Society of Mechanical Engineers, mechanical engineering dictionary: valve Mach index)",
    flag=Flag.SEEN,
    example=Example(
        {"mean_piston_speed_at_power": "18.87807 m/s", "bore": "62.013 mm", "speed_of_sound": "343 m/s", "inlet_flow_coefficient": "0.40",
         "inlet_valves": "1", "inlet_valve_head": "34 mm"},
        "0.458", "worked by hand: 62.80 / (343 times 0.40)",
    ),
    subject="breathing",
    usual=(None, 0.5),
    usual_source="Japan Society of Mechanical Engineers, mechanical engineering dictionary: filling falls fast above 0.5",
    impossible=(0, None),
    basis="flow coefficient assumed unless it says otherwise; at greatest power",
    decimals=2,
)  # fmt: skip
def inlet_mach_index(
    mean_piston_speed_at_power: Number, bore: Number, speed_of_sound: Number, inlet_flow_coefficient: Number, inlet_valves: Number,
    inlet_valve_head: Number,
) -> Number:  # fmt: skip
    """Mean gas speed through the effective inlet valve area over the speed of sound, a pure number."""
    return mean_piston_speed_at_power * bore**2 / (speed_of_sound * inlet_flow_coefficient * inlet_valves * inlet_valve_head**2)
