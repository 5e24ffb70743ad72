"""Wheels, tyres and brakes as they are on record, each with what was measured of it."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.forms.life import Brake
from dossier.pages.parts.findings import Side, findings, line
from dossier.pages.parts.links import linked
from dossier.pages.parts.numbers import capital, day, door, esc, written
from dossier.pages.parts.tables import Column, Row, particulars, table
from dossier.pages.parts.verdicts import concession_of, concession_words

DRUMS = (line("brake_drum_front", "brake_drum_rear", title="Drum diameter"),)


def wheels_table(edition: Edition) -> str:
    """Rim, spokes, hub and bearings of each wheel; empty where none is on record."""
    columns = [
        Column("Wheel"), Column("Rim", "c-why"), Column("Spokes", "c-dec"), Column("Lacing", "c-why"), Column("Hub", "c-why"),
        Column("Bearings", "c-why"),
    ]  # fmt: skip
    rows = [
        [capital(one.wheel), *(linked(edition, fact) for fact in (one.rim, str(one.spokes or ""), one.lacing, one.hub, one.bearings))]
        for one in edition.build.life.wheels
    ]
    kept = [n for n in range(len(columns)) if n == 0 or any(row[n] for row in rows)]
    cut = [Row([row[n] or "not recorded" for n in kept]) for row in rows]
    return table("Wheels as built", [columns[n] for n in kept], cut) if rows else ""


def tyres_table(edition: Edition) -> str:
    """Size, date code, age and cold pressure of each tyre; an undated tyre is said to be for display only."""
    columns = [Column("Tyre"), Column("Size", "c-why"), Column("Date code", "c-why"), Column("Age", "num"), Column("Cold", "num")]
    rows = []
    for one in edition.build.life.tyres:
        code = esc(one.dot) if one.dot else "<b>undated</b>: display only"
        age = next((door(figure) for figure in edition.figures("tyre_age") if one.wheel in dict(figure.tags).values()), "–")
        size = f"{esc(one.size)} {esc(one.marking or '')}".strip()
        rows.append(Row([capital(one.wheel), size, code, age, written(one.pressure_cold) if one.pressure_cold else "–"]))
    return table("Tyres as fitted; the code is week and year", columns, rows) if rows else ""


def brakes(edition: Edition) -> str:
    """Each brake with its lining, then what was measured of the drums, then what was agreed about them."""
    some = edition.build.life.brakes
    shown = [f"<h3>{capital(one.wheel)}</h3>{_brake(edition, one)}" if len(some) > 1 else _brake(edition, one) for one in some]
    shown.append(findings(edition, "Drums as measured", DRUMS, (Side("Front"), Side("Rear"))))
    shown.append(_states(edition))
    names = {name for one in DRUMS for name in one.names}
    for item in edition.build.specification.items:
        verdict = edition.verdict(item.id)
        concession = concession_of(edition, verdict) if verdict is not None and item.quantity in names else None
        if concession is not None:
            shown.append(f'<p class="after">{linked(edition, item.id)}, {esc(item.title)}. {concession_words(edition, concession)}</p>')
    return "\n".join(filter(None, shown))


def _states(edition: Edition) -> str:
    entries = [one for one in edition.build.measurements.as_built if one.what == "brake_drum_ovality"]
    wheels = list(dict.fromkeys(one.wheel or "" for one in entries))
    states = list(dict.fromkeys(one.state or "" for one in entries))
    lines = [line("brake_drum_ovality", title=f"Ovality of the drum, {wheel}", tags=(wheel,)) for wheel in wheels if wheel]
    lines = lines or [line("brake_drum_ovality", title="Ovality of the drum")]
    return findings(
        edition, "Drum before and after it was skimmed", lines, [Side(capital(s), s) for s in states if s] or [Side("As built")]
    )


def _brake(edition: Edition, one: Brake) -> str:
    lining = ", ".join(filter(None, [linked(edition, one.lining), f"asbestos: {one.asbestos}"]))
    return particulars(
        [
            ("Brake", linked(edition, one.type)),
            ("Lining", lining),
            ("Edges", linked(edition, one.edges)),
            ("Limit", linked(edition, one.wear_limit)),
            ("Bedded in", day(one.bedded) if one.bedded else "not recorded"),
            ("Cables or hoses renewed", day(one.cable_or_hose) if one.cable_or_hose else "not recorded"),
        ]
    )
