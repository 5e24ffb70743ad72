"""The sentence beside a verdict: what is wrong, and what would decide it or mend it."""

from __future__ import annotations

import datetime
import math

from dossier.conform.numeric import SLACK, Band, beyond_upper, deciding_u, overshoot
from dossier.model.forms.evidence import Conflict, Evidence
from dossier.model.forms.specification import Concession, Item
from dossier.model.results import Judged, Outcome

NOBODY = "Nobody has agreed to it."
_NUMBERS = ("No", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine")
_MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November", "December",
)  # fmt: skip


def sentence(text: str) -> str:
    """Words as a sentence: a capital first, a full stop last."""
    text = text.strip()
    if not text:
        return ""
    return text[0].upper() + text[1:] + ("" if text[-1] in ".!?" else ".")


def day(date: datetime.date) -> str:
    """`24 May 2025`, in any locale."""
    return f"{date.day} {_MONTHS[date.month - 1]} {date.year}"


def amount(value: float, band: Band, u: float | None) -> str:
    """A difference with its unit, with as many decimals as limits and uncertainty warrant; never rounded to nothing."""
    decimals = max(band.decimals, _decimals(u) if u else 0)
    if value and round(value, decimals) == 0:
        decimals = _decimals(value)
    return with_unit(f"{value:.{decimals}f}", band)


def with_unit(number: str, band: Band) -> str:
    """Number and sign, close together for a degree sign."""
    sign = band.unit.sign
    return f"{number}{sign}" if sign in ("°", "′", "%", "‰") else f"{number} {sign}".rstrip()


def _decimals(value: float) -> int:
    return max(0, -math.floor(math.log10(abs(value))))


def _down(value: float) -> str:
    """Rounded down to two figures, so that what is promised of it stays true; a trailing nought is left away."""
    if value <= 0:
        return "0"
    step = 10.0 ** (math.floor(math.log10(value * (1 + SLACK))) - 1)
    floor = math.floor(value / step * (1 + SLACK) + SLACK) * step
    text = f"{floor:.{max(0, -math.floor(math.log10(step)))}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def outside(y: float, u: float | None, band: Band, one: Judged, several: bool) -> str:
    """`Right: above the upper limit by 0.4 kg.`"""
    side = "above the upper limit" if beyond_upper(y, band) else "below the lower limit"
    head = f"{one.label}: " if several and one.label else ""
    of = f"one reading of {one.mean_of} lies " if one.mean_of > 1 and one.value is not None and abs(one.value - y) > SLACK else ""
    return sentence(f"{head}{of}{side} by {amount(overshoot(y, band), band, u)}")


def undecided(y: float, u: float, band: Band) -> str:
    """What the uncertainty reaches past, and how good a reading would have to be."""
    upper = band.upper is not None and abs(band.upper - y) < u - SLACK
    lower = band.lower is not None and abs(y - band.lower) < u - SLACK
    which = "both limits" if upper and lower else "the upper limit" if upper else "the lower limit"
    better = deciding_u(y, band)
    if better <= SLACK:
        return f"The reading lies on {which}: no better reading of that value would decide it, only an agreement."
    if overshoot(y, band) > 0:
        return f"The uncertainty reaches back across {which}. A reading good to ±{with_unit(_down(better), band)} would decide it."
    return f"The uncertainty reaches past {which}. A reading good to ±{with_unit(_down(better), band)} would decide it."


def unstated(y: float, band: Band, one: Judged, inputs: tuple[str, ...], several: bool) -> str:
    """Where the reading lies, and that nobody said how good it is."""
    lies = outside(y, None, band, one, several) if overshoot(y, band) > SLACK else "Inside the limits as read."
    whose = f" of {', '.join(inputs)}" if inputs else ""
    return f"{lies} The uncertainty{whose} is not stated, so nothing is shown."


def not_measured(why: str, band: Band | None) -> str:
    """Why there is no reading, and how good one must be to show anything."""
    must = f"When it is read, U must stay below ±{with_unit(_down(band.half), band)}." if band and band.half else ""
    return " ".join(part for part in (sentence(why), must) if part) or "Nobody has read it yet."


def conflicting(conflict: Conflict, evidence: dict[str, Evidence]) -> str:
    """Which sources disagree, and which conflict is open."""
    count = len(conflict.between)
    number = _NUMBERS[count] if count < len(_NUMBERS) else str(count)
    days = {evidence[one].shows if one in evidence else None for one in conflict.between}
    same = " of the same day" if count > 1 and len(days) == 1 and None not in days else ""
    who = f"{number} sources{same} disagree ({', '.join(conflict.between)})." if count > 1 else "The sources disagree."
    meanwhile = f" Meanwhile: {sentence(conflict.meanwhile)}" if conflict.meanwhile else ""
    return f"{who} {conflict.id} is open.{meanwhile}"


def by_agreement(one: Concession, item: Item) -> str:
    """Which agreement, of which day, within which limit, and whether it can be undone."""
    parts = [f"{one.id}, {day(one.date)}: {one.limit.rstrip('.')}."]
    if item.safety or one.safety:
        parts = ["Safety item.", *parts, sentence(one.opinion or "")]
    parts.append("Can be undone." if one.reversible else "Cannot be undone.")
    return " ".join(part for part in parts if part)


def no_tolerance(deviation: float | None, u: float | None, band: Band | None) -> str:
    """How far from the declared value, where both are numbers."""
    if deviation is None or band is None:
        return "Nothing is declared to compare it with."
    if abs(deviation) <= SLACK:
        return "As declared, without a tolerance."
    side = "above" if deviation > 0 else "below"
    good = f", ±{amount(u, band, u)}" if u else ""
    return f"{amount(abs(deviation), band, u)} {side} the declared value{good}; declared without a tolerance."


def words_differ(item: Item, found: str, outcome: Outcome) -> str:
    """What was found in place of what was declared."""
    declared = item.declared.text if item.declared else ""
    if outcome is Outcome.UNDECIDED:
        return sentence(f"judged by eye with a reservation: {found}")
    return sentence(f"{found} in place of {declared}")
