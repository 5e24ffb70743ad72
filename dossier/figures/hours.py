"""Hours planned and worked, and what refused parts cost."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.figures.figure import Example, Input, figure
from dossier.figures.mass import total
from dossier.model.quantity import Number
from dossier.model.results import Flag

_HAND = "worked by hand"


def _hours(param: str, symbol: str, title: str, over: str = "") -> Input:
    return Input(param, symbol, "h", title, over=over, exact=True, file="custody.yaml")


@figure(
    title="Hours planned",
    symbol="t_p",
    unit="h",
    formula="t_p = sum(t)",
    inputs=(_hours("hours_planned", "t", "Hours planned for each group", "group"),),
    source="groups added up",
    flag=Flag.GEOMETRY,
    example=Example({"hours_planned": ("40 h", "150 h", "30 h")}, "220 h", f"{_HAND}: 40 + 150 + 30"),
    subject="life",
    decimals=0,
)
def total_hours_planned(hours_planned: Sequence[Number]) -> Number:
    """Hours planned for the whole build."""
    return total(hours_planned)


@figure(
    title="Hours worked",
    symbol="t_w",
    unit="h",
    formula="t_w = sum(t)",
    inputs=(_hours("hours_actual", "t", "Hours worked on each group", "group"),),
    source="groups added up",
    flag=Flag.GEOMETRY,
    example=Example({"hours_actual": ("52 h", "137 h", "37 h")}, "226 h", f"{_HAND}: 52 + 137 + 37"),
    subject="life",
    decimals=0,
)
def total_hours_worked(hours_actual: Sequence[Number]) -> Number:
    """Hours worked on the whole build."""
    return total(hours_actual)


@figure(
    title="Hours over plan, by group",
    symbol="Delta_t",
    unit="%",
    formula="Delta_t = 100 * (t_w / t_p - 1)",
    inputs=(_hours("hours_planned", "t_p", "Hours planned"), _hours("hours_actual", "t_w", "Hours worked")),
    per=("group",),
    source="by definition",
    flag=Flag.GEOMETRY,
    example=Example({"hours_planned": "150 h", "hours_actual": "137 h"}, "-8.7 %", f"{_HAND}: 137 / 150 = 0.9133"),
    subject="life",
    decimals=0,
)
def hours_over_plan(hours_planned: Number, hours_actual: Number) -> Number:
    """By how much the hours of a group exceed the plan."""
    return hours_actual / hours_planned - 1


@figure(
    title="Hours over plan",
    symbol="Delta_t",
    unit="%",
    formula="Delta_t = 100 * (t_w / t_p - 1)",
    inputs=(
        Input("total_hours_planned", "t_p", "h", "Hours planned", file="custody.yaml"),
        Input("total_hours_worked", "t_w", "h", "Hours worked", file="custody.yaml"),
    ),
    source="by definition",
    flag=Flag.GEOMETRY,
    example=Example({"total_hours_planned": "425 h", "total_hours_worked": "472 h"}, "11 %", f"{_HAND}: 472 / 425 = 1.1106"),
    subject="life",
    decimals=0,
)
def total_hours_over_plan(total_hours_planned: Number, total_hours_worked: Number) -> Number:
    """By how much the hours of the whole build exceed the plan."""
    return total_hours_worked / total_hours_planned - 1


@figure(
    title="Bought parts refused",
    symbol="q_r",
    unit="%",
    formula="q_r = 100 * n_r / (n_r + n_b)",
    inputs=(
        Input("rejected_parts", "n_r", "", "Parts refused or put right before use", exact=True, file="parts.yaml"),
        Input("bought_parts", "n_b", "", "Bought parts fitted", exact=True, file="parts.yaml"),
    ),
    source="refused, over refused and fitted; bought are reproductions, period accessories and modern substitutes",
    flag=Flag.GEOMETRY,
    example=Example({"rejected_parts": "5", "bought_parts": "12"}, "29.4 %", f"{_HAND}: 5 / 17"),
    subject="life",
    decimals=0,
)  # fmt: skip
def rejection_rate(rejected_parts: Number, bought_parts: Number) -> Number:
    """Share of the bought parts that could not be used as they came."""
    return rejected_parts / (rejected_parts + bought_parts)


@figure(
    title="Hours lost on refused parts",
    symbol="t_l",
    unit="h",
    formula="t_l = sum(t)",
    inputs=(Input("hours_lost", "t", "h", "Hours lost on each", over="rejected", exact=True, file="parts.yaml"),),
    source="refused parts added up",
    flag=Flag.GEOMETRY,
    example=Example({"hours_lost": ("5 h", "4 h", "3 h", "7 h", "0 h")}, "19 h", f"{_HAND}: 5 + 4 + 3 + 7"),
    subject="life",
    decimals=0,
)
def total_hours_lost(hours_lost: Sequence[Number]) -> Number:
    """Hours lost on parts that were refused."""
    return total(hours_lost)
