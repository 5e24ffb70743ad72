"""A build folder to a Build and all its problems at once; nothing a user's folder may hold makes it raise."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from dossier.model.build import Build, LogTable
from dossier.model.forms.custody import Custody
from dossier.model.forms.evidence import EvidenceFile
from dossier.model.forms.life import Life
from dossier.model.forms.machine import Machine
from dossier.model.forms.measurements import Measurements
from dossier.model.forms.parts import Parts
from dossier.model.forms.photos import Photos
from dossier.model.forms.running import Running
from dossier.model.forms.specification import Specification
from dossier.model.forms.work import Work
from dossier.model.forms.workshop import WorkshopFile
from dossier.model.problems import Place, Problem, in_order
from dossier.read.builds import find_builds as find_builds
from dossier.read.checks.unfilled import unfilled
from dossier.read.files import Folder
from dossier.read.logs.table import read_logs
from dossier.read.look_over import look_over
from dossier.read.notes import read_note
from dossier.read.photos import with_facts
from dossier.read.places import Block, read_tree
from dossier.read.shown_to import shown_to
from dossier.read.specs import Sheet, fill_in

FORMS: Mapping[str, type[Any]] = {
    "machine": Machine, "specification": Specification, "evidence": EvidenceFile, "measurements": Measurements, "parts": Parts,
    "work": Work, "running": Running, "life": Life, "custody": Custody, "photos": Photos,
}  # fmt: skip
"""The forms of a build folder by the stem of their file; only machine.yaml must be there."""


def workshop_path(build: Path) -> Path:
    """Where the workshop file of a build stands: in the folder above."""
    return (build / ".." if build.name in ("", "..") else build.parent) / "workshop.yaml"


def read_workshop(path: Path, shown: str | None = None) -> tuple[WorkshopFile | None, list[Problem]]:
    """A workshop.yaml as read, None where it cannot be; and its problems. `shown` is its name in their places, by default its path."""
    sheet = _workshop_sheet(path, path.as_posix() if shown is None else shown)
    return sheet.form, in_order(sheet.problems)


def _workshop_sheet(path: Path, shown: str) -> Sheet:
    data, problems = Folder(path.parent, "").bytes_of(path.name, shown)
    if data is None:
        instead = "write one with form, name, instruments and people"
        missing = Problem("file-missing", "there is no workshop file above the build", Place(shown), instead)
        return Sheet(None, Block(Place(shown), {}), problems or [missing])
    return _sheet(WorkshopFile, data, shown)


def read_build(path: Path, shown: str | None = None, kept: Path | None = None) -> tuple[Build | None, list[Problem]]:
    """A build folder as read, and all its problems, in order of file and line.

    `shown` stands before the names of its files in the problems' places, by default `path` as given. The Build holds
    what could be read: records
    with faults are left out of it, so it must not be published while an error is among the problems. It is None where
    machine.yaml or workshop.yaml cannot be read. `kept` is a folder for what earlier readings found in the photographs.
    """
    folder = Folder(path, path.as_posix() if shown is None else shown)
    if not path.is_dir():
        return None, [Problem("build-missing", "there is no such folder", Place(folder.named or "."), "check the path")]
    above = workshop_path(path)
    sheets = {"workshop": _workshop_sheet(above, folder.shown_above(above))}
    problems = list(sheets["workshop"].problems)
    for subject, form in FORMS.items():
        sheets[subject] = _read_form(folder, subject, form)
        problems += sheets[subject].problems
    problems += folder.unknown_files((*FORMS, "logs"))
    logs, log_problems = read_logs(folder)
    notes, note_problems = [], []
    for name in folder.names("notes", ".md"):
        note, faults = read_note(folder, name)
        note_problems += faults
        notes += [note] if note else []
    photos, photo_problems = with_facts(sheets["photos"], folder, kept)
    problems += log_problems + note_problems + photo_problems
    forms = {subject: sheet.form for subject, sheet in sheets.items() if sheet.form is not None}
    forms["photos"] = photos
    if "machine" not in forms or "workshop" not in forms:
        rest = _looked_over_without(forms, sheets, logs, folder.log_names())
        return None, in_order([*problems, *rest, *unfilled(list(sheets.values()))])
    build = Build(slug=path.resolve().name, logs=tuple(logs), notes=tuple(notes), **forms)
    return shown_to(build), in_order(problems + look_over(build, sheets, folder.log_names()))


_STAND_IN = b"""
form: 1
this_machine_is: reproduction by another builder, called a replica in the trade
title: Some Workshop replica of the Other 250 (1966), completed 9999
short: Other
statement: This machine is a replica.
builder: Some Workshop
build_no: X-1
completed: 9999
reference: {machine: Other, rider: "-", meeting: "-", date: 0001-01-01}
use: {intended: [parade], road_legal: no}
engine: {strokes: 4, cylinders: 1}
livery: {day: "#14513b", night: "#93c7aa"}
"""
"""A machine that contradicts nothing, so that the other files can be compared while machine.yaml has faults."""


def _looked_over_without(
    forms: Mapping[str, Any], sheets: Mapping[str, Sheet], logs: list[LogTable], log_names: frozenset[str]
) -> list[Problem]:
    """What the other files say of each other, where machine.yaml or workshop.yaml cannot be read; of those two themselves nothing."""
    stand_ins = {"machine": _sheet(Machine, _STAND_IN, "").form, "workshop": WorkshopFile(form="1", name="-")}
    build = Build(slug="-", logs=tuple(logs), **{**stand_ins, **forms})
    found = look_over(build, sheets, log_names)
    absent = [sheets[name].root.place.file for name in stand_ins if name not in forms]
    return [one for one in found if one.place.file and one.place.file not in absent]


def _read_form(folder: Folder, subject: str, form: type[Any]) -> Sheet:
    name = f"{subject}.yaml"
    data, problems = folder.bytes_of(name)
    if data is None:
        place = folder.place(name)
        if subject == "machine" and not problems:
            problems = [Problem("file-missing", "there is no machine.yaml in this folder", place, "write one, or begin a new build")]
        filled = None if subject == "machine" or problems else form()
        return Sheet(filled, Block(place, {}), problems)
    return _sheet(form, data, folder.shown(name), empty=subject != "machine")


def _sheet(form: type[Any], data: bytes, shown: str, *, empty: bool = False) -> Sheet:
    """A file's bytes as a filled-in form; `empty` where the form may say nothing."""
    root, problems = read_tree(data, shown)
    if root is None:
        nothing = Block(Place(shown), {})
        said_nothing = all(problem.severity.value == "note" for problem in problems)
        if not said_nothing:
            return Sheet(None, nothing, problems)
        if empty:
            return Sheet(form(), nothing, problems)
        root = nothing
    sheet = fill_in(form, root, shown)
    return dataclasses.replace(sheet, problems=problems + sheet.problems)
