"""Ten figures of the demo builds got once more in another way, the working beside each."""

from __future__ import annotations

import math
from decimal import Decimal, getcontext
from pathlib import Path

import numpy as np
import pytest
from scipy import integrate, optimize

from dossier.model.results import Worked
from dossier.record import make_record

BUILDS = Path(__file__).resolve().parents[2] / "builds"
PI = Decimal("3.14159265358979323846264338327950288")
BORES, STROKE, ROD = (62.012, 62.014), 57.79, 112.0
"""The twin, mm. Left bore: (62.013 + 62.011 + 62.014 + 62.012 + 62.012 + 62.010) / 6 = 372.072 / 6 = 62.012; the right one 2 µm more."""


def figures_of(slug: str) -> dict[str, Worked]:
    record, _ = make_record(BUILDS / slug)
    assert record is not None
    return {one.id: one for one in record.worked if one.role.value == "as built"}


@pytest.fixture(scope="module")
def twin() -> dict[str, Worked]:
    return figures_of("talvera-350-gp")


@pytest.fixture(scope="module")
def single() -> dict[str, Worked]:
    return figures_of("kestrane-125-r")


def test_1_capacity_in_decimals_by_hand(twin: dict[str, Worked]) -> None:
    """62.012² = 3845.488144 and 62.014² = 3845.736196; their mean 3845.612170; times π/4 = 3020.33671; times 2 × 57.79 = 349090.52."""
    getcontext().prec = 30
    mean = (Decimal("62.012") ** 2 + Decimal("62.014") ** 2) / 2
    assert mean == Decimal("3845.612170")

    by_hand = PI / 4 * 2 * mean * Decimal("57.79") / 1000

    assert twin["swept_volume"].value == pytest.approx(float(by_hand), rel=1e-12)
    assert float(by_hand) == pytest.approx(349.09052, abs=5e-6)


def test_2_uncertainty_of_the_capacity_by_relative_parts(twin: dict[str, Worked]) -> None:
    """Each bore stands for half the capacity and counts twice: 0.004/62.012 = 6.4504e-5, and the other 6.4502e-5; the stroke
    0.02/57.79 = 3.46081e-4. Root of the squares: 3.57900e-4 of 349.0905 cc is 0.12494 cc."""
    parts = [0.004 / bore for bore in BORES] + [0.02 / STROKE]

    by_hand = math.sqrt(sum(part**2 for part in parts)) * 349.09052

    assert by_hand == pytest.approx(0.12494, abs=5e-6)
    assert twin["swept_volume"].u == pytest.approx(by_hand, rel=1e-6)


def test_3_uncertainty_of_the_ratio_by_drawing_lots(twin: dict[str, Worked]) -> None:
    """A million draws with another generator and another formula: 1 + V/Vc."""
    lots = np.random.RandomState(7)
    bore, stroke, clearance = (lots.normal(best, u / 2, 1_000_000) for best, u in ((62.012, 0.004), (57.79, 0.02), (17.7, 0.15)))

    ratio = 1 + np.pi * bore**2 * stroke / 4000 / clearance

    assert twin["compression_ratio.left"].value == pytest.approx(ratio.mean(), abs=5e-4)
    assert twin["compression_ratio.left"].u == pytest.approx(2 * ratio.std(), rel=0.005)


def test_4_highest_piston_speed_by_a_search_of_the_piston_pins_place(twin: dict[str, Worked]) -> None:
    """The pin's height over the crank as a function of the angle, its slope by differences, its top by golden section.

    The figure looks at whole degrees of the crank, and so falls short by less than 4 parts in 100 000.
    """

    def height(angle: float) -> float:
        return STROKE / 2 * math.cos(angle) + math.sqrt(ROD**2 - (STROKE / 2 * math.sin(angle)) ** 2)

    def speed(angle: float) -> float:
        return -(height(angle + 1e-5) - height(angle - 1e-5)) / 2e-5 * 10200 * math.pi / 30 / 1000

    top = optimize.minimize_scalar(lambda angle: -speed(angle), bounds=(0.5, 2.0), method="bounded")

    assert -4e-5 < twin["highest_piston_speed"].value / -top.fun - 1 <= 0


def test_5_exhaust_duration_by_searching_the_angle_of_the_ports_edge(single: dict[str, Worked]) -> None:
    def travel(angle: float) -> float:
        return 27 + 110 - 27 * math.cos(angle) - math.sqrt(110**2 - (27 * math.sin(angle)) ** 2)

    opens = optimize.brentq(lambda angle: travel(angle) - 27.0, 0.1, 3.0, xtol=1e-14)

    assert single["exhaust_duration"].value == pytest.approx(360 - 2 * math.degrees(opens), abs=1e-9)


