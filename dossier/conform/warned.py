"""What to look at again about an item, that is no verdict: tolerance against evidence and method, sources, calibration."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from dossier.conform.numeric import SLACK, Band, ratio, span_in
from dossier.conform.readings import Reading
from dossier.conform.rules import RATIO_WANTED, SIMPLE, Rule
from dossier.conform.saying import amount
from dossier.model.calibration import Found, doubt
from dossier.model.forms.evidence import Evidence
from dossier.model.forms.specification import Item
from dossier.model.forms.workshop import Instrument
from dossier.model.results import Judged, Warned


def roots(ids: Iterable[str], evidence: Mapping[str, Evidence]) -> frozenset[str]:
    """The independent sources behind the evidence cited: each followed back to what it was derived from (figure 112)."""
    found = set()
    for one in ids:
        seen: set[str] = set()
        while one in evidence and one not in seen and evidence[one].derived_from in evidence:
            seen.add(one)
            one = evidence[one].derived_from or one
        # a ring of copies has no root: it stands for one source, named by its least id
        found.add(min(seen) if one in seen else one)
    return frozenset(found)


def about_sources(item: Item, sources: int) -> list[Warned]:
    """None or one independent source."""
    if sources == 1:
        return [Warned("single-source", "it rests on one independent source")]
    if sources == 0 and not item.assumption:
        return [Warned("no-evidence", "no evidence is cited and no assumption is named")]
    return []


def about_evidence(item: Item, band: Band | None) -> list[Warned]:
    """A tolerance finer than the evidence it rests on (figure 114)."""
    if item.evidence_uncertainty is None or band is None or band.half is None:
        return []
    u = span_in(item.evidence_uncertainty, band.unit)
    if u is None or u <= band.half + SLACK:
        return []
    text = f"the tolerance of ±{amount(band.half, band, None)} is finer than the evidence, good to ±{amount(u, band, u)}"
    return [Warned("tolerance-finer-than-evidence", text)]


def about_method(band: Band | None, judged: Iterable[Judged]) -> list[Warned]:
    """Tolerance over uncertainty below 1, where conformity can never be shown, or below 4 (figure 103)."""
    spread = [(found, one.u) for one in judged if band is not None and (found := ratio(one.u, band)) is not None]
    if not spread or band is None:
        return []
    least, u = min(spread, key=lambda pair: pair[0])
    if least < 1 - SLACK:
        return [Warned("uncertainty-too-wide", f"this method, good to ±{amount(u or 0.0, band, u)}, can never show conformity")]
    if least < RATIO_WANTED - SLACK:
        return [Warned("uncertainty-wide", f"the tolerance is {least:.1f} times the uncertainty; {RATIO_WANTED:g} times is wanted")]
    return []


def about_rule(rule: Rule, judged: Iterable[Judged]) -> list[Warned]:
    """Simple acceptance, with the risk it carries in this very case."""
    chances = [one.probability for one in judged if one.probability is not None]
    if rule is not SIMPLE:
        return []
    risk = f"; the chance that it lies outside is {100 * (1 - min(chances)):.0f} per cent" if chances else ""
    return [Warned("simple-acceptance", f"judged by simple acceptance, whatever the uncertainty{risk}")]


def about_calibration(readings: Iterable[Reading], instruments: Mapping[str, Instrument]) -> list[Warned]:
    """Readings taken after the day on which the instrument was due for calibration, or thrown into doubt by one that it failed."""
    taken = [(name, day) for one in readings for name, day in one.taken if name in instruments]
    late = {name for name, day in taken if day and (due := instruments[name].next_calibration) and day > due}
    out = [Warned("calibration-out", f"read with {name} after the day its calibration was due") for name in sorted(late)]
    failed = {name: found for name, day in taken if (found := doubt(day, _found(instruments[name])))}
    return out + [
        Warned("calibration-failed", f"read with {name}, {found.why} on {found.failed.isoformat()}") for name, found in sorted(failed.items())
    ]


def _found(instrument: Instrument) -> list[Found]:
    """Calibrations by day; a failure comes before what was passed on the same day."""
    known = [(one.on, one.result == "passed") for one in instrument.calibrations]
    return sorted([*known, *([(instrument.calibrated, True)] if instrument.calibrated else [])])
