"""What people write is read as they mean it, or refused with its reason; nothing is ever changed in silence."""

from __future__ import annotations

import datetime
import math
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from dossier.model import notation
from dossier.model.codes import CODES
from dossier.model.notation import Unreadable
from dossier.model.units import KINDS, UNITS

decimals = (
    st.decimals(min_value=-999_999, max_value=999_999, places=4).map(lambda d: d.normalize()).filter(lambda d: d or not d.is_signed())
)
plain = decimals.map(lambda d: format(d, "f"))
signs = st.sampled_from(sorted(UNITS))


def refused(call: object, *args: str) -> str:
    with pytest.raises(Unreadable) as fault:
        call(*args)  # type: ignore[operator]
    assert fault.value.code in CODES
    assert fault.value.message
    assert fault.value.instead
    return fault.value.code


# ---------------------------------------------------------------- what is read


@pytest.mark.parametrize(
    ("text", "value", "unit", "u"),
    [
        ("57.79 ± 0.02 mm", "57.79", "mm", "0.02"),
        ("57.79 mm ± 0.02 mm", "57.79", "mm", "0.02"),
        ("57.79 mm +/- 0.02", "57.79", "mm", "0.02"),
        ("57.79 mm ± 2 thou", "57.79", "mm", "0.0508"),  # 1 in = 25.4 mm exactly: NIST SP 811 (2008), B.8
        ("20 °C ± 1 K", "20", "°C", "1"),  # a difference: the zero of the scale plays no part
        ("200 N ± 4 %", "200", "N", "8"),
        ("27.2°", "27.2", "°", None),
        ("5/8 in", "0.625", "in", None),
        ("1 1/2 in", "1.5", "in", None),
        ("10.8 : 1", "10.8", "", None),
        ("20:1", "20", "", None),
        ("1:41.8", "101.8", "s", None),
        ("62\u00a0mm", "62", "mm", None),
        ("−5 °C", "-5", "°C", None),
        ("12.50 mm", "12.50", "mm", None),
        ("24", "24", "", None),
        ("8600 1/min", "8600", "rpm", None),
        ("24 lbf·ft", "24", "lbf·ft", None),
    ],
)
def test_a_quantity_is_read_as_written(text: str, value: str, unit: str, u: str | None):
    read = notation.quantity(text)
    assert (str(read.number), read.unit.sign, None if read.u is None else read.u) == (value, unit, None if u is None else Decimal(u))
    assert read.text == text.strip()


@pytest.mark.parametrize(
    ("text", "low", "high", "unit"),
    [
        ("348 to 350 cc", "348", "350", "cc"),
        ("348-350 cc", "348", "350", "cc"),
        ("348 cc – 350 cc", "348", "350", "cc"),
        ("-5 to 5 °C", "-5", "5", "°C"),
        ("-5 to -3 °C", "-5", "-3", "°C"),
        ("-5--3 °C", "-5", "-3", "°C"),
        ("at most 201.0 mm", None, "201.0", "mm"),
        ("≥ 2 mm", "2", None, "mm"),
        ("30.0 ± 0.1 mm", "29.9", "30.1", "mm"),
        ("62.000 +0.020/-0 mm", "62.000", "62.020", "mm"),
        ("62.000 +0.020 -0.010 mm", "61.990", "62.020", "mm"),
        ("30 -0.010/-0.025 mm", "29.975", "29.990", "mm"),
        ("30 +0.02/+0.05 mm", "30.02", "30.05", "mm"),
        ("10.6 to 11.0 :1", "10.6", "11.0", ""),
    ],
)
def test_limits_are_read_as_written(text: str, low: str | None, high: str | None, unit: str):
    read = notation.limits(text)
    assert (read.lower, read.upper) == (Decimal(low) if low else None, Decimal(high) if high else None)
    assert read.unit.sign == unit


def test_a_declared_value_has_nominal_and_limits_or_stays_words():
    bore = notation.declared("62.000 +0.020/-0 mm")
    assert bore.nominal is not None and bore.limits is not None
    assert (str(bore.nominal), bore.limits.lower, bore.limits.upper) == ("62.000 mm", Decimal("62.000"), Decimal("62.020"))
    assert notation.declared("52°").limits is None
    for words in ("telescopic 35 mm, external springs", "6 off, 2.4 mm wire", "set C", "62,0 mm", "1" * 500):
        assert notation.declared(words).nominal is None


def test_a_valve_timing_card_is_four_angles():
    assert notation.valve_timing("52-76 / 78-46") == (52, 76, 78, 46)
    assert notation.valve_timing("-2-40/45–5.5°") == (-2, 40, 45, Decimal("5.5"))
    assert refused(notation.valve_timing, "52/76 78/46") == "timing-form"


def test_dates_are_year_month_day_and_must_exist():
    assert notation.day("2024-02-29") == datetime.date(2024, 2, 29)
    for wrong in ("2026-02-29", "2025-5-31", "31.05.2025", "05/31/2025", "2025-05-31T10:00", "20250531", "２025-05-31", "0000-01-01", ""):
        assert refused(notation.day, wrong) == "date-form"


