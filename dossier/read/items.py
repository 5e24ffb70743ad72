"""Declared items looked at one by one: a numeric item has a number or limits, and its units agree."""

from __future__ import annotations

from collections.abc import Iterable

from dossier.model import notation
from dossier.model.forms.specification import Item
from dossier.model.notation import Unreadable
from dossier.model.problems import Place, Problem
from dossier.read.places import Block, Listing


def item_faults(items: Iterable[Item], root: Block) -> list[Problem]:
    """What is wrong with declared items in themselves."""
    blocks = _blocks(root)
    problems: list[Problem] = []
    for item in items:
        problems += _faults(item, blocks.get(item.written))
    return problems


def _blocks(root: Block) -> dict[Place, Block]:
    listing = root.get("items")
    items = listing.items if isinstance(listing, Listing) else ()
    return {node.place: node for node in items if isinstance(node, Block)}


def _faults(item: Item, block: Block | None) -> list[Problem]:
    def place(key: str) -> Place:
        node = block.get(key) if block else None
        return node.place if node else item.written

    if item.kind != "numeric":
        return []
    if item.declared is None and item.limits is None:
        if item.withdrawn or item.conflict:
            return []
        return [
            Problem("item-empty", f"{item.id} declares neither a number nor limits", item.written, "write declared: 30.0 mm", "declared")
        ]
    if item.declared is not None and item.declared.nominal is None:
        return [_no_number(item.declared.text, place("declared"))]
    return _units(item, place("limits"), place("evidence_uncertainty"))


def _no_number(text: str, place: Place) -> Problem:
    """Why the declared text of a numeric item is not a number."""
    try:
        notation.limits(text)
        return Problem("number-form", f"{text!r} gives limits, not the number declared", place, f"write limits: {text}", "declared")
    except Unreadable:
        pass
    try:
        notation.quantity(text)
    except Unreadable as fault:
        return Problem(fault.code, fault.message, place, fault.instead, "declared")
    return Problem("number-form", f"{text!r} is not a number", place, "write a number with its unit", "declared")


def _units(item: Item, limits: Place, uncertainty: Place) -> list[Problem]:
    problems: list[Problem] = []
    said = item.declared.nominal if item.declared else None
    kind = said.kind if said else item.limits.unit.kind if item.limits else ""
    if item.limits and item.limits.unit.kind != kind:
        message = f"limits in {item.limits.unit.sign or 'no unit'} and a declared value in {said.unit.sign if said else ''}"
        problems.append(Problem("dimension-wrong", message, limits, "write both in units of one kind", "limits"))
    if item.limits and item.declared and item.declared.limits and item.declared.limits.si != item.limits.si:
        message = f"{item.declared.text!r} carries limits already, and these are others"
        problems.append(Problem("limits-twice", message, limits, "keep one of the two", "limits"))
    if item.evidence_uncertainty and item.evidence_uncertainty.kind != kind:
        message = f"{item.evidence_uncertainty} is a {item.evidence_uncertainty.kind}; the item is a {kind}"
        problems.append(Problem("dimension-wrong", message, uncertainty, "write both in units of one kind", "evidence_uncertainty"))
    return problems
