"""What is due: lifed parts with what is used of their limit, and what is past due."""

from __future__ import annotations

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
    id = dict(one.tags).get("part", "")
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


def _left(edition: Edition, one: Worked) -> str:
    tags = dict(one.tags)
    left = next((figure for figure in edition.figures("life_left") if dict(figure.tags) == tags), None)
    if left is None or left.value is None:
        return ""
    if left.value < 0:
        return f"<b>past due</b> by {number(-left.value, left.decimals)} {esc(left.unit)}"
    return f"{door(left)} left"
