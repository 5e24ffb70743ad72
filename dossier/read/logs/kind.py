"""What a log kind is: a title, columns with units, the records it belongs to, what its rows will yield, and what can be odd about them."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import NamedTuple

from dossier.model.audience import Audience
from dossier.model.build import LogTable
from dossier.model.registry import Registry


@dataclass(frozen=True)
class Column:
    """A column: its name in the table, its title and further titles it may bear in a header, the kind of quantity
    (`words` for text, `date` for a day).

    `unit` is the unit taken where the header may leave it out (a count, a number of a cylinder); without it a header
    must say the unit.
    """

    name: str
    title: str
    kind: str
    aliases: tuple[str, ...] = ()
    unit: str | None = None
    needed: bool = True
    blank: bool = False
    """Whether a cell may be empty."""
    choices: tuple[str, ...] = ()
    """The only words allowed, where it is a column of words with a fixed few."""


class Oddity(NamedTuple):
    """Something odd about rows that could be read: problem code, one sentence, the row (from 0; None: the log as a whole), advice."""

    code: str
    message: str
    row: int | None = None
    instead: str = ""


Faults = Callable[[LogTable], Iterable[Oddity]]
"""Looks the rows of a log over; none of them is changed or left out."""


@dataclass(frozen=True)
class LogKind:
    """A kind of log. `belongs_to` names the list whose records a log of this kind hangs on (`dyno`, `sessions`, …), or `machine`.

    `audience` is the widest that may see its rows.
    """

    name: str
    title: str
    columns: tuple[Column, ...]
    belongs_to: str
    yields: str
    audience: Audience = Audience.WORKSHOP
    faults: tuple[Faults, ...] = ()


LOG_KINDS: Registry[LogKind] = Registry("log kind", "dossier.read.logs")


def log_kind(
    name: str,
    title: str,
    *columns: Column,
    belongs_to: str,
    yields: str,
    audience: Audience = Audience.WORKSHOP,
    faults: tuple[Faults, ...] = (),
) -> LogKind:
    """Declare a log kind; called once in the file that is named after it."""
    kind = LogKind(name, title, columns, belongs_to, yields, audience, faults)
    caller = inspect.currentframe()
    file = caller.f_back.f_code.co_filename if caller and caller.f_back else name
    LOG_KINDS.add(name, kind, file)
    return kind
