"""Looks a pack over: every defect by name and file, and none only where it is whole."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

from dossier.publish.pack.chain import Defect, Link, chain_defects, folder_of, read_chain, read_link
from dossier.publish.pack.edition_record import rewritten
from dossier.publish.pack.manifests import Digests, digests_of, read_manifest
from dossier.publish.pack.names import (
    AUTHORITY,
    BAG_INFO,
    BAGIT,
    CRATE,
    DATA,
    EDITION,
    HISTORY,
    KEPT_OF_EARLIER,
    MACHINE_COPY,
    PAYLOAD,
    SEALED,
    SIGNATURES,
    SIGNERS,
    TAGS,
    TOKEN,
    VERIFY,
    files_below,
)  # fmt: skip
from dossier.publish.pack.signature import is_known, signers_line
from dossier.publish.pack.time_stamp import token_defects

_UNLISTED = {*TAGS.values(), *SIGNATURES.values(), TOKEN, AUTHORITY}
"""Files beside the sealed list, which cannot be in it; each is judged by what it says."""
_TAGS_DUE = {BAGIT, BAG_INFO, EDITION, SIGNERS, VERIFY, *PAYLOAD.values()}
_PAYLOAD_DUE = {f"{DATA}/{MACHINE_COPY}", f"{DATA}/{CRATE}", f"{DATA}/site/index.html"}
_BAGIT_TEXT = b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"


@dataclass(frozen=True)
class Seen:
    """What was seen of a pack: its defects (none: it is whole), its own place in the chain, and how many files and bytes were read."""

    defects: tuple[Defect, ...]
    link: Link | None = None
    files: int = 0
    size: int = 0


@dataclass
class _Pack:
    path: Path
    found: dict[str, Digests] = field(default_factory=dict)
    payload: dict[str, dict[str, str]] = field(default_factory=dict)
    tags: dict[str, dict[str, str]] = field(default_factory=dict)


def verify_pack(
    path: Path, against: Path | None = None, signers: Path | None = None, progress: Callable[[int, int], None] | None = None
) -> Seen:
    """Look over the pack at `path`; `against` is a pack of an earlier edition, `signers` a file of the keys one trusts. Never raises at its data."""
    pack = _Pack(path)
    defects = [*_listed(pack), *_read_all(pack, progress), *_compared(pack), *_due(pack)]
    links, unread = read_chain(path)
    defects += unread
    own = links[-1] if links else None
    if own is not None:
        defects += _fits(pack, own)
        defects += [] if unread else chain_defects(links)
        for link in links:
            defects += token_defects(path, link)
        defects += _trusted(own, signers)
        defects += _compare_older(links, against, bool(unread)) if against else []
    unlike = dict.fromkeys(defects)
    return Seen(tuple(sorted(unlike, key=lambda one: (one.file, one.what))), own, len(pack.found), sum(one.size for one in pack.found.values()))


def _listed(pack: _Pack) -> Iterator[Defect]:
    for kind in PAYLOAD:
        for listed, name in ((pack.payload, PAYLOAD[kind]), (pack.tags, TAGS[kind])):
            listed[kind] = {}
            try:
                listed[kind] = read_manifest((pack.path / name).read_bytes(), kind)
            except OSError:
                yield Defect(name, "missing")
            except ValueError as fault:
                yield Defect(name, f"altered: {fault}")


def _read_all(pack: _Pack, progress: Callable[[int, int], None] | None) -> Iterator[Defect]:
    names, hollow = files_below(pack.path)
    for name in hollow:
        yield Defect(name, "extra: a folder with nothing in it")
    whole = [name for name in names if not (pack.path / name).is_symlink() and (pack.path / name).is_file()]
    for name in sorted(set(names) - set(whole)):
        yield Defect(name, "extra: a link or device, which no pack holds")
    all = sum((pack.path / name).stat().st_size for name in whole)
    done = 0

    def told(count: int) -> None:
        nonlocal done
        done += count
        if progress:
            progress(done, all)

    for name in whole:
        try:
            pack.found[name] = digests_of(pack.path / name, told)
        except OSError as fault:
            yield Defect(name, f"cannot be read: {fault.strerror}")


def _compared(pack: _Pack) -> Iterator[Defect]:
    sizes = _sizes(pack)
    for kind in PAYLOAD:
        listed = pack.payload[kind] | pack.tags[kind]
        where = {digest: name for name, digest in listed.items()}
        extra = {pack.found[name].of(kind): name for name in pack.found.keys() - listed.keys() - _UNLISTED}
        for name in sorted(listed):
            if name not in pack.found:
                lies = extra.get(listed[name])
                yield Defect(name, f"renamed: it lies at {lies}" if lies else "missing")
            elif (is_now := pack.found[name].of(kind)) != listed[name]:
                if odd := _list_itself(pack, name, kind):
                    yield Defect(odd, f"altered: it gives a digest of {name} that the other list does not bear out")
                    continue
                yield Defect(name, _how_altered(pack.found[name], sizes.get(name), where.get(is_now)))
        for name in sorted(extra.values()):
            yield Defect(name, "extra: it is in no list")
    for one, names in ((pack.payload, PAYLOAD), (pack.tags, TAGS)):
        if one["sha256"].keys() != one["sha512"].keys():
            odd = ", ".join(sorted(one["sha256"].keys() ^ one["sha512"].keys()))
            yield Defect(names["sha256"], f"altered: it and {names['sha512']} do not list the same files ({odd})")


def _list_itself(pack: _Pack, name: str, kind: str) -> str:
    """The list of that kind, where the list of the other kind finds the file whole: then not the file is altered, but the list."""
    other = "sha512" if kind == "sha256" else "sha256"
    for lists, names in ((pack.payload, PAYLOAD), (pack.tags, TAGS)):
        if name in lists[kind] and lists[other].get(name) == pack.found[name].of(other):
            return names[kind]
    return ""


def _how_altered(is_now: Digests, size: int | None, belongs: str | None) -> str:
    if belongs:
        return f"altered: it holds what belongs in {belongs}"
    if size is not None and is_now.size < size:
        return f"truncated: {is_now.size} of {size} bytes"
    return "altered"


def _sizes(pack: _Pack) -> dict[str, int]:
    """Sizes as the payload's metadata give them; only to say how a file was altered, never whether."""
    try:
        graph = json.loads((pack.path / DATA / CRATE).read_bytes())["@graph"]
        return {f"{DATA}/{one['@id']}": int(one["contentSize"]) for one in graph if "contentSize" in one}
    except (OSError, ValueError, TypeError, KeyError, RecursionError):
        return {}


