"""What a log kind is: a title, columns with units, the records it belongs to, and what its rows will yield."""

from __future__ import annotations

import inspect
from dataclasses import dataclass

from dossier.model.audience import Audience
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
    audience: Audience = Audience.PUBLIC


@dataclass(frozen=True)
class LogKind:
    """A kind of log. `belongs_to` names the list whose records a log of this kind hangs on (`dyno`, `sessions`, …), or `machine`."""

    name: str
    title: str
    columns: tuple[Column, ...]
    belongs_to: str
    yields: str


LOG_KINDS: Registry[LogKind] = Registry("log kind", "dossier.read.logs")


def log_kind(name: str, title: str, *columns: Column, belongs_to: str, yields: str) -> LogKind:
    """Declare a log kind; called once in the file that is named after it."""
    kind = LogKind(name, title, columns, belongs_to, yields)
    caller = inspect.currentframe()
    file = caller.f_back.f_code.co_filename if caller and caller.f_back else name
    LOG_KINDS.add(name, kind, file)
    return kind
