"""Parts and origin: what is old metal and what is new, on what that rests, what fits what, and what goes together."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.parts import ORIGINS, Interchange, Part
from dossier.model.results import Worked
from dossier.pages.page import Page, page
from dossier.pages.parts import pictures
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.left_out import left_out
from dossier.pages.parts.links import ids, link, linked
from dossier.pages.parts.numbers import capital, counted, day, door, esc, limits_text, written
from dossier.pages.parts.tables import Column, Row, Sheet, table

BY = (
    ("origin_count_share", "By count"),
    ("origin_mass_share", "By itemised mass"),
    ("origin_mass_share_of_machine", "Of the whole machine"),
)


@page("parts", order=50)
def parts(edition: Edition) -> Page | None:
    """Origin shares, the parts list by assembly, pairs, interchange; none without a part."""
    records = edition.build.parts
    if not records.parts:
        return None
    sheet = Sheet()
    _origin(edition, sheet)
    for group in dict.fromkeys(part.group for part in records.parts):
        some = [part for part in records.parts if part.group == group]
        sheet.section(capital(group), f"group-{group.replace(' ', '-')}")
        sheet.add(_list(edition, group, some))
    found = pictures.pairs(edition, edition.build.photos.photos)
    if found:
        sheet.section("Before and after", "pairs")
        sheet.add(*found)
    _interchange(edition, sheet)
    _bought(edition, sheet)
    hidden = left_out(edition, "parts")
    shown = capital(counted(len(records.parts), "part")) + (f" shown, {hidden}" if hidden else "")
    rests = " and on what that rests" if any(part.basis for part in records.parts) else ""
    lead = f"{shown}: where each came from{rests}; what was refused stands with the snags."
    return Page("parts", "Parts and origin", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _share(edition: Edition, name: str, origin: str) -> Worked | None:
    return next((one for one in edition.figures(name) if dict(one.tags).get("origin") == origin and one.value is not None), None)


def _origin(edition: Edition, sheet: Sheet) -> None:
    from dossier.pages.parts.plots.origin import OriginBar, OriginBars, origin_bars

    there = [(name, title) for name, title in BY if edition.figures(name)]
    if not there:
        return
    sheet.section("Origin of the metal", "origin")
    bars = []
    for name, title in there:
        found = [_share(edition, name, origin) for origin in ORIGINS]
        bars.append(OriginBar(title, tuple((one.value or 0.0) if one else 0.0 for one in found)))
    sheet.add(
        plot_figure(
            origin_bars(OriginBars(ORIGINS, tuple(bars)), stamp(edition)),
            "The same classes in the same order in each bar; unknown is always shown. Authenticity is not conformity: a machine can match "
            "in every item and hold no period part.",
        )
    )
    columns = [Column("Origin"), *(Column(title, "num") for _, title in there), Column("Parts", "c-why")]
    rows = []
    for origin in ORIGINS:
        some = [part.id for part in edition.build.parts.parts if part.origin == origin]
        rows.append(
            Row([esc(capital(origin)), *(door(_share(edition, name, origin)) for name, _ in there), ids(edition, tuple(some)) or "none"])
        )
    sheet.add(table("Origin classes, each with its share", columns, rows, css="origin"))
    reference = [part for part in edition.build.parts.parts if part.origin == ORIGINS[0]]
    said = (
        "No part of the reference machine is in it."
        if not reference
        else f"From the reference machine: {ids(edition, tuple(p.id for p in reference))}."
    )
    sheet.say(f"<b>{said}</b>", "after")


def _list(edition: Edition, group: str, some: list[Part]) -> str:
    origin = "Origin and its basis" if any(part.basis for part in some) else "Origin"
    columns = [
        Column("No.", "c-no"), Column("Part"), Column(origin, "c-why", "Origin"), Column("What was done", "c-why", "Done"),
        Column("Meets", "c-ev"),
    ]  # fmt: skip
    return table(f"{capital(group)}, {counted(len(some), 'part')}", columns, [_row(edition, part) for part in some], css="partlist")


def _row(edition: Edition, part: Part) -> Row:
    many = f", {part.count} off" if part.count > 1 else ""
    facts = [
        part.makers_mark and f"marked {part.makers_mark}",
        part.material,
        part.donor and f"donor: {part.donor}",
        part.location,
        part.note,
    ]
    small = "; ".join(linked(edition, fact) for fact in facts if fact)
    name = f"{esc(part.name)}{many}" + (f'<br><span class="quiet">{small}</span>' if small else "")
    basis = f'<br><span class="quiet">{linked(edition, part.basis)}</span>' if part.basis else ""
    operations = [one for one in edition.build.work.operations if one.part == part.id]
    done = [f"{link(edition, one.id)} {esc(one.kind)}" for one in operations]
    done += [esc(one.what) + (f", {day(one.on, short=True)}" if one.on else "") for one in part.rework]
    photos = pictures.photos_of(edition, part.id)
    done += [f"photographs {', '.join(link(edition, photo.id) for photo in photos)}"] if photos else []
    return Row([part.id, name, esc(capital(part.origin)) + basis, "<br>".join(done), ids(edition, part.meets)], id=part.id)


def _interchange(edition: Edition, sheet: Sheet) -> None:
    records = edition.build.parts
    if records.interchange:
        sheet.section("What fits what", "interchange")
        columns = [
            Column("No.", "c-no"), Column("Holder"), Column("Accepts", "c-why"), Column("Refuses", "c-why"),
            Column("Checked", "c-why"), Column("Found", "c-verdict"),
        ]  # fmt: skip
        rows = [
            Row([one.id, esc(one.holder), linked(edition, one.accepts), linked(edition, one.refuses), _checked(one), fits(one)], id=one.id)
            for one in records.interchange
        ]
        sheet.add(table("Interchange: what each holder takes and what it does not", columns, rows))
    if records.matched_sets:
        sheet.section("Matched sets", "sets")
        columns = [Column("No.", "c-no"), Column("What belongs together"), Column("Parts", "c-ev"), Column("Complete", "c-why")]
        rows = [
            Row([one.id, esc(one.what), ids(edition, one.parts), "yes" if one.complete else "<b>broken</b>"], id=one.id)
            for one in records.matched_sets
        ]
        sheet.add(table("Parts that belong together", columns, rows))
    if records.spares:
        sheet.section("Spares handed over", "spares")
        columns = [Column("What"), Column("Condition", "c-why"), Column("Fits", "c-why")]
        rows = [Row([esc(one.what or ""), esc(one.condition or ""), esc(one.fits or "")]) for one in records.spares]
        sheet.add(table("Spares", columns, rows))


def _checked(one: Interchange) -> str:
    reading = f"{written(one.reading)}" if one.reading else ""
    allowed = f"allowed {limits_text(one.allowed)} {esc(one.allowed.unit.sign)}" if one.allowed else ""
    return "<br>".join(filter(None, [esc(one.checked or ""), reading, f'<span class="quiet">{allowed}</span>' if allowed else ""]))


def fits(one: Interchange) -> str:
    """Whether it fits, decided like any reading against its limits where there is a number, else as it was found."""
    if one.reading is not None and one.allowed is not None:
        low, high = one.allowed.si
        value, u = one.reading.si, one.reading.u_si or 0.0
        slack = 1e-9 * abs(value)
        inside = (low is None or value - u >= low - slack) and (high is None or value + u <= high + slack)
        outside = (low is not None and value + u < low) or (high is not None and value - u > high)
        return "fits" if inside else "<b>does not fit</b>" if outside else "<b>cannot be decided</b>"
    return "not checked" if one.fits is None else "fits" if one.fits else "<b>does not fit</b>"


def _bought(edition: Edition, sheet: Sheet) -> None:
    some = [part for part in edition.build.parts.parts if part.supplier or part.price or part.invoice]
    if not some:
        return
    sheet.section("Purchases", "purchases")
    names = {one.id: one.name for one in edition.build.parts.suppliers}
    columns = [
        Column("No.", "c-no"),
        Column("Part"),
        Column("Supplier", "c-why"),
        Column("Price", "num"),
        Column("Invoice", "c-why"),
        Column("Arrived", "c-dec"),
    ]
    rows = []
    for part in some:
        name = f"<br><span class='quiet'>{esc(names[part.supplier] or '')}</span>" if part.supplier in names else ""
        arrived = day(part.arrived, short=True) if part.arrived else ""
        rows.append(
            Row(
                [
                    link(edition, part.id),
                    esc(part.name),
                    esc(part.supplier or "") + name,
                    esc(part.price or ""),
                    esc(part.invoice or ""),
                    arrived,
                ]
            )
        )
    sheet.add(table("What was bought, as far as this edition may show it", columns, rows))
