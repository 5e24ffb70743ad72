"""A formula as it is printed, with symbols and with the numbers put in."""

from __future__ import annotations

from xml.etree import ElementTree

from dossier.model import formula
from dossier.model.symbols import symbol_html, symbol_mathml, symbol_text

TRAIL = "t = (R*sin(epsilon) - d)/cos(epsilon)"
NUMBERS = {"R": ["298.6"], "epsilon": ["27.2°"], "d": ["47"]}


def words(mathml: str) -> str:
    return "".join(ElementTree.fromstring(mathml).itertext())


def test_an_angle_put_in_keeps_its_sign_in_plain_text() -> None:
    assert formula.plain(TRAIL, NUMBERS) == "(298.6·sin(27.2°) − 47)/cos(27.2°)"


def test_an_angle_put_in_keeps_its_sign_in_mathml_as_an_operator_of_its_own() -> None:
    shown = formula.mathml(TRAIL, NUMBERS)

    assert shown.count("<mn>27.2</mn><mo>°</mo>") == 2
    assert "27.2°" in words(shown)


def test_the_square_of_an_angle_is_not_the_angle_of_a_square() -> None:
    assert formula.plain("x = r*theta**2", {"r": ["28.9"], "theta": ["37.5°"]}) == "28.9·(37.5°)²"
    assert "(37.5°)" in words(formula.mathml("x = r*theta**2", {"r": ["28.9"], "theta": ["37.5°"]}))


def test_a_negative_number_put_in_beside_an_operator_stands_in_brackets() -> None:
    numbers = {"a": ["−1.5"], "b": ["−2"]}

    assert formula.plain("y = a - b", numbers) == "−1.5 − (−2)"
    assert formula.plain("y = a + b", numbers) == "−1.5 + (−2)"
    assert formula.plain("y = a**2", numbers) == "(−1.5)²"
    assert words(formula.mathml("y = a - b", numbers)) == "y=−1.5−(−2)"
    assert words(formula.mathml("y = a + b", numbers)) == "y=−1.5+(−2)"


def test_a_difference_is_written_with_its_delta_in_front_of_the_symbol() -> None:
    assert symbol_text("Delta_A_c") == "ΔA_c"
    assert symbol_html("Delta_A_c") == "ΔA<sub>c</sub>"
    assert words(symbol_mathml("Delta_A_c")) == "ΔAc"
    assert symbol_mathml("Delta_t") == "<mrow><mi>Δ</mi><mi>t</mi></mrow>"


def test_a_lone_delta_and_greek_letters_with_a_foot_stay_what_they_are() -> None:
    assert symbol_text("Delta") == "Δ"
    assert symbol_text("epsilon_k") == "ε_k"
    assert symbol_text("psi_k") == "ψ_k"
    assert symbol_html("epsilon_k") == "ε<sub>k</sub>"
