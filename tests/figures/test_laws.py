"""Laws that the figures of running gear must obey for any numbers: units, scaling, direction, and inverse pairs."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from dossier.figures.figure import FIGURES
from dossier.model.units import UNITS
from tests.figures.bench import value
from tests.figures.test_every_figure import SI, arguments
from tests.figures.twin import twin, with_other

few = settings(max_examples=60, deadline=None)
OURS = (
    "power", "worth_of_power", "drive_line", "gear_steps", "clutch", "chain", "chassis", "loads", "suspension", "wheels", "mass", "provenance",
    "evidence", "life", "test_days", "hours", "tolerance", "heat", "wire_springs", "condition",
)  # fmt: skip
RECIPES = [one for one in FIGURES.gather() if FIGURES.file_of(one.name).rsplit("/", 1)[1].removesuffix(".py") in OURS]


def work(name: str, **given: float | tuple[float, ...]) -> float:
    return FIGURES[name].work(**given)


scales = st.tuples(*[st.floats(0.1, 10) for _ in range(4)])


@pytest.mark.parametrize("recipe", RECIPES, ids=lambda one: one.name)
@given(by=scales)
@few
def test_the_result_scales_with_the_units_it_is_made_of(recipe, by: tuple[float, ...]) -> None:
    """Other units of length, mass, time and temperature interval give the same quantity: dimensions proved on numbers."""
    powers = dict(zip(SI, (*by, 1.0), strict=True))

    def factor(dimension: tuple[int, ...]) -> float:
        return math.prod(powers[base] ** power for base, power in zip(SI, dimension, strict=True))

    plain = recipe.work(**arguments(recipe))
    scaled = {}
    for one in recipe.inputs:
        if one.param in arguments(recipe):
            number = arguments(recipe)[one.param]
            scale = factor(one.measured_in.dimension)
            scaled[one.param] = tuple(x * scale for x in number) if isinstance(number, tuple) else number if one.words else number * scale

    assert recipe.work(**scaled) == pytest.approx(plain * factor(recipe.measured_in.dimension), rel=1e-9, abs=1e-12)


lengths = st.floats(0.2, 0.4)
rakes = st.floats(math.radians(20), math.radians(35))


@given(radius=lengths, rake=rakes, offset=st.floats(0.01, 0.08))
@few
def test_trail_falls_with_offset_and_grows_with_rake_and_radius(radius: float, rake: float, offset: float) -> None:
    def trail(radius: float, rake: float, offset: float) -> float:
        return work("trail", front_wheel_radius=radius, rake=rake, fork_offset=offset, rake_change=0.0)

    here = trail(radius, rake, offset)
    assert trail(radius, rake, offset + 0.001) < here < min(trail(radius + 0.001, rake, offset), trail(radius, rake + 0.01, offset))
    normal = work("normal_trail", front_wheel_radius=radius, rake=rake, fork_offset=offset, rake_change=0.0)
    assert normal == pytest.approx(here * math.cos(rake), rel=1e-12)


@given(centre=st.floats(0.4, 0.8), small=st.integers(12, 20), large=st.integers(30, 60))
@few
def test_chain_links_and_centre_distance_undo_one_another_to_a_hundredth_of_a_link(centre: float, small: int, large: int) -> None:
    teeth = {"chain_pitch": 0.015875, "final_driver_teeth": float(small), "final_driven_teeth": float(large)}
    links = work("chain_links", chain_centre=centre, **teeth)

    assert work("chain_centre_distance", chain_links_fitted=links, **teeth) == pytest.approx(centre, rel=1e-12)


@given(torque=st.floats(1, 200), rpm=st.floats(100, 1500))
@few
def test_power_and_torque_undo_one_another(torque: float, rpm: float) -> None:
    assert work("torque_of_power", power=work("power", torque=torque, speed=rpm), speed=rpm) == pytest.approx(torque, rel=1e-12)


@given(rpm=st.floats(200, 1200), ratio=st.floats(3, 15), circumference=st.floats(1.5, 2.5))
@few
def test_a_speed_logged_as_the_gearing_has_it_shows_no_slip(rpm: float, ratio: float, circumference: float) -> None:
    given = {"overall_ratio": ratio, "rear_rolling_circumference": circumference}
    speed = work("road_speed", rpm=rpm, **given)

    assert work("slip", logged_speed=speed, logged_rpm=rpm, **given) == pytest.approx(0, abs=1e-12)
    assert work("slip", logged_speed=speed * 0.95, logged_rpm=rpm, **given) == pytest.approx(0.05, rel=1e-9)


@given(height=st.floats(0.3, 0.7), base=st.floats(1.2, 1.5), share=st.floats(0.4, 0.6), lift=st.floats(0.1, 0.4))
@few
def test_the_axle_lift_gives_back_the_height_that_a_rigid_body_was_given(height: float, base: float, share: float, lift: float) -> None:
    """Equal wheels of 0.3 m; the body turned about the front axle, its weight's line of action followed by vectors."""
    radius, mass = 0.3, 120.0
    angle = math.asin(lift / base)
    behind = (1 - share) * base
    along = behind * math.cos(angle) - (height - radius) * math.sin(angle)
    front = mass * (1 - along / (base * math.cos(angle)))

    found = work(
        "centre_of_gravity_height", front_wheel_radius=radius, rear_wheel_radius=radius, wheelbase=base, axle_load_front=mass * share,
        axle_load_rear=mass * (1 - share), lift_front_load_change=front - mass * share, lift_rear=lift,
    )  # fmt: skip
    assert found == pytest.approx(height, rel=1e-9)


