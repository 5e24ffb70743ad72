"""YAML text to a tree in which every key and value remembers its line and column; no value is guessed from its looks."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import yaml

from dossier.model.problems import Place, Problem
from dossier.read.text import CONTROL, LINE_END, decoded
from dossier.read.yaml_faults import told

DEEPEST = 12
LONGEST_SHOWN = 400
"""A longer line is not shown with its fault."""


@dataclass(frozen=True, slots=True)
class Scalar:
    """One value as raw text; None where nothing was written (nothing at all, an empty text, `~` or `null`)."""

    place: Place
    text: str | None


@dataclass(frozen=True, slots=True)
class Listing:
    """A list."""

    place: Place
    items: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Block:
    """A block of keys; no key stands twice."""

    place: Place
    entries: dict[str, tuple[Scalar, Node]]

    def get(self, key: str) -> Node | None:
        """What stands under `key`, or None."""
        found = self.entries.get(key)
        return found[1] if found else None


Node = Scalar | Listing | Block


def read_tree(data: bytes, file: str) -> tuple[Node | None, list[Problem]]:
    """The tree of a YAML file's bytes, or None where nothing in it can be trusted or it says nothing; and all that is wrong with it.

    Tags, anchors, aliases, directives, second documents, deep nesting and duplicate keys are refused.
    """
    text, problems = decoded(data, file)
    if text is None:
        return None, problems
    return _Gardener(text, file, problems).grow()


@dataclass
class _Open:
    """A list or block that is not closed yet; `key` is the key that waits for its value."""

    place: Place
    block: bool
    items: list[Node]
    entries: dict[str, tuple[Scalar, Node]]
    key: Scalar | None = None
    wants_key: bool = True


class _Gardener:
    """Grows the tree from the parser's events, one pass, no recursion."""

    def __init__(self, text: str, file: str, problems: list[Problem]) -> None:
        self.text, self.file, self.problems = text, file, problems
        self.lines = LINE_END.split(text)
        self.open: list[_Open] = []
        self.torn: set[Place] = set()
        """Second halves of numbers that a comma tore in two; told once, never taken for a key."""
        self.root: Node | None = None

    def grow(self) -> tuple[Node | None, list[Problem]]:
        """The whole tree and the problems met."""
        try:
            for event in self._events():
                if not self._take(event):
                    return None, self.problems
        except yaml.YAMLError as fault:
            code, message, instead, line, column = told(fault, self.lines)
            self._fault(code, message, self._place(line, column), instead)
            return None, self.problems
        if self.root is None or (isinstance(self.root, Scalar) and self.root.text is None):
            self._fault("file-empty", "nothing is written in this file", Place(self.file), "fill it in, or delete it")
            return None, self.problems
        return self.root, self.problems

    def _events(self) -> Iterator[Any]:
        loader = getattr(yaml, "CSafeLoader", yaml.SafeLoader)
        return iter(yaml.parse(self.text, Loader=loader))

    def _place(self, line: int, column: int) -> Place:
        if line >= len(self.lines):
            # The parser closes a last line that has no end, and then stands on the line after it.
            line, column = len(self.lines) - 1, len(self.lines[-1])
        shown = self.lines[line]
        return Place(self.file, line + 1, column + 1, shown if len(shown) <= LONGEST_SHOWN else "")

    def _fault(self, code: str, message: str, place: Place, instead: str = "") -> None:
        self.problems.append(Problem(code, message, place, instead))

    def _take(self, event: Any) -> bool:
        """Take one event; False when reading on would be of no use."""
        if isinstance(event, yaml.DocumentStartEvent):
            return self._document(event)
        place = self._place(event.start_mark.line, event.start_mark.column)
        if isinstance(event, yaml.ScalarEvent):
            self._marks(event, place)
            self._add(self._scalar(event, place))
        elif isinstance(event, yaml.AliasEvent):
            self._fault("yaml-anchor", f"*{event.anchor} stands for another place", place, "write the value out, or put the text in quotes")
            self._add(Scalar(place, None))
        elif isinstance(event, yaml.SequenceStartEvent | yaml.MappingStartEvent):
            self._marks(event, place)
            if len(self.open) >= DEEPEST:
                self._fault(
                    "yaml-depth", f"more than {DEEPEST} blocks lie within each other", place, "close the brackets, or mend the indentation"
                )
                return False
            self.open.append(_Open(place, isinstance(event, yaml.MappingStartEvent), [], {}))
        elif isinstance(event, yaml.SequenceEndEvent | yaml.MappingEndEvent):
            done = self.open.pop()
            self._add(Block(done.place, done.entries) if done.block else Listing(done.place, tuple(done.items)))
        return True

    def _document(self, event: Any) -> bool:
        place = self._place(event.start_mark.line, event.start_mark.column)
        if event.version or event.tags:
            self._fault("yaml-directive", "a directive stands before the first key", place, "delete the line that begins with %")
        if self.root is not None:
            self._fault("yaml-second-document", "a second document begins here", place, "delete the line ---, or use a second file")
            return False
        return True

    def _marks(self, event: Any, place: Place) -> None:
        if event.tag is not None:
            self._fault("yaml-tag", "a tag with an exclamation mark stands here", place, "delete it, or put the whole text in quotes")
        if event.anchor is not None:
            self._fault("yaml-anchor", f"&{event.anchor} is an anchor", place, "delete it, or put the whole text in quotes")

    def _scalar(self, event: Any, place: Place) -> Scalar:
        text: str = event.value
        if found := CONTROL.search(text):
            self._fault("file-control", f"the text holds the control character {found[0]!r}", place, "delete it")
            text = CONTROL.sub("\ufffd", text)
        if event.style not in (None, ""):
            return Scalar(place, text or None)
        if self._comma_splits(place, text):
            self.torn.add(place)
            return Scalar(place, text)
        end = event.end_mark
        rest = self.lines[end.line][end.column :] if end.line < len(self.lines) else ""
        if (cut := re.match(r"[ \t]+(#[^\s#!=*-].*)", rest)) and not self._is_key():
            where = self._place(end.line, end.column + cut.start(1))
            self._fault(
                "yaml-hash", f"{cut[1][:40]!r} is taken as a comment, not as part of the value", where, "put the whole text in quotes"
            )
        return Scalar(place, None if text in ("", "~", "null") else text)

    def _comma_splits(self, place: Place, text: str) -> bool:
        """Whether a number was torn in two at a comma within brackets, as in `[62,013 mm]`."""
        before = self.lines[place.line - 1][: place.column - 1]
        if not (text[:1].isdigit() and re.search(r"[0-9],$", before)):
            return False
        whole = re.split(r"[\[{:,] *", before[:-1])[-1]
        instead = f"write {whole}.{text}, or a blank after the comma where these are two values"
        self._fault("decimal-comma", f"the comma tears {whole},{text} in two", place, instead)
        return True

    def _is_key(self) -> bool:
        return bool(self.open) and self.open[-1].block and self.open[-1].wants_key

    def _add(self, node: Node) -> None:
        if not self.open:
            self.root = node
            return
        top = self.open[-1]
        if not top.block:
            top.items.append(node)
        elif top.wants_key:
            top.wants_key = False
            self._key(top, node)
        else:
            top.wants_key = True
            if top.key is not None and top.key.text is not None:
                top.entries[top.key.text] = (top.key, node)

    def _key(self, top: _Open, node: Node) -> None:
        top.key = None
        if isinstance(node, Scalar) and node.place in self.torn:
            return
        if not isinstance(node, Scalar) or node.text is None:
            self._fault("yaml-key-form", "this stands where a key is wanted, and is not a plain word", node.place, "put the text in quotes")
        elif node.text in top.entries:
            first = top.entries[node.text][0].place.line
            self._fault(
                "yaml-duplicate-key", f"{node.text!r} stands twice in one block, first in line {first}", node.place, "delete one of the two"
            )
        else:
            top.key = node
