"""Carries one recipe out on its arguments: value, uncertainty and each input's share of it, and what there is to look at again."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from dossier.figures.degrees_of_freedom import coverage, effective
from dossier.figures.figure import Figure, NoVerdict
from dossier.figures.monte_carlo import Drawn, propagate
from dossier.figures.second_order import bends
from dossier.figures.taking import SMALL, flat
from dossier.model.quantity import K, budget, from_si, nominal, standard
from dossier.model.results import Share, Warned, Worked, at_once

_OPEN = (None, None)
_LOOK = "unusual, look again"


def carry_out(recipe: Figure, facts: dict[str, Any], arguments: Mapping[str, Any], coarse: bool, number: Any = None) -> Worked:
    """Work the recipe out on SI arguments: value, uncertainty, shares and warnings beside the `facts` of what goes in, which are used up.

    `coarse`: an argument is uncertain enough for second-order terms to be looked at. `number`: the result, where it is known already.
    """
    if (recipe.never_below or recipe.between_limits) and (nothing := _below_nought(recipe, arguments)):
        return _without(facts, nothing, Warned("figure-impossible", nothing))
    try:
        number = recipe.work(**arguments) if number is None else number
        if isinstance(number, complex):
            raise ValueError("no such root")
    except NoVerdict as reason:
        return _without(facts, str(reason), Warned("figure-extrapolates", f"no verdict: {reason}"))
    except (ValueError, ZeroDivisionError, OverflowError):
        text = "these inputs cannot be together: look for a wrong sign, a nought or a lost digit"
        return _without(facts, "impossible inputs", Warned("figure-impossible", text))
    unit = recipe.measured_in
    best, parts, few = budget(number)
    value = from_si(best, unit)
    low, high = recipe.impossible
    if (low is not None and value <= low) or (high is not None and value > high):
        text = f"{recipe.title.lower()} of {value:.{recipe.decimals}f} {unit.sign}".strip() + " is impossible: look at the inputs"
        return _without(facts, text, Warned("figure-impossible", text))
    std = math.hypot(*parts.values())
    look = parts and (coarse or not recipe.closed or recipe.picks or std > SMALL * abs(best))
    drawn = _drawn(recipe, arguments) if look else None
    if drawn:
        facts["method"] = _how_drawn(drawn, recipe)
    elif few:
        facts["dof"] = effective(few)
        facts["k95"] = coverage(facts["dof"])
    std = std if drawn is None else drawn.standard
    u = None if std == 0 and facts["unstated"] else K * std / unit.scale
    facts["value"], facts["u"], facts["number"] = value, u, number
    facts["shares"] = _shares(parts, unit.scale)
    if recipe.nought or facts["usual"] != _OPEN or recipe.implausible != _OPEN:
        facts["warnings"] = _unusual(recipe, value, facts["usual"]) + _not_nought(recipe, value, u)
    return at_once(Worked, facts)


def _below_nought(recipe: Figure, arguments: Mapping[str, Any]) -> str:
    """What is wrong with inputs that no formula should be trusted with; empty where nothing is."""
    for param, title in recipe.never_below:
        given = arguments.get(param)
        kind = given.__class__
        if kind is tuple:
            below = any(nominal(part) < 0 for part in given)  # type: ignore[union-attr]
        elif kind is float or given is None:
            below = given is not None and given < 0
        else:
            below = nominal(given) < 0
        if below:
            return f"{title.lower()} below nought is impossible: look at the sign"
    if recipe.between_limits and (low := arguments.get("lower")) is not None and (high := arguments.get("upper")) is not None:
        return "the lower limit lies above the upper: look which is which" if nominal(low) > nominal(high) else ""
    return ""


def _without(facts: dict[str, Any], why: str, warned: Warned) -> Worked:
    return at_once(Worked, {**facts, "no_verdict": why, "warnings": (warned,)})


def _drawn(recipe: Figure, arguments: Mapping[str, Any]) -> Drawn | None:
    """The figure's distribution by drawing, where it bends so much within the uncertainty that linear propagation is not believed."""
    numbers = [one for argument in arguments.values() for one in flat(argument)]
    names = tuple(arguments)
    single = len(numbers) == len(names) and not any(isinstance(one, tuple) for one in arguments.values())

    def work(*drawn: Any) -> Any:
        if single:
            return recipe.work(**dict(zip(names, drawn, strict=True)))
        rest = iter(drawn)
        again = {name: tuple(next(rest) for _ in value) if isinstance(value, tuple) else next(rest) for name, value in arguments.items()}
        return recipe.work(**again)

    try:
        if not bends(work, [nominal(one) for one in numbers], [standard(one) for one in numbers]):
            return None
        return propagate(work, numbers)
    except (NoVerdict, ValueError, TypeError, ZeroDivisionError, OverflowError):
        return None  # at the edge of what is possible; the linear answer stands


def _how_drawn(drawn: Drawn, recipe: Figure) -> str:
    unit = recipe.measured_in
    middle, low, high = (f"{from_si(x, unit):.{recipe.decimals + 1}f}" for x in (drawn.mean, drawn.low, drawn.high))
    return (
        f"Monte Carlo after JCGM 101:2008, {drawn.draws:,} draws, fixed seed: mean {middle}, 95 % from {low} to {high} {unit.sign}".rstrip()
    )


def _shares(standards: Mapping[str, float], scale: float) -> tuple[Share, ...]:
    if not standards:
        return ()
    total = sum(part**2 for part in standards.values())
    by_size = sorted(standards.items(), key=lambda one: (-one[1], one[0])) if len(standards) > 1 else standards.items()
    k = K / scale
    return tuple([at_once(Share, {"title": name, "u": k * part, "share": part**2 / total}) for name, part in by_size]) if total else ()


def _unusual(recipe: Figure, value: float, usual: tuple[float | None, float | None]) -> tuple[Warned, ...]:
    slip, odd = _side(value, recipe.implausible), _side(value, usual)
    if not slip and not odd:
        return ()
    sign = recipe.measured_in.sign
    shown = f"{value:.{recipe.decimals}f} {sign}".strip()
    if slip:
        return (Warned("figure-unusual", f"{shown} is implausible: it lies {slip} {sign}".rstrip() + "; look for a slip"),)
    return (Warned("figure-unusual", f"{shown} is {odd.replace(' ', ' the usual ')} {sign}".rstrip() + f": {recipe.says or _LOOK}"),)


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
