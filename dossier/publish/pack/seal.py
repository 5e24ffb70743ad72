"""Seals one edition: its site, machine copy and the files it may have as a BagIt bag (RFC 8493), signed, whole or not at all."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from dossier.model.edition import Edition
from dossier.publish.dossier import publish_dossier
from dossier.publish.pack.chain import Link, kept_of
from dossier.publish.pack.crate import crate
from dossier.publish.pack.edition_record import edition_record, read_record, rewritten
from dossier.publish.pack.manifests import Digests, digests_below, manifest, sha256_of
from dossier.publish.pack.names import (
    BAG_INFO,
    BAGIT,
    CRATE,
    DATA,
    EDITION,
    MACHINE_COPY,
    PAYLOAD,
    PRINTED,
    SEALED,
    SET_UP,
    SIGNATURES,
    SIGNERS,
    TAGS,
    VERIFY,
    alike,
    files_below,
    safe,
)  # fmt: skip
from dossier.publish.pack.signature import public_key, sign, signers_line
from dossier.publish.pack.verify import verify_pack
from dossier.publish.pack.words import how_to_verify
from dossier.publish.print_edition.edition import print_edition
from dossier.publish.print_edition.set_up_sheet import set_up_sheet


class SealError(Exception):
    """A pack that cannot be sealed as asked; one sentence a line. Nothing was written."""


@dataclass(frozen=True)
class Order:
    """What to seal and how.

    `files` are those of the build folder that the audience may have, by their names within it (`../workshop.yaml` for the file above).
    `older` is the pack of the edition before; `old_key` its key, where the key has changed. `parties` are public keys of `seller` and
    `buyer`, who sign the finished pack themselves. `unchanged` is asked before anything is signed.
    """

    edition: Edition
    source: Path
    key: Path
    files: Sequence[str] = ()
    older: Path | None = None
    old_key: Path | None = None
    parties: Mapping[str, str] = field(default_factory=dict)
    unchanged: Callable[[], bool] = lambda: True


@dataclass(frozen=True)
class Sealed:
    """What was sealed: the edition's digest (64 digits), its number, its key, how many payload files and bytes."""

    digest: str
    number: int
    key: str
    files: int
    size: int


def seal(order: Order, out: Path, cache: Path | None = None, progress: Callable[[int, int], None] | None = None) -> Sealed:
    """Write the sealed edition to `out`, which must be absent. SealError, SigningError or PictureChangedError: nothing is at `out` then."""
    out = out.absolute()
    if os.path.lexists(out):
        raise SealError(f"{out} is there already; a sealed edition is never written over")
    if order.edition.revision in ("", "none"):
        raise SealError("there is no revision to seal: write it under revisions in custody.yaml")
    older = _older(order)
    making = out.with_name(f".{out.name}.sealing")
    shutil.rmtree(making, ignore_errors=True)
    try:
        _payload(order, making / DATA, cache, progress)
        if not order.unchanged():
            raise SealError("the build folder changed while it was read; seal again when nobody writes to it")
        sealed = _tags(order, making, older)
        _settle(making)
        making.rename(out)
    finally:
        shutil.rmtree(making, ignore_errors=True)
    _sync(out.parent)
    return sealed


def _older(order: Order) -> Link | None:
    if order.older is None:
        return None
    seen = verify_pack(order.older)
    if seen.defects or seen.link is None:
        raise SealError("\n".join(["the edition before is not whole:", *(f"  {one}" for one in seen.defects)]))
    if seen.link.record["revision"] == order.edition.revision:
        raise SealError(f"revision {order.edition.revision} is sealed already, in {order.older}; a new edition needs a new revision")
    return seen.link


