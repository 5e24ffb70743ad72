"""How people write numbers, units, limits and dates; strict, so that no slip of the pen changes a value in silence."""

from __future__ import annotations

import datetime
import re
from decimal import Decimal

from dossier.model import iso_limits
from dossier.model.problems import did_you_mean
from dossier.model.quantity import Declared, Limits, Quantity
from dossier.model.units import KINDS, UNITS, Unit, signs_of


class Unreadable(ValueError):
    """Text that is not the value wanted: problem code, one sentence, and what to write instead."""

    def __init__(self, code: str, message: str, instead: str = "") -> None:
        super().__init__(message)
        self.code, self.message, self.instead = code, message, instead


LONGEST = 120
"""No value is longer than this; it keeps every pattern below fast, whatever is thrown at it."""

_NUMBER = r"[+-]?(?:0|[1-9][0-9]{0,11})(?:\.[0-9]{1,12})?"
_FRACTION = r"(?:[1-9][0-9]{0,3} )?[1-9][0-9]{0,3}/(?:2|4|8|16|32|64)"
_START = re.compile(rf"({_FRACTION}|{_NUMBER})(?![0-9])")
_PM = re.compile(r" ?(?:±|\+/-|\+-) ?")
_LAP = re.compile(r"([0-9]{1,2}):([0-5][0-9](?:\.[0-9]{1,3})?)")
_COMMA = re.compile(r"[+-]?[0-9]+(?:[.,'’ ][0-9]+)*,[0-9]+(?:[.,'’ ][0-9]+)*")
_NO_UNIT = re.compile(r"[^\w°%‰\"″′:]|[²³]")
_NOT_A_SIGN = re.compile(r"[0-9.,_'’]")


def _plain(text: str) -> str:
    """The text with single blanks and a plain minus. Raises Unreadable where it is too long to be a value."""
    if len(text) > LONGEST:
        raise Unreadable("number-form", f"{text[:40]!r} … is too long to be a value", "write one number with its unit")
    return " ".join(text.split()).replace("−", "-")


def number(text: str) -> Decimal:
    """A plain decimal number or a workshop fraction such as `5/8`. Raises Unreadable."""
    text = _plain(text)
    if re.fullmatch(_FRACTION, text):
        whole, _, part = text.rpartition(" ")
        top, _, bottom = part.partition("/")
        return Decimal(whole or 0) + Decimal(top) / Decimal(bottom)
    if not text.isascii() and not _COMMA.fullmatch(text):
        raise Unreadable("number-form", f"{text!r} is not written in plain digits", "write 0 to 9 and a point")
    if re.fullmatch(_NUMBER, text):
        return Decimal(text)
    if _COMMA.fullmatch(text):
        raise Unreadable("decimal-comma", f"{text!r} has a comma: is it a decimal comma or thousands?", _without_comma(text))
    if re.fullmatch(r"[+-]?0[0-9]+(\.[0-9]*)?", text):
        raise Unreadable("number-form", f"{text!r} begins with a nought", f"write {text.lstrip('+-').lstrip('0') or '0'}")
    raise Unreadable(
        "number-form", f"{text!r} is not a number", "write digits with a decimal point, as in 62.013; no powers of ten, no spaces"
    )


def _without_comma(text: str) -> str:
    """What a number with a comma can have meant."""
    digits = re.sub(r"[^0-9+-]", "", text)
    marks = re.findall(r"[.,'’ ]", text)
    head, _, tail = text.rpartition(marks[-1])
    pointed = f"{re.sub('[^0-9+-]', '', head)}.{tail}"
    if marks == [","]:
        return f"write {pointed} or {digits}"
    return f"write {digits}" if set(marks) == {","} else f"write {pointed}"


def quantity(text: str, kind: str = "") -> Quantity:
    """A quantity: `57.79 ± 0.02 mm`, `27.2°`, `5/8 in`, `10.8 : 1`, `1:41.8` (minutes and seconds, where a time is wanted).

    Without a kind any unit will do, and a lap time is read only with its tenths. Raises Unreadable.
    """
    raw = _plain(text)
    if (kind == "time" or (not kind and "." in raw)) and (lap := _LAP.fullmatch(raw)):
        return Quantity(Decimal(lap[1]) * 60 + Decimal(lap[2]), UNITS["s"], None, text.strip())
    raw = re.sub(r" ?: ?1$", " :1", raw) if kind in ("", "ratio") else raw
    head = _PM.split(raw)
    if len(head) > 2:
        raise Unreadable("number-form", f"{text!r} has two uncertainties", "write one ±, as in 57.79 ± 0.02 mm")
    first, sign = _number_and_sign(head[0])
    if len(head) == 1:
        return Quantity(first, _unit(sign, kind, text), None, text.strip())
    second, sign2 = _number_and_sign(head[1])
    unit = _unit(sign or sign2, kind, text)
    if second < 0:
        raise Unreadable("number-form", f"the uncertainty in {text!r} is negative", "write it without a sign")
    if sign2 in ("%", "per cent") and unit.sign != "%":
        return Quantity(first, unit, abs(first) * second / 100, text.strip())
    if sign and sign2 and sign != sign2:
        second = _converted(second, _unit(sign2, unit.kind, text), unit)
    return Quantity(first, unit, second, text.strip())


