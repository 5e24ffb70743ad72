"""The entries of published dossiers as they lie in an archive's folder, read one at a time: a thousand take little more memory than ten."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import overload

from dossier.model.entry import Entries, Entry, Head
from dossier.publish.entry import NAME, from_bytes


class EntriesThere(Entries):
    """Entries of the dossiers `slugs` below `folder`, in that order. OSError where there is none, EntryError where it is none."""

    def __init__(self, folder: Path, slugs: Sequence[str]) -> None:
        self._files = [folder / slug / NAME for slug in slugs]
        sheets: dict[tuple[tuple[str, str], ...], tuple[tuple[str, str], ...]] = {}
        heads = (one.head for one in self.having())
        self.heads: Sequence[Head] = [replace(head, sheets=sheets.setdefault(head.sheets, head.sheets)) for head in heads]

    def __len__(self) -> int:
        return len(self._files)

    @overload
    def __getitem__(self, at: int) -> Entry: ...
    @overload
    def __getitem__(self, at: slice) -> Sequence[Entry]: ...
    def __getitem__(self, at: int | slice) -> Entry | Sequence[Entry]:
        if isinstance(at, slice):
            return [from_bytes(path.read_bytes()) for path in self._files[at]]
        return from_bytes(self._files[at].read_bytes())

    def having(self, *names: str) -> Iterator[Entry]:
        """Each entry with its head and these of its fields."""
        for path in self._files:
            yield from_bytes(path.read_bytes(), names)
