"""Test days beside one another: laps against weather, tyre pressures, jets and final drive; and jets by the density of the air."""

from __future__ import annotations

from collections.abc import Sequence

from dossier.model.edition import Edition
from dossier.model.forms.running import Session
from dossier.model.quantity import Quantity
from dossier.model.results import Worked
from dossier.pages.parts.links import link
from dossier.pages.parts.numbers import day, door, esc, lap_time, number, unit_text, written
from dossier.pages.parts.tables import Column, Row, table

NONE = '<span class="none">–</span>'


def sessions_table(edition: Edition) -> str:
    """One row a test day in order of date; empty where there are fewer than two. Columns that nothing stands in are left out."""
    sessions = sorted(edition.build.running.sessions, key=lambda one: one.date)
    if len(sessions) < 2:
        return ""
    columns = (
        (Column("Air", "c-why"), _air), (Column("Density of the air", "num", "Density"), _density), (Column("Track", "c-why"), _track),
        (Column("Tyres cold, front / rear", "c-why", "Tyres cold"), lambda _, one: _pair(one.tyres_cold)),
        (Column("Tyres hot", "c-why"), lambda _, one: _pair(one.tyres_hot)), (Column("Main jets", "c-why"), lambda _, one: jets(one)),
        (Column("Final drive", "c-why"), lambda _, one: esc(one.final or "")), (Column("Best lap", "num"), _best),
        (Column("Median lap", "num"), _median), (Column("Fuel a lap", "num"), _fuel),
    )  # fmt: skip
    shown = [(column, [say(edition, one) for one in sessions]) for column, say in columns]
    shown = [(column, cells) for column, cells in shown if any(cells)]
    heads = [Column("Test day", "c-no"), *(column for column, _ in shown)]
    rows = [
        Row([f"{link(edition, one.id)}<br>{day(one.date, short=True)}", *(cells[n] or NONE for _, cells in shown)])
        for n, one in enumerate(sessions)
    ]
    caption = "Each test day with what was set and what the weather was; lap times of two circuits do not compare"
    return table(caption, heads, rows, kind="held", css="sessions")


def jets_by_density(edition: Edition) -> str:
    """Main jets with the relative densities of the air they ran in, densest first: `125 / 125: 101.3 %; 130 / 130: 97.3 to 99.1 %`; as HTML."""
    ran: dict[str, list[Worked]] = {}
    for one in edition.build.running.sessions:
        density = edition.figure("session_air_density", one.id)
        if one.main_jets and density is not None and density.value is not None:
            ran.setdefault(jets(one), []).append(density)
    said = []
    for some in sorted(ran, key=lambda name: -max(one.value or 0.0 for one in ran[name])):
        ends = list(dict.fromkeys(number(one.value or 0.0, one.decimals) for one in sorted(ran[some], key=lambda one: one.value or 0.0)))
        said.append(f"{some}: {' to '.join(dict.fromkeys([ends[0], ends[-1]]))}{unit_text(ran[some][0].unit)}")
    return "; ".join(said)


def jets(one: Session) -> str:
    """Main jets of a session: `130 / 130`."""
    return " / ".join(map(esc, one.main_jets))


def _air(edition: Edition, one: Session) -> str:
    return ", ".join(written(found) for found in (one.air, one.pressure) if found)


def _density(edition: Edition, one: Session) -> str:
    found = edition.figure("session_air_density", one.id)
    return door(found) if found is not None and found.value is not None else ""


def _track(edition: Edition, one: Session) -> str:
    return ", ".join(filter(None, [esc(one.track or ""), f"wind {esc(one.wind)}" if one.wind else ""]))


def _pair(pressures: Sequence[Quantity]) -> str:
    signs = list(dict.fromkeys(one.unit.sign for one in pressures))
    if len(signs) != 1:
        return ", ".join(map(written, pressures))
    return " / ".join(number(float(one.number), one.decimals) for one in pressures) + unit_text(signs[0])


def _best(edition: Edition, one: Session) -> str:
    return lap_time(float(one.best.si)) if one.best else ""


def _median(edition: Edition, one: Session) -> str:
    found = edition.figure("median_lap", one.id)
    return door(found) if found is not None and found.value is not None else ""


def _fuel(edition: Edition, one: Session) -> str:
    found = edition.figure("session_fuel_per_lap", one.id)
    return door(found) if found is not None and found.value is not None else written(one.fuel_used) if one.fuel_used else ""
