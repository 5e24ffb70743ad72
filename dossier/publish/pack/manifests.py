"""Lists of files with their digests, written and read in one strict form (RFC 8493, section 2.1.3)."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

from dossier.publish.pack.names import safe

DIGITS = {"sha256": 64, "sha512": 128}
_BLOCK = 1 << 20


@dataclass(frozen=True)
class Digests:
    """What was found of one file: its digests as hexadecimal, and its size in bytes."""

    sha256: str
    sha512: str
    size: int

    def of(self, kind: str) -> str:
        """The digest of that kind."""
        return self.sha256 if kind == "sha256" else self.sha512


def digests_of(path: Path, told: Callable[[int], None] | None = None) -> Digests:
    """Digests of one file, read once; `told` hears of each block's bytes. OSError where it cannot be read."""
    short, long, size = hashlib.sha256(), hashlib.sha512(), 0
    with path.open("rb") as file:
        while block := file.read(_BLOCK):
            short.update(block)
            long.update(block)
            size += len(block)
            if told:
                told(len(block))
    return Digests(short.hexdigest(), long.hexdigest(), size)


def sha256_of(data: bytes) -> str:
    """SHA-256 as 64 hexadecimal digits."""
    return hashlib.sha256(data).hexdigest()


def manifest(found: Mapping[str, Digests], kind: str) -> bytes:
    """The list: one line a file, digest, two blanks, name; sorted by name."""
    return "".join(f"{found[name].of(kind)}  {name}\n" for name in sorted(found)).encode("ascii")


def read_manifest(data: bytes, kind: str) -> dict[str, str]:
    """Digest by name. ValueError where the list is not in the very form in which it is written here."""
    line = re.compile(rf"([0-9a-f]{{{DIGITS[kind]}}})  ([!-~]+)\n")
    try:
        text = data.decode("ascii")
    except UnicodeDecodeError as fault:
        raise ValueError("it holds something other than plain letters") from fault
    listed: dict[str, str] = {}
    for number, one in enumerate(text.splitlines(keepends=True), 1):
        found = line.fullmatch(one)
        if found is None or not safe(found[2]):
            raise ValueError(f"line {number} is not a digest, two blanks and a name")
        if found[2] in listed:
            raise ValueError(f"{found[2]} is listed twice")
        listed[found[2]] = found[1]
    if list(listed) != sorted(listed):
        raise ValueError("its lines are not in order")
    return listed


def digests_below(folder: Path, names: Iterable[str]) -> dict[str, Digests]:
    """Digests of those files of a folder."""
    return {name: digests_of(folder / name) for name in sorted(names)}
