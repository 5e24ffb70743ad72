"""How a value is typed on the bench: as in a build folder, and besides in the ways of textbooks and tables."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from dossier.figures.figure import Input
from dossier.model import notation
from dossier.model.notation import Unreadable
from dossier.model.quantity import Quantity
from dossier.model.units import UNITS

ENDLESS = ("infinite", "endless")
_POWER = re.compile(r"([+-]?[0-9]+(?:\.[0-9]+)?)[eE]([+-]?[0-9]{1,2})(?![0-9A-Za-z])")
_EVENT = re.compile(r" ?\b(?:BTDC|ATDC|BBDC|ABDC|cam|from vertical)$")
_HORIZONTAL = re.compile(r" ?from (?:the )?horizontal$")
_STANDARD = re.compile(r", ?u ([0-9.eE+-]+)(?:, ?dof ([0-9]+(?:\.[0-9]+)?))?$")
_REMARK = re.compile(r" ?\([^()]*\)$")
_LIST = re.compile(r"\[([^\[\]]*)\] ?(.*)")
_AS_FORCE = {"lb": "lbf", "kg": "kgf"}


@dataclass(frozen=True)
class Typed:
    """A quantity as typed, with the degrees of freedom of its uncertainty where they were said."""

    quantity: Quantity
    freedom: float | None = None


def many(text: str) -> list[str]:
    """The values of a list such as `[15.0, 14.0, 2.0] mm`, each with the unit; a single value as it is."""
    found = _LIST.fullmatch(text.strip())
    return [f"{part.strip()} {found[2]}".strip() for part in found[1].split(",") if part.strip()] if found else [text]


def read(text: str, one: Input, free: bool = False) -> Typed:
    """What was typed for an input, `free`: in any unit. Raises Unreadable.

    Besides the notation of a build folder: powers of ten; a standard uncertainty with its degrees of freedom (`1.5 m, u 0.2, dof 9`);
    an event or a reference behind an angle; a remark in brackets; a pound or kilogram where a force is wanted; degrees of either scale
    where a rise is wanted.
    """
    text = _POWER.sub(lambda found: f"{Decimal(found[0]):f}", text.strip())
    standard = _STANDARD.search(text)
    if standard:
        text = text[: standard.start()]
    kind = "" if free else one.measured_in.kind
    said = _quantity(text, kind, one)
    if standard:
        return Typed(replace(said, u=2 * notation.number(standard[1])), float(standard[2]) if standard[2] else None)
    return Typed(said)


def _quantity(text: str, kind: str, one: Input) -> Quantity:
    if kind == "angle" and _HORIZONTAL.search(text):
        lying = notation.quantity(_HORIZONTAL.sub("", text), kind)
        return replace(lying, number=90 - lying.number, text="") if lying.unit.sign == "°" else lying
    text = _EVENT.sub("", text) if kind == "angle" else text
    number, _, sign = text.partition(" ")
    if kind == "force" and sign in _AS_FORCE:
        text = f"{number} {_AS_FORCE[sign]}"
    try:
        said = notation.quantity(text, kind)
    except Unreadable:
        if not _REMARK.search(text):
            raise
        said = notation.quantity(_REMARK.sub("", text), kind)
    if kind == "temperature" and one.unit == "K" and said.unit.offset:  # a rise: only the size of the degree counts
        factor = said.unit.factor
        said = replace(said, number=said.number * factor.numerator / factor.denominator, unit=UNITS["K"], text="")
    return said


def in_one_unit(texts: Sequence[str]) -> tuple[list[str], str]:
    """Numbers of one kind typed in any unit, known here or not, brought to the unit of the first that has one: numbers and unit.

    Raises Unreadable where they are not of one kind.
    """
    parts = [re.fullmatch(r"([^ A-Za-z°%µ]+(?:[eE][+-]?[0-9]+)?) ?(.*)", text.strip()) for text in texts]
    signs = [found[2] if found else "" for found in parts]
    unit = next((sign for sign in signs if sign), "")
    out = []
    for text, found, sign in zip(texts, parts, signs, strict=True):
        if not found:
            raise Unreadable("number-form", f"{text!r} is not a number with its unit", "write as in 13.6 mm")
        number = notation.number(_POWER.sub(lambda power: f"{Decimal(power[0]):f}", found[1]))
        if sign not in ("", unit):
            if sign not in UNITS or unit not in UNITS or UNITS[sign].kind != UNITS[unit].kind:
                raise Unreadable("dimension-wrong", f"{sign} and {unit} are not units of one kind", "write all of them in one unit")
            factor = UNITS[sign].factor / UNITS[unit].factor
            number = number * factor.numerator / factor.denominator
        out.append(f"{number:f}")
    return out, unit


def coherent_sign(kind: str) -> str:
    """The sign of the coherent SI unit of a kind, such as m, kg, Pa, N·m; empty where the table has none."""
    fitting = (one.sign for one in UNITS.values() if one.kind == kind and one.factor == 1 and not one.pi and not one.offset)
    return next(fitting, "")
