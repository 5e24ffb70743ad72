"""The uncertainty engine against the worked examples of the Guide, and where linear propagation is not believed."""

from __future__ import annotations

import math

import numpy as np
import pytest

from dossier.figures import second_order
from dossier.figures.degrees_of_freedom import coverage, effective
from dossier.figures.monte_carlo import propagate, summary
from dossier.model.quantity import contributions, nominal, standard, variable
from tests.figures.bench import carried_out, value
from tests.figures.cases import BY_ID

NM = 1e-9


GAUGE_BEST = (50.000623e-3, 215 * NM, 0.0, 0.0, 11.5e-6, 0.0, 0.0, 0.0)
GAUGE_U = (
    25 * NM, 5.8 * NM, 3.9 * NM, 6.7 * NM, 2e-6 / math.sqrt(3), 1e-6 / math.sqrt(3), math.hypot(0.2, 0.5 / math.sqrt(2)),
    0.05 / math.sqrt(3),
)  # fmt: skip
"""GUM H.1, Table H.1: standard uncertainties; the temperature's is of its mean and of its cyclic variation together."""


def gauge(known: float, found: float, random: float, systematic: float, expansion: float, differs: float, heat: float, delta: float) -> float:
    """GUM H.1: length of an end gauge (m) from a known one, their difference, and corrections for expansion and temperature (K)."""
    return known + found + random + systematic - known * (differs * (-0.1 + heat) + expansion * delta)


def test_unc_01_length_and_uncertainty_of_the_end_gauge_of_gum_h_1() -> None:
    inputs = [variable(best, 2 * u, f"input {i}") for i, (best, u) in enumerate(zip(GAUGE_BEST, GAUGE_U, strict=True))]

    length = gauge(*inputs)

    expected = BY_ID["UNC-01"]["expected"]
    assert nominal(length) * 1000 == pytest.approx(expected["length"]["value"], abs=expected["length"]["tol"])
    assert standard(length) / NM == pytest.approx(expected["u_c"]["value"], abs=expected["u_c"]["tol"])


def test_unc_01_second_order_terms_raise_it_to_34_nanometres_as_gum_h_1_7_says() -> None:
    first, second = second_order.variances(gauge, GAUGE_BEST, GAUGE_U)

    expected = BY_ID["UNC-01"]["expected"]
    assert math.sqrt(first) / NM == pytest.approx(expected["u_c"]["value"], abs=expected["u_c"]["tol"])
    assert math.sqrt(first + second) / NM == pytest.approx(expected["u_with_second_order"]["value"], abs=0.5)
    assert second_order.bends(gauge, GAUGE_BEST, GAUGE_U)


def test_unc_01_effective_degrees_of_freedom_of_gum_h_1_6() -> None:
    """Parts as the Guide lists them, nm: known length 25 (18), comparison 9.7 (25.6), expansion 2.9 (50), temperature 16.6 (2)."""
    expected = BY_ID["UNC-01"]["expected"]["dof_effective"]

    freedom = effective([(25, 18), (9.7, 25.6), (2.9, 50), (16.6, 2)])

    assert freedom == pytest.approx(expected["value"], abs=expected["tol"])


def test_unc_05_ratio_with_effective_degrees_of_freedom_by_sandia_engr224() -> None:
    """The notes' model: a known amount times the ratio of two readings, y = Yu X1 / X2."""
    case = BY_ID["UNC-05"]
    x1, x2, yu = (variable(best, 2 * u, name) for best, u, name in ((0.1820, 0.00093, "X1"), (0.1823, 0.00058, "X2"), (0.6978, 0.0026, "Yu")))

    y = yu * x1 / x2

    parts = contributions(y)
    freedom = effective([(parts["X1"], 9), (parts["X2"], 19), (parts["Yu"], 19)])
    expected = case["expected"]
    assert nominal(y) == pytest.approx(expected["y"]["value"], abs=expected["y"]["tol"])
    assert standard(y) == pytest.approx(expected["u_y"]["value"], abs=expected["u_y"]["tol"])
    assert freedom == pytest.approx(expected["dof"]["value"], abs=expected["dof"]["tol"])
    assert coverage(freedom) * standard(y) == pytest.approx(expected["U95"]["value"], abs=expected["U95"]["tol"])


