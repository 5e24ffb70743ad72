"""Published files written into the folder they are published from, whole or not at all, and never twice."""

from __future__ import annotations

from pathlib import Path
from threading import get_ident

from dossier.model.picture import PublishedFile


def is_there(file: PublishedFile, into: Path) -> bool:
    """Whether the folder holds the file already; its name stands for its content, and nothing there is ever half written."""
    try:
        return (into / file.name).stat().st_size == file.size
    except OSError:
        return False


def put(file: PublishedFile, data: bytes, into: Path) -> None:
    """Write a published file, readable by all as a web server needs it; OSError when the folder cannot be written."""
    # Written aside first: two requests may come to one picture at the same moment, and a kill may come in between.
    aside = into / f"{file.name}.{get_ident()}.part"
    try:
        aside.write_bytes(data)
        aside.chmod(0o644)
        aside.replace(into / file.name)
    except BaseException:
        aside.unlink(missing_ok=True)
        raise
