"""Drive line: what each gear gives on the road, what a log says of slip, the clutch as found and as mended, and the chain."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.pages.page import Page, page
from dossier.pages.parts import gearing, slip
from dossier.pages.parts.cautions import cautions_for
from dossier.pages.parts.findings import Side, findings, line
from dossier.pages.parts.fitted import fitted_table
from dossier.pages.parts.logs.drawn import log_sections
from dossier.pages.parts.measured import reading, tags_of
from dossier.pages.parts.numbers import capital
from dossier.pages.parts.pictures import photos_of, plates
from dossier.pages.parts.tables import Sheet

CLUTCH = (
    line("clutch_spring_force", title="Spring force, each"), line("clutch_stack_height", title="Stack height"), line("clutch_capacity"),
    line("clutch_torque"), line("clutch_reserve"),
)  # fmt: skip
CHAIN = (
    line("chain_links_fitted", title="Links fitted"), line("chain_links"), line("chain_links_even"), line("chain_centre_distance"),
    line("hunting_teeth"),
)  # fmt: skip
WEAR = (line("chain_pitch"), line("chain_twenty_links", title="Twenty links"), line("chain_wear"))
WHEEL = (line("rear_rolling_circumference"), line("loaded_circumference"))


@page("drive-line", order=80)
def drive_line(edition: Edition) -> Page | None:
    """Gears, slip, clutch and chain; none where no gear, clutch or chain is on record."""
    sheet, used = Sheet(), set[str]()
    gearing.gear_chart_section(edition, sheet)
    gearing.changes_section(edition, sheet)
    slip.slip_section(edition, sheet)
    log_sections(edition, sheet, "drive-line")
    _clutch(edition, sheet, used)
    gearing.inertia_section(edition, sheet)
    _chain(edition, sheet)
    shown = fitted_table(edition, ("transmission",), "Declared and fitted, transmission")
    if shown:
        sheet.section("What is fitted", "fitted")
        sheet.add(shown)
    if not sheet.sections:
        return None
    groups = [part.id for part in edition.build.parts.parts if part.group == "transmission"]
    sheet.add(plates(edition, [photo.id for id in groups for photo in photos_of(edition, id)], used))
    sheet.section("Cautions")
    sheet.add(cautions_for("drive-line"))
    lead = "Primary, gears, clutch and chain; what each gear gives on the road, and what a log of the engine and the wheel says of slip."
    return Page("drive-line", "Drive line", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _clutch(edition: Edition, sheet: Sheet, used: set[str]) -> None:
    states = tags_of(edition, "state", "clutch_capacity", "clutch_spring_force", "clutch_stack_height")
    sides = [Side(capital(state), state, shared=True) for state in states] or [Side("As built")]
    shown = findings(edition, _clutch_caption(edition), CLUTCH, sides)
    if not shown:
        return
    sheet.section("Clutch", "clutch")
    sheet.add(shown)
    clutch = [part.id for part in edition.build.parts.parts if "clutch" in part.name.lower()]
    sheet.add(plates(edition, [photo.id for id in clutch for photo in photos_of(edition, id)], used))


def _clutch_caption(edition: Edition) -> str:
    """What the capacity rests on: faces, radius, friction and the stack asked for, as plain text."""
    names = {
        "clutch_faces": "faces", "clutch_mean_radius": "mean radius", "clutch_springs": "springs", "clutch_friction": "friction",
        "clutch_stack_required": "stack required",
    }  # fmt: skip
    bits = []
    for name, word in names.items():
        found = reading(edition, name)
        if found is not None:
            bits.append(f"{word} {found.text}" + (" (assumed)" if found.assumed else ""))
    return "Clutch: " + "; ".join(bits) if bits else "Clutch"


def _chain(edition: Edition, sheet: Sheet) -> None:
    finals = tags_of(edition, "final", "chain_links", "chain_centre_distance", "hunting_teeth")
    sides = [Side(gearing.final_words(edition, final), final, shared=True) for final in finals] or [Side("As built")]
    blocks = [
        findings(edition, "Chain, on each final drive", CHAIN, sides), findings(edition, "Chain as measured", WEAR),
        findings(edition, "Rear wheel as it rolls", WHEEL),
    ]  # fmt: skip
    if any(blocks):
        sheet.section("Chain and rear wheel", "chain")
        sheet.add(*blocks)
