"""Whether two numbers of two machines differ beyond what their readings can tell."""

from __future__ import annotations

import math
from dataclasses import dataclass
from enum import Enum

from dossier.model.entry import UNKNOWN, Taken

_SLACK = 1e-9


class Real(Enum):
    """The words for a difference."""

    REAL = "real"
    NOT_SHOWN = "not shown"
    NO_U = "no uncertainty stated"
    SAME = "the same"
    WORDS = "differs"


@dataclass(frozen=True)
class Difference:
    """Other less first in the first's unit, its expanded uncertainty (k = 2) where there is one, and what follows.

    `independent`: no instrument is common to both and each says with what it was taken, so that the uncertainties add in squares.
    """

    real: Real
    value: float | None = None
    u: float | None = None
    independent: bool = False


def difference(first: Taken, other: Taken, ratio: float = 1.0) -> Difference | None:
    """How `other` differs from `first`; None where there is nothing to compare. `ratio` carries the other's unit over into the first's.

    A difference is real when it is larger than its expanded uncertainty: the normalized error of interlaboratory comparisons above 1
    (ISO 13528:2022, E_n scores; from memory). Readings not shown to be independent may be correlated to any degree, and then the
    uncertainties add up plainly, which is the most they can come to (JCGM 100:2008, 5.2.2, its note on coefficients of 1).
    """
    if first.value is None or other.value is None:
        if first.value is not None or other.value is not None:
            return None
        return Difference(Real.SAME if first.words.casefold() == other.words.casefold() else Real.WORDS)
    apart = other.value * ratio - first.value
    if first.u is None or other.u is None:
        return Difference(Real.NO_U, apart)
    mine, theirs = first.u, other.u * ratio
    alone = independent(first, other)
    u = math.hypot(mine, theirs) if alone else mine + theirs
    if abs(apart) <= u + _SLACK * max(abs(first.value), abs(other.value * ratio)):
        return Difference(Real.SAME if not u else Real.NOT_SHOWN, apart, u, alone)
    return Difference(Real.REAL, apart, u, alone)


def independent(first: Taken, other: Taken) -> bool:
    """Whether both say with what they were taken and share nothing of it."""
    mine, theirs = set(first.instruments), set(other.instruments)
    return bool(mine and theirs) and UNKNOWN not in mine | theirs and not mine & theirs
