"""Gearing: the gear chart with both final drives, its table, the changes up, and what a lighter part is worth in each gear."""

from __future__ import annotations

from itertools import pairwise

from dossier.model.edition import Edition
from dossier.model.results import Worked
from dossier.pages.parts.charts import plot_figure, stamp
from dossier.pages.parts.links import link
from dossier.pages.parts.measured import tags_of, value_of
from dossier.pages.parts.numbers import capital, door, esc, number
from dossier.pages.parts.plots import gears as drawn
from dossier.pages.parts.tables import Column, Row, Sheet, table

KEY = (
    "Each level stroke is a change made at the engine speed of greatest power; it ends, at the open ring, where the next gear picks up. "
    "No slip is taken into account."
)
_ORDINALS = ("", "1st", "2nd", "3rd", "4th", "5th", "6th", "7th", "8th", "9th", "10th")
_WORDS = ("", "First", "Second", "Third", "Fourth", "Fifth", "Sixth", "Seventh", "Eighth", "Ninth", "Tenth")


def ordinal(gear: str, words: bool = False) -> str:
    """A gear as the trade says it: `6th`, or `Sixth`; other names stay as they are."""
    some = _WORDS if words else _ORDINALS
    return some[int(gear)] if gear.isdigit() and 0 < int(gear) < len(some) else gear


def finals(edition: Edition) -> list[str]:
    """Tags of the final drives, the one last run first; one empty tag where there is only one final drive without a name."""
    tags = tags_of(edition, "final", "road_speed", "overall_ratio", "final_ratio") or [""]
    run = [one.final for one in sorted(edition.build.running.sessions, key=lambda one: one.date) if one.final in tags]
    return sorted(tags, key=lambda tag: tag != run[-1]) if run else tags


def teeth(edition: Edition, ratio: Worked | None) -> str:
    """The teeth behind a ratio, driver over driven, as in `17/40`; empty where it is not made of two counts."""
    counts = [value.shown for used in ratio.inputs for value in used.values] if ratio is not None else []
    return f"{counts[0]:.0f}/{counts[1]:.0f}" if len(counts) == 2 else ""


def final_words(edition: Edition, final: str) -> str:
    """A final drive as read in a heading: `short, 17/40`."""
    return ", ".join(filter(None, [final, teeth(edition, edition.figure("final_ratio", *_tags(final)))])) or "as built"


def _tags(*tags: str) -> tuple[str, ...]:
    return tuple(tag for tag in tags if tag)


def gears_of(edition: Edition) -> list[str]:
    """Gears with a road speed or a ratio, lowest first."""
    tags = tags_of(edition, "gear", "road_speed", "gear_ratio")
    return sorted(tags, key=lambda gear: (len(gear), gear))


def _noted(edition: Edition, name: str) -> float | None:
    found = value_of(edition, name, (), "noted") or value_of(edition, name)
    return found.shown if found is not None and found.unit == "rpm" else None


def gear_chart_section(edition: Edition, sheet: Sheet) -> None:
    """The chart and its table; nothing where no gear has a ratio."""
    if not any(edition.figure("gear_ratio", gear) for gear in gears_of(edition)):
        return
    sheet.section("Gear chart", "gear-chart")
    chart = _chart(edition)
    if chart is not None:
        first, *rest = finals(edition)
        others = f" Broken: top gear on {', '.join(final_words(edition, one) for one in rest)}." if rest else ""
        primary = teeth(edition, edition.figure("primary_ratio"))
        words = f"{f'Primary {primary}; final ' if primary else 'Final '}drive {esc(final_words(edition, first))}.{esc(others)} {KEY}"
        sheet.add(plot_figure(drawn.gear_chart(chart, stamp(edition)), words))
    sheet.add(_table(edition))


def _chart(edition: Edition) -> drawn.GearChart | None:
    first, *rest = finals(edition)
    lines = _lines(edition, first)
    power, limit = _noted(edition, "rpm_max_power"), _noted(edition, "rpm_limit")
    if not lines or limit is None:
        return None
    tops = [(final, gear) for final in rest for gear in _lines(edition, final)[-1:]]
    others = tuple(drawn.GearLine(f"{gear.name} on {_short(edition, final)}", gear.kmh_per_rpm) for final, gear in tops)
    return drawn.GearChart(tuple(lines), limit, power or limit, others, f"Gear chart, final drive {final_words(edition, first)}")


