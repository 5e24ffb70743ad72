"""Slip from the data logs: engine speed that the wheel accounts for against engine speed logged, before and after a cure."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.results import Worked
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.gearing import final_words, ordinal
from dossier.pages.parts.links import link, linked
from dossier.pages.parts.numbers import day, door, number
from dossier.pages.parts.plots import slip as drawn
from dossier.pages.parts.tables import Column, Row, Sheet, table

READ_SO = (
    "<b>How slip is read.</b> Clutch slip grows with the throttle and vanishes at part throttle. Slip and growth of the tyre are a small, "
    "steady share in every gear. A wrong sprocket or circumference shifts every gear alike. Common practice, no source."
)


def slip_section(edition: Edition, sheet: Sheet) -> None:
    """The bars, their table, what was done about it, and how slip is read; nothing where no log gives any."""
    found = sorted((one for one in edition.figures("slip") if one.value is not None), key=lambda one: _order(edition, one))
    found = _telling(found)
    rows = [(one, speed, rpm) for one in found if (speed := _input(one, "logged_speed")) and (rpm := _input(one, "logged_rpm"))]
    if not rows:
        return
    words = _before_after(edition, [one for one, _, _ in rows])
    sheet.section("Slip, before and after" if "Before" in words else "Slip from the log", "slip")
    bars = drawn.SlipBars(tuple(_bar(edition, one, speed, rpm, word) for (one, speed, rpm), word in zip(rows, words, strict=True)))
    sheet.add(plot_figure(drawn.slip_bars(bars, stamp(edition)), " ".join([drawn.KEY, *_cures(edition, found)])))
    sheet.add(_table(edition, rows))
    sheet.say(READ_SO, "after")


def _telling(found: list[Worked]) -> list[Worked]:
    """The slips of the gear that slips most in any session, before and after; the other gears stand in the table of the logs."""
    most = max(found, key=lambda one: one.value or 0.0, default=None)
    gear = dict(most.tags).get("gear") if most is not None else None
    return [one for one in found if dict(one.tags).get("gear") == gear]


def _order(edition: Edition, one: Worked) -> tuple[str, str]:
    session = dict(one.tags).get("session", "")
    return next((str(known.date) for known in edition.build.running.sessions if known.id == session), ""), one.id


def _input(one: Worked, name: str) -> float:
    return next((shown for used in one.inputs for value, shown in zip(used.values, used.shown, strict=True) if value.name == name), 0.0)


def _before_after(edition: Edition, found: list[Worked]) -> list[str]:
    """`Before` for a session at which a snag was found, `After` for one that proved a cure, where there is one of each."""
    sessions = [dict(one.tags).get("session", "") for one in found]
    for snag in edition.build.running.snags:
        if snag.where in sessions and snag.verified_on in sessions and snag.where != snag.verified_on:
            return ["Before" if one == snag.where else "After" if one == snag.verified_on else "" for one in sessions]
    return ["" for _ in sessions]


def _bar(edition: Edition, one: Worked, speed: float, rpm: float, word: str) -> drawn.SlipRow:
    tags = dict(one.tags)
    gear, final = ordinal(tags.get("gear", "")), final_words(edition, tags.get("final", ""))
    label = ", ".join(filter(None, [word, tags.get("session", "")]))
    return drawn.SlipRow(label, f"{number(speed, 1)} km/h in {gear}, {final}", _accounted(one, rpm), rpm, one.value or 0.0)


def _accounted(one: Worked, rpm: float) -> float:
    """Engine speed that the road speed asks for: what is left of the logged one without the slip."""
    return rpm * (1 - (one.value or 0.0) / 100)


def _table(edition: Edition, rows: list[tuple[Worked, float, float]]) -> str:
    columns = [
        Column("Session"), Column("Gear and final drive", "c-why", "Gear"), Column("Road speed, km/h", "num", "Km/h"),
        Column("Wheel accounts for", "num", "Accounted"), Column("Logged, rev/min", "num", "Logged"), Column("Slip", "num"),
    ]  # fmt: skip
    out = []
    for one, speed, rpm in rows:
        tags = dict(one.tags)
        session = next((known for known in edition.build.running.sessions if known.id == tags.get("session")), None)
        when = f", {day(session.date)}" if session else ""
        name = f"{link(edition, tags.get('session', ''))}{when}"
        gear = ", ".join(filter(None, [ordinal(tags.get("gear", "")), final_words(edition, tags.get("final", ""))]))
        out.append(Row([name, gear, number(speed, 1), number(_accounted(one, rpm)), number(rpm), door(one)]))
    return table("The gear that slips most, full throttle, steady", columns, out, css="findings")


def _cures(edition: Edition, found: list[Worked]) -> list[str]:
    """The snags that lie between two logs, with cause, cure and agreement, as HTML."""
    sessions = {dict(one.tags).get("session", "") for one in found}
    some = [snag for snag in edition.build.running.snags if snag.where in sessions and snag.verified_on in sessions]
    out = []
    for snag in some:
        cause = linked(edition, snag.cause) if snag.cause else linked(edition, snag.symptom)
        agreed = f", under {link(edition, snag.concession)}" if snag.concession else ""
        out.append(f"{link(edition, snag.id)}: {cause}; cured by {linked(edition, snag.action)}{agreed}.")
    return out
