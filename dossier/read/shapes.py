"""The shape of a form: which keys a record takes, and what stands at a path within it."""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Hashable, Sequence
from functools import cache
from typing import Any, Literal, TypeGuard, Union

NEVER_WRITTEN = frozenset({"written", "facts"})
"""Fields that reading fills in; a user's file may not hold them."""

TO_DO = "to be filled in"
"""What begun forms hold where a person has to write."""


@cache
def keys_of(form: Any) -> dict[str, Any]:
    """The keys a user may write in a record of this form, in order, each with the kind of its value. `with_` is written `with`."""
    hints = typing.get_type_hints(form, include_extras=True)
    return {field.name.rstrip("_"): bare(hints[field.name]) for field in dataclasses.fields(form) if field.name not in NEVER_WRITTEN}


@cache
def fields_of(form: Any) -> dict[str, str]:
    """For each key as written, the name of its field."""
    return {field.name.rstrip("_"): field.name for field in dataclasses.fields(form) if field.name not in NEVER_WRITTEN}


def is_form(hint: Any) -> TypeGuard[Hashable]:
    """Whether a type hint is a form, with keys of its own."""
    return isinstance(hint, type) and dataclasses.is_dataclass(hint)


def bare(hint: Any) -> Any:
    """A type hint without audience marks and without `| None`."""
    origin = typing.get_origin(hint)
    if origin is typing.Annotated:
        inner = bare(hint.__origin__)
        return inner if not any(hasattr(mark, "convert") for mark in hint.__metadata__) else hint
    if origin in (Union, types.UnionType):
        kinds = [kind for kind in typing.get_args(hint) if kind is not type(None)]
        return bare(kinds[0]) if len(kinds) == 1 else hint
    return hint


def listed(hint: Any) -> Any | None:
    """What a list holds, or None where the hint is no list."""
    return bare(typing.get_args(hint)[0]) if typing.get_origin(hint) is tuple else None


def choices(hint: Any) -> tuple[str, ...]:
    """The words a closed field offers; none where it is open."""
    return typing.get_args(hint) if typing.get_origin(hint) is Literal else ()


def at(form: Any, path: Sequence[str | int]) -> Any:
    """The kind of value at a path of field names and indices, or None where there is no such place."""
    hint: Any = form
    for step in path:
        if isinstance(step, int):
            hint = listed(hint)
        elif is_form(hint):
            hint = keys_of(hint).get(step.rstrip("_"))
        else:
            return None
        if hint is None:
            return None
    return hint
