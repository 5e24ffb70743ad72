"""Mass ledger: every part before and after, by cause, and how far the ledger accounts for the weighed machine."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.parts import Part
from dossier.pages.page import Page, page
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.links import link
from dossier.pages.parts.logs.drawn import log_sections
from dossier.pages.parts.numbers import capital, door, esc, number
from dossier.pages.parts.tables import Column, Row, Sheet, table

CAUSES = ("reworked", "replaced", "deleted", "added")
_SAID = {
    "reworked": "the same part, worked on",
    "replaced": "the donor’s part replaced",
    "deleted": "taken off and not replaced",
    "added": "not there before",
}


@page("mass", order=60)
def mass(edition: Edition) -> Page | None:
    """The waterfall by cause and the ledger by assembly; none where no part was weighed."""
    weighed = [part for part in edition.build.parts.parts if part.before is not None or part.after is not None]
    if not weighed:
        return None
    sheet = Sheet()
    _waterfall(edition, sheet)
    sheet.section("Ledger by assembly", "ledger")
    sheet.add(_ledger(edition, weighed))
    _says(edition, sheet)
    log_sections(edition, sheet, "mass")
    lead = "What each part weighed before and after, and by what cause the machine came to its mass. The sums close or say by how much they do not."
    return Page("mass", "Mass ledger", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _waterfall(edition: Edition, sheet: Sheet) -> None:
    from dossier.pages.parts.plots.mass import MassStep, MassWaterfall, mass_waterfall

    before = edition.figure("itemised_mass_before")
    steps = [(cause, edition.figure("mass_by_cause", cause)) for cause in CAUSES]
    known = [(cause, one) for cause, one in steps if one is not None and one.value is not None]
    if before is None or before.value is None or not known:
        return
    sheet.section("By cause", "causes")
    waterfall = MassWaterfall(before.value, tuple(MassStep(cause, one.value or 0.0) for cause, one in known))
    caption = (
        "From the parts as received to the parts as fitted. Solid: taken off. Hatched: put on. The axis is cut where the totals are open."
    )
    sheet.add(plot_figure(mass_waterfall(waterfall, stamp(edition)), caption))
    columns = [Column("Cause"), Column("Means", "c-why"), Column("Change", "num")]
    rows = [Row([capital(cause), _SAID[cause], door(one)]) for cause, one in known]
    total = edition.figure("itemised_mass_change")
    sheet.add(
        table("Change of mass by cause", columns, rows, kind="plain", css="counts", foot=["In all", "", door(total)] if total else [])
    )


def cause_of(part: Part) -> str:
    """Why a part's mass changed: reworked, replaced, deleted or added; empty where it was not weighed both times."""
    if part.before is None or part.after is None:
        return ""
    if part.before_is == "nothing":
        return "added"
    if part.before_is == "same part as received":
        return "reworked"
    return "deleted" if part.after.number == 0 else "replaced"


def _ledger(edition: Edition, weighed: list[Part]) -> str:
    columns = [Column("Part"), Column("Before, g", "num"), Column("After, g", "num"), Column("Change, g", "num"), Column("Cause", "c-why")]
    rows = []
    for group in dict.fromkeys(part.group for part in weighed):
        some = [part for part in weighed if part.group == group]
        rows += [_row(edition, part) for part in some]
        rows.append(_sum(f"{capital(group)}, sum", some, css="sum"))
    return table("Masses in grams", columns, rows, kind="held", foot=_sum("In all", weighed).cells)


def _grams(part: Part) -> tuple[float, float]:
    return tuple(side.to("g") if side is not None else 0.0 for side in (part.before, part.after))  # type: ignore[return-value]


def _row(edition: Edition, part: Part) -> Row:
    before, after = _grams(part)
    cells = [number(before) if part.before else "–", number(after) if part.after else "–", number(after - before), esc(cause_of(part))]
    return Row([f"{link(edition, part.id)} {esc(part.name)}", *cells])


def _sum(title: str, some: list[Part], css: str = "") -> Row:
    before, after = (sum(column) for column in zip(*map(_grams, some), strict=True))
    return Row([f"<b>{esc(title)}</b>", *(f"<b>{number(value)}</b>" for value in (before, after, after - before)), ""], css=css)


def _says(edition: Edition, sheet: Sheet) -> None:
    coverage, whole = edition.figure("ledger_coverage"), edition.figure("mass")
    if coverage is not None and coverage.value is not None:
        machine = f" of the weighed machine ({door(whole)})" if whole is not None and whole.value is not None else " of the weighed machine"
        sheet.say(f"The parts in the ledger make up {door(coverage)}{machine}; the rest is not itemised.", "after")
    if any("drum" in part.name.lower() and "select" in part.name.lower() for part in edition.build.parts.parts):
        sheet.say(
            "Lightening a selector drum lowers no rotating inertia that the engine sees; it turns only when a gear is changed.", "after"
        )
