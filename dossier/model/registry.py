"""How figures, log kinds and pages declare themselves: a thing is a file in a folder, and the folder gathers its own."""

from __future__ import annotations

import importlib
import pkgutil
from collections.abc import Iterator
from typing import Generic, TypeVar

T = TypeVar("T")


class Registry(Generic[T]):
    """Named things of one kind, each declared once; two of one name are refused, naming both files."""

    def __init__(self, kind: str, package: str) -> None:
        """`kind` is the word used in messages; `package` is the dotted folder that is gathered on first use."""
        self.kind = kind
        self.package = package
        self._things: dict[str, T] = {}
        self._files: dict[str, str] = {}
        self._gathered = False

    def add(self, name: str, thing: T, file: str) -> None:
        """Take `thing` under `name`; `file` is where it is declared. ValueError when the name is taken."""
        if name in self._things:
            raise ValueError(f"two of {self.kind} {name!r}: in {self._files[name]} and in {file}")
        self._things[name] = thing
        self._files[name] = file

    def gather(self) -> Registry[T]:
        """Import every file of the folder once, so that each declares itself; returns self."""
        if not self._gathered:
            self._gathered = True
            package = importlib.import_module(self.package)
            for module in sorted(pkgutil.iter_modules(package.__path__), key=lambda found: found.name):
                importlib.import_module(f"{self.package}.{module.name}")
        return self

    def file_of(self, name: str) -> str:
        """The file in which `name` is declared."""
        return self._files[name]

    def names(self) -> list[str]:
        """All names, sorted."""
        return sorted(self.gather()._things)

    def __getitem__(self, name: str) -> T:
        return self.gather()._things[name]

    def __contains__(self, name: object) -> bool:
        return name in self.gather()._things

    def __iter__(self) -> Iterator[T]:
        return iter(self.gather()._things.values())

    def __len__(self) -> int:
        return len(self.gather()._things)
