"""What must hold for figures whatever the numbers: units, scales, directions, and pairs that undo one another."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dossier.figures.figure import FIGURES, Figure
from dossier.model import notation
from dossier.model.quantity import from_si
from dossier.model.units import UNITS, Unit
from tests.figures.bench import work

REFERRED = ("weather",)
"""Files whose figures hold the standard's reference air, so that they do not scale."""
few, untimed = settings(max_examples=5, deadline=None), settings(deadline=None)
FIGURED = [one for one in FIGURES.gather() if not one.tabled and not any(put.words for put in one.inputs)]
OTHER = {"length": "in", "volume": "cu in", "mass": "lb", "force": "lbf", "speed": "ft/s", "pressure": "psi", "torque": "lbf·ft",
         "spring rate": "lbf/in", "unbalance": "oz·in", "acceleration": "ft/s²", "power": "hp", "area": "sq in", "angle": "rad",
         "rotation speed": "rad/s"}  # fmt: skip


def arguments(recipe: Figure, scale=lambda value, unit: value) -> dict[str, object]:
    out: dict[str, object] = {}
    for one in recipe.inputs:
        if one.param in recipe.example.given:
            raw = recipe.example.given[one.param]
            read = [notation.quantity(text, one.measured_in.kind) for text in (raw if isinstance(raw, tuple) else (raw,))]
            values = tuple(scale(each.si, each.unit) for each in read)
            out[one.param] = values if one.over else values[0]
    return out


def in_other_units(value: float, unit: Unit) -> float:
    if unit.kind not in OTHER:
        return value
    other = UNITS[OTHER[unit.kind]]
    return from_si(value, other) * other.scale


@pytest.mark.parametrize("recipe", FIGURED, ids=lambda one: one.name)
def test_inches_in_give_what_millimetres_in_give(recipe: Figure) -> None:
    plain, other = recipe.work(**arguments(recipe)), recipe.work(**arguments(recipe, in_other_units))

    assert other == pytest.approx(plain, rel=1e-10)


def test_a_capacity_in_inches_is_that_in_millimetres_to_a_million_millionth() -> None:
    inches = work("swept_volume", "cc", bore=("2.5 in",), stroke="2.25 in", cylinders="2")
    millimetres = work("swept_volume", "cc", bore=("63.5 mm",), stroke="57.15 mm", cylinders="2")

    assert inches == pytest.approx(millimetres, rel=1e-12)


@pytest.mark.parametrize("recipe", [one for one in FIGURED if Path(FIGURES.file_of(one.name)).stem not in REFERRED], ids=lambda one: one.name)
@few
@given(length=st.floats(0.1, 10), mass=st.floats(0.1, 10), time=st.floats(0.1, 10))
def test_a_figure_scales_as_its_dimension_says(recipe: Figure, length: float, mass: float, time: float) -> None:
    def factor(unit: Unit) -> float:
        metres, kilograms, seconds, *_ = unit.dimension
        return length**metres * mass**kilograms * time**seconds

    plain = recipe.work(**arguments(recipe))
    scaled = recipe.work(**arguments(recipe, lambda value, unit: value * factor(unit)))

    assert scaled == pytest.approx(plain * factor(recipe.measured_in), rel=1e-9, abs=1e-12)


RISES = [
    ("swept_volume", "stroke", 1), ("headroom", "stroke", -1), ("bore_limit", "stroke", -1), ("compression_ratio", "clearance_volume", -1),
    ("effective_compression_ratio", "inlet_closes", -1), ("trapped_compression_ratio", "exhaust_port_height", 1),
    ("exhaust_duration", "port_height", -1), ("transfer_duration", "port_height", -1), ("highest_piston_speed", "rod_length", -1),
    ("highest_piston_acceleration", "rpm_limit", 1), ("highest_squish_speed", "squish_gap", -1), ("squish_area_ratio", "bowl_diameter", -1),
    ("inlet_mach_index", "inlet_flow_coefficient", -1), ("choke_gas_speed", "carburettor_choke", -1), ("bob_weight", "balance_factor", 1),
    ("permissible_unbalance", "balance_speed", -1), ("balance_grade_reached", "balance_speed", 1), ("liner_wall", "bore", -1),
    ("piston_clearance", "bore", 1), ("crankcase_compression_ratio", "crankcase_volume_bdc", -1), ("equivalent_mass", "gear_driven_teeth", 1),
    ("exhaust_time_area", "port_height", -1), ("inlet_coil_bind_margin", "lift", -1), ("ignition_travel", "ignition_advance", 1),
]  # fmt: skip


@pytest.mark.parametrize(("name", "param", "direction"), RISES, ids=lambda one: str(one))
@few
@given(share=st.floats(0.001, 0.02))
def test_a_figure_goes_the_way_it_should_when_one_input_grows(name: str, param: str, direction: int, share: float) -> None:
    recipe = FIGURES[name]
    plain = arguments(recipe)
    grown = {**plain, param: plain[param] * (1 + share)}

    assert (recipe.work(**grown) - recipe.work(**plain)) * direction > 0


