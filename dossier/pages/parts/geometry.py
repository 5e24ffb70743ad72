"""Steering geometry: the outline to scale, and the same machine with what a what-if question puts in its place."""

from __future__ import annotations

from dossier.model.edition import Edition
from dossier.model.results import Worked
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.findings import findings, line
from dossier.pages.parts.links import linked
from dossier.pages.parts.measured import value_of
from dossier.pages.parts.numbers import capital, door, esc, figure_value, number, unit_text, written
from dossier.pages.parts.plots import geometry as drawn
from dossier.pages.parts.tables import Column, Row, Sheet, table

LINES = (
    line("wheelbase"), line("rake"), line("trail"), line("normal_trail"), line("fork_offset"), line("front_wheel_radius"),
    line("rear_wheel_radius"), line("rake_in_use"), line("wheelbase_in_use"), line("rake_change"), line("trail_change"),
)  # fmt: skip


def geometry_section(edition: Edition, sheet: Sheet) -> None:
    """Outline, table, and one table for each what-if question that changes the chassis; nothing where nothing is known."""
    shown = findings(edition, "Geometry as built, on the wheels fitted", LINES)
    drawing = _outline(edition)
    if not (shown or drawing):
        return
    sheet.section("Geometry", "geometry")
    sheet.add(drawing, shown)
    for block in edition.build.measurements.what_if:
        changed = [one for one in _changes(edition, block.id) if one.subject == "chassis" and one.value is not None]
        if not changed:
            continue
        sheet.section(f"What if: {block.title}", block.id)
        instead = "; ".join(f"{esc(capital(e.what.replace('_', ' ')))} {written(e.quantities[0])}" for e in block.instead if e.quantities)
        why = f" {capital(linked(edition, block.why))}." if block.why else ""
        sheet.say(f"{instead} instead.{why} A question, not a setting: nothing declared or measured is touched by it.")
        sheet.add(_what_if_table(edition, block.title, changed))


def _changes(edition: Edition, id: str) -> tuple[Worked, ...]:
    return next((changed for name, changed in edition.what_if if name == id), ())


def _what_if_table(edition: Edition, title: str, changed: list[Worked]) -> str:
    columns = [
        Column("Quantity"),
        Column("As built", "num"),
        Column("What if", "num"),
        Column("Change", "num"),
        Column("Remark", "c-judged"),
    ]
    rows = []
    for one in changed:
        built = edition.figure(one.name, *(tag for _, tag in one.tags))
        change = "–"
        if built is not None and built.value is not None and one.value is not None:
            difference = one.value - built.value
            change = f"{'+' if difference > 0 else ''}{number(difference, one.decimals)}{unit_text(one.unit)}"
        warned = "<br>".join(f"<b>{esc(capital(warning.text))}</b>" for warning in one.warnings)
        tags = ", ".join(tag for _, tag in one.tags)
        name = f"{esc(one.title)}{f', {esc(tags)}' if tags else ''}"
        rows.append(Row([name, door(built), figure_value(one), change, warned]))
    return table(f"With {title}", columns, rows, css="findings")


def _outline(edition: Edition) -> str:
    built = _stance(edition, {})
    if built is None:
        return ""
    other, name = None, ""
    for block in edition.build.measurements.what_if:
        swapped = {
            entry.what: entry.quantities[0].to("mm") for entry in block.instead if entry.what.endswith("_radius") and entry.quantities
        }
        other = _stance(edition, swapped, _changes(edition, block.id)) if swapped else None
        if other is not None:
            name = block.title
            break
    outline = drawn.GeometryOutline(built, other, other_name=name or "other wheel")
    words = "Drawn to scale, as built. " + (f"Broken: with {esc(name)}. " if other else "")
    words += "The detail shows the ground under the front wheel, enlarged."
    return plot_figure(drawn.geometry_outline(outline, stamp(edition)), words)


def _stance(edition: Edition, instead: dict[str, float], changed: tuple[Worked, ...] = ()) -> drawn.Stance | None:
    """How the machine stands, from the figures, or from those that a what-if question changes and the sizes it puts in."""

    def known(figure: str, quantity: str) -> float | None:
        other = next((one.value for one in changed if one.name == figure and not one.tags), None)
        worked = edition.figure(figure)
        return other or (worked.value if worked is not None and worked.value is not None else _size(edition, quantity))

    sizes = [instead.get(name) or _size(edition, name) for name in ("front_wheel_radius", "rear_wheel_radius")]
    wheelbase, rake, trail = known("wheelbase_in_use", "wheelbase"), known("rake_in_use", "rake"), known("trail", "trail")
    if wheelbase is None or rake is None or trail is None or sizes[0] is None or sizes[1] is None:
        return None
    return drawn.Stance(wheelbase, rake, trail, sizes[0], sizes[1]) if 0 < rake < 60 else None


def _size(edition: Edition, name: str) -> float | None:
    """A length in mm or an angle in degrees, as it was written down."""
    value = value_of(edition, name)
    if value is not None and value.unit in ("mm", "°"):
        return value.shown
    return None
