"""The whole build looked over once every file is read: what one record says of another."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.model.build import Build
from dossier.model.problems import Problem
from dossier.read.checks.ids import id_faults
from dossier.read.checks.subject import Subject
from dossier.read.specs import Sheet


def look_over(build: Build, sheets: Mapping[str, Sheet], log_names: frozenset[str] = frozenset()) -> list[Problem]:
    """All that contradicts itself between the records of a build.

    `sheets` are its files as read, by subject; `log_names` the files in logs/ without their ending.
    """
    subject = Subject(build, sheets, log_names)
    return [fault for check in (id_faults,) for fault in check(subject)]