@untimed
@given(angle=st.floats(0.5, 179.5), ratio=st.floats(1.2, 4))
def test_crank_angle_and_piston_travel_undo_one_another(angle: float, ratio: float) -> None:
    rod = f"{50 * ratio:.9f} mm"
    travel = work("piston_travel", crank_angle=f"{angle:.9f}°", stroke="50 mm", rod_length=rod)

    assert work("angle_at_travel", piston_position=f"{travel:.12f} mm", stroke="50 mm", rod_length=rod) == pytest.approx(angle, abs=1e-6)


@untimed
@given(ratio=st.floats(2, 20))
def test_chamber_volume_and_compression_ratio_undo_one_another(ratio: float) -> None:
    clearance = work("clearance_for_ratio", cylinder_volume="174.5 cc", wanted_ratio=f"{ratio:.9f}")

    assert work("compression_ratio", cylinder_volume="174.5 cc", clearance_volume=f"{clearance:.12f} cc") == pytest.approx(ratio, rel=1e-8)


@untimed
@given(stroke=st.floats(30, 120), cylinders=st.integers(1, 12), allowance=st.floats(0, 2))
def test_the_largest_bore_of_the_class_leaves_no_room(stroke: float, cylinders: int, allowance: float) -> None:
    given_ = {"class_limit": "350 cc", "stroke": f"{stroke:.6f} mm", "cylinders": str(cylinders), "overbore_allowance": f"{allowance:.6f} mm"}
    bore = work("bore_limit", **given_)

    assert work("headroom", bore=(f"{bore:.12f} mm",), **given_) == pytest.approx(0, abs=1e-7)


@untimed
@given(factor=st.floats(0.3, 0.95))
def test_bob_weight_and_balance_factor_undo_one_another(factor: float) -> None:
    bob = work("bob_weight", rod_big_end_mass="183 g", balance_factor=f"{factor:.9f}", reciprocating_mass="269 g")

    assert work(
        "balance_factor_found", counterweight=f"{bob:.12f} g", rod_big_end_mass="183 g", reciprocating_mass="269 g"
    ) == pytest.approx(100 * factor, abs=1e-6)


@untimed
@given(grade=st.sampled_from(["2.5", "6.3", "16"]), speed=st.integers(1000, 15000))
def test_an_unbalance_just_permitted_reaches_just_the_grade_chosen(grade: str, speed: int) -> None:
    permitted = work("permissible_unbalance", balance_grade=f"{grade} mm/s", balance_speed=f"{speed} rpm", rotor_mass="5.5 kg")

    reached = work(
        "balance_grade_reached", residual_unbalance=(f"{permitted / 2:.10f} g·mm",) * 2, rotor_mass="5.5 kg", balance_speed=f"{speed} rpm"
    )

    assert reached == pytest.approx(float(grade), rel=1e-6)


@untimed
@given(angle=st.floats(1, 359))
def test_exact_speed_and_acceleration_are_the_slopes_of_travel_and_speed(angle: float) -> None:
    """Central differences over a ten-thousandth of a degree at one radian a second."""
    step, turn = 1e-4, {"stroke": "58 mm", "rod_length": "112 mm"}
    one = {"engine_speed": "1 rad/s", **turn}

    def slope(name: str, unit: str, **given_: str) -> float:
        ahead, behind = (work(name, unit, crank_angle=f"{angle + way * step:.6f}°", **given_) for way in (1, -1))
        return (ahead - behind) / (2 * math.radians(step))

    at = f"{angle:.6f}°"
    assert work("piston_velocity", "mm/s", crank_angle=at, **one) == pytest.approx(slope("piston_travel", "mm", **turn), abs=1e-3)
    assert work("piston_acceleration", crank_angle=at, **one) == pytest.approx(slope("piston_velocity", "m/s", **one), abs=1e-6)


@untimed
@given(ratio=st.floats(1.1, 5))
def test_no_crank_angle_is_faster_than_the_highest_piston_speed(ratio: float) -> None:
    given_ = {"stroke": "50 mm", "rod_length": f"{50 * ratio:.6f} mm"}
    top = work("highest_piston_speed", rpm_limit="10000 rpm", **given_)
    where = work("angle_of_highest_speed", **given_)

    speeds = [work("piston_velocity", crank_angle=f"{a}°", engine_speed="10000 rpm", **given_) for a in range(0, 181, 3)]
    fastest = work("piston_velocity", crank_angle=f"{where:.10f}°", engine_speed="10000 rpm", **given_)
    assert max(speeds) <= fastest * (1 + 1e-12)
    assert top == pytest.approx(fastest, rel=1e-4)  # looked for at whole degrees of the crank
