"""A worked figure in full: result, formula, the same with the numbers put in, what went in, where the uncertainty comes from."""

from __future__ import annotations

import itertools

from dossier.model import formula
from dossier.model.edition import Edition
from dossier.model.results import InputUsed, Value, Verdict, Worked
from dossier.model.symbols import symbol_html
from dossier.pages.parts.links import link
from dossier.pages.parts.marks import share_bar
from dossier.pages.parts.numbers import (
    capital,
    day,
    door,
    esc,
    figure_value,
    in_words,
    number,
    plus_minus,
    rounded_up,
    shown_unit,
    unit_text,
    whole_u,
)  # fmt: skip
from dossier.pages.parts.tables import Column, Row, table
from dossier.pages.parts.verdicts import verdict_words

_LARGE_BUDGET = 8
_LONG_FORMULA = 64
"""Letters from which a formula with its numbers takes the whole width of the sheet."""


def title(one: Worked) -> str:
    """Title of a worked figure with its tags: `Compression ratio, full stroke, left`."""
    tags = ", ".join(tag_words(axis, tag) for axis, tag in one.tags)
    role = "" if one.role.value == "as built" else f" ({one.role.value})"
    return one.title + (f", {tags}" if tags else "") + role


def tag_words(axis: str, tag: str) -> str:
    """A tag as read after a comma: `gear 6`, `left`."""
    return f"{axis} {tag}" if axis in ("gear", "point") else tag


def worked_figure(edition: Edition, one: Worked, id: str, more: str = "") -> str:
    """The whole of a worked figure: a line with its value that opens to the working; `id` is the working's own, `more` HTML below it."""
    shown = "".join(filter(None, [_formula(one), _flags(edition, one)]))
    again = '<span class="again">look again</span>' if any(warned.code == "figure-unusual" for warned in one.warnings) else ""
    return (
        f'<details class="worked"><summary><h3 id="{esc(id)}-h">{esc(title(one))} <span class="fig-id">{symbol_html(one.symbol)}</span></h3>'
        f'{again}<span class="value">{figure_value(one)}</span></summary>'
        f'<div class="working" id="{esc(id)}"><p class="result"><b>{_result(one)}</b> <span>{esc(_basis(one))}</span></p>'
        f'<div class="workings">{shown}</div>{_warnings(one)}{_inputs(edition, one)}{_made_of(one)}{_budget(one)}{more}</div></details>'
    )


def _result(one: Worked) -> str:
    if one.value is None:
        return figure_value(one)
    u = whole_u(one)
    if not u:
        return number(one.value, one.decimals) + unit_text(shown_unit(one.unit))
    shown_u, more = rounded_up(u, one.decimals)
    return f"{number(one.value, more)}</b> ± {shown_u}{unit_text(shown_unit(one.unit))}<b>"


def _basis(one: Worked) -> str:
    bits = []
    if one.u and one.unstated:
        bits.append(f"U not stated for every input; of the others alone {one.u:.2g}{unit_text(shown_unit(one.unit))}")
    elif one.u:
        bits.append("U at k = 2" + ("" if one.method == "linear propagation" else f", by {one.method}"))
        bits += [freedom_words(one)] if one.dof is not None else []
    elif one.value is not None and one.unstated:
        bits.append("uncertainty not stated")
    elif one.value is not None:
        bits.append("exact for the numbers put in")
    if one.basis:
        bits.append(one.basis)
    return "; ".join(bits)


def freedom_words(one: Worked) -> str:
    """How many readings the uncertainty is worth, and the coverage factor that goes with them."""
    if one.dof is None or one.k95 is None or one.u is None:
        return ""
    u95 = f"{one.k95 * one.u / 2:.2g}{unit_text(shown_unit(one.unit))}"
    freedom = f"{one.dof:.3g}" if one.dof < 1000 else "above 1,000"
    return f"effective degrees of freedom {freedom} (Welch-Satterthwaite), for 95 % k = {one.k95:.2f} and U = {u95}"


