"""A sealed pack as one file: a zip whose bytes depend on the pack alone, and the same locked for one reader with age."""

from __future__ import annotations

import tempfile
import zipfile
from pathlib import Path

import pyrage

from dossier.publish.pack.edition_record import read_record
from dossier.publish.pack.names import EDITION, files_below


class SendError(ValueError):
    """A pack that cannot be put into one file: the file is there, or the recipient is none."""


def to_write(pack: Path, as_zip: bool, recipient: str | None) -> list[Path]:
    """The files that `send` will write beside the pack. SendError where one is there already, or the recipient is none."""
    box = pack.with_name(f"{pack.name}.zip")
    wanted = ([box] if as_zip else []) + ([box.with_name(f"{box.name}.age")] if recipient else [])
    for file in wanted:
        if file.exists():
            raise SendError(f"{file} is there already")
    if recipient:
        _recipient(recipient)
    return wanted


def send(pack: Path, as_zip: bool, recipient: str | None) -> list[Path]:
    """Write the pack beside itself as a zip, locked for `recipient`, or both; the files written. SendError where one cannot be."""
    wanted = to_write(pack, as_zip, recipient)
    box = pack.with_name(f"{pack.name}.zip")
    if as_zip:
        zip_pack(pack, box)
    if recipient:
        with tempfile.TemporaryDirectory(prefix=".dossier-", dir=pack.parent) as aside:
            plain = box if as_zip else Path(aside) / box.name
            if not as_zip:
                zip_pack(pack, plain)
            lock(plain, wanted[-1], recipient)
    return wanted


def zip_pack(pack: Path, target: Path) -> None:
    """Write the pack as a zip: sorted, stored, every file dated as the edition, in one folder of the pack's name. FileExistsError if there."""
    year, month, day = (int(part) for part in read_record((pack / EDITION).read_bytes())["date"].split("-"))
    names, _ = files_below(pack)
    # a zip knows no year before 1980 (APPNOTE.TXT 4.4.6)
    when = (year, month, day, 0, 0, 0) if year >= 1980 else (1980, 1, 1, 0, 0, 0)
    with zipfile.ZipFile(target, "x", zipfile.ZIP_STORED) as box:
        for name in names:
            entry = zipfile.ZipInfo(f"{pack.name}/{name}", when)
            entry.create_system, entry.external_attr = 3, 0o100644 << 16
            box.writestr(entry, (pack / name).read_bytes())


def lock(file: Path, target: Path, recipient: str) -> None:
    """Write `file` as an age file for an SSH public key, a file of one, or an age recipient. SendError where it is none."""
    pyrage.encrypt_file(str(file), str(target), [_recipient(recipient)])


def _recipient(recipient: str) -> pyrage.x25519.Recipient | pyrage.ssh.Recipient:
    words = recipient.split()
    given = Path(recipient)
    if len(words) == 1 and not recipient.startswith("age1") and given.is_file():
        words = given.read_text(encoding="utf-8").split()
    try:
        if words and words[0].startswith("age1"):
            return pyrage.x25519.Recipient.from_str(words[0])
        return pyrage.ssh.Recipient.from_str(" ".join(words[:2]))
    except pyrage.RecipientError as fault:
        raise SendError(f"{recipient} is neither an SSH public key nor an age recipient: {fault}") from fault
