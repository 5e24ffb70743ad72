"""What a begun form still has as its example: nothing anybody would want to publish."""

from __future__ import annotations

from collections.abc import Iterator

from dossier.model.problems import Problem
from dossier.read.checks.subject import Subject, values_of

TO_DO = "to be filled in"
"""What begun forms hold where a person has to write."""


def unfilled_faults(subject: Subject) -> Iterator[Problem]:
    """Values that are still to be filled in."""
    for sheet in subject.sheets.values():
        for value in values_of(sheet.root):
            if value.text == TO_DO:
                yield Problem("still-to-fill", "this is still to be filled in", value.place, "write it, or delete the line")
