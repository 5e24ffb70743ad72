"""A figure worked out on the bench, as a person would write it on paper; and the same for machines."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, Protocol

from dossier.model import formula
from dossier.model.results import Change, Flag, Worked
from dossier.pages.parts.numbers import number, rounded_up, shown_unit
from dossier.pages.parts.workings import freedom_words, usual_words

STROKES = {"2": "a figure of two-strokes; a four-stroke has no such thing", "4": "a figure of four-strokes; a two-stroke has no such thing"}


class Listed(Protocol):
    """What a list of figures shows of a recipe."""

    @property
    def name(self) -> str: ...  # noqa: D102
    @property
    def title(self) -> str: ...  # noqa: D102
    @property
    def symbol(self) -> str: ...  # noqa: D102
    @property
    def unit(self) -> str: ...  # noqa: D102
    @property
    def source(self) -> str: ...  # noqa: D102
    @property
    def flag(self) -> Flag: ...  # noqa: D102


def value_text(one: Worked) -> str:
    """The value with uncertainty and unit as plain text, or why there is none."""
    if one.value is None:
        reason = one.no_verdict or "missing " + ", ".join(missing.name for missing in one.missing)
        return f"no verdict: {reason}"
    unit = shown_unit(one.unit)
    sign = unit if unit in ("°",) or unit.startswith(" ") else f" {unit}".rstrip()
    if not one.u:
        return number(one.value, one.decimals) + sign
    u, more = rounded_up(one.u, one.decimals)
    return f"{number(one.value, more)} ± {u}{sign}"


def titled(one: Worked) -> str:
    """The title with what it is of: `Compression ratio, full stroke, left`."""
    return ", ".join([one.title, *(tag for _, tag in one.tags)])


def figure_line(one: Worked) -> str:
    """One line of the list of a build's figures."""
    return f"{one.role.value:9} {titled(one):52} {value_text(one)}"


def list_line(recipe: Listed) -> str:
    """One line of the list of all figures."""
    return f"{recipe.name:34} {formula.symbol_text(recipe.symbol):8} {recipe.unit or '–':8} {recipe.title} [{recipe.flag.value}: {recipe.source}]"


def bench_sheet(one: Worked) -> str:
    """The whole working: inputs, formula, numbers put in, result, budget, bounds, source."""
    lines = [one.title]
    for used in one.inputs:
        for value, text in zip(used.values, used.printed or ["?"], strict=False):
            spread = "" if not value.u else f" ± {value.u:g} {value.unit}".rstrip()
            lines.append(
                f"  {formula.symbol_text(used.symbol):6} {used.title}: {text} {used.unit}".rstrip() + (spread and f" ({spread.strip()})")
            )
    lines.append("  " + formula.plain(one.formula))
    symbol = formula.symbol_text(one.formula.partition("=")[0].strip())
    if one.value is not None:
        lines.append(f"  {symbol} = {formula.plain(one.formula, one.numbers)}")
    how = "" if one.method == "linear propagation" else f", by {one.method}"
    lines.append(f"  {symbol} = {value_text(one)}" + (f"   (U at k = 2{how})" if one.u else ""))
    lines += [f"     {freedom_words(one)}"] if one.dof is not None else []
    lines += [f"     {100 * share.share:5.1f} % of U squared from {share.title.lower()} ({share.u:.4g})" for share in one.shares]
    lines += [f"  look again: {warned.text}" for warned in one.warnings]
    lines += [f"  {STROKES[one.strokes]}"] if one.strokes in STROKES else []
    lines += [f"  usual: {usual_words(one)} ({one.usual_source or 'no source'})"] if usual_words(one) else []
    lines.append(f"  {one.flag.value}: {one.source}")
    return "\n".join(lines)


def instead_sheet(changes: Sequence[Change], others: Sequence[str]) -> str:
    """The figure asked for in full as it would be, and one line for each figure that changes: before, after, and what to look at again."""
    asked = changes[0].after
    lines = [f"With {', '.join(others)} instead:", "", bench_sheet(asked), "", "Before and after:"]
    for one in changes:
        before = value_text(one.before) if one.before is not None else "–"
        lines.append(f"  {titled(one.after):52} {before:>24}  ->  {value_text(one.after)}")
        lines += [f"    look again: {warned.text}" for warned in one.after.warnings]
    return "\n".join(lines)


def change_record(one: Change) -> dict[str, Any]:
    """For machines: a figure that changes, with both its records and the warnings of the later."""
    after = figure_record(one.after)
    before = None if one.before is None else figure_record(one.before)
    return {"name": one.after.name, "id": one.after.id, "before": before, "after": after, "warnings": after["warnings"]}


def figure_record(one: Worked) -> dict[str, Any]:
    """For machines: value, unit, expanded uncertainty, k, formula, worked, inputs, contributions, warnings, source."""
    return {
        "name": one.name, "id": one.id, "title": one.title, "symbol": formula.symbol_text(one.symbol), "of": dict(one.tags),
        "role": one.role.value, "value": one.value, "unit": one.unit, "u": one.u, "k": 2, "method": one.method,
        "dof": one.dof, "k95": one.k95, "u95": None if one.k95 is None or one.u is None else one.k95 * one.u / 2,
        "formula": formula.plain(one.formula),
        "worked": formula.plain(one.formula, one.numbers) if one.value is not None else None,
        "inputs": [
            {
                "symbol": used.symbol, "title": used.title, "unit": used.unit, "values": list(used.shown),
                "u": [value.u for value in used.values], "u_unit": [value.unit for value in used.values],
                "made_of": [[{"from": part.title, "u": part.u, "share": part.share} for part in value.parts] for value in used.values],
            }
            for used in one.inputs
        ],
        "contributions": [{"from": share.title, "u": share.u, "share": share.share} for share in one.shares],
        "missing": [{"name": missing.name, "title": missing.title, "file": missing.file} for missing in one.missing],
        "warnings": [warned.text for warned in one.warnings],
        "no_verdict": one.no_verdict or None, "source": one.source, "flag": one.flag.value, "usual": list(one.usual),
        "usual_source": one.usual_source, "impossible": list(one.impossible),
    }  # fmt: skip
