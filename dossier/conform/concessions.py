"""Agreements laid over a verdict: which one holds for an item, and why one that names it no longer does."""

from __future__ import annotations

from dataclasses import dataclass

from dossier.conform.numeric import Band, compare, in_unit, overshoot
from dossier.conform.readings import Reading, ValueLookup, standing
from dossier.conform.rules import GUARD_BAND
from dossier.model.build import Build
from dossier.model.forms.specification import Concession, Item
from dossier.model.results import Outcome, Warned

OVERLAID = (Outcome.FAILS, Outcome.UNDECIDED, Outcome.UNSTATED)
"""Raw verdicts over which an agreement may be laid."""


@dataclass(frozen=True)
class Overlay:
    """What agreements make of a raw verdict: the one that holds, or why none does; and what it leaned on."""

    holds: Concession | None = None
    lapsed: str = ""
    warnings: tuple[Warned, ...] = ()
    looked_at: tuple[Concession, ...] = ()
    readings: tuple[Reading, ...] = ()


def overlay(item: Item, raw: Outcome, readings: tuple[Reading, ...], build: Build, values: ValueLookup) -> Overlay:
    """The youngest agreement on the item that still holds, or the reason why the youngest does not. Common practice, no source."""
    named = sorted((one for one in build.specification.concessions if one.item == item.id), key=lambda one: one.date, reverse=True)
    if raw not in OVERLAID or not named:
        return Overlay()
    reasons: list[str] = []
    used: tuple[Reading, ...] = ()
    for one in named:
        concerned = standing(values.readings_named(one.holds_for)) if one.holds_for else readings
        used += concerned if one.holds else ()
        reason, warnings = _why_not(one, item, concerned, build)
        if not reason:
            return Overlay(one, "", warnings, tuple(named), used)
        reasons.append(f"{one.id} no longer holds: {reason}.")
    warned = tuple(Warned("concession-lapsed", reason) for reason in reasons)
    return Overlay(None, reasons[0], warned, tuple(named), used)


def _why_not(one: Concession, item: Item, readings: tuple[Reading, ...], build: Build) -> tuple[str, tuple[Warned, ...]]:
    safety = item.safety or one.safety
    if safety and not (one.opinion or "").strip():
        return "the item is one of safety, and no competent person’s written opinion is recorded", ()
    if not any(name.strip() for name in one.agreed_by):
        return "nobody is named as having agreed to it", ()
    for change in item.history:
        if _later(change.rev, one.revision, build):
            return f"the item changed at revision {change.rev}, after revision {one.revision} which it names", ()
    reason, warned = _beyond(one, readings, safety) if one.holds else ("", ())
    return reason, warned + _of_one_party(one)


def _of_one_party(one: Concession) -> tuple[Warned, ...]:
    """An agreement has two sides (ISO 9000:2015, 3.12.5: a concession is a permission); one who agrees with himself has asked nobody."""
    sides = {name.strip().casefold() for name in one.agreed_by if name.strip()}
    return () if len(sides) > 1 else (Warned("concession-unproven", f"{one.id}: only one party is named as having agreed to it"),)


def _later(rev: str, named: str, build: Build) -> bool:
    order = [revision.rev for revision in build.custody.revisions]
    if rev in order and named in order:
        return order.index(rev) > order.index(named)
    return (len(rev), rev) > (len(named), named)


def _beyond(one: Concession, readings: tuple[Reading, ...], safety: bool) -> tuple[str, tuple[Warned, ...]]:
    """A reading beyond the limit ends the agreement; where safety hangs on it, so does one that is not shown to lie within."""
    assert one.holds is not None
    limits, what = one.holds, one.holds_for.replace("_", " ") if one.holds_for else "the reading"
    sides = [None if side is None else float(side) for side in (limits.lower, limits.upper)]
    band = Band(limits.unit, sides[0], sides[1])
    usable = [reading for reading in readings if reading.singles and reading.kind == limits.unit.kind and not reading.assumed]
    outcomes: list[Outcome] = []
    for reading in usable:
        u = None if reading.u is None or reading.unstated else reading.u / limits.unit.scale
        for single in reading.singles:
            y = in_unit(single, limits.unit)
            if overshoot(y, band) > 1e-9:
                return f"{what} lies outside its limit, {limits.text}", ()
            outcomes.append(compare(y, u, band, GUARD_BAND))
    if outcomes and all(outcome is Outcome.CONFORMS for outcome in outcomes):
        return "", ()
    doubt = f"{what} is not shown to stay within its limit, {limits.text}" if outcomes else f"nobody measured {what}, on which it rests"
    return (doubt, ()) if safety else ("", (Warned("concession-unproven", f"{one.id}: {doubt}"),))
