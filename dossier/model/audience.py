"""Who may see what: the ladder of audiences, and how a form's field says which of them it is for."""

from __future__ import annotations

import typing
from dataclasses import dataclass
from enum import IntEnum
from functools import cache
from typing import Annotated, Any, TypeVar


class Audience(IntEnum):
    """The ladder: whoever stands higher sees all that those below see. Values are the rungs."""

    PUBLIC = 1
    OWNER = 2
    WORKSHOP = 3

    @property
    def word(self) -> str:
        """As written in files and on the command line."""
        return self.name.lower()


@dataclass(frozen=True)
class SeenBy:
    """Mark on a field: the widest audience that sees it by default."""

    audience: Audience


T = TypeVar("T")
Public = Annotated[T, SeenBy(Audience.PUBLIC)]
Owner = Annotated[T, SeenBy(Audience.OWNER)]
Workshop = Annotated[T, SeenBy(Audience.WORKSHOP)]


@cache
def audiences_of(form: type[Any]) -> dict[str, Audience]:
    """For each field of a form, the audience it is for. What bears no mark is for the workshop alone."""
    hints = typing.get_type_hints(form, include_extras=True)
    return {name: _mark(hint) for name, hint in hints.items()}


def _mark(hint: Any) -> Audience:
    marks = [mark for mark in getattr(hint, "__metadata__", ()) if isinstance(mark, SeenBy)]
    return marks[0].audience if marks else Audience.WORKSHOP
