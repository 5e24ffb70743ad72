"""A note in Markdown: who may read it, its title, its text."""

from __future__ import annotations

import re
from pathlib import PurePosixPath

from dossier.model.build import Note
from dossier.model.problems import Place, Problem
from dossier.read.files import Folder
from dossier.read.text import LINE_END, decoded

AUDIENCES = ("public", "owner", "workshop")


def read_note(folder: Folder, name: str) -> tuple[Note | None, list[Problem]]:
    """A note as read, or None where it cannot be; and what is wrong with it. Without an audience it is for the workshop."""
    data, problems = folder.bytes_of(name)
    if data is None:
        return None, problems
    text, faults = decoded(data, folder.shown(name))
    if text is None:
        return None, problems + faults
    lines = LINE_END.split(text)
    audience = "workshop"
    if said := re.fullmatch(r"audience: *(.*?) *", lines[0], re.IGNORECASE):
        if said[1] not in AUDIENCES:
            place = Place(folder.shown(name), 1, said.start(1) + 1, lines[0])
            message = f"there is no audience {said[1]!r}"
            return None, [*problems, *faults, Problem("note-audience", message, place, "write public, owner or workshop")]
        audience = said[1]
        lines = lines[1:]
    stem = PurePosixPath(name).stem
    headings = (re.fullmatch(r"#{1,6} +(.+?) *#*", line) for line in lines)
    title = next((heading[1] for heading in headings if heading), stem.replace("-", " "))
    return Note(stem, title, "\n".join(lines).strip() + "\n", audience), problems + faults