def _due(pack: _Pack) -> Iterator[Defect]:
    listed = pack.payload["sha512"]
    for name in sorted(name for kind in PAYLOAD for name in pack.payload[kind] if not name.startswith(f"{DATA}/")):
        yield Defect(name, "it is listed as payload and lies outside data/")
    for name in sorted(name for kind in TAGS for name in pack.tags[kind] if name.startswith(f"{DATA}/")):
        yield Defect(name, "it is payload and listed as if it were not")
    for name in sorted((_TAGS_DUE - pack.tags["sha512"].keys()) | (_PAYLOAD_DUE - listed.keys())):
        yield Defect(name, "missing: no list names it")
    if BAGIT in pack.found and (pack.path / BAGIT).read_bytes() != _BAGIT_TEXT:
        yield Defect(BAGIT, "altered: it does not say that this is a bag of version 1.0")


def _fits(pack: _Pack, own: Link) -> Iterator[Defect]:
    """Whether record, lists, signers and history speak of the same edition."""
    for name in PAYLOAD.values():
        if name in pack.found and own.record["manifests"].get(name) != pack.found[name].sha256:
            yield Defect(name, "altered: it is not the list that edition.json names")
    keys = own.record["keys"]
    if SIGNERS in pack.found:
        said = "".join(signers_line(who, str(keys[who])) for who in sorted(keys)).encode()
        if (pack.path / SIGNERS).read_bytes() != said:
            yield Defect(SIGNERS, "altered: it does not name the keys of edition.json")
    due = {f"{folder_of(number)}/{name}" for number in range(1, min(own.record["number"], 10_000)) for name in KEPT_OF_EARLIER}
    for name in sorted(pack.found.keys() - due):
        if name.startswith(f"{HISTORY}/"):
            yield Defect(name, "extra: no edition before this one has it")


def _trusted(own: Link, signers: Path | None) -> Iterator[Defect]:
    if signers is not None and "sealer" in own.signatures and not is_known(own.signatures["sealer"], signers):
        yield Defect(SIGNATURES["sealer"], f"other key: the key that sealed this is not in {signers}")


def _compare_older(links: list[Link], against: Path, broken: bool) -> Iterator[Defect]:
    try:
        older = read_link(against)
    except ValueError as fault:
        yield Defect(EDITION, f"the pack to compare with cannot be read: {fault}")
        return
    own, number = links[-1], older.record["number"]
    yield from _older_whole(against)
    if number > own.record["number"]:
        yield Defect(EDITION, f"later edition missing: this is edition {own.record['number']} and {against} is edition {number}")
    elif not broken and links[number - 1].digest != older.digest:
        yield Defect(links[number - 1].at(SEALED), f"broken chain: edition {number} is another in {against}, with the digest {older.digest}")
    for what in rewritten(older.record, own.record) if number < own.record["number"] else ():
        yield Defect(EDITION, f"broken chain: {what}")


def _older_whole(against: Path) -> Iterator[Defect]:
    for one in verify_pack(against).defects:
        yield Defect(one.file, f"in the pack to compare with: {one.what}")

