"""What judging asks of whoever holds the values: readings of a declared item, and of a quantity by its name."""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from typing import Protocol

from dossier.model.audience import Audience
from dossier.model.forms.specification import Item
from dossier.model.results import Tags

EARLIER_STATES = ("found", "as found", "as received", "before")
"""Words on the axis `state` for how a thing stood before the work; they do not count once it was measured again."""


@dataclass(frozen=True)
class Reading:
    """One reading in the coherent SI unit, with its expanded uncertainty (k = 2): None when not stated, 0 when exact.

    `number` is the value shown (the mean of a set), `each` the single readings of the set. None for `number`: there
    is no value, and `why` says why. `unstated` names inputs of a figure whose uncertainty nobody stated.
    `taken` holds instrument id and day of every reading that went in.
    """

    label: str
    number: float | None
    u: float | None
    kind: str
    unit: str = ""
    figure: str = ""
    mean_of: int = 1
    each: tuple[float, ...] = ()
    tags: Tags = ()
    why: str = ""
    assumed: str = ""
    unstated: tuple[str, ...] = ()
    taken: tuple[tuple[str, datetime.date | None], ...] = ()
    audience: Audience = Audience.WORKSHOP
    written: str = ""
    """As it was written down, with its own unit; empty where it was worked out."""

    @property
    def singles(self) -> tuple[float, ...]:
        """Every single reading that counts: those of the set, or the one number."""
        return self.each or (() if self.number is None else (self.number,))


class ValueLookup(Protocol):
    """Where judging finds the as-built values: written down where somebody did, else worked out."""

    def readings_of(self, item: Item) -> tuple[Reading, ...]:
        """The as-built readings of a declared item, in the order they are shown; empty when there are none."""
        ...

    def readings_named(self, quantity: str) -> tuple[Reading, ...]:
        """The as-built readings of a quantity or figure by its name."""
        ...


def standing(readings: tuple[Reading, ...]) -> tuple[Reading, ...]:
    """The readings of how the machine stands now: one of an earlier state falls away where its like was measured again after the work."""
    now = {_apart_from_state(one) for one in readings if _state(one) not in EARLIER_STATES}
    return tuple(one for one in readings if _state(one) not in EARLIER_STATES or _apart_from_state(one) not in now)


def _state(one: Reading) -> str:
    return dict(one.tags).get("state", "")


def _apart_from_state(one: Reading) -> Tags:
    return tuple(pair for pair in one.tags if pair[0] != "state")