# ---------------------------------------------------------------- what is refused


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("82,00 mm", "decimal-comma"),
        ("1.234,5 mm", "decimal-comma"),
        ("1,234.5 mm", "decimal-comma"),
        ("1,234,567 mm", "decimal-comma"),
        ("10 000 rpm", "number-form"),
        ("10'000 rpm", "number-form"),
        ("10_000 rpm", "number-form"),
        ("58 1", "number-form"),
        ("1e3 rpm", "number-form"),
        ("1E+3 rpm", "number-form"),
        ("0123 mm", "number-form"),
        (".5 mm", "number-form"),
        ("5. mm", "number-form"),
        ("1.5.2 mm", "number-form"),
        ("٦٨ mm", "number-form"),
        ("６２ mm", "number-form"),
        ("nan mm", "number-form"),
        (".nan", "number-form"),
        ("inf mm", "number-form"),
        ("1e400 mm", "number-form"),
        ("82.00(1) mm", "number-form"),
        ("9**9**9 mm", "number-form"),
        ("0x1F mm", "unit-unknown"),
        ("82 mm 3", "unit-unknown"),
        ("82 furlongs", "unit-unknown"),
        ("12:30", "number-form"),
        ("1:41", "number-form"),
        ("20 to 30 mm", "number-form"),
        ("62 +0.02/-0 mm", "number-form"),
        ("5 ± -1 mm", "number-form"),
        ("5 ± 1 ± 2 mm", "number-form"),
        ("1/3 in", "number-form"),
        ("", "number-form"),
        ("mm", "number-form"),
        ("no", "number-form"),
        ("1" * 5000, "number-form"),
        ("1" + " " * 100_000 + "mm", "number-form"),
        ("5 mm ± 1 kg", "dimension-wrong"),
    ],
)
def test_what_could_be_misread_is_refused_with_its_reason(text: str, code: str):
    assert refused(notation.quantity, text) == code


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("350 to 348 cc", "limits-form"),
        ("5 mm", "limits-form"),
        ("at most 5 ± 1 mm", "limits-form"),
        ("2 in to 30 mm", "limits-form"),
        ("62 +0.02/0.01 mm", "limits-form"),
        ("maximum 5 mm", "limits-form"),
        ("at least 12,5 mm", "decimal-comma"),
        ("1 to 2 furlongs", "unit-unknown"),
        ("1" + " " * 100_000 + "x", "number-form"),
    ],
)
def test_limits_that_could_be_misread_are_refused(text: str, code: str):
    assert refused(notation.limits, text) == code


def test_a_missing_unit_and_a_wrong_one_are_told_apart():
    assert refused(notation.quantity, "62.0", "length") == "unit-missing"
    assert refused(notation.quantity, "62.0 kg", "length") == "dimension-wrong"
    assert refused(notation.quantity, "62.0 mn", "length") == "unit-unknown"
    with pytest.raises(Unreadable, match="mn") as fault:
        notation.quantity("62.0 mn", "length")
    assert "mm" in fault.value.instead


# ---------------------------------------------------------------- for all texts


@given(plain, signs)
def test_any_plain_number_with_any_unit_comes_back_digit_for_digit(digits: str, sign: str):
    written = f"{digits} {sign}".strip()
    if sign == "1":
        return
    read = notation.quantity(written)
    assert format(read.number, "f") == digits
    assert read.unit is UNITS[sign]


@given(plain, plain.filter(lambda text: not text.startswith("-")), signs.filter(lambda sign: sign not in ("1", "per cent", "%")))
def test_an_uncertainty_comes_back_digit_for_digit(digits: str, u: str, sign: str):
    read = notation.quantity(f"{digits} ± {u} {sign}".strip())
    assert (format(read.number, "f"), read.u) == (digits, Decimal(u))


@given(plain, plain, st.sampled_from(["mm", "°C", "kg", "N·m"]))
def test_limits_come_back_in_order_or_are_refused(one: str, other: str, sign: str):
    text = f"{one} to {other} {sign}"
    if Decimal(one) > Decimal(other):
        assert refused(notation.limits, text) == "limits-form"
    else:
        read = notation.limits(text)
        assert (read.lower, read.upper) == (Decimal(one), Decimal(other))


@given(st.text(max_size=60), st.sampled_from(["", *KINDS]))
def test_no_text_whatever_makes_reading_fail_in_another_way(text: str, kind: str):
    for read in (notation.quantity, notation.limits):
        try:
            value = read(text, kind)
        except Unreadable as fault:
            assert fault.code in CODES
        else:
            numbers = [value.number] if hasattr(value, "number") else [side for side in (value.lower, value.upper) if side is not None]
            assert all(one.is_finite() for one in numbers)
    assert notation.declared(text).text == text.strip()
    for convert in (notation.day, notation.count, notation.valve_timing, notation.number):
        try:
            convert(text)
        except Unreadable as fault:
            assert fault.code in CODES


@given(st.from_regex(r"[0-9]{1,4}[ ,.'_][0-9]{1,4}( mm)?", fullmatch=True))
def test_a_number_with_a_mark_in_it_is_the_decimal_it_shows_or_nothing(text: str):
    try:
        read = notation.quantity(text)
    except Unreadable:
        return
    digits = text.removesuffix(" mm")
    assert "." in digits
    assert read.number == Decimal(digits)


@given(st.integers(1, 999), st.sampled_from([2, 4, 8, 16, 32, 64]), st.integers(0, 99))
def test_a_workshop_fraction_is_exact(top: int, bottom: int, whole: int):
    text = f"{whole} {top}/{bottom} in" if whole else f"{top}/{bottom} in"
    assert Fraction(notation.quantity(text).number) == whole + Fraction(top, bottom)


@given(st.integers(0, 59), st.integers(0, 599))
def test_a_lap_time_is_minutes_and_seconds(minutes: int, tenths: int):
    read = notation.quantity(f"{minutes}:{tenths / 10:04.1f}", "time")
    assert math.isclose(read.si, minutes * 60 + tenths / 10)
