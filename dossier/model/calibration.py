"""Whether a reading is thrown into doubt by what was found at its gauge's calibrations."""

from __future__ import annotations

import datetime
from collections.abc import Sequence
from dataclasses import dataclass

Found = tuple[datetime.date, bool]
"""A calibration: its day, and whether the gauge passed as it was found."""


@dataclass(frozen=True)
class Doubt:
    """Why a reading is to be looked at again, in words, and the day of the failure."""

    why: str
    failed: datetime.date


def doubt(on: datetime.date | None, calibrations: Sequence[Found]) -> Doubt | None:
    """Why a reading of that day (None: undated) is to be looked at again; None where nothing known speaks against it.

    `calibrations` stand in order of their days. What is not known counts against the reading: a failure on its very day throws doubt on
    it, whichever came first. A pass on the day of the reading clears it of later failures. ISO 9001:2015, 7.1.5.2 asks that earlier
    results be looked into when a gauge is found unfit.
    """
    failures = [date for date, passed in calibrations if not passed]
    if not failures:
        return None
    if on is None:
        return Doubt("undated, and the instrument failed", failures[-1])
    passes = [date for date, passed in calibrations if passed]
    later = next((date for date in failures if date >= on), None)
    if later is not None and not any(on <= date < later for date in passes):
        return Doubt("taken before it was found wrong", later)
    before = [date for date in failures if date < on]
    if before and not any(before[-1] <= date <= on for date in passes):
        return Doubt("taken after it was found wrong", before[-1])
    return None