def test_unc_04_thermal_expansion_of_nist_tn_1900_e13() -> None:
    case = BY_ID["UNC-04"]["expected"]
    l0, l1 = variable(1.4999, 0.0002, "L0"), variable(1.5021, 0.0004, "L1")
    t0, t1 = variable(288.15, 0.04, "T0"), variable(373.10, 0.10, "T1")

    alpha = (l1 - l0) / (l0 * (t1 - t0))

    assert nominal(alpha) == pytest.approx(case["alpha"]["value"], abs=case["alpha"]["tol"])
    assert standard(alpha) == pytest.approx(case["u_alpha"]["value"], abs=case["u_alpha"]["tol"])


def test_unc_09_limiting_error_and_root_of_squares_by_sawhney() -> None:
    case = BY_ID["UNC-09"]["expected"]
    total = variable(200, 2 * 2, "I1") + variable(100, 2 * 5, "I2")

    assert standard(total) == pytest.approx(case["rss"]["value"], abs=case["rss"]["tol"])
    assert sum(contributions(total).values()) == pytest.approx(case["limiting"]["value"], abs=case["limiting"]["tol"])


SETS = (
    (5.007, 19.663e-3, 1.0456), (4.994, 19.639e-3, 1.0438), (5.005, 19.640e-3, 1.0468), (4.990, 19.685e-3, 1.0428),
    (4.999, 19.678e-3, 1.0433),
)  # fmt: skip
"""GUM H.2, Table H.2: potential difference (V), current (A) and phase (rad), five simultaneous observations."""


def test_gum_h_2_resistance_reactance_and_impedance_with_their_correlation_kept() -> None:
    """What the three means share is written as shared variables, one for each simultaneous set."""
    n = len(SETS)
    shared = [variable(0.0, 2.0, f"set {k}") for k in range(n)]
    means = [sum(one[i] for one in SETS) / n for i in range(3)]
    v, i, phi = (
        means[j] + sum((one[j] - means[j]) / math.sqrt(n * (n - 1)) * shared[k] for k, one in enumerate(SETS)) for j in range(3)
    )

    from uncertainties import umath

    resistance, reactance, impedance = v / i * umath.cos(phi), v / i * umath.sin(phi), v / i

    assert (standard(v), standard(i), standard(phi)) == pytest.approx((0.0032, 0.0095e-3, 0.00075), rel=0.02)
    assert (nominal(resistance), standard(resistance)) == (pytest.approx(127.732, abs=5e-4), pytest.approx(0.071, abs=5e-4))
    assert (nominal(reactance), standard(reactance)) == (pytest.approx(219.847, abs=6e-4), pytest.approx(0.295, abs=6e-4))  # from rounded means
    assert (nominal(impedance), standard(impedance)) == (pytest.approx(254.260, abs=5e-4), pytest.approx(0.236, abs=5e-4))


def test_unc_07_sum_of_four_normal_inputs_by_jcgm_101_9_2_2() -> None:
    case = BY_ID["UNC-07"]["expected"]
    drawn = propagate(lambda a, b, c, d: a + b + c + d, [variable(0.0, 2.0, name) for name in "abcd"], draws=400_000)

    assert drawn.standard == pytest.approx(case["u"]["value"], abs=0.01)
    assert (drawn.low, drawn.high) == (pytest.approx(-case["normal_95"]["value"], abs=0.02), pytest.approx(3.92, abs=0.02))