def _formula(one: Worked) -> str:
    lines = [f'<div class="eq">{formula.mathml(one.formula)}</div>']
    if one.value is not None:
        unit = shown_unit(one.unit).strip()
        sign = f'<mspace width="0.28em"/><mtext class="unit">{esc(unit)}</mtext>' if unit else ""
        equals = f'<math displaystyle="true"><mrow><mo>=</mo><mn>{number(one.value, one.decimals)}</mn>{sign}</mrow></math>'
        lines.append("<p>the same with the numbers put in</p>")
        lines.append(f'<div class="eq">{formula.mathml(one.formula, one.numbers)}{equals}</div>')
    lines.append(f'<p class="plain-formula">In plain text: {esc(formula.plain(one.formula))}</p>')
    name = esc(f"Formula of {title(one)}")
    long = " long" if one.value is not None and len(formula.plain(one.formula, one.numbers)) > _LONG_FORMULA else ""
    return f'<div class="formula{long}" tabindex="0" role="group" aria-label="{name}">{"".join(lines)}</div>'


def _flags(edition: Edition, one: Worked) -> str:
    rows = [("Flag", esc(one.flag.value)), ("Source", esc(one.source))]
    usual = usual_words(one)
    if usual:
        rows.append(("Usual", f"{usual} <span class='quiet'>({esc(one.usual_source or 'no source')})</span>"))
    if len(one.shares) == 1 and one.u:
        rows.append(("Uncertainty", f"all of it from {esc(one.shares[0].title).lower()}"))
    if one.unstated:
        rows.append(("Not stated", f"nobody stated the uncertainty of {esc(', '.join(one.unstated).lower())}; U covers the rest only"))
    declared = [value.title or used.title for used in one.inputs for value in used.values if value.role.value == "declared"]
    if declared and one.role.value == "as built":
        rows.append(("Declared", f"rests on declared values, not measured: {esc(', '.join(dict.fromkeys(declared)).lower())}"))
    rows += [("Judged in", f"{link(edition, verdict.item)}, {verdict_words(verdict.outcome)}") for verdict in _judged_in(edition, one)]
    return '<dl class="flags">' + "".join(f"<div><dt>{name}</dt><dd>{text}</dd></div>" for name, text in rows) + "</dl>"


def _judged_in(edition: Edition, one: Worked) -> list[Verdict]:
    if one.role.value != "as built":
        return []
    return [verdict for verdict in edition.verdicts if any(judged.figure == one.id for judged in verdict.judged)]


def usual_words(one: Worked) -> str:
    """The usual range of a figure in words, with its unit; empty where it has none."""
    low, high = (None if side is None else f"{side:g}".replace("-", "−") for side in one.usual)
    unit = unit_text(shown_unit(one.unit))
    if low is None:
        return f"not above {high}{unit}" if high is not None else ""
    return f"{low} to {high}{unit}" if high is not None else f"not below {low}{unit}"


def _warnings(one: Worked) -> str:
    lines = [f'<p class="warned"><b>{capital(warned.text)}.</b></p>' for warned in one.warnings]
    if one.missing:
        words = "; ".join(f"{missing.title.lower()} ({missing.name}, in {missing.file})" for missing in one.missing)
        lines.append(f'<p class="warned">Not worked out: nobody wrote down {esc(words)}.</p>')
    return "".join(lines)


def _inputs(edition: Edition, one: Worked) -> str:
    columns = [
        Column("Symbol", "c-sym"), Column("Quantity"), Column("Value", "num"), Column("U", "num"),
        Column("By whom, with what, when", "c-why", "With"),
    ]  # fmt: skip
    rows = []
    for used in one.inputs:
        for value, shown in itertools.zip_longest(used.values, used.shown):
            rows.append(
                Row(
                    [
                        f"<i>{symbol_html(used.symbol)}</i>",
                        _quantity(edition, used, value),
                        *_value(used, value, shown),
                        _who(edition, value),
                    ]
                )
            )
            if len(rows) >= 24 and len(used.values) > 24:
                rows.append(Row(["", f"and {in_words(len(used.values) - 24)} more", "", "", ""]))
                break
    return table("What goes in", columns, rows, css="inputs") if rows else ""


