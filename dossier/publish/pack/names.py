"""The files of a pack by name, and which names may enter one."""

from __future__ import annotations

import os
import re
from collections.abc import Iterable
from pathlib import Path

NAMESPACE = "dossier-edition"
"""What a signature is for (ssh-keygen -n): one made for anything else does not count here."""
BAGIT = "bagit.txt"
BAG_INFO = "bag-info.txt"
EDITION = "edition.json"
SIGNERS = "signers.txt"
VERIFY = "VERIFY.txt"
PAYLOAD = {"sha256": "manifest-sha256.txt", "sha512": "manifest-sha512.txt"}
TAGS = {"sha256": "tagmanifest-sha256.txt", "sha512": "tagmanifest-sha512.txt"}
SEALED = TAGS["sha512"]
"""The file that is signed: through it, and the manifests it lists, every other."""
SIGNATURES = {
    "sealer": f"{SEALED}.sig", "old-key": f"{SEALED}.old-key.sig", "seller": f"{SEALED}.seller.sig", "buyer": f"{SEALED}.buyer.sig",
}  # fmt: skip
"""Signatures over the sealed list, by who signs. The sealer's is always there."""
TOKEN = f"{SEALED}.tsr"
AUTHORITY = f"{SEALED}.authority.pem"
"""Certificates of the authority behind the time-stamp token."""
HISTORY = "history"
KEPT_OF_EARLIER = (EDITION, SEALED, *SIGNATURES.values(), TOKEN, AUTHORITY)
"""What of an earlier edition travels in the packs after it."""
DATA = "data"
CRATE = "ro-crate-metadata.json"
MACHINE_COPY = "dossier.json"
PRINTED = "print/print-edition.pdf"
SET_UP = "print/set-up.pdf"

_NAME = re.compile(r"[A-Za-z0-9][A-Za-z0-9._-]*(/[A-Za-z0-9][A-Za-z0-9._-]*)*")


def safe(name: str) -> bool:
    """Whether every part of a relative name is of letters, digits, dot, dash and underscore: then every tool writes and reads it alike."""
    return _NAME.fullmatch(name) is not None


def alike(names: Iterable[str]) -> list[tuple[str, str]]:
    """Pairs of names that differ in nothing but case: on many a disk one would overwrite the other."""
    seen: dict[str, str] = {}
    return [(seen[name.casefold()], name) for name in sorted(names) if seen.setdefault(name.casefold(), name) != name]


def files_below(folder: Path) -> tuple[list[str], list[str]]:
    """Relative names of all that is not a folder, links among them, and of folders that hold nothing; both sorted."""
    files, hollow = [], []
    for root, folders, names in os.walk(folder):
        links = [one for one in folders if Path(root, one).is_symlink()]
        inner = Path(root).relative_to(folder)
        files += [(inner / name).as_posix() for name in (*names, *links)]
        if not names and not folders and inner.parts:
            hollow.append(inner.as_posix())
    return sorted(files), sorted(hollow)