def _short(edition: Edition, final: str) -> str:
    return teeth(edition, edition.figure("final_ratio", *_tags(final))) or final


def _lines(edition: Edition, final: str) -> list[drawn.GearLine]:
    found = [(gear, edition.figure("speed_per_1000", *_tags(gear, final))) for gear in gears_of(edition)]
    return [drawn.GearLine(ordinal(gear), one.value / 1000) for gear, one in found if one is not None and one.value is not None]


def _table(edition: Edition) -> str:
    drives = finals(edition)
    columns = [Column("Gear"), Column("Teeth", "num"), Column("Ratio", "num")]
    for title in ("Overall", "Speed"):
        columns += [Column(", ".join(filter(None, [title, final_words(edition, final) if final else ""])), "num") for final in drives]
    rows = []
    for gear in gears_of(edition):
        ratio = edition.figure("gear_ratio", gear)
        cells = [ordinal(gear, words=True), teeth(edition, ratio) or "–", door(ratio, _bare(ratio))]
        cells += [door(one := edition.figure("overall_ratio", *_tags(gear, final)), _bare(one, 2)) for final in drives]
        cells += [door(one := edition.figure("road_speed", *_tags(gear, final)), _bare(one, 1)) for final in drives]
        rows.append(Row(cells))
    power = _noted(edition, "rpm_max_power")
    at = f" at {number(power)} rev/min" if power else ""
    return table(f"Speed in km/h{at}, without slip", columns, rows, kind="held", css="gears")


def _bare(one: Worked | None, decimals: int | None = None) -> str:
    """The value of a figure without its unit, for a column whose head says it."""
    if one is None or one.value is None:
        return ""
    return number(one.value, one.decimals if decimals is None else decimals)


def changes_section(edition: Edition, sheet: Sheet) -> None:
    """The changes up: step, where the next gear picks up, the drop, and where that lands against the torque peak."""
    gears = gears_of(edition)
    some = [(low, high, edition.figure("gear_step", low)) for low, high in pairwise(gears)]
    if not any(step is not None and step.value is not None for _, _, step in some):
        return
    power, limit, torque = (_noted(edition, name) for name in ("rpm_max_power", "rpm_limit", "rpm_max_torque"))
    columns = [Column("Change"), Column("Step", "num")]
    columns += [Column("Picks up at", "num")] if power else []
    columns += [Column("Drop at the limit", "num", "Drop")] + ([Column("Above the torque peak", "num", "Above peak")] if torque else [])
    names = ("rpm_drop", *(("landing_above_torque_peak",) if torque else ()))
    rows = []
    for low, high, step in some:
        at = number(power / step.value) if power and step is not None and step.value else "–"
        cells = [f"{ordinal(low)} to {ordinal(high)}", door(step), *([door(step, at)] if power else [])]
        cells += [door(edition.figure(name, low)) for name in names]
        rows.append(Row(cells))
    words = [f"“picks up at” after a change at {number(power)} rev/min" if power else "", f"drop at {number(limit)}" if limit else ""]
    words.append(f"torque peak at {number(torque)}" if torque else "")
    sheet.section("Changes up", "changes")
    sheet.add(table(capital("; ".join(filter(None, words))) or "Changes up", columns, rows, css="findings"))


def inertia_section(edition: Edition, sheet: Sheet) -> None:
    """What the metal taken off turning parts is worth as mass on the road, gear by gear."""
    parts = tags_of(edition, "part", "equivalent_mass")
    drives = finals(edition)
    rows = []
    for part in parts:
        for gear in gears_of(edition):
            found = [edition.figure("equivalent_mass", *_tags(part, gear, final)) for final in drives]
            if any(one is not None and one.value is not None for one in found):
                rows.append(Row([f"{link(edition, part)}, {ordinal(gear)}", *map(door, found)]))
    if not rows:
        return
    columns = [Column("Part and gear"), *(Column(capital(final_words(edition, final)), "num") for final in drives)]
    whole = ", ".join(f"{link(edition, part)} {door(edition.figure('inertia_change', part))}" for part in parts)
    sheet.section("What lighter turning parts are worth", "inertia")
    sheet.add(table("Mass on the road that the inertia taken off amounts to", columns, rows, css="findings"))
    sheet.say(
        f"Inertia taken off: {whole}. Only what turns with the engine counts; a lighter selector drum changes nothing that the engine sees.",
        "after",
    )
