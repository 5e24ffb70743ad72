"""Carries one recipe out on its arguments: value, uncertainty and each input's share of it, and what there is to look at again."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from dossier.figures.degrees_of_freedom import coverage, effective
from dossier.figures.figure import Figure, NoVerdict
from dossier.figures.monte_carlo import Drawn, propagate
from dossier.figures.second_order import bends
from dossier.model.quantity import K, contributions, freedoms, from_si, nominal, standard
from dossier.model.results import Share, Warned, Worked

_SMALL = 0.05
"""Standard uncertainty over value: where all stay below, second-order terms of these closed forms are a hundredth of the first at most."""
_LOOK = "unusual, look again"


def carry_out(recipe: Figure, blank: Worked, arguments: Mapping[str, Any], strokes: str) -> Worked:
    """Work the recipe out on SI arguments, and fill `blank` with value, uncertainty, shares and warnings."""
    usual = recipe.usual_for(strokes)
    try:
        number = recipe.work(**arguments)
    except NoVerdict as reason:
        return replace(blank, usual=usual, no_verdict=str(reason), warnings=(Warned("figure-extrapolates", f"no verdict: {reason}"),))
    except (ValueError, ZeroDivisionError, OverflowError) as fault:
        text = f"these inputs cannot be together ({fault})"
        return replace(blank, usual=usual, no_verdict="impossible inputs", warnings=(Warned("figure-impossible", text),))
    unit = recipe.measured_in
    value = from_si(nominal(number), unit)
    low, high = recipe.impossible
    if (low is not None and value <= low) or (high is not None and value > high):
        text = f"{recipe.title.lower()} of {value:.{recipe.decimals}f} {unit.sign}".strip() + " is impossible: look at the inputs"
        return replace(blank, usual=usual, no_verdict=text, warnings=(Warned("figure-impossible", text),))
    parts = contributions(number)
    std = math.hypot(*parts.values())
    drawn = _drawn(recipe, arguments) if parts and _may_bend(recipe, arguments, abs(nominal(number)), std) else None
    std = std if drawn is None else drawn.standard
    u = None if std == 0 and blank.unstated else K * std / unit.scale
    dof = _freedom(number) if drawn is None else None
    return replace(
        blank, usual=usual, value=value, u=u, number=number, shares=_shares(parts, unit.scale),
        warnings=(*_unusual(recipe, value, usual), *_not_nought(recipe, value, u)),
        method=blank.method if drawn is None else _how_drawn(drawn, recipe), dof=dof, k95=None if dof is None else coverage(dof),
    )  # fmt: skip


def _freedom(number: Any) -> float | None:
    """Effective degrees of freedom of a number; None where nothing in it rests on a few repeats."""
    parts = freedoms(number)
    return effective(parts) if any(math.isfinite(one) for _, one in parts) else None


def _may_bend(recipe: Figure, arguments: Mapping[str, Any], size: float, std: float) -> bool:
    """Whether a look at second-order terms is called for: a root or a smallest of several, or uncertainties that are not small."""
    if not recipe.closed or "est(" in recipe.formula or std > _SMALL * size:
        return True
    return any((u := standard(one)) and u > _SMALL * abs(nominal(one)) for one in _flat(arguments))


def _flat(arguments: Mapping[str, Any]) -> list[Any]:
    return [one for value in arguments.values() for one in (value if isinstance(value, tuple) else (value,))]


def _drawn(recipe: Figure, arguments: Mapping[str, Any]) -> Drawn | None:
    """The figure's distribution by drawing, where it bends so much within the uncertainty that linear propagation is not believed."""
    flat = _flat(arguments)

    def work(*numbers: Any) -> Any:
        rest = iter(numbers)
        again = {name: tuple(next(rest) for _ in value) if isinstance(value, tuple) else next(rest) for name, value in arguments.items()}
        return recipe.work(**again)

    try:
        if not bends(work, [nominal(one) for one in flat], [standard(one) for one in flat]):
            return None
        return propagate(work, flat)
    except (NoVerdict, ValueError, TypeError, ZeroDivisionError, OverflowError):
        return None  # at the edge of what is possible; the linear answer stands


def _how_drawn(drawn: Drawn, recipe: Figure) -> str:
    unit = recipe.measured_in
    middle, low, high = (f"{from_si(x, unit):.{recipe.decimals + 1}f}" for x in (drawn.mean, drawn.low, drawn.high))
    return (
        f"Monte Carlo after JCGM 101:2008, {drawn.draws:,} draws, fixed seed: mean {middle}, 95 % from {low} to {high} {unit.sign}".rstrip()
    )


def _shares(standards: Mapping[str, float], scale: float) -> tuple[Share, ...]:
    parts = {name: K * abs(part) / scale for name, part in standards.items()}
    total = sum(part**2 for part in parts.values())
    shares = [Share(name, part, part**2 / total) for name, part in parts.items() if total]
    return tuple(sorted(shares, key=lambda share: (-share.u, share.title)))


def _unusual(recipe: Figure, value: float, usual: tuple[float | None, float | None]) -> tuple[Warned, ...]:
    sign = recipe.measured_in.sign
    shown = f"{value:.{recipe.decimals}f} {sign}".strip()
    if side := _side(value, recipe.implausible):
        return (Warned("figure-unusual", f"{shown} is implausible: it lies {side} {sign}".rstrip() + "; look for a slip"),)
    if side := _side(value, usual):
        return (Warned("figure-unusual", f"{shown} is {side.replace(' ', ' the usual ')} {sign}".rstrip() + f": {recipe.says or _LOOK}"),)
    return ()


def _not_nought(recipe: Figure, value: float, u: float | None) -> tuple[Warned, ...]:
    if not recipe.nought or u is None or abs(value) <= u + 1e-9:
        return ()
    sign, digits = recipe.measured_in.sign, recipe.decimals
    text = f"{value:.{digits}f} {sign} differs from nought by more than its uncertainty of {u:.{digits}f} {sign}: look again"
    return (Warned("figure-unusual", text),)


def _side(value: float, bounds: tuple[float | None, float | None]) -> str:
    low, high = bounds
    slack = 1e-9 * max(1.0, abs(value))
    if low is not None and value < low - slack:
        return f"below {low:g}"
    return f"above {high:g}" if high is not None and value > high + slack else ""
