"""A figure worked out on the bench, as a person would write it on paper; and the same for machines."""

from __future__ import annotations

from typing import Any, Protocol

from dossier.model import formula
from dossier.model.results import Flag, Worked
from dossier.pages.parts.numbers import number, rounded_up, shown_unit


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


def figure_line(one: Worked) -> str:
    """One line of the list of a build's figures."""
    of = ", ".join(tag for _, tag in one.tags)
    return f"{one.role.value:9} {one.title + (f', {of}' if of else ''):52} {value_text(one)}"


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
    lines.append(f"  {symbol} = {value_text(one)}" + ("   (U at k = 2)" if one.u else ""))
    lines += [f"     {100 * share.share:5.1f} % of U squared from {share.title.lower()} ({share.u:.4g})" for share in one.shares]
    lines += [f"  look again: {warned.text}" for warned in one.warnings]
    lines.append(f"  {one.flag.value}: {one.source}")
    return "\n".join(lines)


def figure_record(one: Worked) -> dict[str, Any]:
    """For machines: value, unit, expanded uncertainty, k, formula, worked, inputs, contributions, warnings, source."""
    return {
        "name": one.name, "id": one.id, "title": one.title, "symbol": formula.symbol_text(one.symbol), "of": dict(one.tags),
        "role": one.role.value, "value": one.value, "unit": one.unit, "u": one.u, "k": 2, "formula": formula.plain(one.formula),
        "worked": formula.plain(one.formula, one.numbers) if one.value is not None else None,
        "inputs": [
            {"symbol": used.symbol, "title": used.title, "unit": used.unit, "values": list(used.shown), "u": [value.u for value in used.values]}
            for used in one.inputs
        ],
        "contributions": [{"from": share.title, "u": share.u, "share": share.share} for share in one.shares],
        "missing": [missing.name for missing in one.missing], "warnings": [warned.text for warned in one.warnings],
        "no_verdict": one.no_verdict or None, "source": one.source, "flag": one.flag.value,
    }  # fmt: skip
