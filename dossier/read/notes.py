"""A note in Markdown: who may read it, its title, its text."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import PurePosixPath

from dossier.model.build import Note
from dossier.model.links import may_lead
from dossier.model.problems import Place, Problem
from dossier.read.files import Folder
from dossier.read.text import LINE_END, decoded

_LINK = re.compile(r"(?P<picture>!?)\[[^\]\n]*\]\(<?(?P<address>[^)>\s]*)")
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
    links = _links(folder.shown(name), LINE_END.split(text))
    return Note(stem, title, "\n".join(lines).strip() + "\n", audience), [*problems, *faults, *links]


def _links(file: str, lines: list[str]) -> Iterator[Problem]:
    """Pictures and addresses that a note may not have: of them the words alone are shown."""
    for number, line in enumerate(lines, start=1):
        for found in _LINK.finditer(line):
            place = Place(file, number, found.start() + 1, line)
            if found["picture"]:
                advice = "put it in photos/, say in photos.yaml what it shows, and name its id here"
                yield Problem("note-link", "a picture in a note is not shown", place, advice)
            elif not may_lead(found["address"]):
                advice = "write it whole, beginning with https://, or name a sheet of the dossier, as figures.html"
                yield Problem("note-link", f"{found['address']!r} is no address that a link may bear", place, advice)
