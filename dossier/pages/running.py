"""Running and test days: engine hours, each session with its conditions, settings and what was found, and the dynamometer runs."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.running import Dyno, Session
from dossier.pages.page import Page, page
from dossier.pages.parts import pictures
from dossier.pages.parts.cautions import cautions_for
from dossier.pages.parts.links import link, linked
from dossier.pages.parts.logs.drawn import session_logs
from dossier.pages.parts.numbers import capital, counted, day, door, esc, lap_time, written
from dossier.pages.parts.sessions import sessions_table
from dossier.pages.parts.tables import Column, Row, Sheet, particulars, table


@page("running", order=120)
def running(edition: Edition) -> Page | None:
    """Every running of the engine; none where it never ran."""
    record = edition.build.running
    if not (record.run_log or record.sessions or record.dyno):
        return None
    sheet = Sheet()
    beside = sessions_table(edition)
    if beside:
        sheet.section("Test days side by side", "side-by-side")
        sheet.add(beside)
    for one in sorted(record.sessions, key=lambda found: found.date):
        sheet.add(_session(edition, sheet, one), session_logs(edition, one.id))
    if record.dyno:
        sheet.section("Dynamometer runs", "dyno")
        sheet.add(*(_run(edition, one) for one in record.dyno))
        sheet.say('The curves stand on <a href="engine.html">Engine</a>.')
    if record.run_log:
        sheet.section("Engine hours", "hours")
        sheet.add(_hours(edition))
    if record.storage:
        sheet.section("Laid up", "storage")
        columns = [
            Column("Since", "c-dec"),
            Column("Drained", "c-why"),
            Column("Fogged", "c-why"),
            Column("Turned over", "c-why"),
            Column("Battery", "c-why"),
        ]
        rows = [
            Row([day(one.since), _yes(one.drained), _yes(one.fogged), esc(one.turned_over or ""), esc(one.battery or "")])
            for one in record.storage
        ]
        sheet.add(table("How it was laid up", columns, rows))
    sheet.section("Cautions")
    sheet.add(cautions_for("running"))
    lead = f"{capital(counted(len(record.sessions), 'test day'))}, {counted(len(record.dyno), 'dynamometer run')} and every hour the engine has run."
    return Page("running", "Running and test days", sheet.html, lead=lead, sections=tuple(sheet.sections))


def _yes(value: bool | None) -> str:
    return "not recorded" if value is None else "yes" if value else "no"


def _session(edition: Edition, sheet: Sheet, one: Session) -> str:
    head = sheet.heading(f"{one.id}, {one.place}, {day(one.date)}", one.id)
    photo = pictures.photo(edition, one.photo) or next(iter(pictures.photos_of(edition, one.id)), None)
    words = particulars([*_conditions(edition, one), *_settings(edition, one), *_found(edition, one)])
    if photo is None:
        return f"{head}\n{words}"
    return f'{head}\n<div class="two wide"><section>{words}</section><section>{pictures.figure(edition, photo)}</section></div>'


def _conditions(edition: Edition, one: Session) -> list[tuple[str, str]]:
    air = " and ".join(written(found) for found in (one.air, one.pressure) if found)
    density = edition.figure("session_air_density", one.id)
    said = [
        f"air {air}" if air else "", f"track {written(one.track_temperature)}" if one.track_temperature else "", esc(one.track or ""),
        f"wind {esc(one.wind)}" if one.wind else "",
    ]  # fmt: skip
    return [
        ("Laps", _laps(edition, one)),
        ("Conditions", ", ".join(filter(None, said))),
        ("Humidity", written(one.humidity) if one.humidity else ""),
        ("Density of the air", door(density) if density is not None and density.value is not None else ""),
    ]


def _settings(edition: Edition, one: Session) -> list[tuple[str, str]]:
    tyres = [
        f"{wheel} {written(cold)}" + (f", hot {written(hot)}" if hot else "")
        for wheel, cold, hot in zip(("front", "rear"), one.tyres_cold, (*one.tyres_hot, *[None] * 2), strict=False)
    ]
    plugs = [esc(one.plugs or ""), esc(one.plug or ""), f"gap {written(one.plug_gap)}" if one.plug_gap else ""]
    return [
        ("Tyres", "; ".join(tyres)),
        ("Jets", " / ".join(map(esc, one.main_jets)) + (f", needle notch {one.needle_notch}" if one.needle_notch else "")),
        ("Final drive", _final(edition, one)),
        ("Highest speed of the engine", written(one.max_rpm) if one.max_rpm else ""),
        ("Carburation", _carburation(one)),
        ("Ignition", esc(one.ignition or "")),
        ("Plugs", "; ".join(filter(None, plugs))),
        ("Fuel and oil", "; ".join(esc(bit) for bit in (one.fuel, one.oil) if bit)),
        ("Fuel used", written(one.fuel_used) if one.fuel_used else ""),
        ("Rider", esc(one.rider or "")),
    ]


def _found(edition: Edition, one: Session) -> list[tuple[str, str]]:
    snags = edition.build.running.snags
    proved = [snag.id for snag in snags if one.id in (snag.verified_on, *(snag.verified_by or "").split())]
    return [
        ("The rider’s words", f"“{linked(edition, one.rider_says)}”" if one.rider_says else ""),
        ("Incidents", linked(edition, one.incidents)),
        ("Slip from the log", _slip(edition, one)),
        ("Found", ", ".join(link(edition, snag.id) for snag in snags if snag.where == one.id)),
        ("Proved", ", ".join(link(edition, id) for id in proved)),
    ]


def _carburation(one: Session) -> str:
    """What was set in the carburettors beside main jet and needle notch."""
    named = [("choke", one.choke), ("float height", one.float_height)]
    sizes = [f"{name} {written(size)}" for name, size in named if size is not None]
    words = [
        ("pilot", " / ".join(one.pilot_jets)),
        ("slide", one.slide),
        ("needle", one.needle),
        ("needle jet", one.needle_jet),
        ("air", one.air_correction),
    ]
    return "; ".join([*sizes, *(f"{name} {esc(word)}" for name, word in words if word)])


def _laps(edition: Edition, one: Session) -> str:
    speed, distance = edition.figure("best_lap_speed", one.id), edition.figure("session_distance", one.id)
    bits = [f"{one.laps} laps" if one.laps else "", f"of {written(one.lap)}" if one.lap else ""]
    bits.append(f"best {lap_time(one.best.si)}" + (f" ({door(speed)})" if speed else "") if one.best else "")
    bits.append(door(distance) if distance else "")
    return ", ".join(filter(None, [" ".join(filter(None, bits[:2])), *bits[2:]]))


def _final(edition: Edition, one: Session) -> str:
    if not one.final:
        return ""
    ratio = edition.figure("final_ratio", one.final)
    return esc(one.final) + (f", {door(ratio)}" if ratio else "")


def _slip(edition: Edition, one: Session) -> str:
    found = [figure for figure in edition.figures("slip") if dict(figure.tags).get("session") == one.id and figure.value is not None]
    found.sort(key=lambda figure: dict(figure.tags).get("gear", ""))
    return ", ".join(door(figure) + (f" in gear {esc(gear)}" if (gear := dict(figure.tags).get("gear")) else "") for figure in found)


def _run(edition: Edition, one: Dyno) -> str:
    figures = [(name, edition.figure(name, one.id)) for name in ("peak_power", "weather_factor", "corrected_peak_power")]
    power = {name: door(figure) for name, figure in figures if figure is not None}
    rows = [
        ("Where", f"at the {esc(one.at)}" + (f", {esc(one.machine)}" if one.machine else "")),
        ("Air", ", ".join(written(q) for q in (one.air, one.pressure) if q) + (f", vapour {written(one.vapour)}" if one.vapour else "")),
        ("Jets", " / ".join(map(esc, one.jets))),
        ("Fuel", esc(one.fuel or "")),
        ("Peak power", power.get("peak_power", "")),
        (
            "Corrected",
            f"{power['corrected_peak_power']}, factor {power.get('weather_factor', '–')} (ISO 1585 form)"
            if "corrected_peak_power" in power
            else "",
        ),
        ("Remark", linked(edition, one.note)),
    ]
    shown = particulars(rows)
    return f'<section id="{esc(one.id)}"><h3>{esc(one.id)}, {day(one.date)}</h3>{shown}</section>'


def _hours(edition: Edition) -> str:
    log = edition.build.running.run_log
    found = ["; ".join(esc(bit) for bit in (one.checks, one.found) if bit) for one in log]
    columns = [Column("Date", "c-dec"), Column("What"), Column("Hours", "num")]
    columns += [Column("Checked before, found after", "c-why", "Found")] if any(found) else []
    more = [[bit] if any(found) else [] for bit in found]
    rows = [
        Row([day(one.date, short=True), capital(linked(edition, one.what)), written(one.hours), *extra])
        for one, extra in zip(log, more, strict=True)
    ]
    total = edition.figure("running_hours")
    foot = ["In all", "", door(total), *([""] if any(found) else [])] if total else []
    return table("Run log", columns, rows, kind="plain", css="runs", foot=foot)
