"""dossier.json: the same Edition for machines; what the pages may not show is not in it either."""

from __future__ import annotations

import dataclasses
import datetime
import json
from collections.abc import Mapping, Sequence
from decimal import Decimal
from enum import Enum
from typing import Any

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


def machine_copy(edition: Edition) -> bytes:
    """The edition as JSON (UTF-8, keys sorted): build, worked figures, verdicts, notices, what is withheld."""
    body = {"form": FORMAT, "this machine is a": "replica", **_fields(edition)}
    return (json.dumps(body, ensure_ascii=False, sort_keys=True, indent=1) + "\n").encode()


def _fields(value: Any) -> dict[str, Any]:
    return {
        field.name.rstrip("_"): shown
        for field in dataclasses.fields(value)
        if field.name not in _LEFT_OUT
        and not (field.name in _NOT_OF_FIGURES and isinstance(value, Value | Worked))
        and (shown := _plain(getattr(value, field.name))) not in (None, [], {}, "")
    }


def _plain(value: Any) -> Any:
    match value:
        case Audience():
            return value.word
        case None | bool() | int() | str():
            return value
        case float():
            return value if abs(value) < float("inf") else str(value)
        case Decimal():
            return str(value)
        case Unit():
            return value.sign
        case Quantity():
            return {"text": str(value), "value": str(value.number), "unit": value.unit.sign, "u": None if value.u is None else str(value.u)}
        case Limits():
            return {"text": value.text, "lower": _plain(value.lower), "upper": _plain(value.upper), "unit": value.unit.sign}
        case Declared():
            return {"text": value.text, "limits": _plain(value.limits)} if value.limits else value.text
        case Enum():
            return value.value
        case datetime.date():
            return value.isoformat()
        case set() | frozenset():
            return [_plain(one) for one in sorted(value)]
        case Sequence():
            return [_plain(one) for one in value] if len(value) <= MOST_ROWS else f"{len(value)} rows, kept with the build"
        case Mapping():
            return {str(key): _plain(one) for key, one in value.items()}
    return _fields(value)
