"""What is due: lifed parts with what is used of their limit, and what is past due."""

from __future__ import annotations

import datetime

from dossier.model.edition import Edition
from dossier.model.results import Worked
from dossier.pages.parts.links import linked
from dossier.pages.parts.marks import share_bar
from dossier.pages.parts.numbers import day, door, esc, number
from dossier.pages.parts.tables import Column, Row, table


def used_shares(edition: Edition) -> list[Worked]:
    """Life used of every lifed part and limit, most used first."""
    return sorted((one for one in edition.figures("life_used") if one.value is not None), key=lambda one: -(one.value or 0.0))


def overdue(edition: Edition) -> list[str]:
    """Names of the parts past their limit."""
    return list(dict.fromkeys(part_name(edition, one) for one in used_shares(edition) if (one.value or 0.0) >= 100))


def part_name(edition: Edition, one: Worked) -> str:
    """The part that a life figure speaks of."""
    id = dict(one.tags).get("life", "")
    return next((lifed.part for lifed in edition.build.life.lifed if lifed.id == id), id)


def due_table(edition: Edition, limit: int = 0) -> str:
    """Lifed parts with used share and what is left, most used first; empty where there is none. `limit`: at most so many rows."""
    shares = used_shares(edition)
    if not shares:
        return ""
    columns = [Column("Part"), Column("Used", "num"), Column("Share", "c-bar"), Column("What is left", "c-due", "Left")]
    rows = []
    for one in shares[: limit or None]:
        value = one.value or 0.0
        rows.append(
            Row(
                [
                    linked(edition, part_name(edition, one)),
                    door(one),
                    share_bar(value, words=f"{value:.0f} per cent used"),
                    _left(edition, one),
                ]
            )
        )
    caption = f"Limits are this workshop’s own, at this use. Counted to {day(edition.revised)}"
    return table(caption, columns, rows, kind="plain", css="due")


def left_of(edition: Edition, one: Worked) -> Worked | None:
    """What is left of the limit that is nearest to its end: hours or days; None where neither can be told."""
    candidates = [figure for name in ("life_left_in_hours", "life_left_in_days") for figure in edition.figures(name)]
    known = [figure for figure in candidates if figure.tags == one.tags and figure.value is not None]
    used = {
        figure.name: figure.value or 0.0 for figure in edition.worked if figure.tags == one.tags and figure.name.startswith("life_used_by")
    }
    by = {"life_left_in_hours": used.get("life_used_by_hours", 0.0), "life_left_in_days": used.get("life_used_by_age", 0.0)}
    return max(known, key=lambda figure: by[figure.name], default=None)


def _left(edition: Edition, one: Worked) -> str:
    left = left_of(edition, one)
    if left is None or left.value is None:
        return ""
    late = "<b>past due</b> by " if left.value < 0 else ""
    until = (
        f", until {day(edition.revised + datetime.timedelta(days=round(left.value)))}" if left.unit == "days" and left.value >= 0 else ""
    )
    shown = f"{number(abs(left.value), left.decimals)} {esc(left.unit)}"
    return f"{late}{door(left, shown)}{'' if late else ' left'}{until}"
