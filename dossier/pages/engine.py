"""Engine: capacity and class, cylinders, compression, timing, valves, breathing, balance, condition and power, each number with its door."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.pages.page import Page, page
from dossier.pages.parts import bores, dyno_runs, timing
from dossier.pages.parts.cautions import cautions_for
from dossier.pages.parts.findings import Line, Side, findings, line, photo_ids
from dossier.pages.parts.links import linked
from dossier.pages.parts.logs.drawn import log_sections
from dossier.pages.parts.measured import tags_of
from dossier.pages.parts.numbers import capital, day, door, esc, written
from dossier.pages.parts.pictures import plates
from dossier.pages.parts.tables import Sheet

CAPACITY = (
    line("swept_volume"), line("swept_volume_deviation"), line("headroom"), line("bore_limit"), line("oversize_volume"), line("stroke"),
    line("rod_length"), line("bore_stroke_ratio"), line("rod_ratio"),
)  # fmt: skip
CYLINDERS = (
    line("bore", title="Bore, mean of the readings"), line("bore_ovality"), line("bore_taper"), line("piston_diameter"),
    line("piston_clearance"), line("piston_clearance_share"), line("ring_gap"), line("ring_gap_use"), line("liner_wall"),
    line("oversizes_in_liner"), line("oversizes_left"),
)  # fmt: skip
COMPRESSION = (
    line("clearance_volume"), line("chamber_change"), line("compression_ratio"), line("trapped_compression_ratio"),
    line("effective_compression_ratio"), line("squish_clearance"), line("squish_gap"), line("squish_area_ratio"),
    line("highest_squish_speed"), line("crankcase_compression_ratio"), line("gasket_thickness"),
)  # fmt: skip
VALVES = (
    line("inlet_valve_head"), line("exhaust_valve_head"), line("inlet_lift"), line("exhaust_lift"), line("inlet_lift_ratio"),
    line("exhaust_lift_ratio"), line("valve_area_ratio"), line("curtain_area"), line("inlet_valve_to_piston"),
    line("exhaust_valve_to_piston"),
)  # fmt: skip
SPRINGS = (
    line("valve_spring_free", title="Free length"), line("valve_spring_fitted", title="Fitted length"),
    line("valve_spring_rate", title="Rate"), line("valve_spring_bound", title="Length with the coils bound"),
    line("inlet_spring_seat_force", "exhaust_spring_seat_force", title="Force on the seat"),
    line("inlet_spring_open_force", "exhaust_spring_open_force", title="Force at full lift"),
    line("inlet_coil_bind_margin", "exhaust_coil_bind_margin", title="Room before the coils bind"),
)  # fmt: skip
BREATHING = (line("carburettor_choke"), line("choke_area_gain"), line("choke_gas_speed"), line("valve_gas_speed"), line("inlet_mach_index"))
IGNITION = (line("ignition_advance"), line("ignition_advance_travel"), line("ignition_travel"), line("ignition_angle"))
MOTION = (
    line("mean_piston_speed"), line("mean_piston_speed_at_power"), line("corrected_piston_speed"), line("highest_piston_speed"),
    line("highest_piston_acceleration"), line("flutter_limit"), line("ring_flutter_use"), line("inertia_force"), line("sound_test_speed"),
)  # fmt: skip
BALANCE = (
    line("piston_assembly_mass"), line("rod_small_end_mass"), line("rod_big_end_mass"), line("reciprocating_mass"), line("balance_factor"),
    line("balance_factor_found"), line("balance_factor_uncorrected"), line("bob_weight"), line("balance_metal_removed"),
    line("residual_primary_force"), line("rotor_mass"), line("permissible_unbalance"), line("permissible_unbalance_per_plane"),
    line("unbalance_use"), line("balance_grade_reached"), line("largest_crank_runout"),
)  # fmt: skip
RUNOUT, UNBALANCE = line("crank_runout", title="Runout"), line("residual_unbalance", title="Residual unbalance")
CONDITION = (line("compression_pressure"), line("compression_spread"), line("leak_down"))
FUEL = (line("premix_oil"),)


@page("engine", order=70)
def engine(edition: Edition) -> Page | None:
    """Everything measured and worked out of the engine; none where there is nothing of it."""
    sheet, used = Sheet(), set[str]()
    cylinders = _cylinders(edition)
    single = [Side("Declared", role="declared"), Side("As built")]
    each = [Side("Declared", role="declared"), *cylinders]
    donor = [Side("Donor", role="donor"), Side("As built")]
    _section(edition, sheet, used, "Capacity and class", "Capacity, as declared and as built", CAPACITY, single, _class_words(edition))
    readings = bores.bore_tables(edition)
    _section(edition, sheet, used, "Cylinders", "Cylinders, pistons and rings", CYLINDERS, each, _oversize_words(edition), readings)
    _section(edition, sheet, used, "Compression", "Clearance volume, compression and squish", COMPRESSION, each)
    _timing(edition, sheet, used, each)
    _section(edition, sheet, used, "Valves", "Valve heads, lift and room to the piston", VALVES, each)
    springs = [Side("Inlet", "inlet"), Side("Exhaust", "exhaust")]
    _section(edition, sheet, used, "Valve springs", "Valve springs", SPRINGS, springs)
    breathing = [Side("Donor", role="donor"), *each]
    _section(edition, sheet, used, "Breathing", "Carburettors and gas speed", BREATHING, breathing)
    _section(edition, sheet, used, "Ignition", "Full advance before top dead centre", IGNITION, single)
    _section(edition, sheet, used, "Piston speed and rings", "At the limit of engine speed unless it says otherwise", MOTION, single)
    _section(
        edition,
        sheet,
        used,
        "Crankshaft and balance",
        "Masses of one cylinder and what balances them",
        BALANCE,
        donor,
        after=_planes(edition),
    )
    _section(edition, sheet, used, "Condition", "Compression and leak-down, warm", CONDITION, cylinders)
    _section(edition, sheet, used, "Fuel", "Mixture", FUEL, single)
    sheet.add(*dyno_runs.power(edition, sheet))
    log_sections(edition, sheet, "engine")
    if not sheet.sections:
        return None
    sheet.section("Cautions")
    sheet.add(cautions_for("engine"))
    lead = "What was measured of the engine and what follows from it. Each number that was worked out leads to its working."
    return Page("engine", "Engine", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _cylinders(edition: Edition) -> list[Side]:
    names = edition.build.machine.engine.cylinder_names
    tags = list(names) or tags_of(edition, "cylinder", "bore", "compression_ratio", "piston_clearance")
    return [Side(capital(tag), tag, shared=True) for tag in tags] or [Side("As built")]


def _section(
    edition: Edition, sheet: Sheet, used: set[str], title: str, caption: str, lines: tuple[Line, ...], sides: list[Side],
    says: str = "", before: str = "", after: str = "",
) -> None:  # fmt: skip
    """One section: table, words and photographs; nothing where there is no table."""
    shown = findings(edition, caption, lines, sides)
    if not (shown or before or after):
        return
    sheet.section(title)
    sheet.add(before, shown, after)
    if says:
        sheet.say(says, "after")
    sheet.add(plates(edition, photo_ids(edition, lines, sides), used))


def _planes(edition: Edition) -> str:
    """Residual unbalance by plane, and runout by end of the crankshaft: each has names of its own."""
    out = []
    for one, caption in ((RUNOUT, "Crankshaft runout between centres"), (UNBALANCE, "Unbalance left in the crankshaft")):
        sides = [Side(capital(tag), tag) for tag in tags_of(edition, "plane", *one.names)]
        out.append(findings(edition, caption, [one], sides) if sides else "")
    return "\n".join(filter(None, out))


def _timing(edition: Edition, sheet: Sheet, used: set[str], sides: list[Side]) -> None:
    drawing = timing.timing_figure(edition)
    lines = timing.LINES
    shown = findings(edition, timing.caption(edition), lines, sides)
    if not (drawing or shown):
        return
    sheet.section("Port timing" if edition.build.machine.engine.strokes == "2" else "Valve timing", "timing")
    sheet.add(drawing, shown, plates(edition, [*photo_ids(edition, lines, sides), *timing.photos(edition)], used))


def _class_words(edition: Edition) -> str:
    rule = edition.build.machine.class_rule
    if rule is None:
        return ""
    allowance = f", overbore allowance {written(rule.overbore_allowance)}" if rule.overbore_allowance is not None else ""
    book = f"{linked(edition, rule.rule_book)}, " if rule.rule_book else ""
    said = f"Class limit {written(rule.limit)}{allowance}: {esc(rule.club)}, {book}looked at {day(rule.checked)}."
    return f"{said} The club’s own measuring and its current rule book decide."


def _oversize_words(edition: Edition) -> str:
    left = [one for one in edition.figures("oversizes_left") if one.value is not None]
    volume = edition.figure("oversize_volume")
    if not left or any(one.value for one in left) or volume is None or volume.value is None:
        return ""
    return f"<b>No oversize is left in the class:</b> the first would give {door(volume)}. New liners, not a rebore."