def _converted(difference: Decimal, unit: Unit, into: Unit) -> Decimal:
    """A difference in one unit, expressed in another of its kind; offsets of temperature scales play no part."""
    factor = unit.factor / into.factor
    if unit.pi != into.pi:
        return Decimal(repr(float(difference) * unit.scale / into.scale))
    return difference * factor.numerator / factor.denominator


def _number_and_sign(text: str) -> tuple[Decimal, str]:
    text = text.strip()
    found = _START.match(text)
    if not found:
        bare = re.match(r"[^ A-Za-z°%‰\"µ]*", text)
        return number(bare[0] if bare and bare[0] else text), text[bare.end() if bare else 0 :].strip()
    rest = text[found.end() :].strip()
    glued = text[found.end() :]
    if glued[:1] in (",", ".", "_", "'", "’") or re.match(r"e[+-]?[0-9]", glued, re.IGNORECASE):
        torn = re.match(r"[+-]?[0-9][0-9.,_'’]*", text)
        return number(torn[0] if torn and torn.end() > found.end() + 1 and "," in torn[0] else re.split(r" ", text, maxsplit=1)[0]), ""
    if rest[:1] in ("+", "-") or rest.startswith(("to ", "– ")):
        raise Unreadable("number-form", f"{text!r} gives limits; one value is wanted", "write one value, with ± for its uncertainty")
    if lap := re.fullmatch(r"([0-9]{1,2}:[0-5][0-9]),([0-9]{1,3})", text):
        raise Unreadable("decimal-comma", f"{text!r} has a comma: a lap time is written with a point", f"write {lap[1]}.{lap[2]}")
    if re.match(r":(?! ?1$)", rest):
        raise Unreadable("number-form", f"{text!r} is neither a number nor a ratio", "write a ratio as 10.8 : 1, a lap time as 1:41.8")
    if _NO_UNIT.match(rest):
        raise Unreadable("number-form", f"{text!r} goes on after its number with {rest[:1]!r}", "write one number and its unit")
    if _NOT_A_SIGN.match(rest) and (rest == "1" or rest not in UNITS):
        raise Unreadable("number-form", f"{text!r} has two numbers in it", "write one number, without blanks or marks between its digits")
    return number(found[1]), rest


def _unit(sign: str, kind: str, text: str) -> Unit:
    wanted = ", ".join(signs_of(kind)[:4]) if kind else ""
    if not sign and kind not in ("", "ratio"):
        raise Unreadable(
            "unit-missing",
            f"{text.strip()!r} has no unit",
            f"write {text.strip()} {signs_of(kind)[0]}, or the unit it was measured in ({wanted})",
        )
    if sign not in UNITS:
        known = [known for known, unit in UNITS.items() if not kind or unit.kind == kind]
        here = f"units here: {wanted or 'mm, in, cc, kg, g, N·m, N, bar, °, °C, rpm, s, h, % and their kin'}"
        instead = " ".join(filter(None, (did_you_mean(sign, known), here)))
        raise Unreadable("unit-unknown", f"{sign!r} is not a unit this program knows", instead)
    unit = UNITS[sign]
    if kind and unit.kind != kind:
        if unit.dimension != KINDS[kind]:
            raise Unreadable("dimension-wrong", f"{text.strip()!r} is a {unit.kind}; a {kind} is wanted", f"write it in {wanted}")
        raise Unreadable("dimension-wrong", f"{text.strip()!r} is written as a {unit.kind}; a {kind} is wanted", f"write it in {wanted}")
    return unit


_RANGE = re.compile(rf"({_NUMBER}) ?((?!to )[^0-9+±\-– ]*(?: (?!to )[^0-9+±\-– ]+)?) ?(?:to|–|-) ?({_NUMBER}) ?(.*)")
_ONE_SIDE = {"at most": 1, "not above": 1, "max": 1, "≤": 1, "at least": 0, "not below": 0, "min": 0, "≥": 0}
_SIZE = r"[0-9]{1,12}(?:\.[0-9]{1,12})?"
_LOPSIDED = re.compile(rf"({_NUMBER}) ?([+-]) ?({_SIZE})(?: ?/ ?([+-]?)| ([+-])) ?({_SIZE}) ?(.*)")


