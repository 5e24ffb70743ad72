"""Which program this is, down to the last file: what it published before stands only while it is the same."""

from __future__ import annotations

import hashlib
import os
import sys
from collections.abc import Iterator
from pathlib import Path

from dossier.publish.template import template_folder

_PACKAGE = Path(__file__).resolve().parent.parent


def program_mark(package: Path = _PACKAGE) -> str:
    """64 hexadecimal digits that change with every source file, the template, the interpreter and the libraries installed.

    By the file system's word (size, times, inode) and by the names of the installed distributions, which bear their versions:
    asking for more would take longer than it saves.
    """
    whole = hashlib.sha256(sys.version.encode())
    for folder in (package, template_folder(package)):
        for line in sorted(_files(str(folder))):
            whole.update(line.encode("utf-8", "surrogateescape"))
    for folder_name in sys.path:
        whole.update("\n".join(sorted(_distributions(folder_name))).encode("utf-8", "surrogateescape"))
    return whole.hexdigest()


def _files(folder: str) -> Iterator[str]:
    with os.scandir(folder) as entries:
        for entry in entries:
            if entry.name == "__pycache__":
                continue
            if entry.is_dir():
                yield from _files(entry.path)
            else:
                state = entry.stat()
                yield f"{entry.path} {state.st_size} {state.st_mtime_ns} {state.st_ctime_ns} {state.st_ino}\n"


def _distributions(folder: str) -> list[str]:
    try:
        return [name for name in os.listdir(folder or ".") if name.endswith((".dist-info", ".egg-info"))]  # noqa: PTH208
    except OSError:
        return []
