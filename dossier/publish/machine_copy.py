"""dossier.json: the same Edition for machines; what the pages may not show is not in it either."""

from __future__ import annotations

import dataclasses
import datetime
from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from enum import Enum
from functools import cache
from typing import Any

from pydantic_core import to_json

from dossier.model.audience import Audience
from dossier.model.edition import Edition
from dossier.model.quantity import Declared, Limits, Quantity
from dossier.model.results import Value, Worked
from dossier.model.units import Unit

FORMAT = 1
"""Version of the file's form; raised whenever a reader of the older form would misread it."""
MOST_ROWS = 5000
"""A longer log is counted here and not repeated."""
_LEFT_OUT = {"written", "travels", "sheets", "facts", "file", "masks", "side_by_side"}
"""The last names other builds of the workshop, of which a single dossier says nothing."""
_NOT_OF_FIGURES = {"number"}
"""The live number of a value or figure, which is there as `shown` or `value`."""

_AS_THEY_ARE = frozenset([str, int, bool, type(None)])


def machine_copy(edition: Edition) -> bytes:
    """The edition as JSON (UTF-8, keys sorted): build, worked figures, verdicts, notices, what is withheld."""
    return to_json(_sorted({"form": FORMAT, "this machine is a": "replica", **_fields(edition)}), indent=1) + b"\n"


def _sorted(body: dict[str, Any]) -> dict[str, Any]:
    return dict(sorted(body.items()))


@cache
def _names(kind: type) -> tuple[tuple[str, str], ...]:
    """Fields of a form that are copied, each with its name there, in the order of those."""
    kept = [field.name for field in dataclasses.fields(kind) if field.name not in _LEFT_OUT]
    if issubclass(kind, Value | Worked):
        kept = [name for name in kept if name not in _NOT_OF_FIGURES]
    return tuple(sorted((name.rstrip("_"), name) for name in kept))


def _fields(value: Any) -> dict[str, Any]:
    return {shown: plain for shown, name in _names(value.__class__) if (plain := _plain(getattr(value, name))) not in (None, [], {}, "")}


def _plain(value: Any) -> Any:
    kind = value.__class__
    return value if kind in _AS_THEY_ARE else _way(kind)(value)


@cache
def _way(kind: type) -> Callable[[Any], Any]:
    """How values of a class are copied; found once, for an edition has tens of thousands."""
    for of, way in _WAYS:
        if issubclass(kind, of):
            return way
    return _fields if dataclasses.is_dataclass(kind) else _listed


def _number(value: float) -> float | str:
    return float(value) if abs(value) < float("inf") else str(value)


def _quantity(value: Quantity) -> dict[str, Any]:
    return {"text": str(value), "u": None if value.u is None else str(value.u), "unit": value.unit.sign, "value": str(value.number)}


def _limits(value: Limits) -> dict[str, Any]:
    return {"lower": _plain(value.lower), "text": value.text, "unit": value.unit.sign, "upper": _plain(value.upper)}


def _declared(value: Declared) -> dict[str, Any] | str:
    return {"limits": _plain(value.limits), "text": value.text} if value.limits else value.text


def _named(value: Mapping[Any, Any]) -> dict[str, Any]:
    return _sorted({str(key): _plain(one) for key, one in value.items()})


def _listed(value: Sequence[Any]) -> list[Any] | str:
    if len(value) > MOST_ROWS:
        return f"{len(value)} rows, kept with the build"
    return [_plain(one) for one in value]


_WAYS: tuple[tuple[type | tuple[type, ...], Callable[[Any], Any]], ...] = (
    (Audience, lambda value: value.word), ((bool, int, str), lambda value: value), (float, _number), (Decimal, str),
    (Unit, lambda value: value.sign), (Quantity, _quantity), (Limits, _limits), (Declared, _declared), (Enum, lambda value: value.value),
    (datetime.date, lambda value: value.isoformat()), ((set, frozenset), lambda value: _listed(sorted(value))), ((tuple, list), _listed),
    (Mapping, _named),
)  # fmt: skip
"""The first that fits a class counts; a form, which fits none, goes field by field."""
