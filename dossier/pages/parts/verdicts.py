"""Verdicts as words with their small mark, and the concession laid over them."""

from __future__ import annotations

from math import inf

from dossier.model.edition import Edition
from dossier.model.forms.specification import Concession
from dossier.model.results import Judged, Outcome, Verdict
from dossier.pages.parts import marks
from dossier.pages.parts.links import linked
from dossier.pages.parts.numbers import capital, day, door, esc, joined, number, plus_minus

_MARK: dict[Outcome, marks.Outcome] = {
    Outcome.CONFORMS: "conforms",
    Outcome.FAILS: "fails",
    Outcome.UNDECIDED: "undecided",
    Outcome.UNSTATED: "undecided",
    Outcome.CONFLICTING: "conflicting",
    Outcome.NOT_MEASURED: "unmeasured",
    Outcome.NO_TOLERANCE: "unmeasured",
    Outcome.WITHDRAWN: "unmeasured",
    Outcome.BY_AGREEMENT: "agreed",
}


def verdict_words(outcome: Outcome) -> str:
    """The verdict in words, its mark before them."""
    return marks.verdict(_MARK[outcome], capital(outcome.value))


def verdict_cell(edition: Edition, verdict: Verdict) -> str:
    """The raw verdict, then what is laid over it, then the conflict or assumption behind it."""
    out = [verdict_words(verdict.raw)]
    concession = concession_of(edition, verdict)
    if concession is not None:
        words = concession_words(edition, concession) + unproven_words(edition, verdict)
        out.append(f'<span class="over">{marks.verdict_mark("agreed")}<span>{words}</span></span>')
    if verdict.lapsed:
        out.append(f'<span class="aside-v"><b>Agreement lapsed:</b> {esc(verdict.lapsed)}</span>')
    conflict = next((one for one in edition.build.evidence.conflicts if one.id == verdict.conflict), None)
    if conflict is not None:
        state = f"resolved {day(conflict.date)}" if conflict.status == "resolved" else f"open: {joined(list(conflict.between))}"
        out.append(f'<span class="aside-v">{linked(edition, conflict.id)}, {linked(edition, state)}</span>')
    if verdict.assumption:
        out.append(f'<span class="aside-v">assumed, {linked(edition, verdict.assumption)}</span>')
    return "".join(out)


def concession_of(edition: Edition, verdict: Verdict) -> Concession | None:
    """The concession that holds over a verdict, if any."""
    return next((one for one in edition.build.specification.concessions if one.id == verdict.concession), None)


def concession_words(edition: Edition, one: Concession) -> str:
    """A concession in full: date, who agreed, within what it holds, and whether it can be undone."""
    opinion = f" Safety item; {linked(edition, one.opinion)}." if one.safety and one.opinion else ""
    undone = "Can be undone." if one.reversible else "Cannot be undone."
    return (
        f"<b>Deviates by agreement</b> {linked(edition, one.id)}, {day(one.date)}, {esc(joined(list(one.agreed_by)))}. "
        f"Holds while: {linked(edition, one.limit)}.{opinion} {undone}"
    )


def unproven_words(edition: Edition, verdict: Verdict) -> str:
    """What keeps the agreement over a verdict from being shown to hold, as HTML with a blank before it; empty where nothing does."""
    doubts = [linked(edition, one.text.rstrip(".")) for one in verdict.warnings if one.code == "concession-unproven"]
    return f" <b>Not shown to hold:</b> {'; '.join(doubts)}." if doubts else ""


def readings_cell(edition: Edition, verdict: Verdict, decimals: int) -> str:
    """The as-built readings of an item, each with its uncertainty; those that are worked out are doors."""
    if not verdict.judged or verdict.raw is Outcome.NOT_MEASURED:
        return "no reading"
    same_u = len({one.u for one in verdict.judged}) == 1 and len(verdict.judged) > 1
    shown = [_reading(edition, verdict, one, decimals, with_u=not same_u) for one in verdict.judged]
    text = ", ".join(shown)
    first = verdict.judged[0]
    if same_u and first.value is not None:
        spread = plus_minus(0, first.u, decimals, verdict.unit).split("±")
        text += f'<br><span class="nw">±{spread[1]}' if len(spread) > 1 else ""
    return text


def deciding(verdict: Verdict, one: Judged) -> float | None:
    """The single reading that decides, in the item's unit: of several the one nearest to or farthest past a limit, else the value."""
    singles = [side for side in (one.least, one.most) if side is not None]
    if one.value is None or not singles:
        return one.value
    low, high = verdict.lower, verdict.upper
    if low is None and high is None:
        return one.value
    return min(singles, key=lambda side: min(side - low if low is not None else inf, high - side if high is not None else inf))


def _reading(edition: Edition, verdict: Verdict, one: Judged, decimals: int, with_u: bool) -> str:
    if one.value is None:
        return linked(edition, one.words) or "no reading"
    worked = next((figure for figure in edition.worked if figure.id == one.figure and figure.role.value == "as built"), None)
    places = max(decimals, worked.decimals) if worked is not None else decimals
    shown = plus_minus(one.value, one.u, places, verdict.unit) if with_u else f'<span class="nw">{number(one.value, places)}</span>'
    shown = door(worked, shown) if worked is not None else shown
    worst = deciding(verdict, one)
    if worst is not None and number(worst, places) != number(one.value, places):
        shown = f'mean {shown}, worst <span class="nw">{number(worst, places)}</span>'
    if one.as_measured:
        shown = f'<span class="nw">{esc(one.as_measured)}</span>, which is {shown}'
    return f"{esc(one.label)} {shown}" if one.label else shown


def declared_limits(verdict: Verdict, decimals: int) -> str:
    """The limits of a verdict as printed: `117.0 to 119.0`."""
    low, high = (None if side is None else number(side, decimals) for side in (verdict.lower, verdict.upper))
    if low is None and high is None:
        return ""
    if low is None:
        return f"not above {high}"
    return f"{low} to {high}" if high is not None else f"not below {low}"
