"""The files of a build folder: listing, opening, fingerprint; the one place that touches the disk for text."""

from __future__ import annotations

import hashlib
import os
from collections.abc import Collection
from pathlib import Path

from dossier.model.problems import Place, Problem, did_you_mean
from dossier.read.text import LARGEST

TAKEN = {"logs": (".csv", ".tsv", ".txt", ".xlsx"), "notes": (".md",), "photos": ()}
"""Folders within a build folder that are read, each with the endings of its files (none: any)."""


class Folder:
    """A build folder at `path`; `named` is how its files are named to the user."""

    def __init__(self, path: Path, named: str) -> None:
        self.path = path
        self.named = named

    def shown(self, name: str) -> str:
        """A file of the folder as the user would name it."""
        return f"{self.named}/{name}" if self.named not in ("", ".") else name

    def shown_above(self, above: Path) -> str:
        """A file of the folder above, named in the same way."""
        parent = self.named.rpartition("/")[0]
        if self.named in ("", ".", "..") or self.named.endswith("/.."):
            return f"{self.shown('..')}/{above.name}"
        return f"{parent}/{above.name}" if parent else ("/" if self.named.startswith("/") else "") + above.name

    def place(self, name: str) -> Place:
        """The file as a whole."""
        return Place(self.shown(name))

    def bytes_of(self, name: str, shown: str = "", largest: int = LARGEST) -> tuple[bytes | None, list[Problem]]:
        """The bytes of a file, or None: then without a problem where there is no such file. Never raises OSError."""
        place = Place(shown or self.shown(name))
        file = self.path / name
        try:
            if not os.path.lexists(file):
                return None, []
            if self.leads_outside(name):
                return None, [Problem("file-outside", "this link leads out of the build folder", place, "put the file itself here")]
            if not file.is_file():
                return None, [Problem("file-unreadable", "this is not a file", place, "rename it")]
            if (size := file.stat().st_size) > largest:
                return None, [
                    Problem("file-too-large", f"the file has {size / 1e6:.0f} MB", place, f"at most {largest / 1e6:.0f} MB are read")
                ]
            return file.read_bytes(), []
        except (OSError, ValueError) as fault:
            why = getattr(fault, "strerror", None) or str(fault)
            return None, [Problem("file-unreadable", f"the file cannot be opened: {why}", place, "look at the rights to read it")]

    def leads_outside(self, name: str) -> bool:
        """Whether links or `..` make the name lead out of the folder."""
        try:
            return not (self.path / name).resolve().is_relative_to(self.path.resolve())
        except (OSError, ValueError, RuntimeError):
            return True

    def names(self, inner: str, ending: str = "") -> list[str]:
        """Files in one of the inner folders with that ending (large or small letters), sorted, hidden ones left out."""
        try:
            found = [one.name for one in (self.path / inner).iterdir() if not one.name.startswith(".")]
        except OSError:
            return []
        return sorted(f"{inner}/{name}" for name in found if name.lower().endswith(ending))

    def log_names(self) -> frozenset[str]:
        """The files in logs/ without their ending: what a record calls a log."""
        return frozenset(Path(name).stem for ending in TAKEN["logs"] for name in self.names("logs", ending))

    def unknown_files(self, forms: Collection[str]) -> list[Problem]:
        """A note for each file that nothing reads."""
        problems = []
        for name in self._all_names():
            folder, _, file = name.rpartition("/")
            if folder in TAKEN and (not TAKEN[folder] or file.lower().endswith(TAKEN[folder])):
                continue
            if not folder and file.removesuffix(".yaml") in forms and file.endswith(".yaml"):
                continue
            known = [f"{form}.yaml" for form in forms] if not folder else []
            problems.append(Problem("file-unknown", "this file is not read", self.place(name), did_you_mean(file, known)))
        return problems

    def _all_names(self) -> list[str]:
        names = []
        for root, folders, files in os.walk(self.path):
            folders[:] = sorted(one for one in folders if not one.startswith("."))
            inner = Path(root).relative_to(self.path).as_posix()
            names += [file if inner == "." else f"{inner}/{file}" for file in sorted(files) if not file.startswith(".")]
        return names


def input_files(path: Path) -> list[str]:
    """All files of a build folder by relative name, hidden ones left out, sorted; and the workshop file above as `../workshop.yaml`."""
    names = Folder(path, "")._all_names()
    return sorted(names) + (["../workshop.yaml"] if (path / ".." / "workshop.yaml").is_file() else [])


def fingerprint(path: Path) -> str:
    """SHA-256 over relative name, size and SHA-256 of every input file, as hexadecimal; equal only if no input changed."""
    whole = hashlib.sha256()
    for name in input_files(path):
        try:
            with (path / name).open("rb") as file:
                digest = hashlib.file_digest(file, "sha256").hexdigest()
                size = file.tell()
        except OSError:
            digest, size = "unreadable", 0
        whole.update(f"{name}\0{size}\0{digest}\n".encode("utf-8", "surrogateescape"))
    return whole.hexdigest()
