"""What the uncertainty of a reading is made of: the instrument's record, its resolution, the spread of repeats, and warmth."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from dossier.figures.degrees_of_freedom import effective
from dossier.figures.statistics import of_readings
from dossier.model.forms.measurements import Entry
from dossier.model.forms.workshop import Instrument
from dossier.model.quantity import K, Quantity
from dossier.model.results import Share

FINE = 1e-5
"""Lengths known to better than this (m) are asked how warm they were: 0.01 mm."""
REFERENCE = 293.15
"""Reference temperature of sizes (K), ISO 1:2016."""
LIGHT_ALLOY = 23e-6
"""Taken where nobody wrote down the expansion (1/K): aluminium alloys, 22.9 to 23.6 (Callister, Fundamentals of Materials Science and
Engineering, 3rd edition, table B.6), so that the doubt is rather too large than too small."""


@dataclass(frozen=True)
class Made:
    """Expanded uncertainty (k = 2) in the entry's unit, None when nobody says; its parts; its degrees of freedom, None where infinite.

    `unstated`: the spread of repeats is known, but not the instrument's own uncertainty.
    """

    u: float | None = None
    parts: tuple[Share, ...] = ()
    dof: float | None = None
    unstated: bool = False


def made_of(entry: Entry, instrument: Instrument | None) -> Made:
    """What the uncertainty of an entry comes from, combined as root of the squares (JCGM 100:2008, 5.1.2).

    What is stated beside the value or in `u` takes the place of the instrument's record and its resolution.
    """
    first = entry.quantities[0]
    base = list(_of_instrument(entry, instrument, first))
    repeats = list(_of_repeats(entry, first))
    known = [*base, *repeats]
    warmth = list(_of_warmth(entry, first, _combined(known))) if known else []
    parts = [(title, u) for title, u, _ in (*known, *warmth)]
    total = math.hypot(*(u for _, u in parts)) if parts else None
    if total is None:
        return Made()
    shares = tuple(Share(title, K * u, (u / total) ** 2 if total else 0.0) for title, u in parts)
    finite = [(u, freedom) for _, u, freedom in (*known, *warmth)]
    dof = effective(finite) if repeats and total else math.inf
    return Made(K * total, shares if len(shares) > 1 else (), dof if math.isfinite(dof) else None, not base)


Part = tuple[str, float, float]
"""What it is, its standard uncertainty in the entry's unit, its degrees of freedom."""


def _combined(parts: list[Part]) -> float:
    return math.hypot(*(u for _, u, _ in parts))


def _of_instrument(entry: Entry, instrument: Instrument | None, first: Quantity) -> Iterator[Part]:
    if first.u is not None:
        yield "as stated beside the value", float(first.u) / K, math.inf
        return
    if entry.u is not None:
        if (u := width_in(entry.u, first)) is not None:
            yield "as stated", u / K, math.inf
        return
    if instrument is None or (u := width_in(instrument.u, first)) is None:
        return
    yield f"record of {instrument.id}, {instrument.name}", u / K, math.inf
    if instrument.resolution is not None and (step := width_in(instrument.resolution, first)):
        # anywhere within one step is as likely: JCGM 100:2008, F.2.2.1
        yield f"resolution of {instrument.id}, {instrument.resolution}", step / math.sqrt(12), math.inf


def _of_repeats(entry: Entry, first: Quantity) -> Iterator[Part]:
    """Type A: spread of one reading over the root of their number (JCGM 100:2008, 4.2.3). Readings at several places are no repeats."""
    if entry.repeats and len(entry.readings) > 1:
        unit = first.unit
        found = of_readings([float(one.number) if one.unit == unit else one.si / unit.scale for one in entry.readings])
        if found.u_of_mean:
            yield f"spread of {len(entry.readings)} repeats", found.u_of_mean, float(found.freedom)
    elif entry.spread is not None and entry.n is not None and entry.n > 1 and (spread := width_in(entry.spread, first)):
        yield f"spread of {entry.n} repeats", spread / math.sqrt(entry.n), float(entry.n - 1)


def _of_warmth(entry: Entry, first: Quantity, so_far: float) -> Iterator[Part]:
    """Doubt of a fine length that was not at 20 °C, or not surely: expansion times how far off it may have been."""
    if entry.at is None or first.kind != "length" or K * so_far * first.unit.scale >= FINE:
        return
    off, doubt = entry.at.si - REFERENCE, entry.at.u_si or 0.0
    standard = math.hypot(off / math.sqrt(3), doubt / K)  # uncorrected: anywhere up to the whole difference (JCGM 100:2008, 4.3.7)
    alpha = entry.expansion.si if entry.expansion is not None else LIGHT_ALLOY
    taken = "" if entry.expansion is not None else ", taken for a light alloy"
    if u := abs(first.si) * alpha * standard / first.unit.scale:
        yield f"warmth: read at {entry.at}, {alpha * 1e6:g} ppm/K{taken}", u, math.inf


def width_in(width: Quantity, of: Quantity) -> float | None:
    """A width such as an uncertainty, in the unit of the quantity it belongs to; per cent are of that; None when the kinds differ.

    Only the size of the degree counts for temperatures, not where the scale begins.
    """
    if width.unit.sign == "%" and of.unit.sign != "%":
        return abs(float(of.number)) * float(width.number) / 100
    if width.unit.dimension != of.unit.dimension:
        return None
    return float(width.number) * width.unit.scale / of.unit.scale
