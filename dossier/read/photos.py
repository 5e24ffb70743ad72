"""The photographs of a build folder: what each file is, which are not there, which are not listed."""

from __future__ import annotations

import dataclasses
from pathlib import Path, PurePosixPath

from dossier.model.forms.photos import Photo, Photos
from dossier.model.picture import PhotoFacts
from dossier.model.problems import Place, Problem, did_you_mean
from dossier.read.files import Folder
from dossier.read.places import Block, Listing
from dossier.read.specs import Sheet


def with_facts(sheet: Sheet, folder: Folder) -> tuple[Photos, list[Problem]]:
    """photos.yaml with each photograph's facts filled in; and what is wrong with the files."""
    photos: Photos = sheet.form or Photos()
    there = [PurePosixPath(name).name for name in folder.names("photos")]
    listing = sheet.root.get("photos")
    blocks = {node.place: node for node in listing.items if isinstance(node, Block)} if isinstance(listing, Listing) else {}
    problems: list[Problem] = []
    filled = []
    for photo in photos.photos:
        block = blocks.get(photo.written)
        node = block.get("file") if block else None
        facts, faults = _facts(photo, node.place if node else photo.written, there, folder)
        problems += faults
        filled.append(dataclasses.replace(photo, facts=facts))
    listed = _listed(listing)
    if sheet.form is not None and (rest := [name for name in there if name not in listed]):
        shown = ", ".join(rest[:5]) + (" …" if len(rest) > 5 else "")
        message = f"{len(rest)} photograph{'s' if len(rest) > 1 else ''} not listed in photos.yaml: {shown}"
        problems.append(
            Problem("photos-unlisted", message, folder.place("photos"), "list them with caption and audience, or take them away")
        )
    return dataclasses.replace(photos, photos=tuple(filled)), problems


def _listed(listing: object) -> set[str]:
    """File names in the list, also of records with faults."""
    nodes = listing.items if isinstance(listing, Listing) else ()
    files = [node.get("file") for node in nodes if isinstance(node, Block)]
    return {text for node in files if (text := getattr(node, "text", None))}


def _facts(photo: Photo, place: Place, there: list[str], folder: Folder) -> tuple[PhotoFacts | None, list[Problem]]:
    if "/" in photo.file or "\\" in photo.file or photo.file in (".", ".."):
        message = f"{photo.file!r} is a path; a bare file name in photos/ is wanted"
        return None, [Problem("photo-missing", message, place, "put the file in photos/ and write its name alone", "file")]
    if photo.file not in there:
        message = f"there is no file {photo.file!r} in photos/"
        instead = did_you_mean(photo.file, there, "put the file in photos/, or mend the name")
        return None, [Problem("photo-missing", message, place, instead, "file")]
    if folder.leads_outside(f"photos/{photo.file}"):
        return None, [
            Problem("file-outside", "this link leads out of the build folder", place, "put the photograph itself in photos/", "file")
        ]
    facts, faults = probe(folder.path / "photos" / photo.file)
    return facts, [Problem(code, message, place, instead, "file") for code, message, instead in faults]


def probe(path: Path) -> tuple[PhotoFacts | None, list[tuple[str, str, str]]]:
    """Facts of one picture file, or None; and its faults as (code, sentence, what to do). Never raises at the file."""
    # Imported late: a folder without photographs then needs no picture library.
    from dossier.read import pictures

    facts, faults = pictures.probe(path)
    return facts, [(fault.code, fault.message, fault.instead) for fault in faults]
