"""Numbers, days and words as the pages print them; every derived number is a door to its worked figure."""

from __future__ import annotations

import datetime
import html
import math
from decimal import ROUND_CEILING, Decimal

from dossier.model.quantity import Limits, Quantity
from dossier.model.results import Worked

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December",
)  # fmt: skip
_WORDS = (
    "none", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen",
    "fifteen", "sixteen", "seventeen", "eighteen", "nineteen",
)  # fmt: skip
_TENS = ("", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety")
_UNIT_SHOWN = {"": "", "°": "°", "rpm": " rev/min"}


def esc(text: object) -> str:
    """Text made safe inside HTML, attributes included."""
    return html.escape(str(text), quote=True)


def number(value: float, decimals: int = 0) -> str:
    """A number with a comma between thousands and a true minus sign; never minus nought."""
    shown = f"{value:,.{decimals}f}"
    if float(shown.replace(",", "")) == 0:
        shown = shown.lstrip("-")
    return shown.replace("-", "−")


def written(quantity: Quantity) -> str:
    """A quantity with the digits and the unit it was written with, as HTML."""
    return with_unit(number(float(quantity.number), quantity.decimals), quantity.unit.sign) + (
        f" ± {number(float(quantity.u), quantity.decimals)}" if quantity.u else ""
    )


def with_unit(shown: str, unit: str) -> str:
    """A printed number and its unit, kept together on one line."""
    return f'<span class="nw">{shown}{unit_text(unit)}</span>'


def unit_text(unit: str) -> str:
    """A unit as it follows a number: with a blank before it, save the degree sign."""
    return esc(_UNIT_SHOWN.get(unit, f" {unit}"))


def rounded_up(u: float, decimals: int) -> tuple[str, int]:
    """An uncertainty rounded up, and the decimals that show it: more than asked for where it would vanish."""
    while decimals < 9 and u > 0 and u < 0.95 * 10**-decimals:
        decimals += 1
    step = Decimal(1).scaleb(-decimals)
    up = (Decimal(repr(u)) - Decimal("1e-12")).quantize(step, rounding=ROUND_CEILING)
    return number(float(up), decimals), decimals


def plus_minus(value: float, u: float | None, decimals: int, unit: str = "") -> str:
    """A value with its expanded uncertainty and unit, as HTML: `349.09 ± 0.13 cc`."""
    if not u:
        return with_unit(number(value, decimals), unit)
    shown_u, more = rounded_up(u, decimals)
    return f'<span class="nw">{number(value, more)} ± {shown_u}{unit_text(unit)}</span>'


def figure_value(one: Worked) -> str:
    """The value of a worked figure as HTML, or in a word why there is none."""
    if one.value is None:
        return "no verdict" if one.no_verdict else "not yet measured"
    return plus_minus(one.value, whole_u(one), one.decimals, shown_unit(one.unit))


def whole_u(one: Worked) -> float | None:
    """The uncertainty of a figure where every input has one; None where it would cover some of them only and so say too little."""
    return None if one.unstated else one.u


def shown_unit(unit: str) -> str:
    """The unit of a figure as printed after its number; a ratio to one reads `: 1` only where it says so."""
    return {":1": " : 1", "rpm": "rev/min"}.get(unit, unit)


def figure_href(one: Worked) -> str:
    """The address of a worked figure."""
    role = "" if one.role.value == "as built" else f"{one.role.value}-"
    return f"figures.html#f-{role}{one.id}"


def door(one: Worked | None, text: str = "") -> str:
    """A number that leads to its working; a dash where there is no such figure."""
    if one is None:
        return "–"
    return f'<a href="{esc(figure_href(one))}">{text or figure_value(one)}</a>'


def limits_text(limits: Limits | None) -> str:
    """Limits in words: `348.0 to 350.0`, `not above 2.0`."""
    if limits is None:
        return ""
    low, high = (None if side is None else number(float(side), places(side)) for side in (limits.lower, limits.upper))
    if low is None:
        return f"not above {high}"
    return f"{low} to {high}" if high is not None else f"not below {low}"


def places(value: Decimal) -> int:
    """Digits after the point of a decimal."""
    exponent = value.as_tuple().exponent
    return max(0, -exponent) if isinstance(exponent, int) else 0


def day(date: datetime.date | None, short: bool = False) -> str:
    """A day as `4 October 2025`, or with the month cut to three letters."""
    if date is None:
        return "undated"
    month = MONTHS[date.month - 1]
    return f"{date.day} {month[:3] if short else month} {date.year}"


def in_words(count: int) -> str:
    """A small count in words; figures from a hundred up."""
    if count < 20:
        return _WORDS[count]
    if count < 100:
        tens, ones = divmod(count, 10)
        return _TENS[tens] + (f"-{_WORDS[ones]}" if ones else "")
    return number(count)


def counted(count: int, one: str, many: str = "") -> str:
    """A count in words with its noun: `three snags`."""
    return f"{in_words(count)} {one if count == 1 else many or one + 's'}"


def capital(text: str) -> str:
    """The first letter made a capital."""
    return text[:1].upper() + text[1:]


def lap_time(seconds: float) -> str:
    """Seconds as a lap time, `1:41.8`."""
    minutes, rest = divmod(round(seconds, 1), 60)
    return f"{int(minutes)}:{rest:04.1f}" if minutes else f"{rest:.1f} s"


def joined(parts: list[str]) -> str:
    """Words joined as in a sentence: `a, b and c`."""
    return ", ".join(parts[:-1]) + " and " + parts[-1] if len(parts) > 1 else "".join(parts)


def finite(value: float | None) -> bool:
    """Whether a value can be drawn."""
    return value is not None and math.isfinite(value)