def test_6_squish_speed_from_the_volume_pressed_out_of_the_band(single: dict[str, Worked]) -> None:
    """Gas of one density everywhere: what leaves the band is what its share of the cylinder's volume loses more than the whole does.

    Mass in the band stays in proportion to volume: band volume over whole volume; the flow crosses a ring 38 mm wide and z high.
    """
    bore, bowl, gap, pocket, omega = 54.006, 38.0, 0.85, 7600.0, 12000 * math.pi / 30

    def z(angle: float) -> float:
        return gap + 27 + 110 - 27 * math.cos(angle) - math.sqrt(110**2 - (27 * math.sin(angle)) ** 2)

    def share(angle: float) -> float:
        band = math.pi / 4 * (bore**2 - bowl**2) * z(angle)
        return band / (math.pi / 4 * bore**2 * z(angle) + pocket)

    def speed(angle: float) -> float:
        """m/s towards the middle before top dead centre; the whole volume times the change of the band's share of it."""
        whole = math.pi / 4 * bore**2 * z(angle) + pocket
        lost = (share(angle + 1e-6) - share(angle - 1e-6)) / 2e-6 * omega * whole
        return lost / (math.pi * bowl * z(angle)) / 1000

    fastest = max(speed(math.radians(tenth / 10)) for tenth in range(1, 600))

    assert single["highest_squish_speed"].value == pytest.approx(fastest, rel=1e-4)


def test_7_trail_by_the_steering_axis_drawn_to_the_ground(twin: dict[str, Worked]) -> None:
    """Spindle at (0, 298.6); the axis stands 47 mm behind it, square to its own direction; where it meets the ground is ahead of 0."""
    rake = math.radians(27.2)
    along = np.array([math.sin(rake), -math.cos(rake)])  # down and forwards
    behind = np.array([-math.cos(rake), -math.sin(rake)])  # square to it, towards the machine
    point = np.array([0.0, 298.6]) + 47.0 * behind

    on_the_ground = point + along * (point[1] / math.cos(rake))

    assert on_the_ground[1] == pytest.approx(0)
    assert twin["trail"].value == pytest.approx(on_the_ground[0], rel=1e-12)


def test_8_centre_of_gravity_height_by_balance_of_moments_as_lifted(twin: dict[str, Worked]) -> None:
    """Two unknowns, two balances of moments: level and with the rear axle 250 mm higher; wheels of 298.6 and 304.6 mm.

    Spindles differ by 6 mm when level: so the line of the axles leans by asin(250/1312) from where it lay.
    """
    base, weight, gained = 1312.0, 119.4, 3.4
    angle = math.asin(250 / base)

    def unbalanced(height: float) -> float:
        """Moment about the front contact left over; height above the line of the axles at the middle radius."""
        above = height - (298.6 + 304.6) / 2
        centre = base * 63.1 / weight
        lifted = centre * math.cos(angle) - above * math.sin(angle)  # towards the front as it is lifted
        return weight * lifted - (63.1 - gained) * base * math.cos(angle)

    height = optimize.brentq(unbalanced, 0, 2000)

    assert twin["centre_of_gravity_height"].value == pytest.approx(height, rel=1e-9)


def test_9_bounce_by_the_equation_of_motion_itself(twin: dict[str, Worked]) -> None:
    """Front: 2 × 6.2 N/mm over cos² 27.2° and 56.3 + 32.9 kg (with rider 89.2) less 12 kg; the swing timed between two crossings of nought."""
    rate = 2 * 6200 / math.cos(math.radians(27.2)) ** 2
    mass = 89.2 - 12.0

    crossing = lambda t, y: y[0]  # noqa: E731
    crossing.direction = 1
    swing = integrate.solve_ivp(lambda t, y: [y[1], -rate / mass * y[0]], (0, 3), [0.0, 1.0], events=crossing, rtol=1e-10, atol=1e-12)
    times = swing.t_events[0]
    period = times[-1] - times[-2]

    worked = [one for id, one in twin.items() if id.startswith("front_bounce_frequency")]
    assert any(one.value == pytest.approx(1 / period, rel=1e-6) for one in worked)


def test_10_weather_factor_by_logarithms(twin: dict[str, Worked]) -> None:
    """DY-1: 100.8 - 1.0 = 99.8 kPa dry, 14 °C: 1.2 ln(99/99.8) = -0.0096578; 0.6 ln(287/298) = -0.0225671, with 273 as the standard writes
    it. Their sum is -0.0322249, whose exponential is 0.968289."""
    by_logarithms = math.exp(1.2 * math.log(99 / 99.8) + 0.6 * math.log((14 + 273) / 298))

    assert by_logarithms == pytest.approx(0.968289, abs=5e-7)
    assert twin["weather_factor.DY-1"].value == pytest.approx(by_logarithms, rel=2e-5)