def _payload(order: Order, data: Path, cache: Path | None, progress: Callable[[int, int], None] | None) -> None:
    data.mkdir(parents=True)
    publish_dossier(order.edition, order.source, data / "site", cache, progress)
    shutil.copyfile(data / "site" / MACHINE_COPY, data / MACHINE_COPY)
    _write(data / PRINTED, print_edition(order.edition, order.source, cache, progress))
    if (sheet := set_up_sheet(order.edition)) is not None:
        _write(data / SET_UP, sheet)
    slug = order.edition.build.slug
    for name in order.files:
        target = f"source/{slug}/{name}" if not name.startswith("../") else f"source/{name[3:]}"
        origin = order.source / name
        if not safe(target):
            raise SealError(f"{name}: a name in a pack is of letters A to Z, digits, dot, dash and underscore; rename the file")
        if origin.is_symlink() or not origin.is_file():
            raise SealError(f"{name}: this is a link or no file; put the file itself there")
        (data / target).parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(origin, data / target)
    names, hollow = files_below(data)
    for folder in hollow:
        (data / folder).rmdir()
    faults = [f"{name}: this name may not enter a pack" for name in names if not safe(name)]
    faults += [f"{one} and {other}: these names differ in nothing but case" for one, other in alike(names)]
    if faults:
        raise SealError("\n".join(faults))
    (data / CRATE).write_bytes(crate(order.edition, {name: (data / name).stat().st_size for name in names}))


def _tags(order: Order, pack: Path, older: Link | None) -> Sealed:
    key = public_key(order.key)
    names, _ = files_below(pack)
    payload = digests_below(pack, names)
    lists = {PAYLOAD[kind]: manifest(payload, kind) for kind in PAYLOAD}
    keys = {"sealer": key, **order.parties}
    if order.old_key is not None:
        keys["old-key"] = public_key(order.old_key)
    number = older.record["number"] + 1 if older else 1
    before = {"number": number - 1, "revision": older.record["revision"], "sha256": older.digest} if older else None
    record = edition_record(order.edition, number, before, keys, lists)
    _refuse_rewriting(order, older, record, keys)
    files = lists | {
        EDITION: record, SIGNERS: "".join(signers_line(who, keys[who]) for who in sorted(keys)).encode(),
        VERIFY: how_to_verify(order.edition, number, older.digest if older else "", key),
        BAGIT: b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n", BAG_INFO: _bag_info(order.edition, payload),
        **(kept_of(order.older, number - 1) if order.older else {}),
    }  # fmt: skip
    for name, data in files.items():
        _write(pack / name, data)
    tags = digests_below(pack, files)
    for kind, name in TAGS.items():
        _write(pack / name, manifest(tags, kind))
    sealed = (pack / SEALED).read_bytes()
    _write(pack / SIGNATURES["sealer"], sign(sealed, order.key))
    if order.old_key is not None:
        _write(pack / SIGNATURES["old-key"], sign(sealed, order.old_key))
    return Sealed(sha256_of(sealed), number, key, len(payload), sum(one.size for one in payload.values()))


def _refuse_rewriting(order: Order, older: Link | None, record: bytes, keys: Mapping[str, str]) -> None:
    if older is None:
        return
    faults = [f"the edition before says otherwise: {one}" for one in rewritten(older.record, read_record(record))]
    was = older.record["keys"]["sealer"]
    if keys["sealer"] != was and keys.get("old-key") != was:
        faults.append("the edition before was sealed by another key; let that key sign too (--old-key)")
    if faults:
        raise SealError("\n".join(faults))


def _bag_info(edition: Edition, payload: Mapping[str, Digests]) -> bytes:
    machine = edition.build.machine
    lines = {
        "Bag-Software-Agent": "dossier",
        "Bagging-Date": edition.revised.isoformat(),
        "External-Description": f"{machine.title}. A replica; {edition.audience.word} edition{', DRAFT' if edition.draft else ''}",
        "External-Identifier": f"{machine.build_no}, revision {edition.revision}",
        "Payload-Oxum": f"{sum(one.size for one in payload.values())}.{len(payload)}",
        "Source-Organization": machine.builder,
    }
    return "".join(f"{label}: {' '.join(text.split())}\n" for label, text in lines.items()).encode()


def _write(path: Path, data: bytes) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_bytes(data)


def _settle(folder: Path) -> None:
    """Rights alike wherever it is sealed, and on the disk before it is seen."""
    for root, _, names in os.walk(folder, topdown=False):
        for name in names:
            Path(root, name).chmod(0o644)
            _sync(Path(root, name))
        Path(root).chmod(0o755)
        _sync(Path(root))


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY | os.O_CLOEXEC)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