def test_unc_07_sum_of_four_rectangular_inputs_by_jcgm_101_9_2_3() -> None:
    case = BY_ID["UNC-07"]["expected"]
    half = math.sqrt(3)
    drawn = summary(np.random.default_rng(1).uniform(-half, half, (4, 400_000)).sum(axis=0))

    assert drawn.high == pytest.approx(case["rectangular_95"]["value"], abs=0.02)


def test_the_same_draws_come_again_and_what_values_share_is_drawn_once() -> None:
    bore = variable(62.0, 0.004, "bore")

    assert propagate(lambda a, b: a - b, [bore, bore]).standard == 0
    assert propagate(lambda a: a**2, [bore]) == propagate(lambda a: a**2, [bore])


def test_a_plain_product_of_fine_measurements_is_left_to_linear_propagation() -> None:
    assert not second_order.bends(lambda b, s: math.pi / 4 * b**2 * s, (62.0, 57.8), (0.002, 0.01))


def test_a_square_near_nought_is_not() -> None:
    assert second_order.bends(lambda x: x * x, (0.1,), (1.0,))
    assert second_order.bends(lambda x, y: x * y, (0.0, 0.0), (1.0, 1.0))


def test_second_order_terms_of_a_square_are_twice_u_to_the_fourth() -> None:
    """y = x²: f' = 2x, f'' = 2, so the terms of GUM 5.1.2 give 4 x² u² and 2 u⁴."""
    first, second = second_order.variances(lambda x: x * x, (3.0,), (0.5,))

    assert first == pytest.approx(4 * 9 * 0.25)
    assert second == pytest.approx(2 * 0.5**4)


def test_a_figure_that_bends_within_its_uncertainty_is_drawn_and_says_so() -> None:
    """A spark at 1 ± 2 degrees: travel goes with the square of the angle. Mean of r(1 + r/L)/2 times angle² is that of a squared normal."""
    values = [value("ignition_advance", "1 ± 2 °"), value("stroke", "57.79 mm"), value("rod_length", "112 mm")]

    worked = carried_out(values)["ignition_travel"]

    per_square = 28.895 * (1 + 28.895 / 112) / 2 * math.radians(1) ** 2
    exact = 2 * per_square * math.sqrt(2 + 4)  # k = 2 times the deviation of (1 + z)², whose variance is 2 + 4
    assert "JCGM 101" in worked.method and "fixed seed" in worked.method
    assert worked.u == pytest.approx(exact, rel=0.02)


def test_a_figure_that_does_not_bend_says_linear_propagation() -> None:
    values = [value("ignition_advance", "37.5 ± 0.5 °"), value("stroke", "57.79 ± 0.02 mm"), value("rod_length", "112 mm")]

    assert carried_out(values)["ignition_travel"].method == "linear propagation"


def test_the_smaller_of_two_readings_that_cannot_be_told_apart_is_drawn() -> None:
    """Smaller of two equal normal readings: deviation root of (1 - 1/pi) of one (order statistics)."""
    values = [value("squish_clearance", "1.00 ± 0.04 mm", cylinder=one) for one in ("left", "right")]

    worked = carried_out(values)["least_squish_clearance"]

    assert worked.u == pytest.approx(0.04 * math.sqrt(1 - 1 / math.pi), rel=0.02)


GUM_G_2 = [(1, 12.71, 63.66), (5, 2.57, 4.03), (16, 2.12, 2.92), (50, 2.01, 2.68), (math.inf, 1.960, 2.576)]


@pytest.mark.parametrize(("freedom", "t95", "t99"), GUM_G_2)
def test_coverage_factors_are_those_of_gum_table_g_2(freedom: float, t95: float, t99: float) -> None:
    assert coverage(freedom) == pytest.approx(t95, abs=0.005)
    assert coverage(freedom, 0.99) == pytest.approx(t99, abs=0.005)


def test_parts_known_from_elsewhere_leave_the_degrees_of_freedom_infinite() -> None:
    assert effective([(0.1, math.inf), (0.2, math.inf)]) == math.inf