@given(masses=st.lists(st.tuples(st.floats(1, 9), st.floats(0, 9), st.sampled_from(["reworked", "replaced", "deleted", "added"])), min_size=1))
@few
def test_the_causes_of_the_ledger_add_up_to_the_whole(masses: list[tuple[float, float, str]]) -> None:
    sums = dict.fromkeys(("reworked", "replaced", "deleted", "added"), 0.0)
    for before, after, cause in masses:
        sums[cause] += after - before
    whole = sum(after for _, after, _ in masses) - sum(before for before, _, _ in masses)

    assert work("ledger_gap", itemised_mass_change=whole, **sums) == pytest.approx(0, abs=1e-9)


@given(a=st.floats(0.5, 50), b=st.floats(0.5, 50))
@few
def test_springs_one_after_the_other_are_softer_than_the_softer(a: float, b: float) -> None:
    assert work("rate_in_series", spring_rate=(a, b)) < min(a, b)


@given(length=st.floats(0.01, 0.5), alpha=st.floats(1e-6, 3e-5), celsius=st.floats(-10, 120))
@few
def test_a_length_brought_to_twenty_degrees_and_warmed_again_is_the_length(length: float, alpha: float, celsius: float) -> None:
    cold = work("length_at_20", length=length, expansion=alpha, temperature=celsius + 273.15, reference_temperature=293.15)
    assert work("size_when_warm", size=cold, expansion=alpha, temperature_rise=celsius - 20) == pytest.approx(length, rel=1e-5)


@given(pressure=st.floats(95_000, 104_000), celsius=st.floats(0, 35))
@few
def test_thicker_air_asks_for_less_correction(pressure: float, celsius: float) -> None:
    def factor(pressure: float, celsius: float) -> float:
        return work("weather_factor", air_pressure=pressure, vapour_pressure=1000.0, air_temperature=celsius + 273.15)

    assert factor(pressure + 500, celsius) < factor(pressure, celsius) < factor(pressure, celsius + 1)


@pytest.mark.parametrize("temperature", ["4 °C", "36 °C"])
def test_the_corrected_power_has_no_verdict_where_the_standard_does_not_hold(temperature: str) -> None:
    from dossier.figures.work_out import work_out

    air = [one for one in twin() if one.name not in ("air_temperature", "air_pressure")]
    pressure = "106 kPa" if temperature.startswith("4") else "92 kPa"
    air += [value("air_temperature", temperature, run="DY-1"), value("air_pressure", pressure, run="DY-1")]
    found = {one.id: one for one in work_out(air, FIGURES.gather(), "4")}

    assert found["weather_factor.DY-1"].warnings
    assert "not comparable" in found["corrected_peak_power.DY-1"].no_verdict


def test_inches_in_and_millimetres_in_are_the_same_machine() -> None:
    from tests.figures.bench import carried_out

    inches = carried_out(with_other(twin(), wheelbase=f"{1312 / 25.4:.12f} in", fork_offset=f"{47 / 25.4:.12f} in"))
    plain = carried_out(twin())
    for name in ("trail", "centre_of_gravity_height", "wheelbase_in_use"):
        assert inches[name].value == pytest.approx(plain[name].value, rel=1e-12)
    assert UNITS["in"].scale == 0.0254
