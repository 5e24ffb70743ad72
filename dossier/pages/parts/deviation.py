"""The deviation chart of an edition: every numeric characteristic on one scale."""

from __future__ import annotations

from typing import Any

from dossier.model.edition import Edition
from dossier.model.results import Judged, Outcome, Verdict
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.numbers import finite
from dossier.pages.parts.verdicts import deciding

_MARKS = {
    Outcome.FAILS: "does not conform", Outcome.UNDECIDED: "cannot be decided", Outcome.NOT_MEASURED: "not yet measured",
    Outcome.UNSTATED: "uncertainty not stated", Outcome.CONFLICTING: "evidence conflicting",
}  # fmt: skip


def deviation_figure(edition: Edition) -> str:
    """The chart with its caption as HTML; empty where no item has limits."""
    from dossier.pages.parts.plots.deviation import KEY, DeviationChart, deviation_chart

    titles = {item.id: item.title for item in edition.build.specification.items}
    rows = [_row(verdict, titles[verdict.item]) for verdict in edition.verdicts if _has_limits(verdict) and verdict.item in titles]
    if not rows:
        return ""
    drawings = deviation_chart(DeviationChart(tuple(rows)), stamp(edition))
    return plot_figure(drawings, f"Every numeric characteristic on one scale. {KEY} Choices and counts have no place here.")


def _has_limits(verdict: Verdict) -> bool:
    return verdict.raw is not Outcome.WITHDRAWN and (verdict.lower is not None or verdict.upper is not None)


def _row(verdict: Verdict, title: str) -> Any:
    from dossier.pages.parts.plots.deviation import DeviationRow, Reading

    sided = one_sided(verdict)
    judged = [one for one in verdict.judged if finite(one.value)] if verdict.raw is not Outcome.NOT_MEASURED else []
    judged = [one for one in judged if one.u or not sided]
    half = 4 * max((one.u or 0.0 for one in judged), default=0.0) if sided else half_width(verdict)
    undecided = (Outcome.UNDECIDED, Outcome.UNSTATED)
    readings = tuple(Reading(_place(verdict, one, half), _u(one, half), one.outcome in undecided) for one in judged)
    guards = [reading.u for reading in readings if reading.u]
    mark = f"by agreement {verdict.concession}" if verdict.concession else _MARKS.get(verdict.raw, "")
    return DeviationRow(
        verdict.item,
        title,
        readings,
        verdict.lower is not None,
        verdict.upper is not None,
        max(guards, default=0.0),
        ", ".join(filter(None, [mark, "one-sided" if sided else ""])),
        strong=bool(mark),
    )


def one_sided(verdict: Verdict) -> bool:
    """Whether a verdict has one limit only; its nought is then no natural end, so its readings are placed in units of U from the limit."""
    return (verdict.lower is None) is not (verdict.upper is None)


def _place(verdict: Verdict, one: Judged, half: float) -> float:
    """Per cent of half the tolerance from its middle; with one limit only, inwards from it, 100 for each four U."""
    value = deciding(verdict, one) or 0.0
    if not half:
        return 0.0
    if verdict.lower is None and verdict.upper is not None:
        return 100 - 100 * (verdict.upper - value) / half
    if verdict.upper is None and verdict.lower is not None:
        return 100 * (value - verdict.lower) / half - 100
    return 100 * (value - ((verdict.lower or 0.0) + (verdict.upper or 0.0)) / 2) / half


def half_width(verdict: Verdict) -> float:
    """Half the tolerance in the item's unit; for a one-sided limit its distance from nought."""
    if verdict.lower is not None and verdict.upper is not None:
        return (verdict.upper - verdict.lower) / 2
    return abs(verdict.upper if verdict.upper is not None else verdict.lower or 0.0)


def _u(one: Judged, half: float) -> float | None:
    return 100 * one.u / half if one.u and half else None
