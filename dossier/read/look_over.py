"""The whole build looked over once every file is read: what one record says of another."""

from __future__ import annotations

from collections.abc import Mapping

from dossier.model.build import Build
from dossier.model.problems import Problem
from dossier.read.checks.dates import date_faults
from dossier.read.checks.ids import id_faults
from dossier.read.checks.impossible import impossible_faults
from dossier.read.checks.logs import log_faults
from dossier.read.checks.naming import naming_faults
from dossier.read.checks.photographs import photograph_faults
from dossier.read.checks.readings import reading_faults
from dossier.read.checks.releases import release_faults
from dossier.read.checks.sources import source_faults
from dossier.read.checks.subject import Subject
from dossier.read.checks.tyres import tyre_faults
from dossier.read.checks.unfilled import unfilled_faults
from dossier.read.specs import Sheet

CHECKS = (
    id_faults, date_faults, reading_faults, source_faults, photograph_faults, tyre_faults, log_faults, release_faults, impossible_faults,
    unfilled_faults, naming_faults,
)  # fmt: skip


def look_over(build: Build, sheets: Mapping[str, Sheet], log_names: frozenset[str] = frozenset()) -> list[Problem]:
    """All that contradicts itself between the records of a build.

    `sheets` are its files as read, by subject; `log_names` the files in logs/ without their ending.
    """
    subject = Subject(build, sheets, log_names)
    return [fault for check in CHECKS for fault in check(subject)]
