"""A table of a page as the sheet sets it: head, rows and foot with the width of each column, its letters smaller where it needs room."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from dossier.publish.print_edition.columns import widths
from dossier.publish.print_edition.marked import UnsetError
from dossier.publish.print_edition.words import Places, Speller, lines_of

Node = dict[str, Any]

UPRIGHT, ACROSS = 170.0, 257.0
"""Millimetres that A4 gives a table, upright and on its side, within the margins of the sheet."""
_SIZES = (8.4, 7.6, 7.0)
_SMALL = (7.4, 6.8, 6.4)
_PAGE, _ROW = 900, 1400
"""Letters of a table that is kept on one page, and of a row that is."""
_BAR = 15.0
"""Millimetres of the column in which a bar is drawn."""


@dataclass
class _Row:
    cells: list[list[Any]]
    id: str = ""
    css: frozenset[str] = frozenset()


def table(element: Node, speller: Speller, places: Places, room: float = UPRIGHT, small: bool = False) -> Node:
    """The table as one node {"k": "table", …}. `room` in mm; where its words need more, the letters shrink, then the page is turned."""
    caption, parts = "", {"thead": [], "tbody": [], "tfoot": []}  # type: tuple[Any, dict[str, list[_Row]]]
    for part in element["inside"]:
        if part["tag"] == "caption":
            caption = speller.words(part["inside"])
        elif part["tag"] in parts:
            parts[part["tag"]] += [_row(one, speller) for one in part["inside"]]
        else:
            raise UnsetError(f"<{part['tag']}> cannot be set in a table")
    head, body, foot = parts["thead"], parts["tbody"], parts["tfoot"]
    kinds, letters = _kinds(element), sum(map(_letters, body))
    size, wide, across = _fitted([*head, *body, *foot], kinds, room, _SMALL if small else _SIZES)
    return {
        "k": "table", "caption": caption, "size": size, "widths": wide, "across": across, "kinds": kinds, "css": element["of"].get("class", ""),
        "head": [one.cells for one in head], "rows": [_laid(one, speller, places) for one in body], "foot": [one.cells for one in foot],
        "whole": len(body) <= 8 and letters < _PAGE, "tall": max(map(_letters, body), default=0) > _ROW,
    }  # fmt: skip


def _row(row: Node, speller: Speller) -> _Row:
    if row["tag"] != "tr" or any(cell["tag"] not in ("th", "td") for cell in row["inside"]):
        raise UnsetError("a table holds rows, and a row cells")
    if any({"colspan", "rowspan"} & cell["of"].keys() for cell in row["inside"]):
        raise UnsetError("a cell over several columns or rows cannot be set on paper")
    cells = [speller.words(cell["inside"]) for cell in row["inside"]]
    return _Row(cells, row["of"].get("id", ""), frozenset(row["of"].get("class", "").split()))


def _laid(row: _Row, speller: Speller, places: Places) -> Node:
    place = f"{speller.sheet}#{row.id}"
    return {"cells": row.cells, "at": place if row.id and place in places.known else "", "five": "five" in row.css, "sum": "sum" in row.css}


def _letters(row: _Row) -> int:
    return sum(len(line) for cell in row.cells for line in lines_of(cell))


def _kinds(element: Node) -> list[str]:
    """For each column whether it holds numbers, a bar, or words."""
    rows = [row for part in element["inside"] if part["tag"] in ("tbody", "thead") for row in part["inside"]]
    kinds: list[str] = []
    for cell in rows[-1]["inside"] if rows else []:
        classes = cell["of"].get("class", "").split()
        right = "num" in classes or "text-align: right" in cell["of"].get("style", "")
        kinds.append("num" if right else "bar" if "c-bar" in classes else "words")
    return kinds


def _fitted(rows: list[_Row], kinds: list[str], room: float, sizes: tuple[float, ...]) -> tuple[float, list[float], bool]:
    if any(len(row.cells) != len(kinds) for row in rows):
        raise UnsetError("a table whose rows have different numbers of cells cannot be set on paper")
    lines = [[lines_of(cell) for cell in row.cells] for row in rows]
    fixed = [_BAR if kind == "bar" else 0.0 for kind in kinds]
    for size in sizes:
        wide, short = widths(lines, room, size, fixed)
        if short <= 0:
            return size, [round(one, 2) for one in wide], False
    if room < UPRIGHT:
        return size, [round(one, 2) for one in wide], False
    wide, _ = widths(lines, ACROSS, sizes[0], fixed)
    return sizes[0], [round(one, 2) for one in wide], True
