"""Measurement entries as people write them, brought to the form's shape: common units joined to readings, timing cards laid out."""

from __future__ import annotations

import re

from dossier.model import notation
from dossier.model.notation import Unreadable
from dossier.model.problems import Place, Problem
from dossier.read.places import Block, Listing, Node, Scalar

LISTS = ("declared", "donor", "as_built", "noted")
SAYS = ("value", "readings", "timing", "found", "not_measured")
"""Of these an entry has exactly one."""
RATIO = ("1", ":1")
"""Common units that say the numbers are bare ratios or counts."""

_NUMBERS = ("value", "readings", "u")
_HAS_UNIT = re.compile(r"[^\W\d_]|[°%‰\"″′:]")


def entries_reshaped(root: Block, problems: list[Problem]) -> Block:
    """The tree of measurements.yaml with every entry in the form's shape; what cannot be brought into it is told."""
    entries = dict(root.entries)
    for name in LISTS:
        if name in entries:
            key, listing = entries[name]
            entries[name] = (key, _reshaped(listing, problems))
    if isinstance(what_ifs := root.get("what_if"), Listing):
        laid_out = tuple(_what_if(one, problems) for one in what_ifs.items)
        entries["what_if"] = (entries["what_if"][0], Listing(what_ifs.place, laid_out))
    return Block(root.place, entries)


def _what_if(node: Node, problems: list[Problem]) -> Node:
    if not isinstance(node, Block) or not isinstance(node.get("instead"), Listing):
        return node
    key, listing = node.entries["instead"]
    return Block(node.place, {**node.entries, "instead": (key, _reshaped(listing, problems))})


def _reshaped(listing: Node, problems: list[Problem]) -> Node:
    if not isinstance(listing, Listing):
        return listing
    out: list[Node] = []
    for node in listing.items:
        if not isinstance(node, Block):
            out.append(node)
            continue
        _says_one_thing(node, problems)
        node = _with_unit(node, problems)
        out += _laid_out(node, problems) if _text(node, "timing") else [node]
    return Listing(listing.place, tuple(out))


def _text(node: Block, key: str) -> str | None:
    value = node.get(key)
    return value.text if isinstance(value, Scalar) else None


def _said(value: Node | None) -> bool:
    if isinstance(value, Scalar):
        return value.text is not None
    return bool(value.items) if isinstance(value, Listing) else value is not None


def _says_one_thing(node: Block, problems: list[Problem]) -> None:
    said = [key for key in SAYS if _said(node.get(key))]
    if not said:
        problems.append(
            Problem("entry-empty", "this entry gives no value", node.place, "write value: …, or not_measured: and why there is none")
        )
    elif len(said) > 1:
        place = node.entries[said[1]][0].place
        problems.append(Problem("entry-ambiguous", f"{said[0]} and {said[1]} stand in one entry", place, "make two entries of them"))


def _with_unit(node: Block, problems: list[Problem]) -> Block:
    """The common unit joined to each bare number of the entry. What is wrong with it is told once, whatever it is wrong for."""
    unit = _text(node, "unit")
    entries = dict(node.entries)
    if unit and (fault := _no_unit(unit)):
        problems.append(Problem(fault.code, fault.message, node.entries["unit"][1].place, fault.instead, "unit"))
        return Block(node.place, {name: both for name, both in entries.items() if name not in (*_NUMBERS, "unit")})
    readings = node.get("readings")
    if isinstance(readings, Listing):
        told: list[Problem] = []
        items = tuple(_joined(item, unit, told, wanted=True) for item in readings.items)
        entries["readings"] = (entries["readings"][0], Listing(readings.place, items))
        problems += {one.code: one for one in reversed(told)}.values()
    for key in ("value", "u"):
        if unit and isinstance(value := node.get(key), Scalar) and value.text:
            entries[key] = (entries[key][0], _joined(value, unit, problems, wanted=False))
    return Block(node.place, entries)


def _no_unit(unit: str) -> Unreadable | None:
    """What is wrong with a common unit."""
    if unit in RATIO:
        return None
    try:
        notation.quantity(f"1 {unit}")
    except Unreadable as fault:
        return fault
    return None


def _joined(node: Node, unit: str | None, problems: list[Problem], *, wanted: bool) -> Node:
    if not isinstance(node, Scalar) or node.text is None:
        return node
    bare = not _HAS_UNIT.search(node.text)
    if unit and not bare and wanted:
        message = f"{node.text!r} has a unit, and the entry has unit: {unit} as well"
        problems.append(Problem("unit-twice", message, node.place, "write the bare number, or take unit: away"))
    if not unit and bare and wanted:
        instead = "write unit: mm (or whatever it was) in the entry, or unit: 1 for a bare ratio or count"
        problems.append(Problem("unit-missing", f"{node.text!r} has no unit", node.place, instead))
    if not unit or not bare or unit in RATIO:
        return node
    return Scalar(node.place, f"{node.text.strip()} {unit}")


_EVENTS = ("inlet_opens", "inlet_closes", "exhaust_opens", "exhaust_closes")


def _laid_out(node: Block, problems: list[Problem]) -> list[Node]:
    """A timing card as its four entries, in degrees."""
    key, card = node.entries["timing"]
    place = card.place
    if _text(node, "what") != "valve_timing":
        message = "a timing card stands for four values, so its entry is called valve_timing"
        problems.append(Problem("timing-form", message, _what_place(node), "write what: valve_timing"))
    try:
        angles = notation.valve_timing(_text(node, "timing") or "")
    except Unreadable as fault:
        problems.append(Problem(fault.code, fault.message, place, fault.instead))
        return []
    rest = {name: both for name, both in node.entries.items() if name not in ("timing", "unit")}
    what = node.entries["what"][0] if "what" in node.entries else Scalar(node.place, "what")
    return [
        Block(node.place, {**rest, "what": (what, Scalar(what.place, event)), "value": (key, Scalar(place, f"{angle} °"))})
        for event, angle in zip(_EVENTS, angles, strict=True)
    ]


def _what_place(node: Block) -> Place:
    return node.entries["what"][1].place if "what" in node.entries else node.place
