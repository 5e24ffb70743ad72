"""The chain of editions in a pack: each names the digest of the one before, and nothing said earlier is taken back."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import rfc8785

from dossier.publish.pack.edition_record import read_record, rewritten
from dossier.publish.pack.manifests import read_manifest, sha256_of
from dossier.publish.pack.names import EDITION, HISTORY, KEPT_OF_EARLIER, SEALED, SIGNATURES
from dossier.publish.pack.signature import is_good, take_apart


@dataclass(frozen=True)
class Defect:
    """What is wrong with a pack, and in which of its files."""

    file: str
    what: str

    def __str__(self) -> str:
        return f"{self.file}: {self.what}"


@dataclass(frozen=True)
class Link:
    """One edition in the chain: where its files lie within the pack, its record, its sealed list and signatures by who."""

    folder: str
    record: Mapping[str, Any]
    sealed: bytes
    signatures: Mapping[str, bytes]

    @property
    def digest(self) -> str:
        """The digest of the edition: SHA-256 of its sealed list, 64 digits."""
        return sha256_of(self.sealed)

    def at(self, name: str) -> str:
        """A file of it as named within the pack."""
        return f"{self.folder}/{name}" if self.folder else name


def folder_of(number: int) -> str:
    """Where the edition of that number lies in the packs after it."""
    return f"{HISTORY}/{number:04d}"


def read_link(pack: Path, folder: str = "") -> Link:
    """One edition of a pack. ValueError naming the file that cannot be read as what it should be."""
    try:
        data = (pack / folder / EDITION).read_bytes()
        sealed = (pack / folder / SEALED).read_bytes()
        there = {who: pack / folder / name for who, name in SIGNATURES.items() if (pack / folder / name).is_file()}
        signatures = {who: path.read_bytes() for who, path in there.items()}
    except OSError as fault:
        raise ValueError(f"{Path(str(fault.filename)).name} cannot be read: {fault.strerror}") from fault
    try:
        record = read_record(data)
    except ValueError as fault:
        raise ValueError(f"{EDITION}: {fault}") from fault
    return Link(folder, record, sealed, signatures)


def read_chain(pack: Path) -> tuple[list[Link], list[Defect]]:
    """All editions of a pack from the first to its own, and what cannot be read of them."""
    try:
        own = read_link(pack)
    except ValueError as fault:
        return [], [Defect(EDITION, str(fault))]
    links, defects = [], []
    for number in range(1, min(own.record["number"], 10_000)):
        try:
            links.append(read_link(pack, folder_of(number)))
        except ValueError as fault:
            defects.append(Defect(folder_of(number), f"edition {number} is missing or spoilt: {fault}"))
    return [*links, own], defects


def kept_of(pack: Path, number: int) -> dict[str, bytes]:
    """What the next edition carries of this pack in its history: the files by their names in the new pack."""
    kept = {f"{folder_of(number)}/{name}": pack / name for name in KEPT_OF_EARLIER if (pack / name).is_file()}
    kept |= {path.relative_to(pack).as_posix(): path for path in sorted((pack / HISTORY).rglob("*")) if path.is_file()}
    return {name: path.read_bytes() for name, path in kept.items()}


def chain_defects(links: Sequence[Link]) -> Iterator[Defect]:
    """Whatever is wrong with a chain that could be read as a whole."""
    before: Link | None = None
    for number, link in enumerate(links, 1):
        if link.record["number"] != number:
            yield Defect(link.at(EDITION), f"it says it is edition {link.record['number']} and lies where edition {number} should")
        yield from _own_list(link)
        yield from _follows(before, link)
        yield from signature_defects(link, before)
        before = link


def _own_list(link: Link) -> Iterator[Defect]:
    try:
        listed = read_manifest(link.sealed, "sha512").get(EDITION)
    except ValueError as fault:
        yield Defect(link.at(SEALED), str(fault))
        return
    if listed != hashlib.sha512(rfc8785.dumps(dict(link.record))).hexdigest():
        yield Defect(link.at(EDITION), "altered: it is not the one in the sealed list")


def _follows(before: Link | None, link: Link) -> Iterator[Defect]:
    named = link.record.get("supersedes")
    if before is None:
        if named:
            yield Defect(link.at(EDITION), "broken chain: it names an edition before it, and there is none")
        return
    if not named or named.get("sha256") != before.digest:
        said = named.get("sha256") if named else "none"
        yield Defect(link.at(EDITION), f"broken chain: it names {said} as the edition before, and that is {before.digest}")
    for what in rewritten(before.record, link.record):
        yield Defect(link.at(EDITION), f"broken chain: {what}")


def signature_defects(link: Link, before: Link | None) -> Iterator[Defect]:
    """Signatures that are missing, spoilt or by another key than the edition's record names; and a key changed without the old one."""
    keys = link.record["keys"]
    for who in ("sealer", *sorted(set(keys) - {"sealer"})):
        if who not in SIGNATURES:
            yield Defect(link.at(EDITION), f"it names a key of {who!r}, who signs nothing")
        elif who not in link.signatures:
            yield Defect(link.at(SIGNATURES[who]), f"missing: the {who} has not signed")
    for who, signature in link.signatures.items():
        what = _wrong_with(link, signature, str(keys.get(who)))
        if what:
            yield Defect(link.at(SIGNATURES[who]), what)
    was = before.record["keys"].get("sealer") if before else None
    if was is not None and was not in (keys.get("sealer"), keys.get("old-key")):
        yield Defect(link.at(SIGNATURES["old-key"]), "other key: the sealer's key changed and the old key did not sign that")


def _wrong_with(link: Link, signature: bytes, key: str) -> str:
    try:
        found = take_apart(signature)
    except ValueError as fault:
        return f"altered: {fault}"
    if found.key != key:
        return "other key: it was made by another key than edition.json names"
    return "" if is_good(link.sealed, signature, key) else "altered: it is not a signature over this list"
