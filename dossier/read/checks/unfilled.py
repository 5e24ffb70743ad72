"""What a begun form still has as its example: nothing anybody would want to publish."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from dossier.model.problems import Problem
from dossier.read.checks.subject import Subject, values_of
from dossier.read.shapes import TO_DO
from dossier.read.specs import Sheet


def unfilled_faults(subject: Subject) -> Iterator[Problem]:
    """Values that are still to be filled in."""
    return unfilled(subject.sheets.values())


def unfilled(sheets: Iterable[Sheet]) -> Iterator[Problem]:
    """The same for files that do not make a build yet. What has a few words to choose from is told where it is read."""
    told = {problem.place for sheet in sheets for problem in sheet.problems if problem.code == "still-to-fill"}
    for sheet in sheets:
        for value in values_of(sheet.root):
            if value.text == TO_DO and value.place not in told:
                yield Problem("still-to-fill", "this is still to be filled in", value.place, "write it, or delete the line")
