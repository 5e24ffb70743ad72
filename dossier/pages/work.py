"""Work record: operations and tests with their criteria, the torque log, what is secured, and the instruments with their calibration."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.work import Operation, Torque
from dossier.model.forms.workshop import Instrument
from dossier.pages.page import Page, page
from dossier.pages.parts import pictures
from dossier.pages.parts.cautions import cautions_for
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.links import link, linked
from dossier.pages.parts.logs.drawn import log_sections
from dossier.pages.parts.numbers import capital, day, esc, limits_text, written
from dossier.pages.parts.tables import Column, Row, Sheet, particulars, table


@page("work", order=100)
def work(edition: Edition) -> Page | None:
    """What was done and how it was measured; none without an operation, a torque or an instrument used."""
    record = edition.build.work
    if not (record.operations or record.torque_log or record.secured):
        return None
    sheet = Sheet()
    _timeline(edition, sheet)
    if record.operations:
        sheet.section("Operations and tests", "operations")
        sheet.say(
            "An acceptance criterion stands apart from the test standard, which may give none. A test says how it was done and what was found."
        )
        for one in sorted(record.operations, key=lambda found: (found.date, found.id)):
            sheet.add(_operation(edition, one))
    if record.torque_log:
        sheet.section("Torque log", "torques")
        sheet.add(_torques(edition))
    if record.secured:
        sheet.section("Lock-wire and security map", "secured")
        columns = [Column("What"), Column("How it is secured", "c-why", "How"), Column("Remark", "c-why")]
        sheet.add(
            table(
                "What is wired, pinned or tabbed",
                columns,
                [Row([esc(one.what), esc(one.how), esc(one.note or "")]) for one in record.secured],
            )
        )
    _safety_map(edition, sheet)
    _instruments(edition, sheet)
    log_sections(edition, sheet, "work")
    sheet.section("Cautions")
    sheet.add(cautions_for("work"))
    lead = (
        "What was done, by whom, to what criterion, and with which instruments it was measured. A record of this build, not instructions."
    )
    return Page("work", "Work record", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _timeline(edition: Edition, sheet: Sheet) -> None:
    from dossier.pages.parts.plots.work_line import WorkEvent, WorkLane, WorkLine, work_line

    build = edition.build
    lanes = (
        WorkLane("Operations", tuple(WorkEvent(one.id, one.kind, one.date) for one in build.work.operations)),
        WorkLane("Running", tuple(WorkEvent(one.id, one.place, one.date) for one in build.running.sessions)),
        WorkLane(
            "Snags",
            tuple(WorkEvent(one.id, one.symptom, one.found, one.fixed, one.verified, one.open) for one in build.running.snags if one.found),
        ),
        WorkLane("Revisions", tuple(WorkEvent(one.rev, one.what, one.date) for one in build.custody.revisions)),
    )
    filled = tuple(lane for lane in lanes if lane.events)
    if sum(len(lane.events) for lane in filled) < 4:
        return
    sheet.section("The build in time", "time")
    drawings = work_line(WorkLine(filled), stamp(edition))
    sheet.add(
        plot_figure(drawings, "Operations, test days, snags and revisions by date; the sections below and their sheets hold every one.")
    )


def _operation(edition: Edition, one: Operation) -> str:
    rows = [
        ("Part", link(edition, one.part) + _part_name(edition, one.part) if one.part else ""),
        ("Method", linked(edition, one.method)),
        ("What", linked(edition, one.what)),
        ("Standard", esc(one.standard or "")),
        ("Acceptance", linked(edition, one.acceptance) or ("<b>not stated</b>" if one.kind in ("crack test", "proof load") else "")),
        ("Coating removed", "" if one.coating_removed is None else "yes" if one.coating_removed else "<b>no</b>"),
        ("Area covered", esc(one.area or "")),
        ("Load", esc(one.load or "")),
        ("Result", linked(edition, one.result)),
        ("Does not show", linked(edition, one.does_not_show)),
        ("Batch, colour", esc(", ".join(filter(None, [one.batch, one.colour])))),
        ("Thickness", written(one.thickness) if one.thickness else ""),
        ("Layers", esc(one.layers or "")),
        ("Reference sample", esc(one.reference_sample or "")),
        ("Masked", esc(one.masking or "")),
        ("From, to", esc(", ".join(filter(None, [one.from_to, one.datum and f"from {one.datum}"])))),
        ("Indications", linked(edition, one.indications)),
        ("By", ", ".join(esc(bit) for bit in (one.by, one.qualification) if bit)),
        ("On", esc(one.machine or "")),
        ("Drawing", linked(edition, one.drawing)),
        ("Certificate", linked(edition, one.certificate)),
        ("Next due", day(one.next_due) if one.next_due else ""),
        ("Hours", written(one.hours) if one.hours else ""),
        ("Remark", linked(edition, one.note)),
    ]
    shown = particulars(rows)
    photo = pictures.photo(edition, one.photo) or next(iter(pictures.photos_of(edition, one.id)), None)
    picture = pictures.figure(edition, photo) if photo else ""
    return (
        f'<section class="operation" id="{esc(one.id)}"><div><h3>{esc(one.id)} {esc(capital(one.kind))}, {day(one.date)}</h3>'
        f"{shown}</div>{picture}</section>"
    )


def _part_name(edition: Edition, id: str | None) -> str:
    return next((f" {esc(part.name)}" for part in edition.build.parts.parts if part.id == id), "")


def _torques(edition: Edition) -> str:
    columns = [
        Column("Joint"), Column("Thread", "c-dec"), Column("As tightened", "c-built", "Done"), Column("Lubricant, order", "c-why", "With"),
        Column("Locking", "c-why"), Column("Wrench", "c-ev"), Column("Date", "c-dec"),
    ]  # fmt: skip
    rows = [_torque(edition, one) for one in edition.build.work.torque_log]
    return table("Joints as they were tightened on this build. A record, not an instruction", columns, rows, css="torques")


def _torque(edition: Edition, one: Torque) -> Row:
    thread = f"{one.count} × {esc(one.thread)}" + (f", class {esc(one.strength_class)}" if one.strength_class else "")
    steps = "in steps " + ", ".join(written(step) for step in one.steps) if one.steps else ""
    stretch = "stretch " + ", ".join(written(each) for each in one.stretch) if one.stretch else ""
    wanted = f"wanted {limits_text(one.wanted)} {esc(one.wanted.unit.sign)}" if one.wanted else ""
    final = f"<b>{written(one.final)}</b>" if one.final else ""
    done = "<br>".join(filter(None, [final, steps, stretch, f'<span class="quiet">{wanted}</span>' if wanted else ""]))
    date = day(one.date, short=True) + (
        f"<br><span class='quiet'>rechecked {day(one.rechecked, short=True)}</span>" if one.rechecked else ""
    )
    lubricant = ", ".join(esc(bit) for bit in (one.lubricant, one.order) if bit)
    reused = f"<br><span class='quiet'>used {one.reused + 1} times</span>" if one.reused else ""
    return Row(
        [
            esc(capital(one.joint)),
            thread,
            done,
            lubricant or "not recorded",
            esc(one.locking or "none recorded") + reused,
            linked(edition, one.wrench),
            date,
        ]
    )


def _safety_map(edition: Edition, sheet: Sheet) -> None:
    one = edition.build.work.safety_map
    if one is None:
        return
    sheet.section("Safety map", "safety")
    snaps = "" if one.throttle_snaps_shut is None else "yes" if one.throttle_snaps_shut else "<b>no</b>"
    sheet.add(
        particulars(
            [
                ("Catch tank", written(one.catch_tank) if one.catch_tank else ""),
                ("Kill switch", esc(one.kill_switch or "")),
                ("Throttle snaps shut", snaps),
                ("Steering stops", esc(one.steering_stops or "")),
            ]
        )
    )


def _instruments(edition: Edition, sheet: Sheet) -> None:
    instruments = edition.build.workshop.instruments
    if not instruments:
        return
    sheet.section("Measured with", "instruments")
    columns = [
        Column("No.", "c-no"),
        Column("Instrument"),
        Column("U, k = 2", "num"),
        Column("Calibrated", "c-dec"),
        Column("Next", "c-dec"),
    ]
    rows = [
        Row(
            [
                one.id,
                esc(one.name),
                written(one.u),
                "<br>".join([day(one.calibrated) if one.calibrated else "not recorded", *_failures(one)]),
                day(one.next_calibration) if one.next_calibration else "–",
            ],
            id=one.id,
        )
        for one in instruments
    ]
    sheet.add(table("Instruments; U is that of the workshop’s method with it, not of its scale alone", columns, rows, css="instruments"))


def _failures(one: Instrument) -> list[str]:
    """Calibrations at which an instrument was found wrong: what was read with it before is to be looked at again."""
    failed = [each for each in one.calibrations if each.result == "failed"]
    return [f"<b>failed</b> {day(each.on)}" + (f", {esc(each.found)}" if each.found else "") for each in failed]