def limits(text: str, kind: str = "") -> Limits:
    """Limits: `348 to 350 cc`, `at most 201.0 mm`, `30 ± 0.1 mm`, `62.000 +0.020/-0 mm`. Raises Unreadable."""
    raw = _plain(text)
    for words, upper in _ONE_SIDE.items():
        if raw.startswith(words) and not raw[len(words) : len(words) + 1].isalpha():
            side = quantity(raw[len(words) :], kind)
            if side.u is not None:
                raise Unreadable("limits-form", f"the limit in {text!r} has an uncertainty", "a limit is one number: write it without ±")
            return Limits(None if upper else side.number, side.number if upper else None, side.unit, text.strip())
    said = _toleranced(raw, kind, text)
    if said and said.limits:
        return said.limits
    if found := _RANGE.fullmatch(raw):
        low, sign, high, sign2 = found.groups()
        unit = _unit((sign2 or sign).strip(), kind, text)
        if sign and sign2 and sign.strip() != sign2.strip():
            raise Unreadable("limits-form", f"{text!r} has two units", "write both limits in one unit")
        return _limits(number(low), number(high), unit, text)
    raise Unreadable("limits-form", f"{text!r} does not say limits", "write 348 to 350 cc, at most 201 mm, at least 2 mm, or 30 ± 0.1 mm")


def _limits(low: Decimal, high: Decimal, unit: Unit, text: str) -> Limits:
    if low > high:
        raise Unreadable("limits-form", f"in {text!r} the lower limit lies above the upper", f"write {high} to {low} {unit.sign}".strip())
    return Limits(low, high, unit, text.strip())


def _toleranced(raw: str, kind: str, text: str) -> Declared | None:
    """A number with its tolerance: ± the same on both sides, each side by itself as in `30 -0.010/-0.025 mm`, or a zone as in `62 H7`."""
    if kind in ("", "length"):
        try:
            if zone := iso_limits.declared(raw):
                return zone
        except iso_limits.NoZone as reason:
            raise Unreadable("limits-form", f"{text!r} cannot be read as limits: {reason}", "write the limits themselves") from None
    if found := _LOPSIDED.fullmatch(raw):
        middle, mark, one, slashed, spaced, other, sign = found.groups()
        unit, value, second = _unit(sign.strip(), kind, text), number(middle), number(other)
        if second and not (slashed or spaced):
            raise Unreadable("limits-form", f"the second deviation in {text!r} has no sign", "write + or - before each: +0.020/-0.010")
        ends = [value + (-number(one) if mark == "-" else number(one)), value + (-second if "-" in (slashed, spaced) else second)]
        nominal = Quantity(value, unit, None, f"{middle} {unit.sign}".strip())
        return Declared(text.strip(), nominal, _limits(min(ends), max(ends), unit, text))
    if _PM.search(raw):
        said = quantity(raw, kind)
        half = said.u or Decimal(0)
        return Declared(
            text.strip(),
            Quantity(said.number, said.unit, None, f"{said.number} {said.unit.sign}".strip()),
            Limits(said.number - half, said.number + half, said.unit, text.strip()),
        )
    return None


def declared(text: str, kind: str = "") -> Declared:
    """A declared value: a number with its limits where it is one, otherwise words alone. Never raises."""
    try:
        raw = _plain(text)
        return _toleranced(raw, kind, text) or Declared(text.strip(), quantity(raw, kind))
    except Unreadable:
        return Declared(text.strip())


def count(text: str) -> int:
    """A whole number, nought or more. Raises Unreadable."""
    if text.isascii() and re.fullmatch(r"0|[1-9][0-9]{0,8}", text):
        return int(text)
    raise Unreadable("number-form", f"{text[:LONGEST]!r} is not a whole number", "write digits only, without a leading nought")


def day(text: str) -> datetime.date:
    """A date as year-month-day. Raises Unreadable."""
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text) or not text.isascii():
        raise Unreadable("date-form", f"{text[:LONGEST]!r} is not a date in the form year-month-day", "write it as 2025-05-31")
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise Unreadable("date-form", f"there is no day {text}", "check the month and the day; write year-month-day") from None


def valve_timing(text: str) -> tuple[Decimal, Decimal, Decimal, Decimal]:
    """A valve timing card, `52-76 / 78-46`, in degrees: inlet opens BTDC, closes ABDC, exhaust opens BBDC, closes ATDC. Strict."""
    raw = text.strip()
    found = re.fullmatch(rf"({_NUMBER}) ?[-–] ?({_NUMBER}) ?/ ?({_NUMBER}) ?[-–] ?({_NUMBER}) ?°?", raw) if len(raw) <= LONGEST else None
    if not found:
        raise Unreadable("timing-form", f"{text[:LONGEST]!r} is not a valve timing", "write inlet / exhaust as in 52-76 / 78-46")
    return tuple(number(part) for part in found.groups())  # type: ignore[return-value]
