"""Chassis: geometry with its what-if wheel, loads and centre of gravity, springs and sag, wheels, tyres and brakes."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model.edition import Edition
from dossier.pages.page import Page, page
from dossier.pages.parts import geometry, running_gear
from dossier.pages.parts.cautions import cautions_for
from dossier.pages.parts.findings import Line, Side, findings, line, photo_ids
from dossier.pages.parts.fitted import fitted_table
from dossier.pages.parts.logs.drawn import log_sections
from dossier.pages.parts.measured import tags_of
from dossier.pages.parts.numbers import capital
from dossier.pages.parts.pictures import photos_of, plates
from dossier.pages.parts.tables import Sheet

LOADS = (
    line("axle_load_front", title="Load on the front wheel"), line("axle_load_rear", title="Load on the rear wheel"),
    line("front_weight_share"), line("centre_of_gravity_behind_front"),
)  # fmt: skip
WHOLE = (
    line("mass"), line("rider_mass"), line("weighing_difference"), line("weighing_difference_with_rider"), line("centre_of_gravity_height"),
    line("centre_of_gravity_height_share"),
)  # fmt: skip
SPRINGS = (
    line("fork_spring_rate", "rear_spring_rate", title="Spring rate, each"), line("tested_spring_rate"),
    line("fork_springs", "rear_springs", title="Springs"), line("", "rear_motion_ratio", title="Motion ratio"),
    line("front_wheel_rate", "rear_wheel_rate", title="Wheel rate"), line("fork_travel", "rear_travel", title="Wheel travel"),
    line("fork_free_sag", "rear_free_sag", title="Free sag"), line("fork_rider_sag", "rear_rider_sag", title="Sag, rider up"),
    line("front_rider_sag", "rear_rider_sag_share", title="Sag, rider up, of the travel"),
    line("front_bounce_frequency", "rear_bounce_frequency", title="Bounce frequency"),
)  # fmt: skip
WHEELS = (
    line("rim_runout", title="Runout of the rim, radial", tags=("radial",)),
    line("rim_runout", title="Runout of the rim, sideways", tags=("lateral",)), line("largest_rim_runout"),
)  # fmt: skip
FRONT_REAR = (Side("Front", "front"), Side("Rear", "rear"))


@page("chassis", order=90)
def chassis(edition: Edition) -> Page | None:
    """Everything measured and worked out of the chassis; none where there is nothing of it."""
    sheet, used = Sheet(), set[str]()
    geometry.geometry_section(edition, sheet)
    _loads(edition, sheet)
    _section(edition, sheet, used, "Springs and sag", findings(edition, "Springs, front and rear", SPRINGS, FRONT_REAR), SPRINGS)
    wheels = [running_gear.wheels_table(edition), findings(edition, "Wheels as trued", WHEELS, FRONT_REAR)]
    _section(edition, sheet, used, "Wheels", "\n".join(filter(None, wheels)), WHEELS)
    _section(edition, sheet, used, "Tyres", running_gear.tyres_table(edition))
    _section(edition, sheet, used, "Brakes", running_gear.brakes(edition), running_gear.DRUMS)
    _section(edition, sheet, used, "What is fitted", fitted_table(edition, ("cycle", "chassis"), "Declared and fitted, cycle parts"))
    log_sections(edition, sheet, "chassis")
    if not sheet.sections:
        return None
    cycle = [part.id for part in edition.build.parts.parts if part.group in ("cycle", "chassis")]
    sheet.add(plates(edition, [photo.id for id in cycle for photo in photos_of(edition, id)], used))
    sheet.section("Cautions")
    sheet.add(cautions_for("chassis"))
    lead = "How the machine stands, what it weighs on each wheel, how it is sprung, and what its wheels and brakes measured."
    return Page("chassis", "Chassis", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _section(edition: Edition, sheet: Sheet, used: set[str], title: str, shown: str, lines: Sequence[Line] = ()) -> None:
    if shown:
        sheet.section(title)
        sheet.add(shown, plates(edition, photo_ids(edition, lines, FRONT_REAR), used))


def _loads(edition: Edition, sheet: Sheet) -> None:
    states = tags_of(edition, "state", "axle_load_front", "front_weight_share")
    sides = [Side("Machine"), *(Side(capital(state), state) for state in states)]
    blocks = [findings(edition, "Loads on the wheels", LOADS, sides), findings(edition, "Mass and centre of gravity", WHOLE)]
    if any(blocks):
        sheet.section("Loads and centre of gravity", "loads")
        sheet.add(*blocks)
