"""The kinds of field a form can have: each says how the words a person wrote become a value, and what is wrong when they do not."""

from __future__ import annotations

import datetime
import re
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from typing import Annotated, Any

from dossier.model import notation
from dossier.model.audience import Audience
from dossier.model.notation import Unreadable
from dossier.model.quantity import Declared, Limits, Quantity


@dataclass(frozen=True)
class Reads:
    """Mark on a field: raw text goes through `convert`, which returns the value or raises Unreadable."""

    convert: Callable[[str], Any]

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> Any:
        """Hook by which pydantic calls `convert`; a fault keeps its own code and its advice."""
        from pydantic_core import PydanticCustomError, core_schema

        def read(raw: object) -> Any:
            if not isinstance(raw, str) or not raw.strip():
                said = {"message": "one value is wanted here, not a list, a block or nothing", "instead": "write one value"}
                raise PydanticCustomError("value-form", "{message}", said)
            try:
                return self.convert(raw)
            except Unreadable as fault:
                raise PydanticCustomError(fault.code, "{message}", {"message": fault.message, "instead": fault.instead}) from None

        return core_schema.no_info_plain_validator_function(read)


class Tri(Enum):
    """Yes, no, or not known: an honest third answer."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "unknown"


def _of(kind: str) -> Reads:
    return Reads(lambda text: notation.quantity(text, kind))


def _plain(text: str) -> Decimalish:
    return notation.quantity(text, "ratio")


def _yes_no(text: str) -> bool:
    if text in ("yes", "no"):
        return text == "yes"
    raise Unreadable("yes-or-no", f"{text!r} is neither yes nor no", "write yes or no")


def _tri(text: str) -> Tri:
    try:
        return Tri(text)
    except ValueError:
        raise Unreadable("yes-or-no", f"{text!r} is neither yes, no nor unknown", "write yes, no or unknown") from None


def _audience(text: str) -> Audience:
    for rung in Audience:
        if text == rung.word:
            return rung
    raise Unreadable("choice-unknown", f"there is no audience {text!r}", "write public, owner or workshop")


_ID = re.compile(r"[A-Za-z][A-Za-z0-9]*(?:[-.][A-Za-z0-9]+)*")


def _id(text: str) -> str:
    if _ID.fullmatch(text):
        return text
    raise Unreadable(
        "id-form", f"{text!r} cannot be an id", "begin with a letter; then letters, digits, and single hyphens or points, as in SN-01"
    )


def _livery(text: str) -> str:
    if re.fullmatch(r"#[0-9a-f]{6}", text):
        return text
    raise Unreadable("colour-form", f"{text!r} is not a colour", 'write "#" and six hexadecimal digits in quotes, as in "#14513b"')


Decimalish = Quantity
Id = Annotated[str, Reads(_id)]
Day = Annotated[datetime.date, Reads(notation.day)]
Count = Annotated[int, Reads(notation.count)]
YesNo = Annotated[bool, Reads(_yes_no)]
YesNoUnknown = Annotated[Tri, Reads(_tri)]
Rung = Annotated[Audience, Reads(_audience)]
Colour = Annotated[str, Reads(_livery)]

Amount = Annotated[Quantity, Reads(notation.quantity)]
"""A quantity of any kind."""
Length = Annotated[Quantity, _of("length")]
Volume = Annotated[Quantity, _of("volume")]
Mass = Annotated[Quantity, _of("mass")]
Time = Annotated[Quantity, _of("time")]
Temperature = Annotated[Quantity, _of("temperature")]
Angle = Annotated[Quantity, _of("angle")]
Speed = Annotated[Quantity, _of("speed")]
RotationSpeed = Annotated[Quantity, _of("rotation speed")]
Force = Annotated[Quantity, _of("force")]
Pressure = Annotated[Quantity, _of("pressure")]
Torque = Annotated[Quantity, _of("torque")]
Unbalance = Annotated[Quantity, _of("unbalance")]
Ratio = Annotated[Quantity, _of("ratio")]
Number = Annotated[Quantity, Reads(_plain)]
"""A bare number, or one with a unit of ratio such as % ."""
Allowed = Annotated[Limits, Reads(notation.limits)]
"""Limits: `348 to 350 cc`, `at most 201.0 mm`, `30.0 ± 0.1 mm`."""
Said = Annotated[Declared, Reads(notation.declared)]
"""What is declared: a number with its limits, or words."""
