"""The photographs of a build folder: what each file is, which are not there, which are not listed."""

from __future__ import annotations

import dataclasses
import hashlib
import os
from pathlib import Path, PurePosixPath

from dossier.model.forms.photos import Photo, Photos
from dossier.model.problems import Place, Problem, did_you_mean
from dossier.read.files import Folder
from dossier.read.picture_index import Probed, probe_all
from dossier.read.places import Block, Listing
from dossier.read.specs import Sheet


def with_facts(sheet: Sheet, folder: Folder, kept: Path | None = None) -> tuple[Photos, list[Problem]]:
    """photos.yaml with each photograph's facts and the camera's date filled in; and what is wrong with the files.

    `kept` is a folder for what earlier readings found, which may be deleted at any time; without it every file is opened.
    """
    photos: Photos = sheet.form or Photos()
    there = [PurePosixPath(name).name for name in folder.names("photos")]
    listing = sheet.root.get("photos")
    blocks = {node.place: node for node in listing.items if isinstance(node, Block)} if isinstance(listing, Listing) else {}
    places = [(node.place if (block := blocks.get(one.written)) and (node := block.get("file")) else one.written) for one in photos.photos]
    refused = [_refused(photo, place, there, folder) for photo, place in zip(photos.photos, places, strict=True)]
    files = [folder.path / "photos" / photo.file for photo in photos.photos]
    found = probe_all((file for file, why in zip(files, refused, strict=True) if not why), _index(kept, folder))
    problems: list[Problem] = []
    filled = []
    for photo, place, why, file in zip(photos.photos, places, refused, files, strict=True):
        facts, faults = (None, []) if why else found[file]
        problems += [why] if why else [Problem(one.code, one.message, place, one.instead, "file") for one in faults]
        filled.append(_filled(photo, (facts, faults)))
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


def _filled(photo: Photo, probed: Probed) -> Photo:
    """The photograph with its facts, and with the camera's day where nobody wrote another or said one in words."""
    facts = probed[0]
    by_camera = facts.taken.date() if facts and facts.taken and not photo.date_said else None
    return dataclasses.replace(photo, facts=facts, date=photo.date or by_camera)


def _index(kept: Path | None, folder: Folder) -> Path | None:
    """The index of this folder's picture files: one file for each place on the disc."""
    return kept and kept / "read" / f"{hashlib.sha256(os.fsencode(folder.path.resolve())).hexdigest()[:24]}.json"


def _refused(photo: Photo, place: Place, there: list[str], folder: Folder) -> Problem | None:
    """Why the file named is not even looked for, or not opened."""
    if "/" in photo.file or "\\" in photo.file or photo.file in (".", ".."):
        message = f"{photo.file!r} is a path; a bare file name in photos/ is wanted"
        return Problem("photo-missing", message, place, "put the file in photos/ and write its name alone", "file")
    if photo.file not in there:
        message = f"there is no file {photo.file!r} in photos/"
        return Problem(
            "photo-missing", message, place, did_you_mean(photo.file, there, "put the file in photos/, or mend the name"), "file"
        )
    if folder.leads_outside(f"photos/{photo.file}"):
        return Problem("file-outside", "this link leads out of the build folder", place, "put the photograph itself in photos/", "file")
    return None
