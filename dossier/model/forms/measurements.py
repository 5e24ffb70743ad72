"""measurements.yaml: values written down by name, declared, of the donor, as built, or merely noted."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

from dossier.model.audience import Owner, Public
from dossier.model.fields import Amount, Count, Day, Temperature, YesNo
from dossier.model.forms.record import Record
from dossier.model.quantity import Quantity

AXES = ("cylinder", "valve", "gear", "final", "wheel", "plane", "run", "session", "state", "part", "item")
"""What a value can be one of several of: each is a key of an entry, as in `cylinder: left`."""


class Role(Enum):
    """What a value speaks of."""

    DECLARED = "declared"
    DONOR = "donor"
    AS_BUILT = "as built"
    NOTED = "noted"


@dataclass(frozen=True, kw_only=True)
class Entry(Record):
    """One value: its name, of which of several it is, the reading or readings with uncertainty, and who, when, with what.

    `what` is the name of a quantity, or the id of a declared item. One of `value`, `readings` (with `unit`), `timing` or `found` is given;
    or `not_measured` says why there is none. `u` is expanded uncertainty at k = 2; absent, the instrument's own is taken with its
    resolution. The spread of repeats comes on top, and for fine lengths the doubt about how warm the part was (`at`, `expansion`).
    """

    what: Public[str]
    cylinder: Public[str | None] = None
    valve: Public[str | None] = None
    gear: Public[str | None] = None
    final: Public[str | None] = None
    wheel: Public[str | None] = None
    plane: Public[str | None] = None
    run: Public[str | None] = None
    session: Public[str | None] = None
    state: Public[str | None] = None
    part: Public[str | None] = None
    item: Public[str | None] = None
    value: Public[Amount | None] = None
    readings: Public[tuple[Amount, ...]] = ()
    unit: Public[str | None] = None
    timing: Public[str | None] = None
    """A valve timing card, `52-76 / 78-46`; stands for four values."""
    found: Public[str | None] = None
    """Words, where the item is a choice, a presence or a finish."""
    u: Public[Amount | None] = None
    n: Public[Count | None] = None
    """How many readings the value is the mean of."""
    repeats: Public[YesNo] = False
    """The readings repeat one size at one place, so that their mean counts and their spread; readings at several places do not."""
    spread: Public[Amount | None] = None
    """Standard deviation of one reading, where the value is the mean of `n` repeats."""
    where: Public[str | None] = None
    method: Public[str | None] = None
    with_: Public[str | None] = None
    by: Public[str | None] = None
    on: Public[Day | None] = None
    at: Public[Temperature | None] = None
    """How warm the part was, as in `24 ± 2 °C`."""
    expansion: Public[Amount | None] = None
    """Coefficient of expansion of the part, as in `11.5 ppm/K`."""
    assumed: Public[str | None] = None
    """Why the value was assumed rather than measured."""
    not_measured: Public[str | None] = None
    document: Owner[str | None] = None
    evidence: Public[tuple[str, ...]] = ()
    photo: Public[str | None] = None
    note: Public[str | None] = None
    log: Public[str | None] = None

    @property
    def tags(self) -> tuple[tuple[str, str], ...]:
        """Of which of several it is: (axis, tag) pairs in the order of AXES."""
        return tuple((axis, tag) for axis in AXES if (tag := getattr(self, axis)) is not None)

    @property
    def quantities(self) -> tuple[Quantity, ...]:
        """All readings as quantities; one where a single value was written; none where it is words or nothing."""
        return self.readings or ((self.value,) if self.value is not None else ())

    @property
    def lacks_unit(self) -> bool:
        """Whether a value without a unit has an uncertainty with one: a slip, whatever is measured."""
        return bool(self.quantities) and not self.quantities[0].unit.sign and self.u is not None and self.u.unit.sign not in ("", "%")


@dataclass(frozen=True, kw_only=True)
class WhatIf(Record):
    """Values put in place of the as-built ones, to see which figures change; never touches what is declared."""

    id: Public[str]
    title: Public[str]
    instead: Public[tuple[Entry, ...]]
    why: Public[str | None] = None


@dataclass(frozen=True, kw_only=True)
class Measurements(Record):
    """measurements.yaml as a whole."""

    declared: Public[tuple[Entry, ...]] = ()
    donor: Public[tuple[Entry, ...]] = ()
    as_built: Public[tuple[Entry, ...]] = ()
    noted: Public[tuple[Entry, ...]] = ()
    what_if: Public[tuple[WhatIf, ...]] = ()