def _quantity(edition: Edition, used: InputUsed, value: Value) -> str:
    tags = ", ".join(tag_words(axis, tag) for axis, tag in value.tags)
    mean = f", mean of {in_words(value.count)}" if value.count > 1 else ""
    shown = esc(used.title + (f", {tags}" if tags else "") + mean)
    return shown + (f" ({link(edition, value.source)})" if value.source and value.source[:1].isupper() else "")


def _value(used: InputUsed, value: Value, shown: float | None) -> tuple[str, str]:
    if shown is None:
        return esc(value.number), "words"
    unit = unit_text(shown_unit(used.unit))
    same = value.unit == shown_unit(used.unit) or value.unit == used.unit
    text = number(shown, value.decimals) if same else f"{shown:.6g}"
    as_measured = (
        ""
        if same or not value.unit
        else f'<br><span class="quiet">as written: {number(value.shown, value.decimals)} {esc(value.unit)}</span>'
    )
    if value.u is None:
        u = "not stated"
    elif value.u == 0:
        u = "exact" if not value.of else "–"
    else:
        u = plus_minus(0, value.u, value.decimals, value.unit).split("±")[1].replace("</span>", "").strip()
    return text + unit + as_measured, u


def _who(edition: Edition, value: Value) -> str:
    if value.of:
        worked = next((one for one in edition.worked if one.id == value.of and one.role is value.role), None)
        return door(worked, "worked out") if worked else "worked out"
    if value.assumed:
        return f"<b>assumed</b>: {esc(value.assumed)}"
    bits = [esc(value.by)] if value.by else []
    instrument = next((one for one in edition.build.workshop.instruments if one.id == value.with_), None)
    if instrument is not None:
        bits.append(f"{link(edition, instrument.id)}, {esc(instrument.name)}")
    elif value.role.value in ("as built", "donor"):
        bits.append("instrument not recorded")
    bits += [esc(value.where)] if value.where else []
    bits += [day(value.on)] if value.on else []
    if value.photo:
        bits.append(link(edition, value.photo))
    role = {"declared": "declared", "noted": "noted", "donor": "of the donor"}.get(value.role.value, "")
    return "; ".join([*([role] if role else []), *bits]) or role


def _made_of(one: Worked) -> str:
    """What the uncertainty of each reading is made of, where it is more than one thing."""
    composed = [value for used in one.inputs for value in used.values if value.parts]
    if not composed:
        return ""
    columns = [Column("Reading"), Column("From"), Column("U", "num"), Column("of U squared", "num")]
    rows = [
        Row([esc(value.title) if part is value.parts[0] else "", esc(part.title), f"{part.u:.3g} {esc(value.unit)}", f"{100 * part.share:.1f} %"])
        for value in composed
        for part in value.parts
    ]
    return table("What the uncertainty of a reading is made of", columns, rows, kind="plain", css="budget")


def _budget(one: Worked) -> str:
    if len(one.shares) < 2 or not one.u:
        return ""
    columns = [
        Column("From"),
        Column(f"U{', ' + one.unit if one.unit else ''}", "num"),
        Column("Share", "c-bar"),
        Column("of U squared", "num"),
    ]
    rows = [
        Row([esc(share.title), f"{share.u:.4g}", share_bar(100 * share.share), f"{100 * share.share:.1f} %"])
        for share in one.shares[:_LARGE_BUDGET]
    ]
    rest = one.shares[_LARGE_BUDGET:]
    if rest:
        part = sum(share.share for share in rest)
        rows.append(Row([f"{in_words(len(rest))} more", "", share_bar(100 * part), f"{100 * part:.1f} %"]))
    foot = ["All together", f"{one.u:.4g}", "", "100 %"]
    return table("Where the uncertainty comes from: parts add as squares", columns, rows, kind="plain", css="budget", foot=foot)
