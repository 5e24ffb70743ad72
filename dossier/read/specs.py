"""A tree of keys and values to a filled-in form; every fault becomes a problem with its place and what to write instead."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from pydantic import TypeAdapter, ValidationError

from dossier.model.forms.measurements import Measurements
from dossier.model.forms.specification import Specification
from dossier.model.problems import Place, Problem, did_you_mean, near
from dossier.read import shapes
from dossier.read.entries import entries_reshaped
from dossier.read.items import item_faults
from dossier.read.places import Block, Listing, Node, Scalar

Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Sheet:
    """A file as read: the form as far as it could be filled in (None: not at all), the tree it came from, and all its faults."""

    form: Any
    root: Block
    problems: list[Problem] = field(default_factory=list)


@cache
def _adapter(form: Any) -> TypeAdapter[Any]:
    return TypeAdapter(form)


def fill_in(form: Any, root: Node, file: str) -> Sheet:
    """A form filled in from a tree. Records with faults are left out of it, and every fault is told."""
    if not isinstance(root, Block):
        fault = Problem("file-form", "the file does not begin with a key", root.place, "write key: value at the left margin")
        return Sheet(None, Block(root.place, {}), [fault])
    problems: list[Problem] = []
    if form is Measurements:
        root = entries_reshaped(root, problems)
    raw = _raw(root, form, (), problems)
    filled = _validated(form, raw, root, problems)
    if filled is not None and form is Specification:
        problems += item_faults(filled.items, root)
    return Sheet(filled, root, problems)


# ---------------------------------------------------------------- tree to plain values


def _raw(node: Node, hint: Any, path: Path, problems: list[Problem]) -> Any:
    """A node as plain lists, texts and blocks; keys the form does not have, and shapes it does not take, are told and left out."""
    if isinstance(node, Scalar):
        return node.text
    if isinstance(node, Listing):
        inside = shapes.listed(hint)
        return [_raw(item, inside, (*path, index), problems) for index, item in enumerate(node.items)]
    out: dict[str, Any] = {"written": node.place}
    names = shapes.fields_of(hint) if shapes.is_form(hint) else {}
    for key, (where, value) in node.entries.items():
        if names and key not in names:
            problems.append(_unknown(key, where.place, (*path, key), list(names)))
        elif not (isinstance(value, Scalar) and value.text is None):
            name = names.get(key, key)
            out[name] = _raw(value, shapes.keys_of(hint).get(key) if names else None, (*path, name), problems)
    return out


def _unknown(key: str, place: Place, path: Path, names: list[str]) -> Problem:
    if ":" in key and key.partition(":")[0] in names:
        instead = f"write a blank after the colon: {key.replace(':', ': ', 1)}"
    else:
        instead = did_you_mean(key, names, f"keys here: {', '.join(names)}")
    return Problem("key-unknown", f"there is no key {key!r} here", place, instead, written_path(path))


# ---------------------------------------------------------------- plain values to form


def _validated(form: Any, raw: dict[str, Any], root: Block, problems: list[Problem]) -> Any:
    """The form, without the records that have faults; None where the faults are in the form itself."""
    try:
        return _adapter(form).validate_python(raw)
    except ValidationError as fault:
        errors = fault.errors(include_url=False)
        problems += [_told(error, form, root) for error in errors]
    prune(raw, [tuple(error["loc"]) for error in errors])
    try:
        return _adapter(form).validate_python(raw)
    except ValidationError:
        return None


def prune(raw: dict[str, Any], paths: Sequence[Path]) -> None:
    """Take out of plain values, for each path, the outermost list entry on it; or, where there is none, the key it begins with."""
    gone: dict[Path, set[int]] = {}
    for path in paths:
        cut = next((n for n, step in enumerate(path) if isinstance(step, int)), None)
        if cut is None:
            raw.pop(str(path[0]), None)
        else:
            gone.setdefault(path[:cut], set()).add(int(path[cut]))
    for path, indices in gone.items():
        holder: Any = raw
        for step in path[:-1]:
            holder = holder.get(step, {})
        if path[-1] in holder:
            holder[path[-1]] = [item for n, item in enumerate(holder[path[-1]]) if n not in indices]


def written_path(path: Sequence[str | int]) -> str:
    """A path as a user would write it: `items[3].declared`."""
    out = ""
    for step in path:
        out += f"[{step}]" if isinstance(step, int) else f".{step.rstrip('_')}"
    return out.lstrip(".")


def place_at(root: Node, path: Sequence[str | int]) -> tuple[Place, Node]:
    """The place and node of a path, or of the nearest thing above it that was written."""
    node = root
    place = root.place
    for step in path:
        if isinstance(node, Block) and isinstance(step, str) and (found := node.entries.get(step.rstrip("_"))):
            key, node = found
            place = key.place if isinstance(node, Scalar) and node.text is None else node.place
        elif isinstance(node, Listing) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
            place = node.place
        else:
            break
    return place, node


_WANTED = {
    "tuple_type": ("list-wanted", "a list is wanted here"),
    "dataclass_type": ("block-wanted", "a block of keys is wanted here"),
    "string_type": ("value-form", "one text is wanted here, not a list or a block"),
}


def _told(error: Any, form: Any, root: Block) -> Problem:
    """One fault found by the forms, in words."""
    path: Path = tuple(error["loc"])
    place, node = place_at(root, path)
    kind, where = error["type"], written_path(path)
    hint = shapes.at(form, path)
    if kind == "missing":
        return Problem("key-missing", f"{path[-1].rstrip('_')!r} is missing" + _in(path), place, _example(str(path[-1]), hint), where)  # type: ignore[union-attr]
    if isinstance(node, Scalar) and node.text is None:
        return Problem("value-empty", "this entry of the list is empty", place, "write the value, or delete the line", where)
    if kind == "literal_error" and isinstance(node, Scalar):
        return _choice(node, shapes.choices(hint), where, path)
    if kind in _WANTED:
        code, message = _WANTED[kind]
        return Problem(code, message, place, _shaped(code, node), where)
    ctx = error.get("ctx") or {}
    if "message" in ctx:
        return Problem(kind, ctx["message"], place, ctx.get("instead", ""), where)
    return Problem("value-form", "this value does not fit here", place, "", where)


def _in(path: Path) -> str:
    holders = [step for step in path[:-1] if isinstance(step, str)]
    return f" in this entry of {holders[-1]}" if holders else ""


def _example(key: str, hint: Any) -> str:
    words = shapes.choices(hint)
    key = key.rstrip("_")
    if words and len(words) <= 8:
        return f"write {key}: and one of: {'; '.join(words)}"
    return f"write {key}: …"


def _choice(node: Scalar, words: tuple[str, ...], where: str, path: Path) -> Problem:
    if node.text == shapes.TO_DO:
        return Problem("still-to-fill", "this is still to be filled in", node.place, f"write one of: {', '.join(words)}", where)
    said = node.text or ""
    if path == ("form",):
        return Problem(
            "form-version", f"this program reads form {' or '.join(words)}, not {said!r}", node.place, f"write form: {words[-1]}", where
        )
    offered = "one of: " + "; ".join(words)
    instead = f"did you mean {' or '.join(near(said, words))}? ({offered})" if near(said, words) else offered
    return Problem("choice-unknown", f"{said!r} is not one of the words for {where.rpartition('.')[2]}", node.place, instead, where)


def _shaped(code: str, node: Node) -> str:
    text = node.text if isinstance(node, Scalar) else None
    if code == "list-wanted":
        return f"write [{text}]" if text else "begin each entry with a hyphen"
    if code == "block-wanted":
        return "write its keys on indented lines, or in curly brackets"
    return "write it as one text, in quotes if need be"
