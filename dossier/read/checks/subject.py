"""What a cross check looks at: the build, and where each field of each record is written."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property
from typing import Any

from dossier.model.build import Build
from dossier.model.forms.record import Record
from dossier.model.problems import Place
from dossier.read.places import Block, Listing, Node, Scalar
from dossier.read.specs import Sheet


class Subject:
    """A build with its sheets."""

    def __init__(self, build: Build, sheets: Mapping[str, Sheet], log_names: frozenset[str] = frozenset()) -> None:
        """`log_names` are the names of all files in logs/, without their ending, also of those that could not be read."""
        self.build, self.sheets, self.log_names = build, sheets, log_names

    @cached_property
    def blocks(self) -> dict[Place, Block]:
        """Every block of every file by its place."""
        return {block.place: block for sheet in self.sheets.values() for block in _blocks(sheet.root)}

    def at(self, record: Record, field: str, index: int | None = None) -> Place:
        """Where a field of a record (or one entry of it) is written; the record itself where it is not."""
        block = self.blocks.get(record.written)
        node = block.get(field.rstrip("_")) if block else None
        if isinstance(node, Listing) and index is not None and index < len(node.items):
            return node.items[index].place
        return node.place if node else record.written

    def nodes(self, subject: str, *keys: str) -> Iterator[Block]:
        """The blocks of a list in a file, also those whose records have faults."""
        sheet = self.sheets.get(subject)
        node: Node | None = sheet.root if sheet else None
        for key in keys:
            node = node.get(key) if isinstance(node, Block) else None
        if isinstance(node, Listing):
            yield from (item for item in node.items if isinstance(item, Block))

    def log_place(self, log: str) -> Place:
        """The file of a log as a whole, named as the other files of the folder are."""
        folder = self.sheets["machine"].root.place.file.rpartition("/")[0]
        return Place(f"{folder}/logs/{log}.csv" if folder else f"logs/{log}.csv")

    def broken(self, subject: str) -> bool:
        """Whether the file could not be read, so that nothing can be said about what it names."""
        sheet = self.sheets.get(subject)
        return sheet is None or sheet.form is None


def _blocks(root: Node) -> Iterator[Block]:
    waiting: list[Any] = [root]
    while waiting:
        node = waiting.pop()
        if isinstance(node, Block):
            yield node
            waiting += [value for _, value in node.entries.values()]
        elif isinstance(node, Listing):
            waiting += node.items


def text_of(node: Node | None) -> str | None:
    """The text of a scalar node."""
    return node.text if isinstance(node, Scalar) else None


def values_of(root: Node) -> Iterator[Scalar]:
    """Every value below a node, in no order; keys are left out."""
    waiting: list[Node] = [root]
    while waiting:
        node = waiting.pop()
        if isinstance(node, Scalar):
            yield node
        else:
            waiting += node.items if isinstance(node, Listing) else [value for _, value in node.entries.values()]
